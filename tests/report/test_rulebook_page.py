"""The rulebook as one page: every rule is there with its parts, text stays text."""

import html
import re
from pathlib import Path

from groundcheck.audit import load_rulebooks
from groundcheck.report.rulebook_page import write_rulebook_of_audit, write_rulebook_page
from groundcheck.store import Store


def test_every_rule_is_there_with_all_that_it_says(tmp_path: Path) -> None:
    book = load_rulebooks(try_queries=False)
    write_rulebook_page(book, tmp_path / "rulebook.html")
    page = " ".join(html.unescape(re.sub(r"<[^>]+>", "", (tmp_path / "rulebook.html").read_text())).split())
    for name, loaded in book.rules.items():
        rule = loaded.rule
        for text in (name, rule.title, rule.why, rule.basis, rule.formula, rule.caution, rule.cannot_see):
            assert " ".join(text.split()) in page, (name, text)
        for label in rule.examples:
            assert " ".join(label.split(": ", 1)[1].split()) in page, (name, label)


def test_a_limit_stands_with_its_value_and_its_source(tmp_path: Path) -> None:
    write_rulebook_page(load_rulebooks(try_queries=False), tmp_path / "rulebook.html")
    page = (tmp_path / "rulebook.html").read_text()
    assert "neutral_device.nameplate_tolerance" in page
    assert "IEEE C57.32 resistance tolerance, recalled" in page


def test_the_page_needs_nothing_from_elsewhere(tmp_path: Path) -> None:
    write_rulebook_page(load_rulebooks(try_queries=False), tmp_path / "rulebook.html")
    page = (tmp_path / "rulebook.html").read_text()
    assert not re.search(r"(src|href)=\"(?!#)", page)
    assert "<script" not in page


def test_what_a_foreign_rule_says_stays_text(filled_store: Store, tmp_path: Path) -> None:
    filled_store.connection.execute("UPDATE audit.rule SET why = '<script>alert(1)</script>', problem = NULL")
    write_rulebook_of_audit(filled_store, tmp_path / "rulebook.html")
    page = (tmp_path / "rulebook.html").read_text()
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in page
    assert "<script" not in page


def test_the_page_of_an_audit_tells_how_often_each_rule_was_answered(filled_store: Store, tmp_path: Path) -> None:
    write_rulebook_of_audit(filled_store, tmp_path / "rulebook.html")
    page = (tmp_path / "rulebook.html").read_text()
    assert re.search(r"<dt>this audit</dt><dd>\d+ exceptions, \d+ satisfied, ", page)
