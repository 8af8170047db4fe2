"""Histories of phones and one server: whatever is lost on the way, nothing is lost or stored twice.

Each phone keeps an outbox and drops a record only on an answer with the same id and hash.
Hypothesis makes the histories: records made, copied to a second phone, sent once, twice or late,
requests cut, answers lost, bodies garbled.
"""

from __future__ import annotations

import json
import shutil
import tempfile
from pathlib import Path
from typing import Any

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule
from sqlalchemy import text

from tests.support.effort import effort
from tests.support.records import check_body, envelope, record
from webapp import create_app

PHONES = ("0" * 32, "1" * 32, "2" * 32)


class Histories(RuleBasedStateMachine):
    """Three phones, one server."""

    @initialize()
    def start(self) -> None:
        self.folder = Path(tempfile.mkdtemp())
        self.app = create_app({"DATA": self.folder})
        self.outbox: dict[str, dict[str, dict[str, Any]]] = {phone: {} for phone in PHONES}
        self.dropped: dict[tuple[str, str], str] = {}

    def teardown(self) -> None:
        if hasattr(self, "app"):
            self.drain()
            shutil.rmtree(self.folder, ignore_errors=True)

    # ---- what can happen --------------------------------------------------------------------

    @rule(phone=st.sampled_from(PHONES), axles=st.integers(1, 3))
    def make(self, phone: str, axles: int) -> None:
        one = envelope(record(body=check_body(facts={"axles": axles})))
        self.outbox[phone][one["record"]["id"]] = one

    @rule(data=st.data(), to=st.sampled_from(PHONES))
    def copy_to_another_phone(self, data: st.DataObject, to: str) -> None:
        waiting = [one for box in self.outbox.values() for one in box.values()]
        if waiting:
            one = data.draw(st.sampled_from(waiting))
            if (to, one["record"]["id"]) not in self.dropped:
                self.outbox[to][one["record"]["id"]] = one

    @rule(data=st.data(), phone=st.sampled_from(PHONES))
    def send(self, data: st.DataObject, phone: str) -> None:
        for one in self.some(data, phone):
            self.take(phone, self.post(phone, json.dumps(one)))

    @rule(data=st.data(), phone=st.sampled_from(PHONES))
    def send_but_the_answer_is_lost(self, data: st.DataObject, phone: str) -> None:
        for one in self.some(data, phone):
            assert self.post(phone, json.dumps(one)).status_code == 200

    @rule(data=st.data(), phone=st.sampled_from(PHONES), keep=st.floats(0, 0.99))
    def send_but_the_body_is_cut(self, data: st.DataObject, phone: str, keep: float) -> None:
        for one in self.some(data, phone):
            whole = json.dumps(one)
            answer = self.post(phone, whole[: int(len(whole) * keep)])
            assert 400 <= answer.status_code < 500
            self.take(phone, answer)

    @rule(data=st.data(), phone=st.sampled_from(PHONES))
    def send_but_a_letter_is_changed(self, data: st.DataObject, phone: str) -> None:
        for one in self.some(data, phone):
            changed = one["record"] | {"body": one["record"]["body"] | {"date": "2020-01-01"}}
            answer = self.post(phone, json.dumps(one | {"record": changed}))
            assert 400 <= answer.status_code < 500
            self.take(phone, answer)

    # ---- what must hold ---------------------------------------------------------------------

    @invariant()
    def what_was_dropped_is_on_the_server_once(self) -> None:
        if hasattr(self, "app"):
            stored = self.stored()
            assert len(stored) == len(set(stored))
            assert set(self.dropped.values()) <= {digest for _, digest in stored}

    # ---- helpers ----------------------------------------------------------------------------

    def some(self, data: st.DataObject, phone: str) -> list[dict[str, Any]]:
        waiting = list(self.outbox[phone].values())
        return [data.draw(st.sampled_from(waiting))] if waiting else []

    def post(self, phone: str, body: str) -> Any:
        return self.app.test_client().post(
            "/api/records",
            data=body,
            content_type="application/json",
            headers={"X-Twentymile-Device": phone},
        )

    def take(self, phone: str, answer: Any) -> None:
        """What a phone does with an answer: drop the record only where id and hash agree."""
        if answer.status_code != 200:
            return
        said = answer.json
        one = self.outbox[phone].get(said["id"])
        if one is not None and one["hash"] == said["hash"]:
            del self.outbox[phone][said["id"]]
            self.dropped[(phone, said["id"])] = said["hash"]

    def stored(self) -> list[tuple[str, str]]:
        with self.app.extensions["store"].reading() as connection:
            rows = connection.execute(text("SELECT id, device, hash FROM records")).all()
        return [(f"{row.id} {row.device}", row.hash) for row in rows]

    def drain(self) -> None:
        """In the end everything is sent; sending all of it again moves nothing."""
        everything = [(phone, one) for phone in PHONES for one in self.outbox[phone].values()]
        for phone, one in everything:
            self.take(phone, self.post(phone, json.dumps(one)))
        assert not any(self.outbox.values())
        before = sorted(self.stored())
        for phone, one in everything:
            assert self.post(phone, json.dumps(one)).status_code == 200
        assert sorted(self.stored()) == before
        assert {digest for _, digest in before} >= set(self.dropped.values())


Histories.TestCase.settings = settings(effort(25), stateful_step_count=20)
TestHistories = Histories.TestCase
