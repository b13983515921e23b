"""Which findings stand in full: all of them, or in the file of a large fleet the high ones as far as there is room."""

from collections.abc import Sequence

from groundcheck.report.rows import fetch, severity_order
from groundcheck.store import Store


def number_of_findings(store: Store) -> int:
    """Of all stations at hand; one that two memoranda show counts twice."""
    return int(fetch(store, "SELECT count(*) FROM memo_station JOIN audit.finding USING (substation)")[0][0])


def high_ones(store: Store, limit: int) -> list[str]:
    """
    Open findings of severity high, at most `limit`, shared out so that no district is crowded out by another.

    In a district those come first that are firm, then those of the most important stations.
    """
    query = f"""
        SELECT memo, list(finding ORDER BY robustness IS DISTINCT FROM 'firm', coalesce(provisional, FALSE),
                                           s.criticality DESC NULLS LAST, f.substation, finding)
        FROM memo_station JOIN audit.finding f USING (substation)
        LEFT JOIN (SELECT substation, any_value(criticality) AS criticality FROM inventory.substation GROUP BY ALL) s
          USING (substation)
        WHERE status IS DISTINCT FROM 'waived' AND {severity_order("severity")} = 1
        GROUP BY memo ORDER BY memo
    """
    found = [findings for _, findings in fetch(store, query)]
    shares = share_out([len(findings) for findings in found], limit)
    return [finding for findings, share in zip(found, shares, strict=True) for finding in findings[:share]]


def share_out(wanted: Sequence[int], limit: int) -> list[int]:
    """Of `limit` places what each gets that wants so many: those that want few get all, the others as many each."""
    shares = [0] * len(wanted)
    left = limit
    by_size = sorted(range(len(wanted)), key=lambda place: wanted[place])
    for done, place in enumerate(by_size):
        shares[place] = min(wanted[place], left // (len(wanted) - done))
        left -= shares[place]
    return shares
