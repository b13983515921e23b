"""Rest for the collector of cycles while millions of cells are made that stay, and hold none."""

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def collector_at_rest() -> Iterator[None]:
    """It would look through them again and again."""
    working = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if working:
            gc.enable()
