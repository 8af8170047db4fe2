"""Twenty simple rules: our evaluator beside general rule engines, in one run.

    python -m pip install rule-engine json-logic-qubit business-rules zen-engine \
        common-expression-language
    python -m tests.benchmarks.rules

The others are general-purpose engines; they have no ranges and no can't-tell, so they get plain
numbers, and so do twenty plain Python functions, the least that it can cost. Each is set up once
outside the timed part, as it would be in use: our rules are written together, as those of a point
are, and read answers laid out once for all of a check's. What is not installed is left out. The
figures are microseconds for all twenty rules, the least of many rounds taken in turn.
"""

from __future__ import annotations

import importlib
import math
import timeit
from collections.abc import Callable
from typing import Any

from checks.formula import Context
from checks.interval import YES
from checks.written import Written

RULES = [(f"fact_{i}", "<" if i % 2 else ">", 10.0 + i, f"fact_{(i + 7) % 20}") for i in range(20)]
VALUES = {f"fact_{i}": float(3 * i % 31) for i in range(20)}
ROUNDS, CALLS = 60, 200
Run = Callable[[], list[bool]]


def ours(together: bool = True) -> Run:
    context = Context(
        whole=dict.fromkeys(VALUES, (0.0, 100.0)),
        scope=dict.fromkeys(VALUES, "trailer"),
        choices={},
        limits={f"limit_{i}": rule[2] for i, rule in enumerate(RULES)},
        quantities={},
    )
    trees = []
    for i, (left, sign, _, right) in enumerate(RULES):
        pair = [["fact", left], ["limit", f"limit_{i}"]]
        first = ["<", *(pair if sign == "<" else reversed(pair))]
        trees.append(["and", first, ["<=", ["fact", right], 25.0]])
    written = Written(context)
    answers = written.answers({(n, ""): (value, value) for n, value in VALUES.items()}, [])
    if together:
        truths = written.truths(trees)
        return lambda: [truth == YES for truth in truths(answers, "")]
    alone = [written.worth(tree) for tree in trees]
    return lambda: [truth(answers, "") == YES for truth in alone]


def plain_functions() -> Run:
    def rule(a: str, sign: str, n: float, b: str) -> Callable[[dict[str, float]], bool]:
        if sign == "<":
            return lambda values: values[a] < n and values[b] <= 25
        return lambda values: values[a] > n and values[b] <= 25

    rules = [rule(*one) for one in RULES]
    return lambda: [rule(VALUES) for rule in rules]


def rule_engine() -> Run:
    library = importlib.import_module("rule_engine")
    rules = [library.Rule(f"{a} {s} {n} and {b} <= 25") for a, s, n, b in RULES]
    return lambda: [rule.matches(VALUES) for rule in rules]


def json_logic_tree(rule: tuple[str, str, float, str]) -> dict[str, Any]:
    a, sign, number, b = rule
    return {"and": [{sign: [{"var": a}, number]}, {"<=": [{"var": b}, 25]}]}


def json_logic_qubit() -> Run:
    apply = importlib.import_module("json_logic").jsonLogic
    trees = [json_logic_tree(rule) for rule in RULES]
    return lambda: [apply(tree, VALUES) for tree in trees]


def expression_language() -> Run:
    library = importlib.import_module("cel")
    programs = [library.compile(f"{a} {s} {n} && {b} <= 25.0") for a, s, n, b in RULES]
    return lambda: [program.execute(VALUES) for program in programs]


def zen() -> Run:
    library = importlib.import_module("zen")
    programs = [library.compile_expression(f"{a} {s} {n} and {b} <= 25") for a, s, n, b in RULES]
    return lambda: [program.evaluate(VALUES) for program in programs]


def business_rules() -> Run:
    variables = importlib.import_module("business_rules.variables")
    engine = importlib.import_module("business_rules.engine")

    def getter(name: str) -> Any:
        return variables.numeric_rule_variable(lambda self: VALUES[name])

    kind = type("Facts", (variables.BaseVariables,), {name: getter(name) for name in VALUES})
    words = {"<": "less_than", ">": "greater_than"}
    trees = [
        {"all": [
            {"name": a, "operator": words[s], "value": n},
            {"name": b, "operator": "less_than_or_equal_to", "value": 25},
        ]}
        for a, s, n, b in RULES
    ]  # fmt: skip
    facts = kind()
    return lambda: [engine.check_conditions_recursively(tree, facts) for tree in trees]


ENGINES: dict[str, Callable[[], Run]] = {
    "Twentymile, with ranges": ours,
    "Twentymile, each rule alone": lambda: ours(together=False),
    "plain Python functions, without": plain_functions,
    "rule-engine": rule_engine,
    "json-logic-qubit": json_logic_qubit,
    "common-expression-language": expression_language,
    "zen-engine": zen,
    "business-rules": business_rules,
}


def ready() -> dict[str, Run]:
    """What can be run here and gives our answers."""
    wanted, found = ours()(), {}
    for name, make in ENGINES.items():
        try:
            run = make()
            same = [bool(x) for x in run()] == wanted
        except Exception as error:  # a missing or failing engine must not hide the others
            print(f"| {name} | not measured: {type(error).__name__}: {error} | |")
            continue
        if same:
            found[name] = run
        else:
            print(f"| {name} | other answers, so not comparable | |")
    return found


def main() -> None:
    print("| engine | 20 rules, µs | against ours |\n|---|---|---|")
    runs = ready()
    least = dict.fromkeys(runs, math.inf)
    for _ in range(ROUNDS):
        for name, run in runs.items():
            least[name] = min(least[name], timeit.timeit(run, number=CALLS) / CALLS * 1e6)
    base = next(iter(least.values()))
    for name, spent in least.items():
        print(f"| {name} | {spent:.1f} | {spent / base:.2f} |")


if __name__ == "__main__":
    main()
