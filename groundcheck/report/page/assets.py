"""Scripts and styles of the page, and the libraries it carries, read from beside this file."""

import hashlib
import json
from base64 import b64encode
from importlib.resources import files

# In this order: what a file uses stands in one before it.
_SCRIPTS = (
    *("dom", "unpack", "state", "data", "filters", "tables", "findings_table", "missing_table", "stations_table"),
    *("matrix", "pictures", "finding_view", "station_view", "views", "start"),
)
_STYLES = ("page", "tables", "views", "print")


def script() -> str:
    """The page's own script, as one function, so that it leaves no name behind."""
    parts = [_read("scripts", f"{name}.js") for name in _SCRIPTS]
    return '(() => {\n"use strict";\n' + "\n".join(parts) + "})();\n"


def style() -> str:
    """The page's own style."""
    return "\n".join(_read("styles", f"{name}.css") for name in _STYLES)


def table_script() -> str:
    """The table library."""
    return _read("vendored", "dataTables.min.js")


def table_style() -> str:
    """Its style."""
    return _read("vendored", "dataTables.dataTables.min.css")


def libraries() -> list[dict[str, str]]:
    """Name, version, license, and hash of each file that is carried here."""
    return list(json.loads(_read("vendored", "manifest.json")))


def source_hash(text: str) -> str:
    """What a content security policy calls an inline script by."""
    return f"'sha256-{b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def _read(folder: str, name: str) -> str:
    return (files("groundcheck.report.page") / folder / name).read_text(encoding="utf-8")
