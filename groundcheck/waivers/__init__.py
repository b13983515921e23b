"""Findings that an owner accepts, by name, for a reason, until a date; it imports policy, store and what lies below."""

from groundcheck.waivers.account import merge_account
from groundcheck.waivers.apply import apply_waivers, gathered_in
from groundcheck.waivers.gather import Gathered, gather_waivers
from groundcheck.waivers.toml_file import waivers_text
from groundcheck.waivers.unsaved import filled_in_by_hand, unsaved_by

__all__ = [
    "Gathered",
    "apply_waivers",
    "filled_in_by_hand",
    "gather_waivers",
    "gathered_in",
    "merge_account",
    "unsaved_by",
    "waivers_text",
]
