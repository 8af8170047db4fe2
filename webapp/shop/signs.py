"""The sign of each level for pages and prints: shape and mark, on a square of 48.

After open standards only. Stop: octagon (Vienna Convention on Road Signs, B2a). Mend: triangle,
look again: disc, nothing found: square (ISO 3864-1 warning, mandatory action, safe condition). Not
checked: a dashed outline. The phone draws the same in ``static/parts/sign.js``.
"""

from __future__ import annotations

from dataclasses import dataclass

Corner = tuple[float, float]
DISC = 22.0  # the radius of the one sign that has no corners


@dataclass(frozen=True)
class Sign:
    """``corners`` in order, none for the disc; ``foot`` is where the mark stands."""

    corners: tuple[Corner, ...]
    mark: str
    foot: float
    small: bool = False
    dashed: bool = False
    rounded: float = 0

    @property
    def path(self) -> str:
        """The corners as an SVG path."""
        return "M" + "L".join(f"{x:g} {y:g}" for x, y in self.corners) + "Z"


def square(inset: float) -> tuple[Corner, ...]:
    low, high = inset, 48 - inset
    return (low, low), (high, low), (high, high), (low, high)


OCTAGON = ((14, 2), (34, 2), (46, 14), (46, 34), (34, 46), (14, 46), (2, 34), (2, 14))
SIGNS = {
    "stop": Sign(OCTAGON, "STOP", 28.5, small=True),
    "mend": Sign(((24, 4), (45, 42), (3, 42)), "!", 37),
    "look": Sign((), "!", 33),
    "nothing": Sign(square(4), "–", 33),
    "unchecked": Sign(square(5), "?", 33, dashed=True, rounded=6),
}
