"""The whole job: sources in, findings and reports out."""

from collections.abc import Iterable, Mapping
from datetime import date, datetime
from importlib.metadata import version
from pathlib import Path
from typing import Any

import duckdb
import pandas as pd

from groundcheck.audit import limits_read, load_rulebooks, rule_parts, run_rules
from groundcheck.history import keep_run
from groundcheck.ingest import ingest
from groundcheck.policy import Policy, load_policy, policy_text
from groundcheck.progress import Progress
from groundcheck.report import Wishes, write_reports
from groundcheck.rule_choices import check_names, places_not_on_record
from groundcheck.store import Store, whole_or_not_at_all
from groundcheck.study import method_note, run_study
from groundcheck.waivers import Gathered, apply_waivers, gather_waivers

Sources = str | Path | Iterable[str | Path] | Mapping[str, pd.DataFrame]


class Audit:
    """An audit that was made: its store, and the frames people ask for most."""

    def __init__(self, store: Store) -> None:
        self.store = store

    def findings(self) -> pd.DataFrame:
        """All findings, the open ones first, and of these the worst."""
        return self.store.frame(
            "SELECT * FROM audit.finding ORDER BY status = 'waived', "
            "CASE severity WHEN 'high' THEN 1 WHEN 'medium' THEN 2 ELSE 3 END, substation, asset, rule"
        )

    def outcomes(self) -> pd.DataFrame:
        """Counts of the four outcomes, a rule and station."""
        return self.store.frame("SELECT * FROM audit.outcome ORDER BY rule, substation")

    def study(self, table: str) -> pd.DataFrame:
        """A table of the study."""
        return self.store.read("study", table)

    def sql(self, query: str) -> duckdb.DuckDBPyRelation:
        """Any query over the stages raw, inventory, study and audit."""
        return self.store.sql(query)

    def write(
        self,
        folder: str | Path,
        annotate: bool = False,
        *,
        sheet_by_district: bool = False,
        data: Iterable[str] = (),
        memo_template: str | Path | None = None,
        junit: str | Path | None = None,
        progress: Progress | None = None,
    ) -> list[Path]:
        """
        Write the reports into a folder, and tell where they are.

        Parameters
        ----------
        folder
            Made if it is not there.
        annotate
            Marked copies of the sources too, which takes long.
        sheet_by_district
            A sheet a district in the exception workbook.
        data
            Formats of data files for other programs: parquet, csv, jsonl.
        memo_template
            An owner's template of the memoranda.
        junit
            File of the outcomes for a build server.
        progress
            Told of each report.

        Raises
        ------
        OutputFolderError
            The folder cannot be written.
        TemplateError
            The template cannot be read, or does not compile.
        """
        wishes = Wishes(
            annotate=annotate,
            sheet_by_district=sheet_by_district,
            data=tuple(data),
            memo_template=Path(memo_template) if memo_template is not None else None,
            junit=Path(junit) if junit is not None else None,
        )
        return write_reports(self.store, Path(folder), wishes, progress)


def audit(
    sources: Sources,
    *,
    store: str | Path | None = None,
    policy: str | Path | Policy | None = None,
    columns: str | Path | None = None,
    rules: Iterable[str | Path] = (),
    waivers: Iterable[str | Path] | Gathered = (),
    as_of: date | None = None,
    workers: int = 1,
    progress: Progress | None = None,
) -> Audit:
    """
    Audit the neutral grounding of a fleet from its records.

    Parameters
    ----------
    sources
        Files, folders, or a mapping of table name to DataFrame.
    store
        DuckDB file to keep all stages in; in memory if none is named.
    policy
        Policy file of the owner, over the shipped default.
    columns
        Column map, as `groundcheck columns` proposes one.
    rules
        Folders of more rules.
    waivers
        Waiver files (.toml) and exception workbooks in which findings were accepted; the later wins. Or what was
        gathered from them.
    as_of
        Day as of which what is overdue and which waivers hold is decided; today if none is given.
    workers
        Processes that read files side by side.
    progress
        Told of each stage.

    Raises
    ------
    GroundcheckError
        The request can't be met; one class a condition, see groundcheck.errors.
    """
    in_force = policy if isinstance(policy, Policy) else load_policy(policy)
    rulebook = load_rulebooks([Path(folder) for folder in rules], try_queries=False)
    check_names(in_force.choices, limits_read(rulebook))
    gathered = waivers if isinstance(waivers, Gathered) else gather_waivers(waivers)
    day = as_of or date.today()
    given = sources if isinstance(sources, Mapping) else _paths(sources)
    with whole_or_not_at_all(store) as kept:
        ingest(kept, given, columns=columns, workers=workers, progress=progress)
        run_study(kept, in_force, progress)
        run_rules(kept, rulebook, in_force, progress, audit_date=day)
        apply_waivers(kept, gathered, in_force, day)
        keep_run(kept, _run_row(kept, in_force, day), rule_parts(rulebook))
        if store is None:
            return Audit(kept)
    return Audit(Store(store))


def _paths(sources: str | Path | Iterable[str | Path]) -> list[Path]:
    if isinstance(sources, str | Path):
        return [Path(sources)]
    return [Path(source) for source in sources]


def _run_row(store: Store, policy: Policy, as_of: date) -> dict[str, Any]:
    districts = dict(store.connection.execute("SELECT substation, district FROM inventory.substation").fetchall())
    return {
        "made_at": datetime.now().astimezone().isoformat(timespec="seconds"),
        "as_of": as_of,
        "version": version("groundcheck"),
        "method": method_note(policy),
        "policy": policy_text(policy),
        "tolerances": _tolerances(policy),
        "notices": "\n".join(places_not_on_record(policy.choices, districts)) or None,
    }


def _tolerances(policy: Policy) -> str:
    """What firm and marginal rest on, in words."""
    return ", ".join(f"{name} {share:.3g} %" for name, share in (
        (name, 100 * share) for name, share in policy.tree["tolerance"].items()
    ))  # fmt: skip
