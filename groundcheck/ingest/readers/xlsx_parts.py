"""Where an .xlsx or .xlsb workbook keeps its sheets, and which of its cell styles are struck through."""

import posixpath
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from xml.etree import ElementTree

from groundcheck.ingest.readers.biff12 import sheet_relations
from groundcheck.ingest.readers.marks import is_true


@dataclass(frozen=True)
class Parts:
    """The part of each sheet by name, the struck cell styles, and whether the workbook asks to be recalculated."""

    sheets: dict[str, str]
    struck_styles: frozenset[int] = frozenset()
    recalculated: bool = False


def read_parts(archive: zipfile.ZipFile) -> Parts:
    """
    Read what the workbook says of its parts.

    Raises
    ------
    KeyError, ParseError
        A part that must be there is not, or is not XML.
    """
    names = set(archive.namelist())
    book = _office_document(archive)
    folder, base = posixpath.split(book)
    targets = {
        relation.get("Id", ""): _target(folder, relation.get("Target", ""))
        for relation in _root(archive, f"{folder}/_rels/{base}.rels".lstrip("/"))
    }
    if book.endswith(".bin"):
        found = sheet_relations(archive.read(book))
        return Parts({name: targets[relation] for name, relation in found.items() if targets.get(relation) in names})
    root = _root(archive, book)
    sheets = {}
    for sheet in _all(root, "sheet"):
        relation = next((value for key, value in sheet.items() if key.endswith("}id")), "")
        if targets.get(relation) in names:
            sheets[sheet.get("name", "")] = targets[relation]
    asks = any(is_true((calc.get("fullCalcOnLoad") or "").encode()) for calc in _all(root, "calcPr"))
    styles = f"{folder}/styles.xml".lstrip("/")
    return Parts(sheets, _struck_styles(_root(archive, styles)) if styles in names else frozenset(), asks)


def _struck_styles(root: ElementTree.Element) -> frozenset[int]:
    """The cell formats whose font is struck through."""
    fonts = next(_all(root, "fonts"), ())
    struck = {
        str(number)
        for number, font in enumerate(fonts)
        for strike in _all(font, "strike")
        if is_true(strike.get("val", "1").encode())
    }
    formats = next(_all(root, "cellXfs"), ())
    return frozenset(number for number, form in enumerate(formats) if form.get("fontId") in struck)


def _office_document(archive: zipfile.ZipFile) -> str:
    for relation in _root(archive, "_rels/.rels"):
        if relation.get("Type", "").endswith("/officeDocument"):
            return _target("", relation.get("Target", ""))
    return "xl/workbook.xml"


def _target(folder: str, target: str) -> str:
    return target.lstrip("/") if target.startswith("/") else posixpath.normpath(posixpath.join(folder, target))


def _root(archive: zipfile.ZipFile, part: str) -> ElementTree.Element:
    return ElementTree.fromstring(archive.read(part))


def _all(root: ElementTree.Element, name: str) -> Iterator[ElementTree.Element]:
    """The elements of a local name, in whichever of the two namespaces of the format."""
    return (element for element in root.iter() if str(element.tag).rpartition("}")[2] == name)
