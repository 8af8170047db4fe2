"""Histories of phones and one server: whatever is lost on the way, nothing is lost or stored twice.

Hypothesis makes the histories: records made, copied to a second phone, sent once, twice or late,
requests cut, answers lost, bodies garbled. The phones run the app's own sending code in the
browser's engine; what goes over the air is led through the test, which spoils it.
"""

from __future__ import annotations

import json
import shutil
import tempfile
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    rule,
    run_state_machine_as_test,
)
from playwright.sync_api import Browser, Page
from sqlalchemy import text

from tests.support.browser import engine_page
from tests.support.effort import SWEEPS, effort, few
from tests.support.records import check_body
from webapp import create_app

PHONES = ("0" * 32, "1" * 32, "2" * 32)
KEYS = [sha256(phone.encode()).hexdigest() for phone in PHONES]  # the server keeps these instead
# What may happen to a request, in the order they are sent; when the list is used up, nothing does.
FAULTS = (
    "none",
    "never arrives",
    "answer is lost",
    "body is cut",
    "a letter is changed",
    "somebody else answers",
)

PREPARE = """async (devices) => {
  const { Sender } = await import("/static/data/outbox.js");
  const { MemoryStore } = await import("/static/data/memory.js");
  const { keeping } = await import("/static/data/store.js");
  const { seal } = await import("/static/data/records.js");
  window.fetch = async (address, request) => {
    const device = request.headers["X-Twentymile-Device"];
    const answer = await window.over_the_air(address, device, request.body);
    if (!answer) throw new TypeError("Failed to fetch");
    return new Response(answer.body, { status: answer.status });
  };
  const phones = devices.map((device) => {
    const store = new MemoryStore();
    return { store, sender: new Sender(store, device, () => {}) };
  });
  window.make = async (i, body) => phones[i].store.commit(keeping(await seal("check", body)));
  window.copy = async (from, to) => {
    for (const { id, record, hash } of await phones[from].store.all("records")) {
      const { store } = phones[to];
      if (!(await store.get("records", id))) await store.commit(keeping({ id, record, hash }));
    }
  };
  window.send = async (i, refused) => {
    await phones[i].sender.send({ refused });
    clearTimeout(phones[i].sender.timer);
  };
  window.again = async (i) => {
    const { store } = phones[i], all = await store.all("records");
    await store.commit(all.map(({ id }) => ["outbox", { id, message: "" }]));
  };
  window.state = async () => Promise.all(phones.map(async ({ store }) => ({
    kept: (await store.all("records"))
      .map(({ id, hash, sent }) => ({ id, hash, sent: Boolean(sent) })),
    waiting: (await store.all("outbox")).map(({ id }) => id),
  })));
}"""


class Air:
    """The way between the phones and the server, with a fault for each request to come."""

    def __init__(self) -> None:
        self.app: Any = None
        self.faults: list[str] = []
        self.seen: set[str] = set()

    def carry(self, address: str, device: str, body: str) -> dict[str, Any] | None:
        fault = self.faults.pop(0) if self.faults else "none"
        self.seen.add(fault)
        if fault == "never arrives":
            return None
        if fault == "somebody else answers":
            return {"status": 200, "body": "<html>sign in to this network</html>"}
        if fault == "body is cut":
            body = body[: len(body) * 2 // 3]
        if fault == "a letter is changed":
            one = json.loads(body)
            one["record"]["body"]["date"] = "2020-01-01"
            body = json.dumps(one)
        answer = self.app.test_client().post(
            address,
            data=body,
            content_type="application/json",
            headers={"X-Twentymile-Device": device},
        )
        spoilt = fault in ("body is cut", "a letter is changed")
        assert (400 <= answer.status_code < 500) if spoilt else answer.status_code == 200
        if fault == "answer is lost":
            return None
        return {"status": answer.status_code, "body": answer.text}


class Histories(RuleBasedStateMachine):
    """Three phones, one server."""

    def __init__(self, page: Page, air: Air) -> None:
        super().__init__()
        self.page, self.air = page, air

    @initialize()
    def start(self) -> None:
        self.folder = Path(tempfile.mkdtemp())
        self.air.app = self.app = create_app({"DATA": self.folder})
        self.air.faults = []
        self.page.evaluate(PREPARE, PHONES)

    def teardown(self) -> None:
        if hasattr(self, "app"):
            self.drain()
            shutil.rmtree(self.folder, ignore_errors=True)

    # ---- what can happen --------------------------------------------------------------------

    @rule(phone=st.sampled_from(range(3)), count=st.integers(1, 3))
    def make(self, phone: int, count: int) -> None:
        for axles in range(1, count + 1):
            body = check_body(facts={"axles": axles})
            self.page.evaluate("([i, body]) => make(i, body)", [phone, body])

    @rule(one=st.sampled_from(range(3)), other=st.sampled_from(range(3)))
    def bring_to_another_phone(self, one: int, other: int) -> None:
        self.page.evaluate("([from, to]) => copy(from, to)", [one, other])

    @rule(
        phone=st.sampled_from(range(3)),
        faults=st.lists(st.sampled_from(FAULTS), min_size=1, max_size=4),
        refused=st.booleans(),
    )
    def send(self, phone: int, faults: list[str], refused: bool) -> None:
        """One try: oldest first, until one gets no answer; the button takes refused ones too."""
        self.air.faults = list(faults)
        self.page.evaluate("([i, refused]) => send(i, refused)", [phone, refused])

    # ---- what must hold ---------------------------------------------------------------------

    @invariant()
    def what_left_an_outbox_is_on_the_server_once(self) -> None:
        if not hasattr(self, "app"):
            return
        stored = self.stored()
        assert len(stored) == len({one[:2] for one in stored})
        for device, phone in zip(KEYS, self.state(), strict=True):
            gone = [one for one in phone["kept"] if one["id"] not in phone["waiting"]]
            assert all((one["id"], device, one["hash"]) in stored for one in gone)
            assert {one["id"] for one in phone["kept"] if one["sent"]} == {
                one["id"] for one in gone
            }

    # ---- helpers ----------------------------------------------------------------------------

    def state(self) -> list[dict[str, Any]]:
        """What each phone keeps: ``kept`` records, and the numbers of those ``waiting``."""
        state: list[dict[str, Any]] = self.page.evaluate("state()")
        return state

    def stored(self) -> list[tuple[str, str, str]]:
        with self.app.extensions["store"].reading() as connection:
            rows = connection.execute(text("SELECT id, device, hash FROM records")).all()
        return [(row.id, row.device, row.hash) for row in rows]

    def drain(self) -> None:
        """In the end everything is sent; sending all of it again moves nothing."""
        self.air.faults = []
        for i in range(3):
            self.page.evaluate("(i) => send(i, true)", i)
        state = self.state()
        assert not any(phone["waiting"] for phone in state)
        everything = {
            (one["id"], device, one["hash"])
            for device, phone in zip(KEYS, state, strict=True)
            for one in phone["kept"]
        }
        assert set(self.stored()) == everything
        for i in range(3):
            self.page.evaluate("async (i) => { await again(i); await send(i, true); }", i)
        assert sorted(self.stored()) == sorted(everything)


@pytest.fixture
def air() -> Air:
    return Air()


@pytest.fixture
def phones(chromium: Browser, air: Air) -> Iterator[Page]:
    page = engine_page(chromium)
    page.expose_function("over_the_air", air.carry)
    yield page
    page.close()


@pytest.mark.parametrize("fault", few(FAULTS, 2))
def test_a_record_waits_until_the_server_has_proven_it(phones: Page, air: Air, fault: str) -> None:
    history = Histories(phones, air)
    history.start()
    history.make(0, 1)
    history.send(0, [fault], False)
    assert len(history.state()[0]["waiting"]) == (0 if fault == "none" else 1)
    history.what_left_an_outbox_is_on_the_server_once()
    history.teardown()


@pytest.mark.sample
def test_nothing_is_lost_or_stored_twice(phones: Page, air: Air) -> None:
    run_state_machine_as_test(  # type: ignore[no-untyped-call]
        lambda: Histories(phones, air), settings=settings(effort(25), stateful_step_count=20)
    )
    assert air.seen == set(FAULTS) or not SWEEPS  # a quarter of the histories may leave one out
