"""A store made by an earlier release is brought on step by step, and nothing in it is lost."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.support.browser import engine_page
from tests.support.phone import phone

# The kinds of each released version of the store, and their keys, as those releases made them.
FIRST = {"drafts": "id", "records": "id", "outbox": "id", "settings": "key", "rulebooks": "hash"}
SECOND = FIRST | {"links": "id", "photos": "id", "pictures": "id"}
RELEASED = {1: FIRST, 2: SECOND}

# One of each kind, as those releases wrote it: a rulebook held its words.
VERDICT = {
    "level": "look",
    "readiness": None,
    "coverage": {"answered": 1, "asked": 7},
    "places": {"": "look"},
    "points": [],
    "findings": [{"finding": "seen_then", "place": "", "level": "look"}],
    "cannot_tell": [],
    "next": [],
}
BODY = {
    "check": "run_stop",
    "date": "2026-05-01",
    "facts": {"axles": 1},
    "typed": {},
    "trailer": None,
    "rulebook": "old",
    "verdict": VERDICT,
}
RULEBOOK = {
    "format": 1,
    "hash": "old",
    "units": {"count": {"factor": 1, "offset": 0, "label": "", "places": 0}},
    "facts": {
        "axles": {
            "scope": "trailer",
            "kind": "number",
            "unit": "count",
            "low": 1,
            "high": 3,
            "spread": 0,
        }
    },
    "limits": {},
    "quantities": {},
    "findings": {
        "seen_then": {
            "scope": "trailer",
            "level": "look",
            "point": "then",
            "when": ["<=", ["fact", "axles"], 1],
            "source": "a page of that time",
            "standing": "memory",
        }
    },
    "stations": [],
    "words": {
        "fact": {"axles": {"ask": "How many axles were there?"}},
        "finding": {"seen_then": {"title": "Told then", "do": "Do this.", "why": "For this."}},
        "point": {"then": "Then"},
        "level": {"look": {"word": "Look closer", "do": "Go and look."}},
        "check": {"run_stop": {"name": "Stop of that time"}},
    },
}
ITEMS: dict[str, list[dict[str, Any]]] = {
    "drafts": [],
    "records": [
        {
            "id": "kept",
            "hash": "h",
            "record": {
                "id": "kept",
                "kind": "check",
                "version": 1,
                "made": "2026-05-01T10:00:00+02:00",
                "body": BODY,
            },
        }
    ],
    "outbox": [{"id": "unsent", "message": ""}],
    "settings": [{"key": "device", "value": "d" * 32}, {"key": "units", "value": "metric"}],
    "rulebooks": [{"hash": "old", "data": RULEBOOK}],
    "links": [{"id": "link", "secret": "s" * 43}],
    "photos": [{"id": "photo", "check": "draft", "point": "check"}],
    "pictures": [{"id": "photo", "type": "image/jpeg", "data": []}],
}

MAKE = """({ version, kinds, items }) => new Promise((resolve, reject) => {
  const request = indexedDB.open("twentymile", version);
  request.onerror = () => reject(request.error);
  request.onupgradeneeded = () => {
    for (const [kind, keyPath] of Object.entries(kinds)) {
      request.result.createObjectStore(kind, { keyPath });
    }
  };
  request.onsuccess = () => {
    const task = request.result.transaction(Object.keys(kinds), "readwrite");
    for (const kind of Object.keys(kinds)) {
      for (const item of items[kind]) task.objectStore(kind).put(item);
    }
    task.oncomplete = () => {
      if (window.keepsOpen) window.old = request.result;
      else request.result.close();
      resolve();
    };
  };
})"""
READ = """async (kinds) => {
  const { Store } = await import("/static/data/store.js"), store = new Store();
  const all = await Promise.all(kinds.map((kind) => store.all(kind)));
  await store.commit([["words", { hash: "new", data: {} }]]);
  return Object.fromEntries(kinds.map((kind, i) => [kind, all[i]]));
}"""


@pytest.fixture
def scripts(chromium: Browser) -> Iterator[Page]:
    page = engine_page(chromium)
    page.evaluate("new Promise((r) => { indexedDB.deleteDatabase('twentymile').onsuccess = r; })")
    yield page
    page.close()


def made(version: int) -> dict[str, Any]:
    kinds = RELEASED[version]
    return {"version": version, "kinds": kinds, "items": {kind: ITEMS[kind] for kind in kinds}}


@pytest.mark.parametrize("version", RELEASED)
def test_what_an_earlier_release_kept_is_still_there(scripts: Page, version: int) -> None:
    scripts.evaluate(MAKE, made(version))
    found = scripts.evaluate(READ, list(RELEASED[version]))
    assert found == {kind: ITEMS[kind] for kind in RELEASED[version]}


def test_a_window_that_holds_the_earlier_store_is_named_and_waited_for(scripts: Page) -> None:
    scripts.evaluate("window.keepsOpen = true")
    scripts.evaluate(MAKE, made(2))
    scripts.evaluate(
        """async () => {
          const { Store } = await import("/static/data/store.js");
          window.heard = [];
          window.opening = new Store(() => window.heard.push("blocked")).all("settings");
          window.opening.then(() => window.heard.push("open"));
        }"""
    )
    heard = """() => new Promise((resolve) => {
      const look = () => (window.heard.length ? resolve(window.heard) : setTimeout(look, 10));
      setTimeout(() => resolve(window.heard), 5000);
      look();
    })"""
    assert scripts.evaluate(heard) == ["blocked"]
    scripts.evaluate("window.old.close()")
    assert scripts.evaluate("window.opening") == ITEMS["settings"]
    assert scripts.evaluate("window.heard") == ["blocked", "open"]


def test_a_store_of_a_newer_release_is_not_hidden_behind_an_empty_one(scripts: Page) -> None:
    said = scripts.evaluate(
        """async () => {
          const request = indexedDB.open("twentymile", 99);
          await new Promise((resolve) => { request.onsuccess = resolve; });
          request.result.close();
          const { openStore } = await import("/static/data/store.js");
          return openStore().then(({ lasting }) => `opened, ${lasting}`, ({ message }) => message);
        }"""
    )
    assert "was updated in another window" in said


def test_a_check_of_the_earlier_release_is_shown_in_its_own_words(
    chromium: Browser, server: str, tmp_path: Path
) -> None:
    with phone(chromium, tmp_path, server) as one:
        one.page.goto(f"{server}/static/icons/hub.svg")  # the address, without the app
        one.page.evaluate(MAKE, made(2))
        one.open("#/check/kept")
        one.settle()
        text = one.page.inner_text("main")
        told = ("Told then", "Do this.", "For this.", "Look closer")
        assert [words for words in told if words not in text] == [], text
        one.page.locator("summary", has_text="The answers").click()
        assert "How many axles were there?" in one.page.inner_text("main")
