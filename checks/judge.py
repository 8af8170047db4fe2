"""Answers in, verdict out: findings, level, readiness, coverage, and what to check next."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from checks.facts import EPOCH, BadInput, read_answer, read_date, split_key, wheel_order
from checks.formula import Case, Compiled, Value, place_for
from checks.interval import MAYBE, NO, YES
from checks.rulebook import CHECKS, Point, Rulebook, load
from checks.rulebook.model import DEPTHS
from checks.rules import LEVELS

# Findings that stand for a doubt: answers too coarse to rule out worse, numbers too near a limit,
# a sign of danger while answers are missing.
TOO_ROUGH, TOO_NEAR, TOO_HOT = STAND_INS = ("too_rough", "too_near", "too_hot")

# What a point is worth in the readiness number while its worst finding has this level;
# docs/scoring.md gives the ground.
SCORE = {"stop": 0.0, "mend": 0.0, "look": 0.5, "nothing": 1.0}
FOUND_WEIGHT = 1.0  # what a point of weight 0 counts once something is found there


@dataclass(frozen=True)
class Visit:
    """One point at one place: the keys asked there, those it needs, and those of a deeper walk.

    spared: optional keys of a deeper walk, which nobody is asked for and nothing waits for.
    """

    point: Point
    place: str
    keys: list[tuple[str, str]]
    required: list[tuple[str, str]]
    deeper: list[tuple[str, str]]
    spared: list[tuple[str, str]]


def judge(payload: Mapping[str, Any], book: Rulebook | None = None) -> dict[str, Any]:
    """The verdict on ``{"check", "date", "facts"}`` (see DEVELOPERS.md). Raises BadInput."""
    book = book or load()
    check, case = read_case(payload, book)
    visits = list(asked(check, case, book))
    keys = {key for visit in visits for key in visit.keys}
    vague = _said_vague(payload["facts"], book)
    open_keys = {k for k in keys if k not in vague and _is_open(k, case, book)}
    seen = _look_at(visits, case, book, open_keys, keys)
    level = _overall(seen.points) if keys - open_keys else "unchecked"
    required = {key for visit in visits for key in visit.required}
    return {
        "rulebook": book.hash_for(check),
        "check": check,
        "date": payload["date"],
        "level": level,
        "readiness": None if level in ("stop", "mend") else _readiness(seen.ends),
        "coverage": {
            "answered": sum(k not in open_keys for k in required),
            "asked": len(required),
        },
        "places": _by_place(seen.points, case),
        "points": seen.points,
        "findings": seen.findings,
        "cannot_tell": seen.cannot_tell,
        "next": _next(seen.cannot_tell, visits, open_keys, book),
        "left_out": seen.left_out,
    }


@dataclass
class _Seen:
    """What all the points of a check come to; ``ends`` are their shares of readiness."""

    points: list[dict[str, Any]] = field(default_factory=list)
    findings: list[dict[str, Any]] = field(default_factory=list)
    cannot_tell: list[dict[str, Any]] = field(default_factory=list)
    left_out: list[dict[str, Any]] = field(default_factory=list)
    ends: list[tuple[float, float, float]] = field(default_factory=list)


def _look_at(
    visits: list[Visit],
    case: Case,
    book: Rulebook,
    open_keys: set[tuple[str, str]],
    keys: set[tuple[str, str]],
) -> _Seen:
    """Every point in turn; findings and doubts worst first."""
    seen = _Seen()
    deeper = {key for visit in visits for key in visit.deeper} - keys
    spared = {key for visit in visits for key in visit.spared} - keys
    for visit in visits:
        at = {"point": visit.point.id, "place": visit.place}
        found, unsettled, left = _examine(visit, case, book, open_keys, deeper, spared)
        if left or visit.deeper:
            seen.left_out.append(at)
        if visit.deeper and not (visit.keys or found or unsettled):
            seen.ends.append((visit.point.weight, 0.0, 1.0))  # nobody looked: no level, but open
            continue
        level, opens = _point_level(visit, found, unsettled, open_keys, case, book)
        seen.points.append(at | {"level": level, "open": opens})
        seen.findings += found
        seen.cannot_tell += unsettled
        ends = _score_ends(level, found, unsettled + left)
        seen.ends.append((_weight(visit.point, level), *ends))
        if level == "look" and not found:  # no level without a card
            card = _stand_in(visit, unsettled, case, book)
            seen.findings.append({"finding": card, "place": visit.place, "level": level})
    seen.findings.sort(key=_severity)
    seen.cannot_tell.sort(key=_severity)
    return seen


def _is_open(key: tuple[str, str], case: Case, book: Rulebook) -> bool:
    whole = book.context.whole[key[0]]
    return bool(case.facts.get(key, whole) == whole)


def _said_vague(raw: Mapping[str, Any], book: Rulebook) -> set[tuple[str, str]]:
    """Keys whose answer names every choice: somebody looked, but too briefly to rule any out."""
    named = {book.homes[key]: answer for key, answer in raw.items() if isinstance(answer, list)}
    return {
        (fact.id, place)
        for (fact, place), answer in named.items()
        if fact.kind == "choice" and set(answer) == set(fact.choices)
    }


def _depth(check: str, case: Case) -> int:
    """How far this walk goes, as an index of DEPTHS; all the way unless it says otherwise."""
    told = case.facts.get(("walk_depth", ""))
    bits = [1 << n for n in range(len(DEPTHS))]
    return bits.index(told) if check == "walkaround" and told in bits else len(DEPTHS) - 1


def read_case(payload: Mapping[str, Any], book: Rulebook) -> tuple[str, Case]:
    """Check the input and turn every answer into a range or a choice set. Raises BadInput."""
    if not isinstance(payload, Mapping):
        raise BadInput("input")
    for key in payload:
        if key not in ("check", "date", "facts"):
            raise BadInput("input_key", key)
    check = payload.get("check")
    if check not in CHECKS:
        raise BadInput("check", "check", given=repr(check), offer=", ".join(CHECKS))
    day = read_date(payload.get("date"))
    raw = payload.get("facts")
    if not isinstance(raw, Mapping):
        raise BadInput("facts", "facts")
    facts: dict[tuple[str, str], Value] = {}
    for key, answer in raw.items():
        home = book.homes.get(key)
        if home is None:
            home = book.homes[key] = split_key(key, book.facts)
        fact, place = home
        facts[(fact.id, place)] = read_answer(fact, key, answer, day)
    days = float((day - EPOCH).days)
    facts[("today", "")] = (days, days)
    return check, Case(facts, wheel_order(_axles(facts, raw)))


def _axles(facts: Mapping[tuple[str, str], Value], raw: Mapping[str, Any]) -> int:
    """Axles as answered; else as many as the places named, and at least one."""
    named = max((int(place[0]) for _, place in facts if place), default=1)
    if raw.get("axles") is None:
        return named
    axles = int(facts[("axles", "")][1])
    if named > axles:
        key = next(k for k in raw if "@" in k and int(k.partition("@")[2][0]) == named)
        raise BadInput("axle", key, axle=named, axles=axles)
    return axles


def offered(key: str, case: Case, book: Rulebook) -> list[str]:
    """The choices of a choice fact that apply to these answers, in the fact's order."""
    fact, place = split_key(key, book.facts)
    tests = book.offers.get(fact.id, {})
    return [c for c in fact.choices if c not in tests or tests[c](case, place) != NO]


def asked(check: str, case: Case, book: Rulebook) -> Iterator[Visit]:
    """The points that apply to this trailer in this kind of check, in walking order."""
    depth = _depth(check, case)
    for station in book.stations:
        points = [p for p in station.points if check in p.checks]
        for place in [*case.wheels, ""]:
            for point in points:
                if (point.scope == "wheel") == bool(place):
                    yield from _visits(point, place, case, depth, book)


def _visits(point: Point, place: str, case: Case, depth: int, book: Rulebook) -> Iterator[Visit]:
    places = [place]
    if point.scope == "axle":
        places = sorted({w[0] for w in case.wheels})
    for at in places:
        if point.applies and point.applies(case, at) == NO:
            continue
        live = [q for q in point.questions if q.when is None or q.when(case, at) != NO]
        pairs = [((q.fact, place_for(q.scope, at)), q) for q in live]
        later = {k: q for k, q in pairs if q.depth > depth and _is_open(k, case, book)}
        asked_here = [(k, q) for k, q in pairs if k not in later]
        required = [key for key, q in asked_here if not q.optional]
        deeper = [key for key, q in later.items() if not q.optional]
        spared = [key for key, q in later.items() if q.optional]
        yield Visit(point, at, [key for key, _ in asked_here], required, deeper, spared)


def _examine(
    visit: Visit,
    case: Case,
    book: Rulebook,
    open_keys: set[tuple[str, str]],
    deeper: set[tuple[str, str]],
    spared: set[tuple[str, str]],
) -> tuple[list[dict[str, Any]], list[dict[str, Any]], list[dict[str, Any]]]:
    """Findings that hold at a point, those that cannot be told yet, and those of a deeper walk."""
    found, unsettled, left = [], [], []
    for finding in visit.point.findings:
        truth = finding.test(case, visit.place)
        if truth == NO:
            continue
        entry = {"finding": finding.id, "place": visit.place, "level": finding.level}
        if truth == YES:
            found.append(entry)
        elif truth == MAYBE:
            needs = _needs(finding.test, case, visit.place) if open_keys or deeper or spared else []
            if deeper.intersection(needs):
                left.append(entry)
                continue
            missing = [k for k in needs if k in open_keys and not book.facts[k[0]].optional]
            silent = finding.optional or spared.intersection(needs)
            if missing or not silent:
                why = "open" if missing else "vague"
                settle = missing or [k for k in needs if k in open_keys]
                unsettled.append(entry | {"why": why, "facts": [join_key(k) for k in settle]})
    return (*(_worst_only(found, unsettled, book) if found else (found, unsettled)), left)


def _worst_only(
    found: list[dict[str, Any]], unsettled: list[dict[str, Any]], book: Rulebook
) -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
    """Drop what a worse finding that holds already says."""
    holds = {f["finding"] for f in found}

    def covered(entry: dict[str, Any]) -> bool:
        above = book.findings[entry["finding"]].beneath
        while above and above not in holds:
            above = book.findings[above].beneath
        return bool(above)

    return [f for f in found if not covered(f)], [u for u in unsettled if not covered(u)]


class _Recorder(dict[tuple[str, str], Value]):
    """Answers that remember which of them were asked for, in order."""

    def __init__(self, facts: Mapping[tuple[str, str], Value]) -> None:
        super().__init__(facts)
        self.seen: dict[tuple[str, str], None] = {}

    def get(self, key: tuple[str, str], default: Value = None) -> Value:
        self.seen[key] = None
        return super().get(key, default)


def _needs(test: Compiled, case: Case, place: str) -> list[tuple[str, str]]:
    """The fact keys that a test looks at in this case."""
    recorder = _Recorder(case.facts)
    test(Case(recorder, case.wheels), place)
    return list(recorder.seen)


def join_key(key: tuple[str, str]) -> str:
    return f"{key[0]}@{key[1]}" if key[1] else key[0]


def _point_level(
    visit: Visit,
    found: list[dict[str, Any]],
    unsettled: list[dict[str, Any]],
    open_keys: set[tuple[str, str]],
    case: Case,
    book: Rulebook,
) -> tuple[str, list[str]]:
    opens = [join_key(k) for k in visit.required if k in open_keys]
    if found:
        return min((f["level"] for f in found), key=LEVELS.index), opens
    # a point that counts needs an answer, if only an optional one
    needed = visit.required or (visit.keys if visit.point.weight else ())
    untouched = bool(needed) and all(k in open_keys for k in needed)
    if untouched or any(u["why"] == "open" for u in unsettled):
        return "look" if _alarmed(visit, case) else "unchecked", opens
    # answers too coarse to rule out something that must be mended are a reason to look again
    return "look" if any(_raises(u, book) for u in unsettled) else "nothing", opens


def _raises(entry: Mapping[str, Any], book: Rulebook) -> bool:
    return entry["level"] in ("stop", "mend") and not book.findings[entry["finding"]].told_only


def _alarmed(visit: Visit, case: Case) -> bool:
    alarms = (finding.alarmed for finding in visit.point.findings)
    return any(alarm(case, visit.place) == YES for alarm in alarms if alarm)


def _stand_in(visit: Visit, unsettled: list[dict[str, Any]], case: Case, book: Rulebook) -> str:
    """The finding that says why a point is *look* where none holds, by what was answered."""
    if any(u["why"] == "open" for u in unsettled) or not unsettled:
        return TOO_HOT
    raising = [u for u in unsettled if _raises(u, book)]
    tests = (book.findings[u["finding"]].test for u in raising)
    read = {key for test in tests for key in _needs(test, case, visit.place)}
    rough = any(u["facts"] for u in raising) or any(_is_glance(key, case) for key in read)
    return TOO_ROUGH if rough else TOO_NEAR


def _is_glance(key: tuple[str, str], case: Case) -> bool:
    """Whether a choice was answered with more than one."""
    bits = case.facts.get(key)
    return isinstance(bits, int) and bits & (bits - 1) != 0


def _weight(point: Point, level: str) -> float:
    """A point's share of the readiness; a sign at a point that counts nothing else counts too."""
    return point.weight or (FOUND_WEIGHT if level in ("stop", "mend", "look") else 0.0)


def _score_ends(
    level: str, found: list[dict[str, Any]], unsettled: list[dict[str, Any]]
) -> tuple[float, float]:
    """Worst and best that a point can still count in the readiness range."""
    best = min((SCORE[f["level"]] for f in found), default=SCORE.get(level, 1.0))
    worst = min([best, *(SCORE[u["level"]] for u in unsettled)])
    return (0.0 if level == "unchecked" else worst), best


def _readiness(ends: list[tuple[float, float, float]]) -> list[int] | None:
    """0 to 100 at worst and at best, from weight, worst and best of each point."""
    weight = sum(w for w, _, _ in ends)
    if not weight:
        return None
    return [_percent(sum(w * end[i] for w, *end in ends), weight) for i in (0, 1)]


def _percent(part: float, weight: float) -> int:
    """Rounded, but all only where nothing is left to wish for."""
    return min(int(100 * part / weight + 0.5), 100 if part == weight else 99)


def _severity(entry: Mapping[str, Any]) -> int:
    return LEVELS.index(entry["level"])


def _overall(points: list[dict[str, Any]]) -> str:
    levels = {p["level"] for p in points}
    for level in ("stop", "mend", "look", "unchecked"):
        if level in levels:
            return level
    return "nothing" if levels else "unchecked"


def _by_place(points: list[dict[str, Any]], case: Case) -> dict[str, str]:
    """Worst level at each place that was visited; a place with an open point is unchecked."""
    order = ("stop", "mend", "look", "unchecked", "nothing")
    places: dict[str, str] = {}
    for place in ["", *sorted({w[0] for w in case.wheels}), *case.wheels]:
        here = [p["level"] for p in points if p["place"] == place]
        if here:
            places[place] = min(here, key=order.index)
    return places


def _next(
    cannot: list[dict[str, Any]],
    visits: list[Visit],
    open_keys: set[tuple[str, str]],
    book: Rulebook,
) -> list[dict[str, Any]]:
    """Open facts, first the one whose answer could change the verdict most."""
    gain: dict[str, list[int]] = {}
    for entry in cannot:
        for key in entry["facts"]:
            worst, settles = gain.setdefault(key, [len(LEVELS), 0])
            gain[key] = [min(worst, LEVELS.index(entry["level"])), settles + 1]
    walked = dict.fromkeys(join_key(k) for v in visits for k in v.keys)  # where first met
    order = {key: i for i, key in enumerate(walked)}
    ranked = sorted(gain, key=lambda k: (gain[k][0], -gain[k][1], order.get(k, len(order))))
    result = []
    for key in ranked:
        name, _, place = key.partition("@")
        worst, settles = gain[key]
        result.append({"fact": name, "place": place, "level": LEVELS[worst], "settles": settles})
    return result


__all__ = ["CHECKS", "LEVELS", "asked", "judge", "offered", "read_case"]
