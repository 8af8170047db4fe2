"""What a rule is made of: named quantities and findings, their standings and levels. A leaf."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from checks.formula import Compiled, Expr, limit
from checks.written import Needs

# of a source, the firmest first
STANDINGS = ("read", "secondary", "computed", "memory", "practice")
# of a verdict, the worst first; a finding has one of the first three
LEVELS = ("stop", "mend", "look", "nothing", "unchecked")
FOUND_LEVELS = LEVELS[:3]
# the facts that end all asking: one at the whole trailer, the other at its wheel
FIRE, SMOKE = "flames", "smoke"
SIGN = "has_"  # of a finding that is just a sign seen at a wheel, before the sign's fact
PRACTICE = "Common practice, no source"  # the source of what has the standing ``practice``


@dataclass(frozen=True)
class Limits:
    """The limits of one file: ``limits = Limits("torque")``, then ``limits("nut_dry")``."""

    file: str

    def __call__(self, name: str) -> Expr:
        return limit(f"{self.file}.{name}")


@dataclass(frozen=True)
class Quantity:
    """A named value: formula, unit, where it comes from."""

    id: str
    unit: str
    formula: Expr
    source: str
    standing: str = "computed"
    scope: str = "trailer"


@dataclass
class Finding:
    """A condition at a point, with the level it has where it holds.

    shows: quantities whose working is shown with it. optional: a *maybe* from coarse answers, or
    from optional facts, is passed over in silence. beneath: the worse finding that, where it
    holds too, says it all. told_only: a doubt left by coarse answers is told, but does not make
    its point *look*; another finding of the point weighs it. alarm: while this holds and its point
    waits for answers, the point is *look* with the card ``card``, not *unchecked*; left by coarse
    answers, a doubt about a *look* counts only while its alarm holds. moot: while this holds, its
    doubt is not told, since another answer speaks against it. holds: a *look* whose own words say
    what to do before driving on, in place of the level's, which are milder.
    danger: among findings of one level the higher comes first (``danger`` of ``walk.toml``).
    sends_on: a *look* whose advice is to drive, if only to the next stop (``onward``); beside what
    keeps the trailer where it is, it comes after that. Any other is followed where one stands.
    """

    id: str
    point: str
    level: str
    when: Expr
    source: str
    standing: str
    cautions: tuple[str, ...] = ()
    shows: tuple[str, ...] = ()
    optional: bool = False
    beneath: str = ""
    told_only: bool = False
    alarm: Expr | None = None
    card: str = ""
    moot: Expr | None = None
    holds: bool = False
    sends_on: bool = False
    danger: int = field(init=False, default=0)
    test: Compiled = field(init=False, repr=False)
    needs: Needs | None = field(init=False, repr=False, default=None)


def onward(finding: Finding) -> Finding:
    """The same finding, its advice one that sends somebody on."""
    return replace(finding, sends_on=True)
