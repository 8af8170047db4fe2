"""One check open in two windows: no answer is lost unseen, and what is kept stays kept."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.support.phone import Phone, installed

MERGED = """async ([base, mine, now]) => {
  const { merged } = await import("/static/data/drafts.js");
  const [a, b, c] = [base, mine, now].map((one) => ({ id: "d", ...one }));
  const { draft, clashes } = merged(a, b, c);
  return [draft, clashes];
}"""
# What both windows read, what this one made of it, what is stored by now: what is stored then.
MERGES: dict[str, tuple[Any, Any, Any, Any, list[str]]] = {
    "nobody else": ({"facts": {}}, {"facts": {"a": 1}}, {"facts": {}}, {"facts": {"a": 1}}, []),
    "each another answer": (
        {"facts": {"a": 1}},
        {"facts": {"a": 1, "b": 2}},
        {"facts": {"a": 1, "c": 3}},
        {"facts": {"a": 1, "b": 2, "c": 3}},
        [],
    ),
    "ten answers against one": (
        {"facts": {}},
        {"facts": {"z": 1}},
        {"facts": {str(n): n for n in range(10)}},
        {"facts": {str(n): n for n in range(10)} | {"z": 1}},
        [],
    ),
    "the same answer": (
        {"facts": {}},
        {"facts": {"a": 1}},
        {"facts": {"a": 1}},
        {"facts": {"a": 1}},
        [],
    ),
    "two answers to one": (
        {"facts": {"a": 0}},
        {"facts": {"a": 1}},
        {"facts": {"a": 2}},
        {"facts": {"a": 1}},
        ["a"],
    ),
    "an answer taken back": (
        {"facts": {"a": 1, "b": 2}},
        {"facts": {"b": 2}},
        {"facts": {"a": 1, "b": 2, "c": 3}},
        {"facts": {"b": 2, "c": 3}},
        [],
    ),
    "not sure is an answer": (
        {"facts": {"a": 1}},
        {"facts": {"a": None}},
        {"facts": {"a": 1}},
        {"facts": {"a": None}},
        [],
    ),
    "a list of choices": (
        {"facts": {"a": ["x"]}},
        {"facts": {"a": ["x"]}},
        {"facts": {"a": ["y"]}},
        {"facts": {"a": ["y"]}},
        [],
    ),
    "lists": (
        {"facts": {}, "skipped": ["a", "b"]},
        {"facts": {}, "skipped": ["b", "c"]},
        {"facts": {}, "skipped": ["a", "b", "d"]},
        {"facts": {}, "skipped": ["b", "d", "c"]},
        [],
    ),
    "something begun and done": (
        {"facts": {}, "begun": 1},
        {"facts": {}},
        {"facts": {"c": 3}, "begun": 1},
        {"facts": {"c": 3}},
        [],
    ),
}


@pytest.mark.parametrize("case", MERGES)
def test_what_two_windows_changed_is_put_together(scripts: Page, case: str) -> None:
    base, mine, now, stored, clashes = MERGES[case]
    assert scripts.evaluate(MERGED, [base, mine, now]) == [{"id": "d"} | stored, clashes]


@pytest.fixture
def one(chromium: Browser, server: str) -> Iterator[Phone]:
    with installed(chromium, server) as here:
        here.begin("tires")
        here.answer()  # a check is kept from its first answer on
        yield here


def beside(one: Phone) -> Page:
    """The same check in a second window, which never hears of the first."""
    other = one.context.new_page()
    other.add_init_script("delete globalThis.BroadcastChannel")
    other.goto(one.page.url)
    other.wait_for_selector(".asking")
    one.page.bring_to_front()  # a browser draws a window in the back once a second
    return other


def answer_in(other: Page) -> None:
    other.bring_to_front()
    other.locator(".asking .unsure, .asking .answers .answer").first.click()


def facts(one: Phone) -> dict[str, Any]:
    (draft,) = one.stored("drafts")
    found: dict[str, Any] = draft["facts"]  # type: ignore[assignment]
    return found


def revision(drafts: list[dict[str, Any]]) -> int:
    """How often the one draft there is was stored."""
    return int(drafts[0]["rev"])


def test_answers_of_one_window_are_not_overwritten_by_another(one: Phone) -> None:
    other = beside(one)
    for _ in range(3):
        one.answer()
    before = facts(one)
    assert len(before) >= 2
    rev = revision(one.stored("drafts"))
    was = other.url
    answer_in(other)
    expect(other).not_to_have_url(was)
    one.wait_stored("drafts", lambda drafts: revision(drafts) > rev)
    assert set(before) <= set(facts(one))


@pytest.mark.long
def test_the_other_window_shows_what_was_answered(one: Phone) -> None:
    other = one.context.new_page()
    other.goto(one.page.url)
    other.wait_for_selector(".asking")
    other.evaluate("document.querySelector('.asking').classList.add('before')")
    one.page.bring_to_front()
    one.answer()
    other.bring_to_front()
    expect(other.locator(".asking:not(.before)")).to_be_attached()


@pytest.mark.long
def test_a_check_kept_in_one_window_does_not_come_back_from_another(one: Phone) -> None:
    other = beside(one)
    one.finish()
    assert one.stored("drafts") == []
    answer_in(other)
    other.get_by_text("in another window").first.wait_for()
    assert one.stored("drafts") == []
    assert len(one.stored("records")) == 1


def test_a_check_is_kept_once_though_two_windows_keep_it(one: Phone) -> None:
    one.answer_until(lambda: "#/answers/" in one.page.url or "#/sofar/" in one.page.url)
    other = one.context.new_page()
    other.add_init_script("delete globalThis.BroadcastChannel")
    other.goto(one.page.url.replace("#/answers/", "#/sofar/"))
    keep = other.get_by_role("button", name="Keep")
    keep.first.wait_for()
    one.page.bring_to_front()
    one.finish()
    other.bring_to_front()
    keep.first.click()
    other.get_by_text("in another window").first.wait_for()
    assert len(one.stored("records")) == 1


SAVES = """async () => {
  const { draftOf, saveDraft } = await import("/static/keep.js");
  const { MemoryStore } = await import("/static/data/memory.js");
  const app = { store: new MemoryStore(), drafts: new Map(), book: { hash: "h" } };
  const put = (facts) => app.store.change("drafts", "d", (now) =>
    ({ ...now, rev: now.rev + 1, facts: { ...now.facts, ...facts } })); // another window
  await saveDraft(app, { id: "d", check: "tires", rulebook: "h", facts: { a: 1 } });
  const mine = await draftOf(app, "d");
  await put({ b: 2 });
  const first = { ...mine, facts: { ...mine.facts, c: 3 } };
  await saveDraft(app, first);
  await put({ d: 4 });
  await saveDraft(app, { ...first, facts: { ...first.facts, e: 5 } }); // not what was stored
  return (await app.store.get("drafts", "d")).facts;
}"""


UNSAVED = """async () => {
  const { saveDraft } = await import("/static/keep.js");
  const { MemoryStore } = await import("/static/data/memory.js");
  const app = { store: new MemoryStore(), drafts: new Map(), book: { hash: "h" } };
  const mine = { id: "new", check: "tires", rulebook: "h", facts: { a: 1 } };
  await saveDraft(app, mine);
  await app.store.change("drafts", "new", (now) =>
    ({ ...now, rev: now.rev + 1, facts: { ...now.facts, b: 2 } })); // another window
  await saveDraft(app, { ...mine, facts: { a: 1, c: 3 } });
  return (await app.store.get("drafts", "new")).facts;
}"""


REFUSED = """async ([unsaved, theirs, then]) => {
  const { draftOf, keepCheck, saveDraft } = await import("/static/keep.js");
  const { MemoryStore } = await import("/static/data/memory.js");
  const { StorageFull } = await import("/static/data/store.js");
  const store = new MemoryStore(), id = String(Math.random());
  const app = { store, drafts: new Map(), book: { hash: "h" } };
  const change = store.change.bind(store);
  await saveDraft(app, { id, check: "tires", rulebook: "h", facts: { a: 1 } });
  const mine = await draftOf(app, id);
  store.change = () => { throw new StorageFull(); };
  await saveDraft(app, { ...mine, facts: { ...mine.facts, ...unsaved } }).catch(() => {});
  store.change = change;
  await change("drafts", id, (now) =>
    ({ ...now, rev: now.rev + 1, facts: { ...now.facts, ...theirs } }));
  const read = await draftOf(app, id);
  const saved = await saveDraft(app, { ...read, facts: { ...read.facts, ...then } });
  return [read.facts, saved.facts];
}"""
# What the disk refused here, what another window saved after, what is answered then; what is read
# before that, and what is stored at the end.
REFUSALS: dict[str, tuple[Any, Any, Any, Any, Any]] = {
    "nobody else": ({"b": 2}, {}, {"c": 3}, {"a": 1, "b": 2}, {"a": 1, "b": 2, "c": 3}),
    "another answer": (
        {"b": 2},
        {"d": 4},
        {"c": 3},
        {"a": 1, "b": 2, "d": 4},
        {"a": 1, "b": 2, "c": 3, "d": 4},
    ),
    "the same answer": (
        {"b": 2},
        {"b": 5},
        {"c": 3},
        {"a": 1, "b": 5},
        {"a": 1, "b": 5, "c": 3},
    ),
    "an answer again": ({"a": 2}, {"a": 7}, {}, {"a": 7}, {"a": 7}),
}


@pytest.mark.parametrize("case", REFUSALS)
def test_what_the_disk_refused_takes_nothing_that_another_window_saved(
    scripts: Page, case: str
) -> None:
    *given, read, stored = REFUSALS[case]
    assert scripts.evaluate(REFUSED, given) == [read, stored]


@pytest.mark.long
def test_a_check_is_not_kept_without_what_another_window_answered_meanwhile(one: Phone) -> None:
    one.answer_until(lambda: "#/answers/" in one.page.url or "#/sofar/" in one.page.url)
    one.page.goto(one.page.url.replace("#/answers/", "#/sofar/"))
    keep = one.page.get_by_role("button", name="Keep").first
    keep.wait_for()
    changed = """async () => {
      const { openStore } = await import("/static/data/store.js");
      const { store } = await openStore();
      const [{ id, facts }] = await store.all("drafts");
      const [key] = Object.keys(facts).slice(-1);
      await store.change("drafts", id, (now) =>
        ({ ...now, rev: now.rev + 1, facts: { ...now.facts, [key]: null } }));
      return key;
    }"""
    key = one.page.evaluate(changed)
    keep.click()
    expect(one.page.get_by_role("dialog")).to_contain_text("Another window changed this check")
    assert one.stored("records") == []
    one.page.get_by_role("dialog").get_by_role("button").click()
    keep.click()
    (kept,) = one.wait_stored("records", lambda records: len(records) == 1)
    assert kept["record"]["body"]["facts"][key] is None  # type: ignore[index]


def test_a_screen_that_began_the_check_takes_nothing_either(scripts: Page) -> None:
    assert scripts.evaluate(UNSAVED) == {"a": 1, "b": 2, "c": 3}


def test_a_screen_that_goes_on_with_its_own_copy_takes_nothing_from_another(scripts: Page) -> None:
    assert scripts.evaluate(SAVES) == {"a": 1, "b": 2, "c": 3, "d": 4, "e": 5}


@pytest.mark.long
def test_what_one_window_sent_the_other_counts_no_more(
    chromium: Browser, server: str, tmp_path: Path
) -> None:
    with installed(chromium, server) as one:
        one.offline(True)
        one.begin("quick_stop")
        one.finish()
        other = one.context.new_page()
        other.goto(server)
        other.locator(".unsent").wait_for()
        one.offline(False)
        one.page.evaluate("dispatchEvent(new Event('online'))")
        one.wait_stored("outbox", lambda items: not items)
        other.locator(".unsent").wait_for(state="detached")


QUICK = """() => {
  const rungs = document.querySelectorAll(".ladder .rung");
  rungs[0].click();
  rungs[1].click();
}"""


def test_two_quick_taps_of_ones_own_are_not_called_another_windows(one: Phone) -> None:
    one.open()
    one.begin("quick_stop")
    one.answer_until(lambda: one.page.locator(".ladder").count() > 0)
    last = one.page.locator(".ladder .rung").nth(1).get_attribute("class")
    one.page.evaluate(QUICK)
    word = str(last).split()[-1]
    one.wait_stored("drafts", lambda drafts: f'"hub_feel@1L": "{word}"' in json.dumps(drafts))
    one.settle()
    assert not one.page.locator("dialog").count()
