"""Random histories of phones and a server, with everything that can go wrong on the way.

    python -m tests.support.faults --seed 1 --histories 25 --steps 400

Two phones (the real app in Chromium, each with two windows and a profile on disk) and the real
server, killed with SIGKILL. After every step the invariants are checked; a history that breaks one
ends with its seed, from which its decisions are made again (what the machine's clock decides, such
as how far a commit had got when its server died, is left to chance).
"""

from __future__ import annotations

import argparse
import random
import shutil
import sqlite3
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from hashlib import sha256
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Error

from tests.support.air import FAULTS, Air
from tests.support.browser import launched
from tests.support.fault_world import Broken, Desk, Known, Server, Side, must
from tests.support.floor import Floor, shop_floor
from webapp import create_app
from webapp.commands.backup import back_up

KEYS = ("hub_feel@1L", "hub_feel@1R", "hub_feel@2L", "hub_feel@2R")
FEELS = ("cold", "cool", "warm", "hot")
HOUR, DAY = 3600, 86_400
MINUTES, YEAR = 6 * 60, 365 * DAY
CLOCKS = (0, 0, 0, MINUTES, -MINUTES, 2 * HOUR, 60 * DAY, -60 * DAY, 3 * YEAR, -40 * YEAR)
PATIENCE = 90  # seconds of sending, once all are connected, until all must be sent
MOST_ON_LINK = 30  # more would meet the server's own limit for a link


class History:
    """One world, one seed."""

    def __init__(self, browser: Browser, seed: int, folder: Path, kills: float) -> None:
        self.seed, self.random, self.folder = seed, random.Random(seed), folder
        self.weights = WEIGHTS | {"kill_browser": WEIGHTS["kill_browser"] * kills}
        self.data = folder / "data"
        app = create_app({"DATA": self.data})
        self.floor: Floor = shop_floor(app)
        self.server = Server(self.data, folder / "files")
        self.server.start()
        self.air = Air(self.server.port, self.server.kill)
        self.desk = Desk(app, self.floor, self.air.address)
        app.extensions["store"].engine.dispose()
        self.sides = [Side(browser, folder / f"phone{i}", self.air.address) for i in range(2)]
        self.keys = [side.key for side in self.sides]
        self.done: Counter[str] = Counter()
        self.on_link = self.refused = 0
        self.backup: Path | None = None
        self.proved = 0
        self.acknowledged: set[tuple[str, str, str]] = set()
        self.last = ""

    def close(self) -> None:
        for side in self.sides:
            side.phone.close()
        self.air.close()
        self.server.kill()

    # ---- what can happen ------------------------------------------------------------------------

    def step(self) -> None:
        name = self.random.choices(list(self.weights), list(self.weights.values()))[0]
        self.last = name
        self.done[name] += 1
        getattr(self, name)(self.random.choice(self.sides))
        self.check()

    def window(self) -> int:
        return self.random.randrange(2)

    def draft(self, side: Side) -> str | None:
        begun = sorted(set(side.known.answers) - set(side.known.kept))
        return self.random.choice(begun) if begun else None

    def begin(self, side: Side) -> None:
        links = side.pages[0].evaluate("sim.link ? 1 : 0") and self.on_link < MOST_ON_LINK
        under = "floor" if links and self.random.random() < 0.3 else None
        found = side.do(self.window(), "begin", under)
        if self.allowed(found):
            side.known.answers[found["done"]] = {}
            self.on_link += under is not None

    def answer(self, side: Side) -> None:
        draft = self.draft(side)
        if draft is None:
            self.begin(side)
            return
        window, key, feel = self.window(), self.random.choice(KEYS), self.random.choice(FEELS)
        found = side.do(window, "answer", draft, key, feel)
        must(found.get("why") != "gone", "a draft is gone that nobody kept", draft)
        if self.allowed(found):
            side.known.answers[draft].setdefault(key, {})[window] = {feel}
        elif found["why"] == "full":  # it stays on the screen, and goes in with the next one
            self.refused += 1
            self.perhaps(side, draft, key, window, feel)

    def look(self, side: Side) -> None:
        draft = self.draft(side)
        if draft is not None:
            side.do(self.window(), "look", draft)

    def keep(self, side: Side) -> None:
        draft = self.draft(side)
        if draft is None:
            return
        self.led(2)
        found = side.do(self.window(), "keep", draft)
        must(found.get("why") != "gone", "a draft is gone that nobody kept", draft)
        if self.allowed(found):
            side.known.kept[draft] = found["done"]["id"]
            side.known.records[found["done"]["id"]] = found["done"]["hash"]

    def newer(self, side: Side) -> None:
        """A check by rules that this server does not know; it may ask what it does not know too."""
        foreign = self.random.random() < 0.5
        found = side.do(self.window(), "newer", foreign)
        if self.allowed(found):
            side.known.records[found["done"]["id"]] = found["done"]["hash"]
            if foreign:
                side.known.newer.add(found["done"]["id"])

    def older(self, side: Side) -> None:
        """Sent as earlier releases did, each for itself, and gone before its answer is noted."""
        self.led(self.random.randint(1, 5))
        self.allowed(side.do(self.window(), "older"))

    def photo(self, side: Side) -> None:
        draft = self.random.choice([self.draft(side), *list(side.known.kept)[-2:]])
        if draft is None:
            return
        found = side.do(self.window(), "photo", draft, self.random.randrange(360))
        if self.allowed(found):
            side.known.photos[found["done"]] = draft

    def send(self, side: Side) -> None:
        self.led(self.random.randint(1, 5))
        self.allowed(side.do(self.window(), "send", self.random.random() < 0.3))
        for window in range(2):
            self.counted(side, window)

    def counted(self, side: Side, window: int) -> None:
        """The count of unsent is true, in both windows; each may need a moment to hear of it."""
        until = time.monotonic() + 5
        while True:
            waiting = sorted(item["id"] for item in side.state()["outbox"])
            said = side.pages[window].evaluate("sim.unsent()")
            if said == waiting:
                return
            must(time.monotonic() < until, "the count of unsent is wrong", said, waiting)
            time.sleep(0.05)

    def bring(self, side: Side) -> None:
        """Everything of one phone to the other as a file; and nothing twice."""
        other = next(one for one in self.sides if one is not side)
        text = side.pages[0].evaluate("sim.text()")
        if not self.allowed(other.do(0, "take", text)):
            return
        gave, has = side.state(), other.state()
        must(
            {r["id"]: r["hash"] for r in gave["records"]}.items()
            <= {r["id"]: r["hash"] for r in has["records"]}.items(),
            "a file brought not all records",
        )
        must(
            {p["id"]: p["hash"] for p in gave["photos"]}.items()
            <= {p["id"]: p["hash"] for p in has["photos"]}.items(),
            "a file brought not all photos",
        )
        kept = {r["draft"] for r in has["records"]}
        must(
            all(has["drafts"].get(i) is not None or i in kept for i in gave["drafts"]),
            "a file brought not all drafts",
        )
        self.adopt(other, gave, has)

    def adopt(self, side: Side, gave: dict[str, Any], has: dict[str, Any]) -> None:
        known, theirs = side.known, next(s for s in self.sides if s is not side).known
        for one in gave["records"]:
            known.records.setdefault(one["id"], one["hash"])
            if one["draft"] and one["draft"] not in has["drafts"]:
                known.kept.setdefault(one["draft"], one["id"])
        for one in gave["photos"]:
            known.photos.setdefault(one["id"], one["check"])
        known.newer |= theirs.newer
        for draft in has["drafts"]:
            if draft not in known.answers:  # as it was brought; a twin goes its own way from here
                known.answers[draft] = {
                    key: {0: {value}} for key, value in has["drafts"][draft].items() if key in KEYS
                }

    def reload(self, side: Side) -> None:
        side.reload(self.window())

    def release(self, _: Side) -> None:
        self.server.renew()

    def update(self, side: Side) -> None:
        """A phone takes the newest release, in the middle of the checks it has begun."""
        if not self.server.alive:
            self.server.start()
        side.update(self.window())
        self.one_release(side)

    def install_cut(self, side: Side) -> None:
        """While a phone takes a release in comes the next, or somebody dies."""
        self.server.renew()
        side.pages[self.window()].evaluate("sim.look()")
        time.sleep(self.random.random() * 0.4)
        end = self.random.choice([self.release, self.kill_server, self.start_again, self.reload])
        end(side)
        self.one_release(side)

    def one_release(self, side: Side) -> None:
        found = side.pages[0].evaluate("sim.releases()")
        must(any(releases for _, releases in found), "no release is held", found)
        for name, releases in found:
            must(len(releases) < 2, "releases are mixed", name, releases)

    def hang(self, side: Side) -> None:
        """The store stops answering: nothing is called saved, and the next start finds all."""
        window, draft = self.window(), self.draft(side)
        side.pages[window].evaluate("sim.hang()")
        if draft is not None:
            given = (self.random.choice(KEYS), self.random.choice(FEELS))
            found = side.do(window, "waits", "answer", draft, *given)
            must(found.get("why") == "waits", "saved by a store that does not answer", found)
        side.start_without_store(window)

    def forget(self, side: Side) -> None:
        """What the browser kept is cleared: the phone begins anew, and claims nothing."""
        side.forget()
        self.keys[self.sides.index(side)] = side.key
        state = side.state()
        left = [kind for kind, held in state.items() if held]
        must(not left, "what was cleared is there", left)

    def kill_browser(self, side: Side) -> None:
        """In the middle of what a person does; then a start at a time that may be wrong."""
        draft = self.draft(side)
        if draft is not None and self.random.random() < 0.8:
            self.begun_at_the_kill(side, draft)
            time.sleep(self.random.random() * 0.06)
        self.start_again(side)

    def start_again(self, side: Side) -> None:
        side.kill()
        side.phone.start()
        side.open(self.random.choice(CLOCKS))

    def begun_at_the_kill(self, side: Side, draft: str) -> None:
        window = self.window()
        if self.random.random() < 0.5:
            key, feel = self.random.choice(KEYS), self.random.choice(FEELS)
            call = f"void sim.answer({draft!r}, {key!r}, {feel!r})"
            self.perhaps(side, draft, key, window, feel)
        else:
            call = f"void sim.keep({draft!r})"
            side.known.doubtful.add(draft)
        side.pages[window].evaluate(call)

    def perhaps(self, side: Side, draft: str, key: str, window: int, feel: str) -> None:
        """An answer of which nobody was told that it is saved: it may be there, or not."""
        side.known.answers[draft].setdefault(key, {}).setdefault(window, {"none yet"}).add(feel)

    def kill_server(self, _: Side) -> None:
        self.server.kill()

    def fill(self, side: Side) -> None:
        """No room for a while: what cannot be kept is said, what is kept stays."""
        devices = side.phone.context.new_cdp_session(side.pages[0])
        quota = {"origin": self.air.address, "quotaSize": 1}
        devices.send("Storage.overrideQuotaForOrigin", quota)
        for _ in range(3):
            self.random.choice([self.answer, self.keep, self.photo, self.begin])(side)
        devices.send("Storage.overrideQuotaForOrigin", {"origin": self.air.address})
        devices.detach()

    def drop(self, side: Side) -> None:
        side.pages[self.window()].evaluate("sim.drop()")

    def revoke(self, _: Side) -> None:
        self.links("UPDATE links SET revoked = CASE WHEN revoked IS NULL THEN ? ELSE NULL END")

    def renew(self, _: Side) -> None:
        self.links("UPDATE links SET replaced = CASE WHEN replaced IS NULL THEN ? ELSE NULL END")

    def links(self, line: str) -> None:
        self.written(line, time.time())

    def written(self, line: str, moment: float) -> None:
        told = time.strftime("%Y-%m-%dT%H:%M:%S.000+00:00", time.gmtime(moment))
        with closing(sqlite3.connect(self.database, timeout=20)) as connection, connection:
            connection.execute(line, (told,))

    def save_at_desk(self, _: Side) -> None:
        """A form of the shop's, whose sender may have been signed out since they read it."""
        desk, signed_out = self.desk, self.random.random() < 0.4
        form = desk.form()
        if form is None:
            return
        if signed_out:
            self.written("UPDATE sessions SET made = ?", time.time() - 400 * DAY)
        self.led(1, [fault for fault in FAULTS if fault != "comes again later"])
        found = desk.asked(form)
        self.written("UPDATE sessions SET made = ?", time.time())
        if signed_out:
            must(found is None or found[0] != 302, "a form was taken from nobody", found)
        elif found is not None and found[0] == 302:
            desk.fine = {form["phone"]}
        else:
            desk.fine.add(form["phone"])

    def take_link(self, side: Side) -> None:
        trailer = {"id": self.floor.trailer_id, "name": "Alder Fork 1", "facts": {"axles": 2}}
        link = {
            "id": "floor",
            "secret": self.floor.secret,
            "kind": "job",
            "made": "2026-07-14",
            "pressed": True,
            "trailer": trailer,
            "due": [],
        }
        for window in range(2):
            self.allowed(side.do(window, "link", link))

    def back_up(self, _: Side) -> None:
        target = self.folder / f"backup{self.done['back_up']}.sqlite3"
        back_up(f"sqlite:///{self.database}", target)
        self.backup = target

    def restore(self, _: Side) -> None:
        if self.backup is None:
            return
        self.server.kill()
        for beside in self.data.glob("twentymile.sqlite3*"):
            beside.unlink()
        shutil.copy(self.backup, self.database)
        self.server.start()
        self.proved = 0
        self.acknowledged &= self.rows()
        self.desk.fine = {self.desk.stored(self.database)}
        for side in self.sides:
            side.known.owed = True

    def offer(self, side: Side) -> None:
        self.led(1)
        found = side.do(0, "offer")
        if found.get("done") is True:
            side.known.owed = False

    # ---- helpers --------------------------------------------------------------------------------

    @property
    def database(self) -> Path:
        return self.data / "twentymile.sqlite3"

    def led(self, count: int, among: Sequence[str] = FAULTS) -> None:
        """What will happen to the next requests; a server that died is there again, or not yet."""
        if not self.server.alive and self.random.random() < 0.7:
            self.server.start()
        weights = [30 if fault == "none" else 1.5 if "dies" in fault else 4 for fault in among]
        faults = self.random.choices(among, weights, k=count)
        self.air.faults.clear()
        self.air.faults.extend((fault, self.random.random() * 0.04) for fault in faults)

    def allowed(self, found: dict[str, Any]) -> bool:
        """Whether it was done. A full phone may refuse, a draft be gone; no other fault is fine."""
        why = found.get("why")
        must(why in (None, "full", "gone"), "a fault nobody told of", why)
        return why is None

    # ---- what must hold -------------------------------------------------------------------------

    def check(self) -> None:
        for side, key in zip(self.sides, self.keys, strict=True):
            state = side.state()
            self.settle_doubts(side, state)
            saved_is_there(side.known, state)
            if not side.known.owed:
                left_is_on_the_server(state, key, self.rows(), self.photo_rows())
                self.acknowledged |= told_as_sent(state, key)
        lost = self.acknowledged - self.rows()
        must(not lost, "what was acknowledged is not on the server", lost)
        stored = self.desk.stored(self.database)
        must(stored in self.desk.fine, "what the desk saved is not there", stored, self.desk.fine)
        self.whole()

    def settle_doubts(self, side: Side, state: dict[str, Any]) -> None:
        """What was being kept when the browser died is kept, or it is a draft: never neither."""
        for draft in list(side.known.doubtful):
            new = [r for r in state["records"] if r["id"] not in side.known.records]
            kept = next((r for r in new if r["draft"] == draft), None)
            must(kept is not None or draft in state["drafts"], "a check was lost at a kill", draft)
            if kept is not None:
                side.known.kept[draft] = kept["id"]
                side.known.records[kept["id"]] = kept["hash"]
            side.known.doubtful.discard(draft)

    def rows(self) -> set[tuple[str, str, str]]:
        with closing(sqlite3.connect(self.database, timeout=20)) as connection:
            return set(connection.execute("SELECT device, id, hash FROM records"))

    def photo_rows(self) -> set[tuple[str, str]]:
        with closing(sqlite3.connect(self.database, timeout=20)) as connection:
            lines = "SELECT device_hash, id, received_sha256, path FROM photos"
            found = connection.execute(lines).fetchall()
        must(all((self.data / row[3]).is_file() for row in found), "a photo's file is missing")
        return {row[1:3] for row in found}

    def whole(self) -> None:
        """Every stored record is what its hash says, and a shop sees each once."""
        with closing(sqlite3.connect(self.database, timeout=20)) as connection:
            new = "SELECT seq, hash, record FROM records WHERE seq > ?"
            for seq, digest, record in connection.execute(new, (self.proved,)):
                must(sha256(record.encode()).hexdigest() == digest, "a record is not whole", seq)
                self.proved = max(self.proved, seq)
            twice = (
                "SELECT id FROM records WHERE shop_id IS NOT NULL "
                "GROUP BY shop_id, id HAVING count(*) > 1"
            )
            must(not connection.execute(twice).fetchall(), "a shop sees a record twice")

    def drain(self) -> None:
        """Once all are connected all agree, and a second sync moves nothing."""
        self.last = "drain"
        self.air.faults.clear()
        if not self.server.alive:
            self.server.start()
        self.links("UPDATE links SET revoked = NULL, replaced = NULL WHERE ? IS NOT NULL")
        for side in self.sides:
            side.do(0, "offer")
            side.known.owed = False
            self.emptied(side)
        self.check()
        before = self.dump()
        for side in self.sides:
            side.do(0, "again")
            side.do(0, "send", True)
        must(self.dump() == before, "a second sync moved something")
        self.check()

    def emptied(self, side: Side) -> None:
        """Send until nothing waits. A sender that is at it takes no second call, and a request that
        went nowhere ends by its time-out alone."""
        until = time.monotonic() + PATIENCE
        while True:
            side.do(0, "send", True)
            state = side.state()
            left = {item["id"] for item in state["outbox"]}
            photos = {p["id"] for p in state["photos"] if p["check"] in side.known.newer}
            if left - photos <= side.known.newer:
                return
            must(time.monotonic() < until, "not all was sent", state["outbox"])
            time.sleep(0.2)

    def dump(self) -> list[Any]:
        with closing(sqlite3.connect(self.database, timeout=20)) as connection:
            tables = ("records", "photos", "mails", "due")
            return [connection.execute(f"SELECT * FROM {one}").fetchall() for one in tables]


WEIGHTS = {
    "begin": 8, "answer": 34, "look": 4, "keep": 10, "newer": 0.4, "photo": 5, "send": 14,
    "bring": 1.5, "reload": 1, "kill_browser": 1.2, "kill_server": 1, "fill": 1, "drop": 2,
    "take_link": 1, "revoke": 0.8, "renew": 0.8, "back_up": 1, "restore": 0.25, "offer": 2,
    "older": 1, "release": 0.4, "update": 0.8, "install_cut": 0.4, "hang": 0.25, "forget": 0.2,
    "save_at_desk": 2,
}  # fmt: skip


def saved_is_there(known: Known, state: dict[str, Any]) -> None:
    records = {one["id"]: one for one in state["records"]}
    lost = [one for one in known.records if one not in records]
    left = {kind: len(held) for kind, held in state.items()}
    must(not lost, "kept checks are lost", lost, "there is", left)
    for record_id, digest in known.records.items():
        must(records[record_id]["hash"] == digest, "a kept check was changed", record_id)
    for photo in known.photos:
        must(photo in {p["id"] for p in state["photos"]}, "a photo is lost", photo)
        must(photo in state["pictures"], "a photo has lost its picture", photo)
    for draft, answers in known.answers.items():
        kept = known.kept.get(draft)
        must(kept is not None or draft in state["drafts"], "a draft is lost", draft)
        facts = records[kept]["facts"] if kept else state["drafts"][draft]
        for key, by_window in answers.items():
            fine = set().union(*by_window.values())
            must(facts.get(key, "none yet") in fine, "an answer is lost", draft, key, facts, fine)
    for draft in known.kept:
        must(draft not in state["drafts"], "a kept check's draft is back", draft)


def told_as_sent(state: dict[str, Any], key: str) -> set[tuple[str, str, str]]:
    waiting = {item["id"] for item in state["outbox"]}
    sent = (one for one in state["records"] if one["sent"] and one["id"] not in waiting)
    return {(key, one["id"], one["hash"]) for one in sent}


def left_is_on_the_server(
    state: dict[str, Any], key: str, rows: set[Any], photos: set[Any]
) -> None:
    waiting = {item["id"] for item in state["outbox"]}
    for one in state["records"]:
        here = (key, one["id"], one["hash"]) in rows
        must(here or one["id"] in waiting, "a check left the outbox unproven", one["id"])
        must(one["sent"] or one["id"] in waiting, "neither sent nor waiting", one["id"])
    checks = {one["draft"] or one["id"] for one in state["records"]}
    for photo in state["photos"]:
        here = (photo["id"], photo["hash"]) in photos  # from whichever phone came first
        must(
            here or photo["id"] in waiting or photo["check"] not in checks,
            "a photo left the outbox unproven",
            photo["id"],
        )


@contextmanager
def history(browser: Browser, seed: int, kills: float) -> Iterator[History]:
    folder = Path(tempfile.mkdtemp(prefix="tm-faults-"))
    one = History(browser, seed, folder, kills)
    try:
        yield one
    finally:
        one.close()
    shutil.rmtree(folder, ignore_errors=True)  # of one that broke all is left, to look at


def run(browser: Browser, seed: int, steps: int, kills: float = 1) -> Counter[str]:
    """Play one history to its end; what happened in it, counted. Raises Broken with the seed."""
    with history(browser, seed, kills) as one:
        try:
            for _ in range(steps):
                one.step()
            one.drain()
        except (AssertionError, Error) as error:
            what = f"seed {seed}, step {one.done.total()} ({one.last}): {error} in {one.folder}"
            raise Broken(what) from error
        stored = len(one.rows())
        counted = Counter({f"step: {name}": n for name, n in one.done.items()})
        counted |= Counter({f"request: {name}": n for name, n in one.air.seen.items()})
        kills = sum(side.kills for side in one.sides)
        counted.update(
            steps=steps,
            server_kills=one.server.kills,
            browser_kills=kills,
            records_stored=stored,
            answers_refused_by_a_full_phone=one.refused,
            histories=1,
        )
        return counted


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.support.faults", description=__doc__)
    parser.add_argument("--seed", type=int, default=1, help="of the first history")
    parser.add_argument("--histories", type=int, default=25)
    parser.add_argument("--steps", type=int, default=400, help="of each history")
    parser.add_argument("--kills", type=float, default=1, help="browser kills, times as many")
    parser.add_argument("--minutes", type=float, default=120, help="begin no other history after")
    given = parser.parse_args()
    total: Counter[str] = Counter()
    began, failed = time.monotonic(), []
    with launched() as browser:
        for seed in range(given.seed, given.seed + given.histories):
            if time.monotonic() - began > given.minutes * 60:
                break
            try:
                total += run(browser, seed, given.steps, given.kills)
            except Broken as error:
                failed.append(seed)
                print(error, flush=True)
            print(f"seed {seed}: {dict(total)}", flush=True)
    print(f"{total['histories']} histories whole, {len(failed)} broken: {failed}")
    sys.exit(bool(failed))


if __name__ == "__main__":
    main()
