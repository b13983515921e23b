"""Which ground source carries what part of a ground fault."""

import pandas as pd

from groundcheck.schema.columns import key, quantity, text, yes_no
from groundcheck.schema.table import Table


class Contribution(Table):
    """What a ground source sends into a line-to-ground fault at a bus of its zone, in the maximum condition."""

    substation: str = key("Station of the faulted bus.")
    bus: str = key("Faulted bus.")
    source_substation: str = text("Station of the source.")
    source_kind: str = key("transformer, grounding_transformer, generator or infeed.")
    source: str = key("Its tag.")
    current_a: float = quantity("Ground-fault current that it sends into the zone (3I0).", "A")
    current_re_a: float = quantity("Its part in phase with the fault current.", "A")
    current_im_a: float = quantity("Its part a quarter of a cycle ahead.", "A")
    provisional: pd.BooleanDtype = yes_no("Whether an assumed value stands behind it.")
