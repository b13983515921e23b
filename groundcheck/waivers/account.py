"""What a merge of waivers took, in lines for a person."""

from groundcheck.waivers.gather import Gathered
from groundcheck.waivers.waiver import ACCEPTED, OPEN, Waiver


def merge_account(before: Gathered, after: Gathered) -> list[str]:
    """Each waiver that is new, changed or withdrawn, those that stay counted, and what is no waiver."""
    lines = []
    for finding, waiver in after.waivers.items():
        earlier = before.waivers.get(finding)
        if earlier is None:
            lines.append(f"new:       {_told(waiver)}, from {waiver.source}")
        elif earlier.mark != waiver.mark:
            lines.append(f"changed:   {_told(waiver)}, from {waiver.source}")
    lines += [f"withdrawn: {_told(each)}" for name, each in before.waivers.items() if name not in after.waivers]
    lines.sort()
    kept = sum(name in after.waivers and after.waivers[name].mark == w.mark for name, w in before.waivers.items())
    lines.append(f"{len(after.waivers)} in all, {kept} as they were")
    others = [each for each in after.dispositions.values() if each.disposition not in (ACCEPTED, OPEN)]
    if others:
        lines.append(f"{len(others)} corrected or disputed: no waivers; the workbook keeps them")
    return lines


def _told(waiver: Waiver) -> str:
    named = [waiver.substation, waiver.asset, waiver.rule]
    about = f" ({', '.join(part for part in named if part)})" if any(named) else ""
    return f"{waiver.finding}{about} by {waiver.by} until {waiver.until}"
