"""Texts as TOML writes them."""

import json


def quoted(text: str) -> str:
    """A text in quotes."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
