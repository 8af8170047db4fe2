"""What months of standing do to a trailer, and the papers it needs."""

from checks.facts import yes_no
from checks.formula import is_
from checks.trade.signs import practice

braked = is_("brakes", "surge", "electric", "hydraulic")

SIGNS = [
    practice("stood_rodents", "stood", "mend"),
    practice(
        "stood_brake",
        "stood",
        "mend",
        "jacking",
        only=is_("brakes", "surge", "electric", "hydraulic"),
    ),
    practice("stood_jack", "stood", "mend", "crush"),
    practice("stood_tires", "stood", "look"),
    practice("stood_rust", "stood", "mend"),
    practice("plate", "papers", "mend", "maker"),
    practice("registration", "papers", "look", "maker"),
    practice("inspection_due", "papers", "look", "maker"),
]

FACTS = [yes_no("stored"), *(fact for fact, _ in SIGNS)]
FINDINGS = [finding for _, finding in SIGNS]
