"""What kind of trailer it is: decides which points of the walk apply."""

from checks.facts import choice, number, yes_no
from checks.formula import node
from checks.rules import Finding

FACTS = [
    choice("walk_depth", "trip", "month", "season", optional=True),
    number("axles", "count", 1, 3),
    choice("brakes", "none", "surge", "electric", "hydraulic"),
    choice("hub_size", "bore_25", "bore_27", "bore_32", "bore_35", optional=True),
    choice("width", "under_80", "80_or_more"),
    choice("length", "under_6", "6_to_30", "30_or_more"),
    yes_no("boat"),
    yes_no("tilt"),
    yes_no("ramps"),
    yes_no("enclosed"),
]


def stand_in(name: str, *cautions: str) -> Finding:
    never = node("<", 0, 0)
    return Finding(name, "kind", "look", never, "docs/scoring.md", "computed", cautions)


FINDINGS = [
    # each stands for a doubt about Stop now or Mend; checks/judge.py puts it at the point in doubt,
    # so it never holds by itself
    stand_in("too_rough"),
    stand_in("too_near"),
    stand_in("too_hot", "burn", "traffic", "wheel_work"),
    stand_in("mates_apart", "burn", "traffic", "wheel_work"),
]
