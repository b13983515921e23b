"""Finding the rule modules: in the packages of an entry-point group, and in folders that the user names."""

import importlib
import importlib.util
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from importlib.metadata import entry_points
from pathlib import Path
from types import ModuleType
from typing import Any

from groundcheck.audit.fault import RuleFault
from groundcheck.audit.rule import Rule
from groundcheck.audit.rule_file import fault_line, load_failure
from groundcheck.audit.validation import check_rule, try_query
from groundcheck.errors import SourceNotFound
from groundcheck.policy import Policy, load_policy

ENTRY_POINT_GROUP = "groundcheck.rulebooks"


@dataclass(frozen=True)
class LoadedRule:
    """A rule with its name, the package or folder it came from, and its file as shown and as found."""

    name: str
    rulebook: str
    shown_file: str
    file: Path
    rule: Rule


@dataclass(frozen=True)
class Refusal:
    """A rule, a package or a folder that gave nothing to run, and why."""

    rule: str
    rulebook: str
    file: str
    line: int | None
    why: str

    def __str__(self) -> str:
        """'local/spare.py, line 12: the query returns no column `ok`'."""
        return f"{self.file}, line {self.line}: {self.why}" if self.line else f"{self.file}: {self.why}"


@dataclass
class Rulebook:
    """The rules that may run, by name, and what was refused."""

    rules: dict[str, LoadedRule] = field(default_factory=dict)
    refused: list[Refusal] = field(default_factory=list)


def load_rulebooks(folders: Iterable[str | Path] = (), *, try_queries: bool = True) -> Rulebook:
    """
    All rules of the installed rulebooks and of the folders named; what can't be used is refused, the rest runs.

    Without `try_queries` a query is first run by run_rules, which refuses it for the same faults.

    Raises
    ------
    SourceNotFound
        A folder that was named does not exist.
    """
    book, policy = Rulebook(), load_policy()
    for entry in sorted(entry_points(group=ENTRY_POINT_GROUP), key=lambda each: each.value):
        _load_package(book, entry.value, policy)
    for folder in folders:
        _load_folder(book, Path(folder), policy)
    if try_queries:
        for loaded in list(book.rules.values()):
            try:
                try_query(loaded.rule)
            except RuleFault as fault:
                del book.rules[loaded.name]
                book.refused.append(refuse(loaded, fault))
    book.rules = dict(sorted(book.rules.items()))
    return book


def limits_read(rulebook: Rulebook) -> dict[str, list[str]]:
    """The policy entries that each rule reads; none of a rule that was refused."""
    refused: dict[str, list[str]] = {refusal.rule: [] for refusal in rulebook.refused}
    return refused | {name: sorted(loaded.rule.policy.values()) for name, loaded in rulebook.rules.items()}


def rule_parts(rulebook: Rulebook) -> dict[str, dict[str, Any]]:
    """For each rule all that decides its answers, as text; the policy entries it reads; whether it reads the study."""
    return {
        name: {
            "text": "\n".join((loaded.rule.query, repr(sorted(loaded.rule.policy.items())), loaded.rule.severity)),
            "policy_entries": sorted(set(loaded.rule.policy.values())),
            "computed": "study." in loaded.rule.query,
        }
        for name, loaded in rulebook.rules.items()
    }


def refuse(loaded: LoadedRule, fault: RuleFault) -> Refusal:
    """The refusal of a rule for a fault, with the line of the part at fault."""
    return Refusal(loaded.name, loaded.rulebook, loaded.shown_file, fault_line(loaded.file, fault), fault.why)


def _load_package(book: Rulebook, package: str, policy: Policy) -> None:
    try:
        roots = [Path(each) for each in importlib.import_module(package).__path__]
    except Exception as error:  # whatever a foreign package raises, the other rulebooks run
        book.refused.append(Refusal(package, package, package, None, load_failure(Path(package), error)[1]))
        return
    found = False
    for root in roots:
        for file in _rule_files(root):
            found = True
            dotted = ".".join((package, *file.relative_to(root).with_suffix("").parts))
            shown = Path(package) / file.relative_to(root)
            _load_module(book, package, root, file, shown.as_posix(), dotted, policy)
    if not found:
        book.refused.append(Refusal(package, package, package, None, "the package holds no rule module"))


def _load_folder(book: Rulebook, folder: Path, policy: Policy) -> None:
    if not folder.exists():
        raise SourceNotFound(f"{folder}: no such folder of rules")
    root = folder if folder.is_dir() else folder.parent
    files = list(_rule_files(folder)) if folder.is_dir() else [folder]
    if not files:
        book.refused.append(Refusal(str(folder), str(folder), str(folder), None, "the folder holds no rule module"))
    for file in files:
        _load_module(book, str(folder), root, file, file.as_posix(), None, policy)


def _rule_files(root: Path) -> Iterator[Path]:
    for file in sorted(root.rglob("*.py")):
        parts: Sequence[str] = file.relative_to(root).parts
        if not any(part.startswith(("_", ".")) for part in parts):
            yield file


def _load_module(
    book: Rulebook, rulebook: str, root: Path, file: Path, shown: str, dotted: str | None, policy: Policy
) -> None:
    name = file.relative_to(root).with_suffix("").as_posix().replace("_", "-")
    try:
        module = importlib.import_module(dotted) if dotted else _import_file(file, name)
    except (Exception, SystemExit) as error:  # whatever a foreign module raises, the other rules run
        book.refused.append(Refusal(name, rulebook, shown, *load_failure(file, error)))
        return
    rule = getattr(module, "RULE", None)
    if not isinstance(rule, Rule):
        why = "it has no RULE" if rule is None else f"its RULE is a {type(rule).__name__}; a Rule is expected"
        book.refused.append(Refusal(name, rulebook, shown, fault_line(file, RuleFault(why)), why))
        return
    loaded = LoadedRule(name, rulebook, shown, file, rule)
    if name in book.rules:
        why = f"a rule named {name} is already loaded from {book.rules[name].shown_file}"
        book.refused.append(Refusal(shown, rulebook, shown, fault_line(file, RuleFault(why)), why))
        return
    try:
        check_rule(rule, policy)
    except RuleFault as fault:
        book.refused.append(refuse(loaded, fault))
        return
    book.rules[name] = loaded


def _import_file(file: Path, name: str) -> ModuleType:
    """Run the module as it is written now: no compiled copy is read, or left in the owner's folder."""
    private = f"_groundcheck_rule_{abs(hash(file.resolve())):x}_{file.stem}"
    spec = importlib.util.spec_from_file_location(private, file)
    if spec is None:
        raise ImportError(f"{name} is not a Python file")
    module = importlib.util.module_from_spec(spec)
    exec(compile(file.read_bytes(), str(file), "exec"), module.__dict__)
    return module
