"""What all the files given say of each finding: the later file wins, and a person's word over what is carried along."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from pathlib import Path

from groundcheck.errors import WaiverError
from groundcheck.waivers.toml_file import read_waiver_file
from groundcheck.waivers.waiver import OPEN, Disposition, Waiver, keep_first_acceptance
from groundcheck.waivers.workbook import SUFFIXES, WorkbookSays, read_exceptions_workbook


@dataclass
class Gathered:
    """
    By finding, the waiver that counts, or what else a person says of it.

    `said` holds each row that a person filled in in a workbook, whether it counts or not, and `heard` the marks of all
    waivers of a finding.
    """

    waivers: dict[str, Waiver] = field(default_factory=dict)
    dispositions: dict[str, Disposition] = field(default_factory=dict)
    said: list[Disposition] = field(default_factory=list)
    heard: dict[str, set[str]] = field(default_factory=dict)


def gather_waivers(paths: Iterable[str | Path]) -> Gathered:
    """
    Read waiver files and exception workbooks.

    What a workbook carries along from the audit that made it counts only where no file says anything of the finding,
    or says only what a person had already overruled in the workbook: then the waiver file was not brought up to date.

    Raises
    ------
    WaiverError
        A file can't be read, or says what can't be; the entry or the cell is named.
    """
    files = [_read(Path(path)) for path in paths]
    gathered = Gathered()
    for says in files:
        _take_carried(gathered, says)
    for says in files:
        for waiver in says.waivers:
            _take_waiver(gathered, waiver)
        for disposition in says.dispositions:
            _take_disposition(gathered, disposition)
        gathered.said += says.said
    return gathered


def _read(path: Path) -> WorkbookSays:
    if path.suffix.lower() == ".toml":
        return WorkbookSays(waivers=read_waiver_file(path))
    if path.suffix.lower() in SUFFIXES:
        return read_exceptions_workbook(path)
    raise WaiverError(f"{path}: of no kind that holds waivers; expected a .toml file or an exceptions.xlsx of an audit")


def _take_carried(gathered: Gathered, says: WorkbookSays) -> None:
    for waiver in says.carried_waivers:
        gathered.heard.setdefault(waiver.finding, set()).add(waiver.mark)
        gathered.waivers[waiver.finding] = waiver
        gathered.dispositions.pop(waiver.finding, None)
    for told in says.carried_dispositions:
        gathered.dispositions[told.finding] = told
        if told.disposition != OPEN:
            gathered.waivers.pop(told.finding, None)


def _take_waiver(gathered: Gathered, waiver: Waiver) -> None:
    name = waiver.finding
    earlier, told = gathered.waivers.get(name), gathered.dispositions.get(name)
    before = set(gathered.heard.get(name, ()))
    gathered.heard[name] = before | {waiver.mark}
    if waiver.mark in (*(earlier.over if earlier else ()), *(told.over if told else ())):
        return
    if earlier is not None and earlier.says_the_same_as(waiver):
        waiver = keep_first_acceptance(waiver, earlier)
    # A waiver file says again each time what it says; only what was written by hand into a workbook must be remembered.
    overruled = {*before, *waiver.over, *_overruled(earlier, told)} - {waiver.mark}
    over = overruled if waiver.by_hand else set()
    gathered.waivers[name] = replace(waiver, over=tuple(sorted(over)))
    if told is not None and told.disposition != OPEN:
        del gathered.dispositions[name]


def _take_disposition(gathered: Gathered, told: Disposition) -> None:
    earlier, before = gathered.waivers.get(told.finding), gathered.dispositions.get(told.finding)
    over = {*told.over, *_overruled(None, before)}
    if told.withdraws:
        over |= {*gathered.heard.get(told.finding, ()), *_overruled(earlier, None)}
        gathered.waivers.pop(told.finding, None)
    gathered.dispositions[told.finding] = replace(told, over=tuple(sorted(over)))


def _overruled(earlier: Waiver | None, told: Disposition | None) -> tuple[str, ...]:
    """The marks of what these had overruled themselves."""
    return (*(earlier.over if earlier else ()), *(told.over if told else ()))
