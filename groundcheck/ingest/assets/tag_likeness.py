"""What of a tag is compared with that of others: not hyphens, leading zeros, or the letter O for a zero."""

from collections.abc import Sequence

import pyarrow as pa
import pyarrow.compute as pc

# In turn: what is replaced, and by what, in a tag in lower case. RE2 syntax.
_ANY_TAG = (
    (r"(^|[^a-z])(?:number|no|nr)[.\s]*([0-9])", r"\1\2"),  # No. 1
    (r"[\s#]+", ""),
    (r"([a-z])[-_./\\]+", r"\1"),  # NER-1; between digits they stay: 1-1 is not 11
    (r"[-_./\\]+([a-z])", r"\1"),
    (r"[-_./\\]+", "-"),
    (r"o([0-9])", r"0\1"),
    (r"([0-9])o([0-9]|$)", r"\10\2"),
    (r"(^|[^0-9])0+([0-9])", r"\1\2"),
)
# How transformers are named; common practice, no source.
_TRANSFORMER = (
    (r"(^|[0-9])(?:transformer|trafo|tfmr|txfmr|xfmr|trf|tx|tr|tf)([0-9-]|$)", r"\1t\2"),
    (r"^([0-9]+)t$", r"t\1"),
    (r"^([0-9]+)$", r"t\1"),
)


def alike_forms(tags: Sequence[str], table: str) -> list[str]:
    """The form of each tag in which those that may be one asset's are equal; what tags are called depends on table."""
    texts = pc.utf8_lower(pa.array(tags, pa.string()))
    for pattern, replacement in _ANY_TAG + (_TRANSFORMER if table == "transformer" else ()):
        texts = pc.replace_substring_regex(texts, pattern, replacement)
    forms: list[str] = texts.to_pylist()
    return forms
