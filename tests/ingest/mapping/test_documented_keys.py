"""The README shows every key of the column map, in an example that is accepted."""

import re
import tomllib
from pathlib import Path

import pytest

from groundcheck.ingest.mapping.map_file import TOP_KEYS, read_column_map
from groundcheck.ingest.mapping.sheet_entry import SHEET_KEYS, SOURCE_KEYS

README = (Path(__file__).parents[3] / "README.md").read_text(encoding="utf-8")
(EXAMPLE,) = (block for block in re.findall(r"```toml\n(.*?)```", README, re.S) if "[[sheet]]" in block)
TREE = tomllib.loads(EXAMPLE)
SOURCES = [source for entry in TREE["sheet"] for source in entry.get("fields", {}).values() if isinstance(source, dict)]


def test_the_example_is_a_column_map(tmp_path):
    path = tmp_path / "map.toml"
    path.write_text(EXAMPLE, encoding="utf-8")
    assert len(read_column_map(path).sheets) == len(TREE["sheet"])


@pytest.mark.parametrize("key", TOP_KEYS)
def test_a_key_of_the_map_is_shown(key):
    assert key in TREE


@pytest.mark.parametrize("key", SHEET_KEYS)
def test_a_key_of_an_entry_is_shown(key):
    assert any(key in entry for entry in TREE["sheet"])


@pytest.mark.parametrize("keys", SOURCE_KEYS.values(), ids=lambda keys: ", ".join(sorted(keys)))
def test_a_way_of_making_a_field_is_shown_with_all_its_keys(keys):
    assert any(set(source) == keys for source in SOURCES)
