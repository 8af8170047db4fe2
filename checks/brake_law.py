"""Trailer brakes by law, a place a table: reads and checks ``brake_law.toml``. A leaf.

Keys of a table: ``value`` in ``unit``, the weight from which brakes are wanted; ``from``, ``at``
that weight or only ``above`` it; ``weighs``, which weight the law speaks of: ``gross`` (as
loaded), ``empty``, ``plate`` (the maker's rating), ``wheels`` (what stands on the trailer's own
wheels), ``carried`` (the load) or ``none``. A place with ``none`` has no value, unit and from, but
in ``test`` how its law tests brakes. Optional: ``only`` the kinds bound; ``living`` and
``boat``, weights of their own for those kinds; ``new``, the weight for trailers sold new;
``share`` of the towing vehicle's ``share_of``, held against ``share_weighs``, which is to be met
``also`` or ``instead``; ``slow`` (mph) and ``slow_most``, the easing for slow towing;
``empty_above``, an empty weight to be passed besides; ``stop_ft`` from 20 mph or ``stop_m`` from
30 km/h; ``surge_most``, the weight up to which a surge brake will do; ``unread``, where the text
itself could not be read.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

FILE = Path(__file__).with_name("brake_law.toml")
NEEDED = {"value", "unit", "from", "weighs", "source", "standing", "confirmed"}
WEIGHT = {"value", "unit", "from"}  # what a law that sets a weight has besides
WORDED = {
    "from": {"at", "above"},
    "weighs": {"gross", "empty", "plate", "wheels", "carried", "none"},
    "boat_weighs": {"gross"},
    "share_of": {"loaded", "empty", "rated_axles"},
    "share_weighs": {"gross", "plate", "wheels"},
    "share_as": {"also", "instead"},
}
UNITS = {
    "living": None, "boat": None, "new": None, "slow_most": None, "empty_above": None,
    "surge_most": None, "share": "ratio", "slow": "mph", "stop_ft": "ft", "stop_m": "m",
}  # fmt: skip
OTHER = {"only", "test", "unread", "note"}


class BrakeLawError(ValueError):
    """A fault in the table of laws; the message names place and key."""


def read_laws(path: Path = FILE) -> dict[str, dict[str, Any]]:
    """Every place's table by its id. Raises BrakeLawError."""
    laws = tomllib.loads(path.read_text("utf-8"))
    for place, law in laws.items():
        _check(place, law)
    return laws


def _check(place: str, law: dict[str, Any]) -> None:
    needed = NEEDED - WEIGHT if law.get("weighs") == "none" else NEEDED
    unknown = set(law) - needed - set(WORDED) - set(UNITS) - OTHER
    for fault, keys in (("missing", needed - set(law)), ("not known", unknown)):
        if keys:
            raise BrakeLawError(f"brake_law.toml, {place}: {', '.join(sorted(keys))} {fault}")
    for key, words in WORDED.items():
        if key in law and law[key] not in words:
            wanted = ", ".join(sorted(words))
            raise BrakeLawError(f"brake_law.toml, {place}: {key} must be one of {wanted}")
    if law.get("unit", "lb") not in ("lb", "kg"):
        raise BrakeLawError(f"brake_law.toml, {place}: unit must be lb or kg")
    if ("test" in law) != (law["weighs"] == "none"):
        raise BrakeLawError(
            f"brake_law.toml, {place}: test goes with weighs = none, and only with it"
        )
    if "share" in law and not {"share_of", "share_weighs", "share_as"} <= set(law):
        raise BrakeLawError(
            f"brake_law.toml, {place}: share needs share_of, share_weighs, share_as"
        )


def limits_of(laws: dict[str, dict[str, Any]]) -> dict[str, dict[str, Any]]:
    """The numbers of the laws as limits, ``va`` for a place's weight, ``va_share`` and so on."""
    limits = {}
    for place, law in laws.items():
        says = {key: law[key] for key in ("standing", "confirmed")}
        if law["standing"] == "memory":
            says["why"] = "The text of this law could not be read; its finding names the section"
        says["source"] = f"{law['source']}: {law['test']}" if "test" in law else law["source"]
        # a law that sets none has its test told where others have their weight
        first = {"value": law.get("value", 0), "unit": law.get("unit", "lb")} | says
        limits[place] = first | ({"note": law["note"]} if "note" in law else {})
        for key, unit in UNITS.items():
            if key in law:
                limits[f"{place}_{key}"] = {"value": law[key], "unit": unit or law["unit"]} | says
    return limits
