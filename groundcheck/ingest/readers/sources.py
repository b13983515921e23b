"""What can be named to be read."""

from collections.abc import Iterable, Mapping

import pandas as pd

from groundcheck.ingest.readers.found import Named

Sources = Named | Iterable[Named] | Mapping[str, pd.DataFrame]
