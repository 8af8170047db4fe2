"""The phone's engine gives what Python gives: trees, verdicts, workings, messages and texts.

One page of a real Chromium does everything in a handful of calls; what it is fed is the rulebook
exactly as the server sends it.
"""

from __future__ import annotations

import json
import math
import re
from collections import Counter
from random import Random
from typing import Any

import pytest
import rfc8785
from playwright.sync_api import Browser, Page

from checks.explain import decided_by, explain
from checks.formula import OPERATORS, compile_tree, walk
from checks.interval import WHOLE
from checks.judge import asked, join_key, offered, read_case
from checks.rulebook import PART_OF, PARTS, export, load
from checks.rulebook.export import sourced
from checks.units import number_text, range_text, to_unit, units
from checks.words import words
from tests.support import cases, ieee1788, trees
from tests.support.browser import engine_page
from tests.support.effort import PART, rounds

TREES, CASES_PER_TREE = rounds(5000), 5
CASES = cases.all_cases()[::PART]

# JSON has no infinities and no NaN; they cross as text.
OUT = (
    "(name, value) => typeof value === 'number' && !Number.isFinite(value) ? String(value) : value"
)
IN = "(name, value) => value === 'Infinity' ? Infinity : value === '-Infinity' ? -Infinity : value"


def run(scripts: Page, body: str, argument: Any) -> Any:
    """The value of a JavaScript function body of ``input``; modules by file name in ``engine``."""
    script = f"""async (text) => {{
        const engine = async (name) => import(`/static/engine/${{name}}.js`);
        const input = JSON.parse(text, {IN});
        return JSON.stringify(await (async () => {{ {body} }})(), {OUT});
    }}"""
    return json.loads(scripts.evaluate(script, portable(argument)))


def portable(value: Any) -> str:
    """JSON with infinities as text, keys sorted as the server's canonical JSON has them."""

    def plain(item: Any) -> Any:
        if isinstance(item, dict):
            return {key: plain(one) for key, one in item.items()}
        if isinstance(item, (list, tuple)):
            return [plain(one) for one in item]
        if isinstance(item, float) and math.isinf(item):
            return "Infinity" if item > 0 else "-Infinity"
        return item

    return json.dumps(plain(value), sort_keys=True, allow_nan=False)


# ---- trees ----------------------------------------------------------------------------------

EVALUATE = """
    const { compileTree, Case } = await engine("formula");
    const { contextOf } = await engine("judge");
    const ctx = contextOf(input.world);
    return input.trees.map(({ tree, cases }) => {
        const run = compileTree(tree, ctx);
        return cases.map(([facts, wheels, place]) =>
            run(new Case(new Map(Object.entries(facts)), wheels), place));
    });
"""


def grown() -> list[dict[str, Any]]:
    """Seeded trees, each with several sets of answers."""
    rng = Random(20)
    grower = trees.Grower(rng)
    result = []
    for _ in range(TREES):
        tree, sets = grower.tree(rng.randint(1, 4)), []
        for _ in range(CASES_PER_TREE):
            wheels = trees.random_wheels(rng)
            sets.append((trees.random_facts(rng, wheels), wheels, rng.choice(wheels)))
        result.append({"tree": tree, "cases": sets})
    return result


def by_key(facts: trees.Facts) -> dict[str, Any]:
    """Facts as the twin keeps them."""
    return {join_key(key): value for key, value in facts.items()}


def alike(ours: Any, theirs: Any) -> bool:
    """Truths and sets exactly; numbers to a part in 10^9."""
    if isinstance(ours, int):
        return bool(ours == theirs)
    pairs = zip(ours, map(float, theirs), strict=True)
    return all(
        math.isclose(a, b, rel_tol=1e-9, abs_tol=1e-300) or (math.isnan(a) and math.isnan(b))
        for a, b in pairs
    )


@pytest.mark.sample
def test_both_engines_evaluate_every_operator_alike(scripts: Page) -> None:
    sample = grown()
    sent = [
        {"tree": s["tree"], "cases": [(by_key(f), w, p) for f, w, p in s["cases"]]} for s in sample
    ]
    theirs = run(scripts, EVALUATE, {"world": trees.WORLD, "trees": sent})
    context, compared, seen = trees.context(), 0, Counter[str]()
    for one, answers in zip(sample, theirs, strict=True):
        seen.update({found[0] for found in walk(one["tree"])})
        test = compile_tree(one["tree"], context)
        for (facts, wheels, place), answer in zip(one["cases"], answers, strict=True):
            ours = test(trees.case(facts, wheels), place)
            assert alike(ours, answer), f"{one['tree']} at {place}, {facts}: {ours}, {answer}"
            compared += 1
    assert compared >= 20_000 / PART
    assert {op: n for op in OPERATORS if (n := seen[op]) < 100 / PART} == {}
    assert {op for op in seen if op not in OPERATORS} == set()


RANGES = """
    const iv = await engine("interval");
    const ends = (range) => range.map(Number);
    return input.map(([name, operands]) => iv[name](...operands.map(ends)).map(String));
"""
TWINS = {
    "neg": "neg", "add": "add", "sub": "sub", "mul": "mul", "div": "div", "pow": "power",
    "exp": "exp", "log": "ln", "abs": "absolute", "min": "smaller", "max": "larger",
}  # fmt: skip


def test_the_twins_ranges_are_as_tight_as_ieee_1788(scripts: Page) -> None:
    """Outside reference: the ITF1788 suite, as in ``tests/rules/test_interval.py``."""
    told = [case for case in ieee1788.read() if case.operation in TWINS]
    sent = [(TWINS[c.operation], [[repr(e) for e in r] for r in c.operands]) for c in told]
    spelled = [(name, [[e.replace("inf", "Infinity") for e in r] for r in o]) for name, o in sent]
    for case, answer in zip(told, run(scripts, RANGES, spelled), strict=True):
        ours = [float(end) for end in answer]
        assert all(map(ieee1788.close, ours, case.result or WHOLE)), f"{case}: {ours}"


def test_the_twin_knows_the_same_operators(scripts: Page) -> None:
    names = run(scripts, 'return Object.keys((await engine("formula")).MAKERS);', None)
    assert sorted(names) == sorted(OPERATORS)


# ---- verdicts -------------------------------------------------------------------------------

JUDGE = """
    const { load, BadInput } = await engine("judge");
    const { sentence, takeWords } = await import("/static/data/words.js");
    takeWords(input.said);
    const book = load(input.book);
    return input.payloads.map((payload) => {
        try {
            return book.judge(payload);
        } catch (error) {
            if (!(error instanceof BadInput)) throw error;
            return { error: [error.key, sentence(error)].filter(Boolean).join(": ") };
        }
    });
"""


def served(part: str = "") -> Any:
    """A part of the rulebook as the server sends it, in canonical JSON, or the whole of it."""
    whole = load().data
    book = export(part) if part else whole | sourced(whole) | {"hash": "whole"}
    return json.loads(rfc8785.dumps(book))


def said() -> Any:
    """All words as the server would send them."""
    return words("en").export(words("en").ids())


def judged(payload: Any) -> dict[str, Any]:
    """Python's verdict or refusal, under the hash of the whole rulebook."""
    found = cases.verdict_or_error(payload)
    return found | {"rulebook": "whole"} if "rulebook" in found else found


@pytest.mark.sample
@pytest.mark.parametrize("part", sorted(PARTS))
def test_a_part_of_the_rulebook_judges_as_the_whole_does(scripts: Page, part: str) -> None:
    """Every case of the part's kinds of check that answers only what the part asks."""
    book = served(part)
    payloads = [
        cases.payload(case)
        for case in CASES
        if PART_OF.get(case["check"]) == part
        and {key.partition("@")[0] for key in case["facts"]} <= set(book["facts"])
    ]
    theirs = run(scripts, JUDGE, {"said": said(), "book": book, "payloads": payloads})
    assert len(payloads) >= 20 / PART
    for payload, verdict in zip(payloads, theirs, strict=True):
        assert cases.verdict_or_error(payload) == verdict


HISTORIES = """
    const { load } = await engine("judge"), book = load(input.book), other = load(input.book);
    const said = (loaded, payload, afresh) => {
        try { return JSON.stringify(loaded.judge(payload, afresh)); }
        catch ({ message }) { return message; }
    };
    const seen = { compared: 0, refused: 0, moved: 0, differ: [] };
    let before = "";
    for (const payload of input.histories) {
        const remembered = said(book, payload, false), afresh = said(other, payload, true);
        seen.compared++;
        if (remembered[0] !== "{") seen.refused++;
        if (remembered !== before) seen.moved++;
        if (remembered !== afresh) seen.differ.push(payload);
        before = remembered;
    }
    return seen;
"""


def histories(rng: Random, payloads: list[dict[str, Any]], changes: int) -> list[dict[str, Any]]:
    """Each check in turn with one thing after another changed, taken back, or as it was before."""
    told: dict[str, list[Any]] = {}
    for payload in payloads:
        for key, raw in payload["facts"].items():
            told.setdefault(key.partition("@")[0], [None]).append(raw)
    made = []
    for start in payloads:
        past = [start]
        for _ in range(changes):
            now = past[-1] | {"facts": dict(past[-1]["facts"])}
            kind = rng.random()
            if kind < 0.1:
                now = rng.choice(past)  # undone
            elif kind < 0.15:
                now["date"] = f"{rng.randint(2019, 2035)}-07-14"  # tires and grease age
            elif kind < 0.2:
                now["check"] = rng.choice(payloads)["check"]
            elif kind < 0.25:
                now["facts"]["axles"] = rng.randint(1, 3)
            elif kind < 0.4 and now["facts"]:
                del now["facts"][rng.choice(list(now["facts"]))]
            else:
                like = rng.choice([start, rng.choice(payloads)])["facts"]
                key = rng.choice(list(like) or ["air"])
                now["facts"][key] = rng.choice(told[key.partition("@")[0]])
            past.append(now)
        made += past
    return made


@pytest.mark.sample
def test_what_is_remembered_is_judged_as_afresh(scripts: Page) -> None:
    """Every case, scenario and some random answers, changed step by step, one after the other."""
    rng = Random(41)
    payloads = [cases.payload(c) for c in CASES] + random_payloads(rounds(80))
    payloads += [told["payload"] for told in cases.scenarios()[::PART]]
    made = histories(rng, payloads, 12)
    seen = run(scripts, HISTORIES, {"book": served(), "histories": made})
    assert seen["differ"] == []
    assert seen["compared"] == len(made) > 10_000 / PART
    assert seen["moved"] > seen["compared"] / 3 > seen["refused"]


def random_payloads(count: int) -> list[dict[str, Any]]:
    rng = Random(574)
    return [cases.random_payload(rng, load()) for _ in range(count)]


@pytest.mark.sample
def test_both_engines_judge_every_case_and_random_answers_alike(scripts: Page) -> None:
    payloads = [cases.payload(c) for c in CASES] + random_payloads(rounds(400))
    payloads += [told["payload"] for told in cases.scenarios()[::PART]]
    theirs = run(scripts, JUDGE, {"said": said(), "book": served(), "payloads": payloads})
    levels = Counter[str]()
    for payload, verdict in zip(payloads, theirs, strict=True):
        ours = without_hint(judged(payload))
        assert ours == verdict, payload
        levels[ours.get("level", "refused")] += 1
    assert min(levels["stop"], levels["unchecked"]) > 0


def without_hint(verdict: dict[str, Any]) -> dict[str, Any]:
    """Python adds a name that is near; the phone makes its keys itself and goes without."""
    error = verdict.get("error", "")
    if ": there is no fact " not in error:
        return verdict
    return {"error": re.sub(r"(there is no fact '[^']*'\.).*", r"\1", error)}


def good(**change: Any) -> dict[str, Any]:
    return {"check": "run_stop", "date": "2026-07-14", "facts": {"axles": 1}} | change


def answered(**facts: Any) -> dict[str, Any]:
    return good(facts={key.replace("__", "@"): value for key, value in facts.items()})


REFUSED = {
    "payload is a list": [],
    "payload is missing": None,
    "key is unknown": good(colour="red"),
    "check is missing": {"date": "2026-07-14", "facts": {}},
    "check is unknown": good(check="run"),
    "check is a list": good(check=["run_stop"]),
    "date is missing": {"check": "run_stop", "facts": {}},
    "date is a number": good(date=20260714),
    "date is a list": good(date=["2026-07-14"]),
    "date has no dashes": good(date="20260714"),
    "date is a week": good(date="2026-W29-2"),
    "date does not exist": good(date="2026-02-30"),
    "year is 0": good(date="0000-01-01"),
    "facts are a list": good(facts=[]),
    "facts are missing": {"check": "run_stop", "date": "2026-07-14"},
    "place is missing": answered(hub_feel="cold"),
    "place is too much": answered(air__1L=20),
    "place is no place": answered(hub_feel__4L="cold"),
    "place ends in a line break": good(facts={"hub_feel@1L\n": "cold"}),
    "axle is not there": answered(axles=1, hub_feel__2L="cold"),
    "choice is unknown": answered(brakes="drum"),
    "choice is a number": answered(brakes=1),
    "choice holds a quote": answered(brakes="don't"),
    "choice list is empty": answered(brakes=[]),
    "choice list holds null": answered(brakes=["none", None]),
    "choice is an object": answered(brakes={"none": True}),
    "number is a word": answered(air="warm"),
    "number is empty": answered(air=""),
    "number is true": answered(air=True),
    "number is an object": answered(air={}),
    "number is too low": answered(air=-45.1),
    "number is too high": answered(air=200),
    "number is not whole": answered(axles=1.5),
    "number has a stranger's unit": answered(air="20 furlongs"),
    "number has a unit of another kind": answered(air="20 kg"),
    "number is in Arabic digits": answered(air="٢٠"),
    "range runs backwards": answered(air=[30, 20]),
    "range of three": answered(air=[10, 20, 30]),
    "range of one": answered(air=[10]),
    "range end is a word": answered(air=[10, "x"]),
    "range end is missing": answered(air=[10, None]),
    "date code of two digits": answered(tire_made__1L="25"),
    "date code of five digits": answered(tire_made__1L="25230"),
    "date code with a letter": answered(tire_made__1L="2x23"),
    "date code as a number": answered(tire_made__1L=2523),
    "date code of week 0": answered(tire_made__1L="0023"),
    "date code of week 54": answered(tire_made__1L="5423"),
    "date code of next week": answered(tire_made__1L="2926"),
}


def test_going_through_the_rules_beforehand_changes_no_verdict(scripts: Page) -> None:
    """And goes through all of them, in steps that are left between moments."""
    payload = {
        "check": "quick_stop",
        "date": "2026-07-14",
        "facts": {"axles": 2, "smoke@1L": "yes"},
    }
    before, moments, after = run(
        scripts,
        """
        const { load } = await engine("judge"), { warm } = await engine("warm");
        const book = load(input.rulebook), before = book.judge(input.payload);
        let moments = 0;
        await warm(book, input.payload.date, async () => { moments++; return () => 0; });
        return [before, moments, book.judge(input.payload)];
        """,
        {"rulebook": served(), "payload": payload},
    )
    assert before == after
    assert moments > 200


def test_both_engines_refuse_in_the_same_words(scripts: Page) -> None:
    theirs = run(
        scripts, JUDGE, {"said": said(), "book": served(), "payloads": list(REFUSED.values())}
    )
    for (name, payload), verdict in zip(REFUSED.items(), theirs, strict=True):
        ours = judged(payload)
        assert "error" in ours, f"{name}: Python takes it"
        assert ours == verdict, name


def test_both_engines_refuse_a_number_beyond_every_float(scripts: Page) -> None:
    """JavaScript reads it as infinity, so only the words after it are the same."""
    payload = answered(air=10**400)
    (theirs,) = run(scripts, JUDGE, {"said": said(), "book": served(), "payloads": [payload]})
    for verdict in (judged(payload), theirs):
        assert re.search(r"^air: \S+ is not a number; write one from ", verdict["error"])


def test_both_engines_refuse_an_unknown_fact(scripts: Page) -> None:
    for name in ("hub_feal", "constructor", "__proto__", "today"):
        payload = good(facts={name: 1})
        (theirs,) = run(scripts, JUDGE, {"said": said(), "book": served(), "payloads": [payload]})
        ours = without_hint(judged(payload))
        assert ours == theirs == {"error": f"{name}: there is no fact {name!r}."}


ACCEPTED = {
    "a decimal comma": {"air": "20,5"},
    "a unit by its label": {"air": "68 °F"},
    "a unit without a gap": {"air": "68degF"},
    "blanks around": {"air": "  20  "},
    "the lowest": {"air": -45},
    "the highest": {"air": 55},
    "a range of one number": {"air": [20, 20]},
    "a range with units": {"air": ["50 °F", "20 degC"]},
    "a range wide open": {"air": [-45, 55]},
    "not sure": {"air": None},
    "some choices": {"brakes": ["none", "surge"]},
    "every choice": {"brakes": ["none", "surge", "electric", "hydraulic"]},
    "a choice twice": {"brakes": ["none", "none"]},
    "axles not sure": {"axles": None, "hub_feel@3R": "cold"},
    "axles as a range": {"axles": [1, 2]},
    "a date code": {"tire_made@1L": "2523"},
    "a date code with blanks": {"tire_made@1L": " 2523 "},
    "a date code of three digits": {"tire_made@1L": "253"},
    "a date code of this week": {"tire_made@1L": "2826"},
    "a date code of week 53": {"tire_made@1L": "5312"},
    "nothing": {},
}


def test_both_engines_read_answers_alike(scripts: Page) -> None:
    payloads = [good(facts=facts) for facts in ACCEPTED.values()]
    theirs = run(scripts, JUDGE, {"said": said(), "book": served(), "payloads": payloads})
    for name, payload, verdict in zip(ACCEPTED, payloads, theirs, strict=True):
        ours = judged(payload)
        assert "error" not in ours, name
        assert ours == verdict, name


def test_both_engines_ask_alike(scripts: Page) -> None:
    payloads = random_payloads(60)
    theirs = run(
        scripts,
        """
        const book = (await engine("judge")).load(input.book);
        return input.payloads.map(({ check, facts, date }) =>
            book.asked(check, facts, date).map((v) => [v.point.id, v.place, v.keys]));
        """,
        {"book": served(), "payloads": payloads},
    )
    for payload, walk_there in zip(payloads, theirs, strict=True):
        check, case = read_case(payload, load())
        ours = [
            [v.point.id, v.place, ["@".join(filter(None, key)) for key in v.keys]]
            for v in asked(check, case, load())
        ]
        assert ours == walk_there


CHOOSE = """
    const book = (await engine("judge")).load(input.book);
    return input.asked.map(([key, facts]) => book.offered(key, facts, "2026-07-14"));
"""


def test_both_engines_offer_the_same_choices(scripts: Page) -> None:
    cases = [["hub_spot", {"brakes": brakes}] for brakes in ("none", "surge", "electric", None)] + [
        ["hub_feel@1L", {}],
        ["brakes", {}],
    ]
    theirs = run(scripts, CHOOSE, {"book": served(), "asked": cases})
    for (key, facts), there in zip(cases, theirs, strict=True):
        _, case = read_case({"check": "quick_stop", "date": "2026-07-14", "facts": facts}, load())
        assert offered(key, case, load()) == there


# ---- workings -------------------------------------------------------------------------------

EXPLAIN = """
    const { takeWords, wordsOf } = await import("/static/data/words.js");
    takeWords(input.said);
    await import("/static/parts/numbers.js"); // units and ranges are said in these words
    const book = (await engine("judge")).load(input.book, wordsOf(input.said.say));
    const { explain } = await engine("explain");
    return input.asked.map((one) => explain(book, ...one));
"""


@pytest.mark.sample
def test_both_engines_show_the_same_working(scripts: Page) -> None:
    """Every quantity at every place; texts exactly, numbers to a part in 10^9."""
    book, wanted = load(), []
    for payload in random_payloads(rounds(20)):
        _, case = read_case(payload, book)
        places = {
            "trailer": [""],
            "axle": sorted({w[0] for w in case.wheels}),
            "wheel": case.wheels,
        }
        names = [(q.id, at) for q in book.quantities.values() for at in places[q.scope]]
        wanted += [(name, at, payload, case) for name, at in names]
    asked_for = [one[:3] for one in wanted]
    theirs = run(scripts, EXPLAIN, {"book": served(), "said": said(), "asked": asked_for})
    for (name, place, payload, case), steps in zip(wanted, theirs, strict=True):
        ours = explain(name, place, case, book)
        assert [bare(s) for s in ours] == [bare(s) for s in steps], (name, place, payload)
        for here, there in zip(ours, steps, strict=True):
            if there["kind"] == "quantity":
                assert alike(here["value"], there["value"]), (name, place, payload)


DECIDED = """
    const { takeWords, wordsOf } = await import("/static/data/words.js");
    takeWords(input.said);
    await import("/static/parts/numbers.js"); // units and ranges are said in these words
    const book = (await engine("judge")).load(input.book, wordsOf(input.said.say));
    const { decidedBy } = await engine("explain");
    return input.asked.map((one) => decidedBy(book, ...one));
"""


@pytest.mark.sample
def test_both_engines_tell_the_same_comparisons_that_decide(scripts: Page) -> None:
    book, asked_for, ours = load(), [], []
    for case in CASES:
        payload = cases.payload(case)
        for found in cases.verdict_or_error(payload).get("findings", []):
            name, place = found["finding"], found["place"]
            _, answers = read_case(payload, book)
            asked_for.append((name, place, payload))
            ours.append(decided_by(name, place, answers, book))
    assert sum(map(bool, ours)) > 300 / PART
    theirs = run(scripts, DECIDED, {"book": served(), "said": said(), "asked": asked_for})
    for key, here, there in zip(asked_for, ours, theirs, strict=True):
        assert here == there, key


def bare(step: dict[str, Any]) -> dict[str, Any]:
    """A step without what may differ in the last bit."""
    return {k: v for k, v in step.items() if k != "value" or step["kind"] != "quantity"}


# ---- numbers as text ------------------------------------------------------------------------


def numbers() -> list[float]:
    rng = Random(8)
    ties = [n / 8 for n in range(-40, 41)] + [0.05, 0.15, 1.005, 2.675, 1e6 + 0.5, -1e-9, 1e15]
    return [*ties, math.inf, -math.inf, *(round(rng.uniform(-500, 500), 3) for _ in range(2000))]


@pytest.mark.english  # the units' own labels, on a page that no other test put words in
def test_both_engines_write_numbers_alike(chromium: Browser) -> None:
    page = engine_page(chromium)
    theirs = run(
        page,
        """
        const { numberText, rangeText, toUnit } = await engine("units");
        return {
            number: input.numbers.map((x) => [0, 1, 2, 3].map((places) => numberText(x, places))),
            range: Object.keys(input.units).map((unit) =>
                input.numbers.map((x) => rangeText(input.units, [x, x + 1], unit))),
            turned: input.pairs.map(([a, b]) =>
                [0, 1.5, -40, 212].map((x) => toUnit(input.units, x, a, b))),
        };
        """,
        {"numbers": numbers(), "units": units(), "pairs": pairs()},
    )
    page.context.close()
    for x, texts in zip(numbers(), theirs["number"], strict=True):
        assert [number_text(x, places) for places in range(4)] == texts, x
    for unit, texts in zip(sorted(units()), theirs["range"], strict=True):
        assert [range_text((x, x + 1), unit) for x in numbers()] == texts, unit
    for (a, b), turned in zip(pairs(), theirs["turned"], strict=True):
        assert [to_unit(x, a, b) for x in (0, 1.5, -40, 212)] == turned, (a, b)


def pairs() -> list[tuple[str, str]]:
    """Units of one dimension, two by two."""
    table = units()
    return [(a, b) for a in table for b in table if table[a]["dimension"] == table[b]["dimension"]]
