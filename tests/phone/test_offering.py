"""After an older backup was put back, phones send again what the server has lost."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.support.phone import phone
from tests.support.serve import ONE, free_port, serving
from tests.support.waiting import until
from webapp.commands.backup import back_up

DAY = 86_400_000
# Two checks and a photo that were sent, one check that was not; then the server is asked.
ASK = """async ({ reply, last, now }) => {
  const { offerAgain } = await import("/static/data/offering.js");
  const { MemoryStore } = await import("/static/data/memory.js");
  const store = new MemoryStore(), record = { body: {} };
  await store.commit([
    ["records", { id: "a", record, hash: "h", sent: "2026-01-01", draft: "d", link: "l" }],
    ["records", { id: "b", record, hash: "h", sent: "2026-01-01" }],
    ["records", { id: "c", record, hash: "h" }], ["outbox", { id: "c", message: "" }],
    ["photos", { id: "p", check: "d", sent: "2026-01-01" }],
    ["links", { id: "l", secret: "s", told: true }],
  ]);
  const asked = [];
  window.fetch = async (address, request) => {
    asked.push(JSON.parse(request.body));
    if (!reply) throw new TypeError("Failed to fetch");
    return new Response(reply.body, { status: reply.status });
  };
  const again = await offerAgain(store, "d".repeat(32), last, now);
  return { asked, again, outbox: await store.all("outbox"),
    told: (await store.get("links", "l")).told,
    noted: (await store.get("settings", "offered"))?.value ?? null };
}"""
WHOLE = {"records": ["a", "b"], "photos": ["p"]}


def answer(records: Any, photos: Any, status: int = 200) -> dict[str, Any]:
    return {"status": status, "body": json.dumps({"records": records, "photos": photos})}


CASES: dict[str, tuple[Any, list[str], bool]] = {
    "the server has all": (answer([], []), ["c"], True),
    "it lacks a check": (answer(["b"], []), ["b", "c"], True),
    "it lacks all": (answer(["a", "b"], ["p"]), ["a", "b", "c", "p"], True),
    "it names what was never sent": (answer(["c", "x"], ["y"]), ["c"], True),
    "no answer": (None, ["c"], False),
    "somebody else answers": ({"status": 200, "body": "<html>sign in</html>"}, ["c"], False),
    "an answer of another shape": (answer("all", None), ["c"], False),
    "a server that fails": (answer(["a"], [], 503), ["c"], False),
}


@pytest.mark.parametrize("case", CASES)
def test_only_what_the_server_says_it_lacks_is_sent_again(scripts: Page, case: str) -> None:
    reply, outbox, noted = CASES[case]
    found = scripts.evaluate(ASK, {"reply": reply, "last": None, "now": 10 * DAY})
    assert found["asked"] == [WHOLE]
    assert [item["id"] for item in found["outbox"]] == outbox
    assert (found["noted"] is not None) is noted  # else it is asked again at the next start
    assert [item.get("check") for item in found["outbox"] if item["id"] == "p"] in ([], ["a"])
    assert found["told"] is ("a" not in outbox)


@pytest.mark.parametrize(
    ("since", "asks"), [(0, False), (DAY - 1, False), (DAY, True), (-DAY, True), (None, True)]
)
def test_it_is_asked_once_a_day(scripts: Page, since: int | None, asks: bool) -> None:
    last = None if since is None else 10 * DAY - since
    case = {"reply": answer([], []), "last": last, "now": 10 * DAY}
    assert bool(scripts.evaluate(ASK, case)["asked"]) is asks


@pytest.mark.sweep
@pytest.mark.sqlite
def test_a_restored_older_backup_gets_back_what_a_phone_has(
    chromium: Browser, tmp_path: Path
) -> None:
    data, older = tmp_path / "data", tmp_path / "older.sqlite3"
    data.mkdir()
    database = data / "twentymile.sqlite3"
    port = free_port()
    with phone(chromium, tmp_path / "phone", f"http://127.0.0.1:{port}") as one:
        with serving(data, ONE, port=port):
            one.install()
            back_up(f"sqlite:///{database}", older)
            one.begin("quick_stop")
            one.finish()
            one.wait_stored("outbox", lambda items: not items)
        assert kept_in(database) == 1
        for beside in data.glob("twentymile.sqlite3*"):
            beside.unlink()
        older.rename(database)
        assert kept_in(database) == 0
        with serving(data, ONE, port=port):
            one.open()
            until(lambda: kept_in(database) == 1, "the record on the server again")
            one.wait_stored("outbox", lambda items: not items)


def kept_in(database: Path) -> int:
    with closing(sqlite3.connect(database)) as connection:
        return int(connection.execute("SELECT count(*) FROM records").fetchone()[0])
