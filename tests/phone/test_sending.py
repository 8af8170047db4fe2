"""The outbox lets go only of what is proven, and the store holds on when its connection drops."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.support.browser import engine_page
from tests.support.phone import Phone, installed, phone
from tests.support.serve import ROOT
from tests.support.tours import FULL
from webapp.api.links import ENDS
from webapp.engine import Engine

# One sealed record in a store in memory, sent to a server that answers as told.
SEND = """async ({ status, body, dead }) => {
  const { Sender } = await import("/static/data/outbox.js");
  const { MemoryStore } = await import("/static/data/memory.js");
  const { keeping } = await import("/static/data/store.js");
  const store = new MemoryStore();
  await store.commit(keeping({ id: "a", record: { id: "a" }, hash: "h" }));
  const sent = [];
  window.fetch = async (address, request) => {
    sent.push([address, request.headers["X-Twentymile-Device"], JSON.parse(request.body)]);
    if (dead) throw new TypeError("Failed to fetch");
    return new Response(typeof body === "string" ? body : JSON.stringify(body), { status });
  };
  const sender = new Sender(store, "d".repeat(32), () => {});
  await sender.send();
  clearTimeout(sender.timer);
  const [item] = await store.all("outbox");
  const marked = Boolean((await store.get("records", "a")).sent);
  return { sent, marked, left: item ? item.message || "waits" : "gone" };
}"""
SAID = {"error": {"code": "bad_field", "message": "record.body is missing."}}
OTHERS = {"error": {"code": "route_missing", "message": "no such upstream"}}


@pytest.mark.parametrize(
    ("reply", "left"),
    [
        ({"status": 200, "body": {"id": "a", "hash": "h", "verdict": None}}, "gone"),
        ({"status": 200, "body": {"id": "a", "hash": "other"}}, "waits"),
        ({"status": 200, "body": {"id": "b", "hash": "h"}}, "waits"),
        ({"status": 200, "body": "<html>sign in to the network</html>"}, "waits"),
        ({"status": 422, "body": SAID}, "record.body is missing."),
        ({"status": 400, "body": "no JSON"}, "waits"),
        ({"status": 404, "body": "<html>404 Not Found</html>"}, "waits"),
        ({"status": 403, "body": OTHERS}, "waits"),
        ({"status": 403, "body": {"error": "forbidden"}}, "waits"),
        ({"status": 403, "body": {"error": None}}, "waits"),
        ({"status": 429, "body": {"error": {"code": "too_many", "message": "Wait."}}}, "waits"),
        ({"status": 400, "body": {"error": {"code": "cut_off", "message": "Cut."}}}, "waits"),
        ({"status": 500, "body": SAID}, "waits"),
        ({"status": 503, "body": "down"}, "waits"),
        ({"dead": True}, "waits"),
    ],
)
def test_an_item_leaves_only_on_the_same_id_and_hash(
    scripts: Page, reply: dict[str, Any], left: str
) -> None:
    seen = scripts.evaluate(SEND, reply)
    assert seen["left"] == left
    assert seen["marked"] is (left == "gone")
    body = {"record": {"id": "a"}, "hash": "h"}
    assert seen["sent"] == [["/api/records", "d" * 32, body]]


# What sends is fetched once something waits: by a phone that has no signal then, later.
LATE = """async () => {
  const { Sender } = await import("/static/data/outbox.js");
  const { MemoryStore } = await import("/static/data/memory.js");
  const { keeping } = await import("/static/data/store.js");
  const store = new MemoryStore();
  await store.commit(keeping({ id: "a", record: { id: "a" }, hash: "h" }));
  window.fetch = async () => new Response(JSON.stringify({ id: "a", hash: "h" }));
  const sender = window.sender = new Sender(store, "d".repeat(32), () => {});
  await sender.send();
  return [(await store.all("outbox")).length, sender.timer > 0];
}"""
AGAIN = """async () => {
  await sender.send();
  return [(await sender.store.all("outbox")).length, sender.fails];
}"""


def test_what_sends_may_come_after_what_waits(chromium: Browser) -> None:
    page = engine_page(chromium)
    page.route("**/data/sending.js", lambda route: route.abort())
    assert page.evaluate(LATE) == [1, True]
    page.unroute("**/data/sending.js")
    assert page.evaluate(AGAIN) == [0, 0]
    page.context.close()


MANY = """async ({ ids, broken, rounds, kept, several }) => {
  const { Sender } = await import("/static/data/outbox.js");
  const { MemoryStore } = await import("/static/data/memory.js");
  const { keeping } = await import("/static/data/store.js");
  const store = new MemoryStore();
  for (const id of ids) await store.commit(keeping({ id, record: { id }, hash: "h" }));
  for (const item of kept ?? []) await store.commit([["outbox", item]]);
  let asked = 0, count = -1;
  const told = []; // as unsent, at each request
  const answer = ({ record: { id } }) => {
    const bad = broken.includes(id);
    return { status: bad ? 500 : 200, body: bad ? {} : { id, hash: "h" } };
  };
  window.fetch = async (address, request) => {
    const sent = JSON.parse(request.body);
    asked++;
    told.push(count);
    if (!sent.records) {
      const { status, body } = answer(sent);
      return new Response(JSON.stringify(body), { status });
    }
    if (several === "dead") throw new TypeError("Failed to fetch");
    if (several !== "yes") return new Response(several, { status: several ? 200 : 404 });
    return new Response(JSON.stringify({ answers: sent.records.map(answer) }));
  };
  const sender = new Sender(store, "d".repeat(32), ({ waiting }) => { count = waiting.size; });
  for (let i = 0; i < rounds; i++) { await sender.send(); clearTimeout(sender.timer); }
  return { left: (await store.all("outbox")).map(({ id }) => id), asked, told };
}"""


# What a request with several records meets, which ids the server fails on, rounds, what is left,
# and how many requests there may be.
ROUNDS = [
    ("", "a", 1, "a", 6),
    ("", "ab", 1, "ab", 6),
    ("", "abc", 1, "abcde", 4),  # the server itself seems to be down
    ("", "abc", 2, "abc", 10),
    ("", "abcde", 2, "abcde", 8),
    ("", "", 1, "", 6),
    ("yes", "", 1, "", 1),
    ("yes", "a", 1, "a", 1),
    ("yes", "abc", 1, "abcde", 1),
    ("yes", "abc", 2, "abc", 5),
    ("dead", "", 1, "abcde", 1),
    ("dead", "", 2, "abcde", 2),
    ("<html>sign in to this network</html>", "", 1, "", 6),
    ('{"answers": "abcde"}', "", 1, "", 6),
    ('{"answers": []}', "", 1, "", 6),
    ('{"answers": [{}, {}, {}, {}, {}]}', "", 1, "abcde", 1),
    ('{"answers": [null, null, null, null, null]}', "", 1, "abcde", 1),
]


@pytest.mark.parametrize(("several", "broken", "rounds", "left", "most"), ROUNDS)
def test_records_the_server_fails_on_hold_up_no_others(
    scripts: Page, several: str, broken: str, rounds: int, left: str, most: int
) -> None:
    given = {"ids": list("abcde"), "broken": list(broken), "rounds": rounds, "several": several}
    seen = scripts.evaluate(MANY, given)
    assert "".join(seen["left"]) == left
    assert seen["asked"] <= most


@pytest.mark.parametrize("count", [1, 2, 5, 6, 23])
def test_what_waits_goes_five_to_a_request(scripts: Page, count: int) -> None:
    """And what went counts as unsent no more while the rest is still on its way."""
    ids = [f"{n:02}" for n in range(count)]
    seen = scripts.evaluate(MANY, {"ids": ids, "broken": [], "rounds": 1, "several": "yes"})
    assert seen == {"left": [], "asked": -(-count // 5), "told": list(range(count, 0, -5))}


@pytest.mark.parametrize(
    ("item", "left"),
    [
        ({"id": "a", "message": "The server refused it (404)."}, []),  # by an earlier release
        ({"id": "a", "message": "record.body is missing.", "code": "bad_field"}, ["a"]),
    ],
)
def test_what_was_refused_without_a_code_is_sent_again(
    scripts: Page, item: dict[str, str], left: list[str]
) -> None:
    given = {"ids": ["a"], "broken": [], "rounds": 1, "kept": [item]}
    assert scripts.evaluate(MANY, given)["left"] == left


PHOTO = """async ({ checks, photos }) => {
  const { Sender } = await import("/static/data/outbox.js");
  const { MemoryStore } = await import("/static/data/memory.js");
  const { keeping } = await import("/static/data/store.js");
  const store = new MemoryStore(), rounds = [];
  await store.commit([...keeping({ id: "c", record: { id: "c" }, hash: "h" }),
    ["photos", { id: "p", check: "c", point: "tread", hash: "h" }],
    ["pictures", { id: "p", data: new ArrayBuffer(1), type: "image/jpeg" }],
    ["outbox", { id: "p", check: "c", message: "" }]]);
  window.fetch = async (address, { headers }) => {
    const photo = headers["X-Twentymile-Photo"], said = (photo ? photos : checks).shift() ?? 200;
    rounds.at(-1).push(photo ? "photo" : "check");
    if (!said) throw new TypeError("Failed to fetch");
    const refused = { error: { code: "too_large", message: "It is too large." } };
    return new Response(JSON.stringify(said === 200 ? { id: photo ?? "c", hash: "h" } : refused),
      { status: said });
  };
  const sender = new Sender(store, "d".repeat(32), () => {}), planned = [];
  for (let i = 0; i < 3; i++) {
    const before = sender.timer;
    rounds.push([]);
    await sender.send();
    planned.push(sender.timer !== before);
    clearTimeout(sender.timer);
  }
  return { rounds: rounds.map((one) => one.join(" ")), planned };
}"""


# A check that failed before, and photos of another; which of both the server turns away.
BOTH = """async (refuses) => {
  const { Sender } = await import("/static/data/outbox.js");
  const { MemoryStore } = await import("/static/data/memory.js");
  const { keeping } = await import("/static/data/store.js");
  const store = new MemoryStore();
  for (const id of "abcd") await store.commit(keeping({ id, record: { id }, hash: "h" }));
  for (const id of "pqrs") await store.commit([
    ["photos", { id, check: "sent", point: "tread", hash: "h" }],
    ["pictures", { id, data: new ArrayBuffer(1), type: "image/jpeg" }],
    ["outbox", { id, check: "sent", message: "" }]]);
  window.fetch = async (address, { headers, body }) => {
    const photo = headers["X-Twentymile-Photo"];
    if (refuses === (photo ? "photos" : "checks"))
      return new Response('{"error":{"code":"too_many","message":"Too many.","fix":"Wait."}}',
        { status: 429 });
    return new Response(JSON.stringify({ id: photo ?? JSON.parse(body).record?.id, hash: "h" }));
  };
  const told = [];
  const sender = new Sender(store, "d".repeat(32), ({ why }) => told.push(why));
  for (const id of "abcd") sender.failed.set(id, 1);
  await sender.send();
  clearTimeout(sender.timer);
  return [(await store.all("outbox")).map(({ id }) => id).join(""), told.at(-1)];
}"""


@pytest.mark.parametrize(
    ("refuses", "left", "why"),
    [
        ("photos", "pqrs", "Too many. Wait."),
        ("checks", "abcd", "Too many. Wait."),
        ("neither", "", ""),
    ],
)
def test_photos_turned_away_hold_up_no_check_and_the_reverse(
    scripts: Page, refuses: str, left: str, why: str
) -> None:
    assert scripts.evaluate(BOTH, refuses) == [left, why]


@pytest.mark.parametrize(
    ("why", "checks", "photos", "rounds", "planned"),
    [
        ("both get through", [], [], ["check photo", "", ""], [False] * 3),
        ("no signal at first", [0], [], ["check", "check photo", ""], [True, False, False]),
        ("the server fails once", [500], [], ["check", "check photo", ""], [True, False, False]),
        ("twice", [0, 500], [], ["check", "check", "check photo"], [True, True, False]),
        ("the photo fails", [], [500], ["check photo", "photo", ""], [True, False, False]),
        ("the photo is refused", [], [413], ["check photo", "", ""], [False] * 3),
        ("the check is refused", [413], [], ["check", "", ""], [False] * 3),
    ],
)
def test_a_photo_goes_in_the_round_that_takes_its_check(
    scripts: Page,
    why: str,
    checks: list[int],
    photos: list[int],
    rounds: list[str],
    planned: list[bool],
) -> None:
    seen = scripts.evaluate(PHOTO, {"checks": checks, "photos": photos})
    assert seen == {"rounds": rounds, "planned": planned}, why


def codes_in(*folders: str) -> set[str]:
    """The codes that the server refuses with, as they stand in its source."""
    text = "".join(path.read_text() for one in folders for path in (ROOT / one).rglob("*.py"))
    pattern = r'(?:Refusal|BadPicture|closed)\(\s*(?:4\d\d,)?\s*"([a-z_]+)"'
    return set(re.findall(pattern, text))


def test_every_final_refusal_is_one_the_server_knows() -> None:
    script = (ROOT / "static" / "data" / "sending.js").read_text()
    final = set(re.findall(r'"([a-z_]+)"', script.split("new Set([")[1].split("])")[0]))
    known = codes_in("webapp/api", "webapp/follow_up", "webapp/storage") | set(ENDS.values())
    assert final <= known
    later = {"cut_off", "length_missing", "too_slow", "too_many", "device_missing"}
    of_pairs = {"pair_unknown", "pair_ended", "too_bracketed"}
    assert known - final == later | of_pairs


STORE = """async (fault) => {
  const { Store, StorageFull } = await import("/static/data/store.js");
  const store = new Store(), real = IDBDatabase.prototype.transaction;
  await store.commit([["settings", { key: "before", value: 1 }]]);
  let falls = fault.times;
  IDBDatabase.prototype.transaction = function (...given) {
    if (falls-- > 0) throw new DOMException("dropped", fault.name);
    return real.apply(this, given);
  };
  let said = "saved";
  try {
    await store.commit([["settings", { key: "after", value: 2 }]]);
  } catch (error) {
    said = error instanceof StorageFull ? "full" : error.name;
  }
  IDBDatabase.prototype.transaction = real;
  const keys = (await store.all("settings")).map((item) => item.key);
  await store.commit([["settings", null, "after"]]);
  return { said, keys };
}"""


@pytest.mark.parametrize(
    ("name", "times", "said", "kept"),
    [
        ("InvalidStateError", 1, "saved", True),
        ("UnknownError", 1, "saved", True),
        ("AbortError", 1, "saved", True),
        ("InvalidStateError", 2, "InvalidStateError", False),
        ("QuotaExceededError", 1, "full", False),
        ("DataError", 1, "DataError", False),
    ],
)
def test_a_dropped_connection_is_opened_again_once(
    scripts: Page, name: str, times: int, said: str, kept: bool
) -> None:
    seen = scripts.evaluate(STORE, {"name": name, "times": times})
    assert seen["said"] == said
    assert seen["keys"] == (["after", "before"] if kept else ["before"])


def test_changes_are_made_together_or_not_at_all(scripts: Page) -> None:
    keys = scripts.evaluate(
        """async () => {
          const { Store } = await import("/static/data/store.js"), store = new Store();
          const bad = [["settings", { key: "good", value: 1 }], ["settings", { nokey: 1 }]];
          await store.commit(bad).catch(() => {});
          return (await store.all("settings")).map((item) => item.key);
        }"""
    )
    assert "good" not in keys


@pytest.fixture
def plain_http(chromium: Browser, server: str, tmp_path: Path) -> Iterator[Phone]:
    """A phone at an address of a local network: no https, so no secure context."""
    rules = "MAP trailer.test 127.0.0.1"
    address = server.replace("127.0.0.1", "trailer.test")
    with phone(chromium, tmp_path, address, flags=[f"--host-resolver-rules={rules}"]) as one:
        one.open()
        yield one


@pytest.mark.long
def test_without_https_a_check_is_still_kept_and_sent(plain_http: Phone) -> None:
    assert plain_http.page.evaluate("[isSecureContext, typeof crypto.subtle]") == [
        False,
        "undefined",
    ]
    assert "has no https" in plain_http.page.inner_text("main")
    plain_http.begin("quick_stop")
    plain_http.finish()
    plain_http.page.get_by_text("Saved on this phone and sent.").wait_for()
    assert plain_http.stored("outbox") == []


def test_a_full_phone_says_so_and_loses_nothing(
    chromium: Browser, server: str, tmp_path: Path
) -> None:
    with installed(chromium, server) as one:
        one.begin("quick_stop")
        one.answer()
        one.answer()
        before = one.stored("drafts")
        one.page.evaluate(FULL)
        one.tap("Surge")
        one.page.get_by_text("no room left").wait_for()
        assert one.stored("drafts") == before
        one.tap("Go on without saving")  # the answer is in memory still
        one.page.get_by_text("How warm").wait_for()
        one.page.evaluate("makeRoom()")
        one.answer()
        facts = one.stored("drafts")[0]["facts"]
        assert facts["brakes"] == "surge"  # type: ignore[index]
        assert facts["hub_feel@1L"] == "cold"  # type: ignore[index]


def test_why_the_server_asks_to_wait_stands_on_the_front_page(
    chromium: Browser, server: str
) -> None:
    with installed(chromium, server) as one:
        one.context.route(
            "**/api/records*",
            lambda route: route.fulfill(status=429, json={"error": error}),
        )
        error = {"code": "too_many", "message": "Too many came.", "fix": "They are sent later."}
        one.begin("quick_stop")
        one.finish()
        one.open("#/")
        said = one.page.locator(".unsent")
        said.get_by_text("Too many came. They are sent later.").wait_for()
        one.context.unroute_all()
        said.get_by_role("button", name="Send now").click()
        said.wait_for(state="detached")


@pytest.mark.long
def test_nothing_waits_for_the_browser_to_promise_room(
    chromium: Browser, server: str, tmp_path: Path
) -> None:
    """Some browsers ask the person, and answer only when the person does, if ever."""
    never = """navigator.storage.persisted = async () => false;
      navigator.storage.persist = () => new Promise(() => { window.promised = true; });"""
    with phone(chromium, tmp_path, server) as one:
        one.context.add_init_script(never)
        one.open()
        one.begin("quick_stop")
        one.answer()
        assert not one.page.evaluate("window.promised ?? false")  # not before something is kept
        one.finish()
        one.wait_for("window.promised")
        one.wait_stored("outbox", lambda left: not left)  # nor does what was kept wait to be sent


CLOCK = """async ({ clock, words }) => {
  const { Sender } = await import("/static/data/outbox.js");
  const { takeWords } = await import("/static/data/words.js");
  const { clockWords } = await import("/static/screens/notices.js");
  const { MemoryStore } = await import("/static/data/memory.js");
  const { keeping } = await import("/static/data/store.js");
  takeWords(words);
  const store = new MemoryStore();
  await store.commit(keeping({ id: "a", record: { id: "a" }, hash: "h" }));
  let said, told;
  window.fetch = async (address, request) => {
    told = Date.parse(request.headers["X-Twentymile-Clock"]) - Date.now();
    return new Response(JSON.stringify({ id: "a", hash: "h", ...(clock && { clock }) }));
  };
  const sender = new Sender(store, "d".repeat(32), (state) => { said = state.clock; });
  await sender.send();
  return { told, said, words: said ? clockWords(said) : "" };
}"""


@pytest.mark.parametrize(
    ("clock", "words"),
    [
        (None, ""),
        (360, "6 minutes fast"),
        (-360, "6 minutes slow"),
        (7200, "2 hours fast"),
        (-172_800_000, "2,000 days slow"),
    ],
)
def test_a_clock_that_is_off_is_said(scripts: Page, clock: int | None, words: str) -> None:
    seen = scripts.evaluate(
        CLOCK, {"clock": clock, "words": Engine(None, None).words("walk", "en")}
    )
    assert abs(seen["told"]) < 2000
    assert (seen["said"] or None) == clock
    assert words in seen["words"]
    assert bool(seen["words"]) == bool(words)
