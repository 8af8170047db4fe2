"""Answers in, verdict out: findings, level, readiness, coverage, and what to check next."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from checks.facts import EPOCH, BadInput, read_answer, read_date, split_key, wheel_order
from checks.formula import Case, Value
from checks.interval import NO, YES
from checks.places import sign_of
from checks.rulebook import CHECKS, Point, Rulebook, load
from checks.rulebook.model import DEPTHS, Home
from checks.rules import FIRE, LEVELS, SIGN, SMOKE, Finding
from checks.visits import BURNS, Stand, Visit, stands
from checks.written import Answers, Key

# Findings that stand for a doubt: answers too coarse to rule out worse, numbers too near a limit,
# a sign of danger while answers are missing.
TOO_ROUGH, TOO_NEAR, TOO_HOT, MATES_APART = "too_rough", "too_near", "too_hot", "mates_apart"
STAND_INS = (TOO_ROUGH, TOO_NEAR, TOO_HOT, MATES_APART)

# What a point is worth in the readiness number while its worst finding has this level;
# docs/scoring.md gives the ground.
SCORE = {"stop": 0.0, "mend": 0.0, "look": 0.5, "nothing": 1.0}
NONE: tuple[list[Any], list[Any], list[Any]] = ([], [], [])
FOUND_WEIGHT = 1.0  # what a point of weight 0 counts once something is found there


def judge(payload: Mapping[str, Any], book: Rulebook | None = None) -> dict[str, Any]:
    """The verdict on ``{"check", "date", "facts"}`` (see DEVELOPERS.md). Raises BadInput."""
    book = book or load()
    walk = _walk(payload, book)
    visits = [visit for _, visit in walk.visits]
    required = len(set().union(*(visit.all_required for visit in visits)))
    seen = _look_at(walk, book)
    level = _overall({point["level"] for point in seen.points}, walk)
    return {
        "rulebook": book.hash_for(walk.check),
        "check": walk.check,
        "date": payload["date"],
        "level": level,
        "readiness": None if level in ("stop", "mend") else _readiness(seen.ends),
        "coverage": {"answered": required - len(walk.asked.must), "asked": required},
        "places": _by_place(seen.points, walk.case),
        "points": seen.points,
        "findings": _once(seen.findings, payload["facts"]),
        "cannot_tell": seen.cannot_tell,
        "next": _next(seen.cannot_tell, visits),
        "left_out": seen.left_out,
    }


def level_of(payload: Mapping[str, Any], book: Rulebook | None = None) -> str:
    """The level of the verdict alone, without what it takes to say why. Raises BadInput."""
    book = book or load()
    walk = _walk(payload, book)
    levels = {_level_at(stand, visit, walk, book) for stand, visit in walk.visits}
    return _overall(levels - {""}, walk)


@dataclass(frozen=True)
class _Walk:
    """A check with its answers read: what is visited, and what is asked there."""

    check: str
    case: Case
    answers: Answers
    visits: list[tuple[Stand, Visit]]
    keys: set[Key]
    asked: _Asked


def _walk(payload: Mapping[str, Any], book: Rulebook) -> _Walk:
    check, case = read_case(payload, book)
    answers = book.written.answers(case.facts, case.wheels)
    answered = _answered(case, book)
    walked = list(_walked(check, case, answers, answered, book))
    keys: set[Key] = set().union(*(visit.all_keys for _, visit in walked))
    open_keys = keys - answered - _said_vague(payload["facts"], book)
    spared = {key for _, visit in walked for key in visit.spared} - keys
    asked = _Asked(
        open_keys,
        {key for key in open_keys if not book.facts[key[0]].optional},
        {key for _, visit in walked for key in visit.deeper} - keys,
        spared,
        {key for key in spared if not book.facts[key[0]].optional},
    )
    return _Walk(check, case, answers, walked, keys, asked)


class _Asked(NamedTuple):
    """Keys that are open, those of them that must be answered, those of a deeper walk alone, those
    of that which none waits for, and those that only a fire keeps from being asked."""

    open: set[Key]
    must: set[Key]
    deeper: set[Key]
    spared: set[Key]
    hushed: set[Key]

    def leaves(self, visit: Visit) -> bool:
        """Whether nothing that a visit asks, or a deeper walk would ask there, is open."""
        return not (visit.deeper or visit.over) and self.open.isdisjoint(visit.all_keys)


@dataclass
class _Seen:
    """What all the points of a check come to; ``ends`` are their shares of readiness."""

    points: list[dict[str, Any]] = field(default_factory=list)
    findings: list[dict[str, Any]] = field(default_factory=list)
    cannot_tell: list[dict[str, Any]] = field(default_factory=list)
    left_out: list[dict[str, Any]] = field(default_factory=list)
    ends: list[tuple[float, float, float]] = field(default_factory=list)

    def quiet(self, visit: Visit) -> None:
        """Take in a point with every answer and no finding, as nearly all of them are."""
        at = {"point": visit.point.id, "place": visit.place, "level": "nothing", "open": []}
        self.points.append(at)
        self.ends.append((visit.point.weight, SCORE["nothing"], SCORE["nothing"]))


def _look_at(walk: _Walk, book: Rulebook) -> _Seen:
    """Every point in turn; findings and doubts worst first."""
    answers, asked_for = walk.answers, walk.asked
    seen = _Seen()
    for stand, visit in walk.visits:
        truths = stand.look(answers, stand.place)
        if truths == stand.quiet and asked_for.leaves(visit):
            seen.quiet(visit)
            continue
        at = {"point": visit.point.id, "place": visit.place}
        if truths == stand.quiet:
            found, unsettled, left = NONE
        else:
            found, unsettled, left = _examine(visit, truths, answers, book, asked_for)
        if visit.over:
            unsettled = []  # nobody is sent to look closer
        if left or visit.deeper:
            seen.left_out.append(at)
        if visit.deeper and not (visit.keys or found or unsettled):
            seen.ends.append((visit.point.weight, 0.0, 1.0))  # nobody looked: no level, but open
            continue
        level, opens = _point_level(stand, visit, found, unsettled, answers, asked_for.open, book)
        seen.points.append(at | {"level": level, "open": opens})
        seen.findings += found
        seen.cannot_tell += _told(stand, unsettled, answers)
        ends = _score_ends(level, found, unsettled + left)
        seen.ends.append((_weight(visit.point, level), *ends))
        if level == "look" and not found:  # no level without a card
            card = _stand_in(stand, visit, unsettled, answers, book)
            seen.findings.append({"finding": card, "place": visit.place, "level": level})
        elif level == "look" and _hides_too_hot(stand, found, unsettled, answers, book):
            seen.findings.append({"finding": TOO_HOT, "place": visit.place, "level": level})
    seen.findings.sort(key=lambda one: (_severity(one), -book.findings[one["finding"]].danger))
    seen.cannot_tell.sort(key=_severity)
    return seen


def _level_at(stand: Stand, visit: Visit, walk: _Walk, book: Rulebook) -> str:
    """The level of a point as ``_look_at`` gives it, "" where nobody looked."""
    truths = stand.look(walk.answers, stand.place)
    if truths == stand.quiet and walk.asked.leaves(visit):
        return "nothing"
    if YES not in truths and _untouched(visit, walk.asked.open):
        return _waiting(stand, walk.answers)
    found, unsettled, _ = _examine(visit, truths, walk.answers, book, walk.asked)
    if visit.deeper and not (visit.keys or found or unsettled):
        return ""
    level, _ = _point_level(stand, visit, found, unsettled, walk.answers, walk.asked.open, book)
    return level


def _answered(case: Case, book: Rulebook) -> set[Key]:
    """Keys whose answer says something."""
    whole = book.context.whole
    return case.facts.keys() - [key for key, value in case.facts.items() if value == whole[key[0]]]


def _said_vague(raw: Mapping[str, Any], book: Rulebook) -> set[Key]:
    """Keys whose answer names every choice: somebody looked, but too briefly to rule any out."""
    if list not in set(map(type, raw.values())):
        return set()
    named = (key for key, answer in raw.items() if isinstance(answer, list))
    homes = [(*book.homes[key], raw[key]) for key in named]
    return {
        at
        for at, fact, answer in homes
        if fact.kind == "choice" and set(answer) == set(fact.choices)
    }


def _depth(check: str, case: Case) -> int:
    """How far this walk goes, as an index of DEPTHS; all the way unless it says otherwise, and no
    further once there is a fire."""
    if any(case.facts.get((FIRE, wheel)) == YES for wheel in case.wheels):
        return BURNS
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
    facts: dict[Key, Value] = {}
    signs = []  # at a wheel that nobody has told: they count at every wheel
    homes = book.homes
    for key, answer in raw.items():
        home = homes.get(key)
        if home is None:
            if answer == "yes" and f"{SIGN}{key}" in book.findings:
                signs.append(key)
                continue
            home = _home(key, book)
        at, fact = home
        value = fact.bits.get(answer) if type(answer) is str else None
        facts[at] = read_answer(fact, key, answer, day) if value is None else value
    days = float((day - EPOCH).days)
    facts[("today", "")] = (days, days)
    wheels = wheel_order(_axles(facts, raw))
    facts |= {(sign, wheel): YES for sign in signs for wheel in wheels}
    return check, Case(facts, wheels)


def _once(findings: list[dict[str, Any]], raw: Mapping[str, Any]) -> list[dict[str, Any]]:
    """The findings, those of a sign whose wheel nobody told once and of no wheel."""
    names = {one["finding"] for one in findings}
    ids = {name for name in names if raw.get(sign_of(name, "")) == "yes"}
    told = [one | {"place": ""} if one["finding"] in ids else one for one in findings]
    return [one for n, one in enumerate(told) if one["finding"] not in ids or one not in told[:n]]


def _home(key: str, book: Rulebook) -> Home:
    fact, place = split_key(key, book.facts)
    home = book.homes[key] = (book.key((fact.id, place)), fact)
    return home


def _axles(facts: Mapping[Key, Value], raw: Mapping[str, Any]) -> int:
    """Axles as answered; else as many as the places named, and at least one."""
    named = int(max({place for _, place in facts})[:1] or "1")
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
    answers = book.written.answers(case.facts, case.wheels)
    walked = _walked(check, case, answers, _answered(case, book), book)
    return (visit for _, visit in walked)


def _walked(
    check: str, case: Case, answers: Answers, answered: set[Key], book: Rulebook
) -> Iterator[tuple[Stand, Visit]]:
    depth = _depth(check, case)
    smoking = {wheel for wheel in case.wheels if case.facts.get((SMOKE, wheel)) == YES}
    for stand in stands(check, case.wheels, book):
        here = BURNS if stand.place in smoking else depth
        visit = stand.visit(answers, here, answered)
        if visit is not None:
            yield stand, visit


def _examine(
    visit: Visit, truths: tuple[int, ...], answers: Answers, book: Rulebook, asked_for: _Asked
) -> tuple[list[dict[str, Any]], list[dict[str, Any]], list[dict[str, Any]]]:
    """Findings that hold at a point, those that cannot be told yet, and those of a deeper walk."""
    found, unsettled, left = [], [], []
    waiting = any(asked_for)
    for finding, truth in zip(visit.point.findings, truths, strict=True):
        if truth == NO:
            continue
        entry = {"finding": finding.id, "place": visit.place, "level": finding.level}
        if truth == YES:
            found.append(entry)
            continue
        needs = book.needs(finding)(answers, visit.place) if waiting else {}
        if asked_for.deeper and not asked_for.deeper.isdisjoint(needs):
            left.append(entry)
            continue
        missing = [join_key(k) for k in needs if k in asked_for.must]
        if missing or not asked_for.hushed.isdisjoint(needs):
            unsettled.append(entry | {"why": "open", "facts": missing})
        elif not (finding.optional or not asked_for.spared.isdisjoint(needs)):
            waits = [join_key(k) for k in needs if k in asked_for.open]
            unsettled.append(entry | {"why": "vague", "facts": waits})
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


def join_key(key: Key) -> str:
    return f"{key[0]}@{key[1]}" if key[1] else key[0]


def _point_level(
    stand: Stand,
    visit: Visit,
    found: list[dict[str, Any]],
    unsettled: list[dict[str, Any]],
    answers: Answers,
    open_keys: set[Key],
    book: Rulebook,
) -> tuple[str, list[str]]:
    opens = [join_key(k) for k in visit.required if k in open_keys]
    if found:
        return min((f["level"] for f in found), key=LEVELS.index), opens
    if _untouched(visit, open_keys) or any(u["why"] == "open" for u in unsettled):
        return _waiting(stand, answers), opens
    # answers too coarse to rule out something that must be mended are a reason to look again
    return "look" if _raising(stand, unsettled, answers, book) else "nothing", opens


def _untouched(visit: Visit, open_keys: set[Key]) -> bool:
    """A point that counts needs an answer, if only an optional one; what burns leaves it open."""
    if visit.over:
        return True
    needed = visit.required or (visit.keys if visit.point.weight else ())
    return bool(needed) and all(k in open_keys for k in needed)


def _waiting(stand: Stand, answers: Answers) -> str:
    return "look" if _alarmed(stand, answers) else "unchecked"


def _alarmed(stand: Stand, answers: Answers) -> list[Finding]:
    """The findings of a point whose alarm holds."""
    return stand.alarms.holding(answers, stand.place)


def _told(stand: Stand, unsettled: list[dict[str, Any]], answers: Answers) -> list[dict[str, Any]]:
    """Doubts without those that another answer speaks against, or of which nobody is asked more
    since something burns; they keep their point's level."""
    if not unsettled:
        return unsettled
    moot = {finding.id for finding in stand.moots.holding(answers, stand.place)}
    return [
        u for u in unsettled if u["finding"] not in moot and (u["facts"] or u["why"] == "vague")
    ]


def _hides_too_hot(
    stand: Stand,
    found: list[dict[str, Any]],
    unsettled: list[dict[str, Any]],
    answers: Answers,
    book: Rulebook,
) -> bool:
    """Whether what was found sends on from a hub too hot for a hand that is still open."""
    if any(book.findings[one["finding"]].holds for one in found):
        return False
    waiting = {u["finding"] for u in unsettled if u["why"] == "open"}
    return any(f.card == TOO_HOT and f.id in waiting for f in _alarmed(stand, answers))


def _raising(
    stand: Stand, unsettled: list[dict[str, Any]], answers: Answers, book: Rulebook
) -> list[dict[str, Any]]:
    """Doubts for which a point is *look*: of what must be mended, or while their alarm holds."""
    own = [u for u in unsettled if not book.findings[u["finding"]].told_only]
    loud = {finding.id for finding in _alarmed(stand, answers)} if own else set()
    return [u for u in own if u["level"] != "look" or u["finding"] in loud]


def _stand_in(
    stand: Stand,
    visit: Visit,
    unsettled: list[dict[str, Any]],
    answers: Answers,
    book: Rulebook,
) -> str:
    """The finding that says why a point is *look* where none holds, by what was answered."""
    if any(u["why"] == "open" for u in unsettled) or not unsettled:
        return _alarmed(stand, answers)[0].card
    raising = _raising(stand, unsettled, answers, book)
    needs = (book.needs(book.findings[u["finding"]]) for u in raising)
    read = {key for need in needs for key in need(answers, visit.place)}
    rough = any(u["facts"] for u in raising) or any(_is_glance(key, answers) for key in read)
    return TOO_ROUGH if rough else TOO_NEAR


def _is_glance(key: Key, answers: Answers) -> bool:
    """Whether a choice was answered with more than one."""
    bits = answers.facts.get(key)
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
    whole = low = high = 0.0
    for weight, worst, best in ends:
        whole += weight
        low += weight * worst
        high += weight * best
    return [_percent(low, whole), _percent(high, whole)] if whole else None


def _percent(part: float, weight: float) -> int:
    """Rounded, but all only where nothing is left to wish for."""
    return min(int(100 * part / weight + 0.5), 100 if part == weight else 99)


def _severity(entry: Mapping[str, Any]) -> int:
    return LEVELS.index(entry["level"])


def _overall(levels: set[str], walk: _Walk) -> str:
    """The worst level of any point; where nothing was answered there is none."""
    answered = len(walk.asked.open) < len(walk.keys)
    worst = (one for one in ("stop", "mend", "look", "unchecked", "nothing") if one in levels)
    return next(worst, "unchecked") if answered else "unchecked"


def _by_place(points: list[dict[str, Any]], case: Case) -> dict[str, str]:
    """Worst level at each place that was visited; a place with an open point is unchecked."""
    levels: dict[str, set[str]] = {}
    for place, level in {(point["place"], point["level"]) for point in points}:
        levels.setdefault(place, set()).add(level)
    order = ("stop", "mend", "look", "unchecked", "nothing")
    places = ["", *sorted({w[0] for w in case.wheels}), *case.wheels]
    return {at: min(levels[at], key=order.index) for at in places if at in levels}


def _next(cannot: list[dict[str, Any]], visits: list[Visit]) -> list[dict[str, Any]]:
    """Open facts, first the one whose answer could change the verdict most."""
    gain: dict[str, list[int]] = {}
    for entry in cannot:
        for key in entry["facts"]:
            worst, settles = gain.setdefault(key, [len(LEVELS), 0])
            gain[key] = [min(worst, LEVELS.index(entry["level"])), settles + 1]
    if not gain:
        return []
    walked = dict.fromkeys(key for visit in visits for key in visit.keys)  # where first met
    order = {key: i for i, key in enumerate(map(join_key, walked)) if key in gain}
    ranked = sorted(gain, key=lambda k: (gain[k][0], -gain[k][1], order.get(k, len(walked))))
    result = []
    for key in ranked:
        name, _, place = key.partition("@")
        worst, settles = gain[key]
        result.append({"fact": name, "place": place, "level": LEVELS[worst], "settles": settles})
    return result


__all__ = ["CHECKS", "LEVELS", "asked", "judge", "level_of", "offered", "read_case"]
