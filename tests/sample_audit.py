"""Where the sample fleet lies, and as of which days its answer key holds."""

import re
from datetime import date
from pathlib import Path

SAMPLE = Path(__file__).resolve().parents[1] / "sample_inventory"
_SAID = re.search(
    r"audits as of any day from ([0-9-]{10}) to ([0-9-]{10})", (SAMPLE / "README.md").read_text(encoding="utf-8")
)
assert _SAID is not None
FIRST_DAY, LAST_DAY = map(date.fromisoformat, _SAID.groups())
