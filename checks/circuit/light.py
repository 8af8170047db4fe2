"""How much light a lamp gives at the volts it gets, and whether a person sees it.

The power law of the rerating rule gives a faint filament far too much (17 times at a quarter of
its voltage), so light is that of a black body as the eye weighs it.
"""

from __future__ import annotations

import math
from functools import lru_cache

# K at rated voltage, and its exponent: the rerating rule, reported second hand.
COLOUR = 2600.0
COLOUR_EXPONENT = 0.42
SECOND_RADIATION = 14387.77  # um K, CODATA
NEAR, FAR, STRIP = 0.40, 0.78, 0.01  # um
WEIGHTS = tuple(
    (um, 1.019 * math.exp(-285.4 * (um - 0.559) ** 2) / um**5)
    for um in (NEAR + STRIP * i for i in range(round((FAR - NEAR) / STRIP) + 1))
)


def _glow(kelvin: float) -> float:
    total = 0.0
    for um, weight in WEIGHTS:
        x = SECOND_RADIATION / (um * kelvin)
        if x < 600:
            total += weight / math.expm1(x)
    return total


FULL = _glow(COLOUR)


@lru_cache(maxsize=65536)
def black_body(share: float) -> float:
    """Light of a filament at ``share`` of its rated voltage, as a share of its rated light.

    Planck's law at 2600 K times share^0.42, weighed by the photopic fit
    1.019 exp(-285.4 (um - 0.559)^2).
    """
    return _glow(COLOUR * abs(share) ** COLOUR_EXPONENT) / FULL if share else 0.0


def led(amperes: float, full_amperes: float) -> float:
    """Light of an LED lamp as a share of its light at 12.8 V: as its current."""
    return max(0.0, amperes / full_amperes)
