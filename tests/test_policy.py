"""The policy: shipped defaults, an owner's file over them, and what is refused."""

import tomllib
from itertools import pairwise
from pathlib import Path

import groundcheck_rules
import pytest

import groundcheck
from groundcheck.errors import PolicyError
from groundcheck.policy import default_policy_text, load_policy, policy_text


def test_every_shipped_entry_has_a_comment_that_gives_its_source():
    lines = default_policy_text().splitlines()
    bare = {
        line.split("=")[0].strip()
        for above, line in pairwise(lines)
        if line[:1].isalpha() and "#" not in line and not above.startswith("#")
    }
    # An assumption switch needs none: the value it admits stands under assume.value, with its source.
    assert bare <= {name for name in load_policy().tree["assume"] if name != "value"}


def test_owner_file_overrides_only_what_it_names(tmp_path):
    path = tmp_path / "policy.toml"
    path.write_text("[grounding]\neffective_cog = 0.75\n")
    own, shipped = load_policy(path), load_policy()
    differing = {name for name in shipped.entries if own[name] != shipped[name]}
    assert differing == {"grounding.effective_cog"}


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("[grounding]\neffective_cogg = 0.7\n",
         "{path}: no entry `grounding.effective_cogg`; nearest is `grounding.effective_cog`"),
        ('[grounding]\neffective_cog = "low"\n',
         "{path}: `grounding.effective_cog` is 'low'; expected a float such as 0.8"),
        ("[grounding\n", "{path}: cannot be read as TOML (Expected ']' at the end of a table declaration "
                          "(at line 1, column 11))"),
    ],
)  # fmt: skip
def test_what_a_policy_file_gets_wrong_is_said(tmp_path, text, message):
    path = tmp_path / "policy.toml"
    path.write_text(text)
    with pytest.raises(PolicyError) as refusal:
        load_policy(path)
    assert str(refusal.value) == message.format(path=path)


def test_missing_policy_file_is_said():
    with pytest.raises(PolicyError) as refusal:
        load_policy("nowhere.toml")
    assert str(refusal.value) == "nowhere.toml: cannot be read (no such file or directory)"


def test_policy_in_force_reads_back_as_itself(tmp_path):
    path = tmp_path / "policy.toml"
    path.write_text("[neutral_device]\ncurrent_margin = 1.25\n")
    own = load_policy(path)
    again = tmp_path / "again.toml"
    again.write_text(policy_text(own))
    assert load_policy(again).entries == own.entries
    assert tomllib.loads(policy_text(own))["neutral_device"]["current_margin"] == 1.25


def test_every_shipped_entry_is_read_somewhere():
    root = Path(groundcheck.__file__).parent
    rules = Path(groundcheck_rules.__file__).parent
    code = "".join(path.read_text(encoding="utf-8") for place in (root, rules) for path in place.rglob("*.py"))
    unread = {name for name in load_policy().entries if name.split(".")[-1] not in code}
    assert unread == set()
