"""The charting library as the page carries it: one bundle of JavaScript, made once a process, in the background."""

from concurrent.futures import Future, ThreadPoolExecutor
from functools import cache

import vl_convert


@cache
def bundle() -> "Future[str]":
    """The bundle, under way; it sets `vegaEmbed`, and takes about a second the first time."""
    pool = ThreadPoolExecutor(1, thread_name_prefix="vega-bundle")
    try:
        return pool.submit(_made)
    finally:
        pool.shutdown(wait=False)


def _made() -> str:
    made = vl_convert.javascript_bundle()  # type: ignore[call-arg]  # its stub lacks the defaults
    return made.replace("</script", "<\\/script").replace("<!--", "<\\!--")
