"""How hard the made-up examples try: a short seeded run everywhere, a long random one on demand.

``make fuzz`` sets TWENTYMILE_LONG; then every property that asks here gets many times the examples,
new ones each time.
"""

import os

from hypothesis import HealthCheck, settings

LONG = bool(os.environ.get("TWENTYMILE_LONG"))

# seeded, so that a run elsewhere fails on the same example; no deadline, since machines differ
settings.register_profile(
    "twentymile",
    deadline=None,
    derandomize=not LONG,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
settings.load_profile("twentymile")


def effort(examples: int) -> settings:
    """Settings for ``examples`` in the short run, forty times as many in the long one."""
    return settings(max_examples=examples * (40 if LONG else 1))
