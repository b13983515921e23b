"""Where in its file a rule says what is wrong with it."""

import ast
import re
from pathlib import Path
from types import TracebackType

from groundcheck.audit.fault import RuleFault
from groundcheck.audit.rule import Rule
from groundcheck.nearest import nearest


def fault_line(file: Path, fault: RuleFault) -> int | None:
    """The line of the part that is at fault; that of the rule if the part is not written there."""
    try:
        tree = ast.parse(file.read_text(encoding="utf-8"))
    except (OSError, SyntaxError, ValueError):
        return None
    names = {
        target.id: node.value
        for node in tree.body
        if isinstance(node, ast.Assign)
        for target in node.targets
        if isinstance(target, ast.Name)
    }
    rule = names.get("RULE")
    if rule is None:
        return None
    value = next((k.value for k in getattr(rule, "keywords", ()) if k.arg == fault.part), None)
    if isinstance(value, ast.Name):
        value = names.get(value.id)
    if value is None:
        return rule.lineno
    return _line_within(value, fault)


def _line_within(value: ast.expr, fault: RuleFault) -> int:
    if isinstance(value, ast.Constant) and isinstance(value.value, str):
        lines = value.value.splitlines()
        offset = next((n for n, line in enumerate(lines) if fault.text and fault.text in line), 0)
        return value.lineno + (fault.offset or offset)
    for node in ast.walk(value):
        if isinstance(node, ast.Constant) and fault.text and node.value == fault.text:
            return node.lineno
    return value.lineno


def load_failure(file: Path, error: BaseException) -> tuple[int | None, str]:
    """The line at which a rule module failed to load, and why, in words."""
    if isinstance(error, SyntaxError) and error.filename and Path(error.filename) == file:
        return error.lineno, f"it is not valid Python ({error.msg})"
    return _line_in(file, error.__traceback__), _in_words(error)


def _line_in(file: Path, trace: TracebackType | None) -> int | None:
    line = None
    while trace is not None:
        if Path(trace.tb_frame.f_code.co_filename) == file:
            line = trace.tb_lineno
        trace = trace.tb_next
    return line


def _in_words(error: BaseException) -> str:
    text = str(error)
    unknown = re.search(r"Rule\.__init__\(\) got an unexpected keyword argument '(\w+)'", text)
    if unknown:
        near = nearest(unknown[1], Rule.__dataclass_fields__)
        return f"a rule has no field `{unknown[1]}`; nearest is `{near}`"
    missing = re.search(r"Rule\.__init__\(\) missing \d+ required positional arguments?: (.+)", text)
    if missing:
        return f"the rule has no {missing[1].replace(chr(39), '`')}"
    return f"it can't be loaded ({type(error).__name__}: {text})"
