"""How many examples are tried: few and always the same in a run of the tests, many, new and shrunk ones on request."""

import os

from hypothesis import HealthCheck, Phase, settings

_ASKED = os.environ.get("GROUNDCHECK_EXAMPLES")

settings.register_profile(
    "round trips",
    max_examples=int(_ASKED or 30),
    derandomize=_ASKED is None,
    database=None,
    deadline=None,
    print_blob=True,
    report_multiple_bugs=False,
    phases=[Phase.explicit, Phase.generate, *([Phase.shrink] if _ASKED else [])],
    suppress_health_check=list(HealthCheck),
)
ROUND_TRIPS = settings.get_profile("round trips")
