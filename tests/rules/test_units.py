"""Every formula's units check out, walked with pint as the outside reference."""

from __future__ import annotations

from typing import Any

import pint
import pytest

from checks.formula import Expr, Tree
from checks.rulebook import load
from checks.units import to_unit, units
from tests.support.quantities import evaluate

BOOK = load()
UREG = pint.get_application_registry()

# What pint calls each of our units. A temperature on a scale and a difference are two things.
PINT = {
    "degC": "degC", "degF": "degF", "kelvin": "kelvin", "K": "delta_degC", "dF": "delta_degF",
    "km": "km", "mi": "mile", "m": "m", "ft": "ft", "mm": "mm", "in": "inch", "in32": "inch / 32",
    "km_h": "km / hour", "mph": "mile / hour", "m_s": "m / s",
    "s": "s", "min": "min", "h": "hour", "day": "day", "year": "year",
    "kPa": "kPa", "psi": "psi", "kg": "kg", "lb": "lb", "N": "N", "lbf": "lbf",
    "ft_s2": "ft / s**2", "in2": "inch**2",
    "N_m": "N * m", "N_mm": "N * mm", "lb_ft": "lbf * ft",
    "W": "W", "W_K": "W / delta_degC", "J_K": "J / delta_degC",
    "W_mK": "W / m / delta_degC", "W_m2K": "W / m**2 / delta_degC",
    "W_m2K4": "W / m**2 / delta_degC**4",
    "rad_s": "rad / s", "rpm": "revolution / min", "mm2_s": "mm**2 / s", "m2_s": "m**2 / s",
    "palmgren": "N * mm / (mm**2 / s * revolution / min)**(2/3) / mm**3",
    "V": "V", "A": "A", "ohm": "ohm", "mm2": "mm**2", "ohm_mm2_m": "ohm * mm**2 / m",
    "per_K": "1 / delta_degC", "awg": "", "MPa": "MPa", "thou": "thou", "slot": "60 degree",
    "mm_fine": "mm",
    "deg": "degree", "m_s2": "m / s**2", "ratio": "", "percent": "percent", "count": "", "step": "",
}  # fmt: skip


class Mismatch(AssertionError):
    """Units that do not fit; the message says where."""


def unit(name: str) -> pint.Unit:
    expression = PINT[name]
    # "inch / 32" carries a number; pint keeps it in the magnitude, so it becomes a unit of its own
    if name == "in32":
        if "in32nd" not in UREG:
            UREG.define("in32nd = inch / 32")
        return UREG.Unit("in32nd")
    if name == "slot":
        if "slot_of_six" not in UREG:
            UREG.define("slot_of_six = 60 degree")
        return UREG.Unit("slot_of_six")
    return UREG.Quantity(1, expression or "dimensionless").units


def scale(a: pint.Unit, b: pint.Unit) -> float:
    """How many ``b`` one ``a`` is; differences and kelvins count as the same size."""

    def plain(u: pint.Unit) -> pint.Quantity:
        q = UREG.Quantity(1.0, "dimensionless")
        for name, power in u._units.items():
            bare_name = name.replace("delta_degree_Celsius", "kelvin")
            q = q * UREG.Quantity(1.0, bare_name) ** power
        return q

    return float(plain(a).to(plain(b).units).magnitude)


def same(a: Any, b: Any, where: str) -> Any:
    """The common unit; ``None`` is a bare zero, which fits everything."""
    if a is None or b is None:
        return b if a is None else a
    if str(a) == str(b):
        return a
    offset = {"degree_Celsius", "degree_Fahrenheit"}
    if str(a) in offset or str(b) in offset:
        raise Mismatch(f"{where}: {a} against {b}")
    try:
        factor = scale(a, b)
    except pint.DimensionalityError as error:
        raise Mismatch(f"{where}: {error}") from None
    if abs(factor - 1) > 1e-9:
        raise Mismatch(f"{where}: {a} against {b}, {factor} times as large")
    return a


NONE = UREG.Unit("dimensionless")
DELTA, CELSIUS = UREG.Unit("delta_degC"), UREG.Unit("degC")


def times(a: Any, b: Any, power: float, where: str) -> Any:
    for one in (a, b):
        if one is not None and str(one) in ("degree_Celsius", "degree_Fahrenheit"):
            raise Mismatch(f"{where}: a temperature on a scale cannot be multiplied")
    if a is None:
        return None
    return a if b is None else a * b**power


def added(op: str, a: Any, b: Any, where: str) -> Any:
    if str(a) == "degree_Celsius" or str(b) == "degree_Celsius":
        if str(a) == str(b):
            if op == "-":
                return DELTA
            return CELSIUS  # only inside a mean, which halves it again
        other = b if str(a) == "degree_Celsius" else a
        same(other, DELTA, where)
        return CELSIUS
    return same(a, b, where)


def exponent(tree: Tree) -> float:
    if isinstance(tree, (int, float)):
        return float(tree)
    if tree[0] == "limit":
        return float(BOOK.context.limits[tree[1]])
    if tree[0] == "/":
        return exponent(tree[1]) / exponent(tree[2])
    raise Mismatch(f"exponent {tree} is not a constant")


def bare(a: Any, where: str) -> Any:
    same(a, NONE, where)
    return NONE


def of(tree: Tree, where: str) -> Any:
    """The pint unit of a tree, ``None`` for a bare zero, ``bool`` for a truth."""
    if isinstance(tree, (int, float)):
        return None if tree == 0 else NONE
    return RULES.get(tree[0], branches)(tree, where)


def looked_up(tree: Tree, where: str) -> Any:
    if tree[0] == "fact":
        return unit("day" if tree[1] == "today" else BOOK.facts[tree[1]].unit)
    if tree[0] == "limit":
        return unit(BOOK.data["limits"][tree[1]]["unit"])
    return unit(BOOK.quantities[tree[1]].unit)


def read_off(tree: Tree, where: str) -> Any:
    x, y = BOOK.data["limits"][tree[1]]["unit"].split(" by ")
    same(of(tree[2], where), unit(x), where)
    return unit(y)


def converted(tree: Tree, where: str) -> Any:
    same(of(tree[3], where), unit(tree[1]), where)
    if units()[tree[1]]["dimension"] != units()[tree[2]]["dimension"]:
        raise Mismatch(f"{where}: {tree[1]} into {tree[2]}")
    return unit(tree[2])


def raised(tree: Tree, where: str) -> Any:
    base = of(tree[1], where)
    return base if base is None or base == NONE else base ** exponent(tree[2])


def compared(tree: Tree, where: str) -> Any:
    same(of(tree[1], where), of(tree[2], where), where)
    return bool


def gathered(tree: Tree, where: str) -> Any:
    found = of(tree[3], where)
    return unit("count") if tree[1] == "count" else found


def product(tree: Tree, where: str) -> Any:
    a = of(tree[1], where)
    # (a + b) / 2 of two temperatures is their mean, again a temperature
    mean = tree[0] == "/" and tree[2] == 2.0 and str(a) == "degree_Celsius"
    if mean and isinstance(tree[1], list) and tree[1][0] == "+":
        return a
    return times(a, of(tree[2], where), 1 if tree[0] == "*" else -1, where)


def branches(tree: Tree, where: str) -> Any:
    op = tree[0]
    if op == "pick":
        terms = list(tree[2].values())
    elif op == "if":
        assert of(tree[1], where) is bool, where
        terms = tree[2:]
    else:
        terms = tree[1:]
    found: Any = None
    for term in terms:
        got = of(term, where)
        if got is bool:
            found = bool
        else:
            assert found is not bool, f"{where}: a truth among numbers"
            found = same(found, got, where)
    return found


RULES = {
    "fact": looked_up, "limit": looked_up, "quantity": looked_up, "table": read_off,
    "convert": converted, "*": product, "/": product, "^": raised, "<": compared, "<=": compared,
    "each": gathered,
    "+": lambda t, w: added("+", of(t[1], w), of(t[2], w), w),
    "-": lambda t, w: added("-", of(t[1], w), of(t[2], w), w),
    "exp": lambda t, w: bare(of(t[1], w), w), "ln": lambda t, w: bare(of(t[1], w), w),
    "rank": lambda t, w: unit("step"), "is": lambda t, w: bool, "known": lambda t, w: bool,
}  # fmt: skip


@pytest.mark.parametrize("name", sorted(BOOK.quantities))
def test_quantity_has_the_unit_it_says(name):
    item = BOOK.quantities[name]
    same(of(item.formula.tree, name), unit(item.unit), name)


@pytest.mark.parametrize("name", sorted(BOOK.findings))
def test_finding_compares_like_with_like(name):
    assert of(BOOK.findings[name].when.tree, name) is bool


@pytest.mark.parametrize(
    "tree",
    [
        ["+", ["fact", "air"], ["fact", "air"]],
        ["<", ["fact", "air"], ["fact", "parked"]],
        ["+", ["fact", "run_distance"], ["convert", "km", "m", ["fact", "run_distance"]]],
        ["exp", ["fact", "parked"]],
        ["*", ["fact", "air"], 2.0],
        ["convert", "km", "m", ["fact", "parked"]],
    ],
    ids=lambda t: t[0],
)
def test_the_walk_refuses_what_does_not_fit(tree):
    if tree[0] == "+" and tree[1] == tree[2]:
        # the sum of two temperatures is refused wherever it is not halved into a mean
        tree = ["-", tree, ["fact", "parked"]]
    with pytest.raises(Mismatch):
        of(tree, "test")


@pytest.mark.parametrize("name", sorted(units()))
def test_unit_converts_as_pint_does(name):
    """pint 0.25 as outside reference, against the first unit of the same dimension."""
    table = units()
    base = next(u for u in table if table[u]["dimension"] == table[name]["dimension"])
    if name in ("palmgren", "W_m2K4", "count", "step"):
        assert to_unit(3.0, name, base) == 3.0
        return
    if name == "in32" or base == "in32":
        assert to_unit(32.0, "in32", "in") == pytest.approx(1.0)
        return
    wanted = UREG.Quantity(37.0, unit(name)).to(unit(base)).magnitude
    assert to_unit(37.0, name, base) == pytest.approx(wanted, rel=1e-9)


@pytest.mark.parametrize(
    ("source", "target"),
    [("mi", "km"), ("lb", "kg"), ("psi", "kPa"), ("degF", "degC"), ("in", "mm")],
)
def test_an_answer_on_a_limit_of_another_unit_is_on_it_to_the_last_bit(
    source: str, target: str
) -> None:
    for tenths in range(1, 2000):
        value = tenths / 10
        inside = evaluate(Expr(["convert", source, target, value]))
        assert inside == (to_unit(value, source, target),) * 2


@pytest.mark.parametrize(
    ("name", "system"),
    sorted(
        (name, system) for name in units() for system in ("us", "metric") if system in units()[name]
    ),
)
def test_the_unit_shown_to_a_reader_in_its_place_measures_the_same(name: str, system: str) -> None:
    shown = units()[units()[name][system]]
    assert shown["dimension"] == units()[name]["dimension"]
    assert system not in shown
