"""The open questions of ingest, with the districts whose stations their files hold."""

from typing import Any

from groundcheck.report.data_requests.wanted import NO_DISTRICT
from groundcheck.report.rows import fetch
from groundcheck.schema import INVENTORY_TABLES
from groundcheck.schema.stages.raw import QUESTION_SUBJECTS
from groundcheck.store import Store


def open_questions(store: Store) -> list[tuple[Any, ...]]:
    """Districts, number, subject in words, found, candidates, file, sheet, cell, cells, line of the column map."""
    districts = _districts_of_files(store)
    query = """
        SELECT question, subject, found, candidates, file, sheet, cell, cells, answer FROM raw.question
        ORDER BY question
    """
    rows = [
        (
            districts.get(file, NO_DISTRICT),
            number,
            QUESTION_SUBJECTS.get(subject, subject),
            found,
            candidates,
            file,
            *rest,
        )
        for number, subject, found, candidates, file, *rest in fetch(store, query)
    ]
    return sorted(rows, key=lambda row: (row[0] == NO_DISTRICT, row[0], row[1]))


def _districts_of_files(store: Store) -> dict[str, str]:
    each = " UNION ".join(f'SELECT raw_row, substation FROM inventory."{name}"' for name in INVENTORY_TABLES)
    query = f"""
        SELECT r.file, string_agg(DISTINCT s.district, ', ' ORDER BY s.district)
        FROM ({each}) a
        JOIN raw.row r USING (raw_row)
        JOIN inventory.substation s ON s.substation = a.substation
        WHERE trim(s.district) <> ''
        GROUP BY r.file
    """
    return dict(fetch(store, query))
