"""Who takes part in a history with faults: a server, phones, and what was told to be saved."""

from __future__ import annotations

import http.client
import os
import re
import shutil
import signal
import sqlite3
import subprocess
from contextlib import closing
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

from flask import Flask
from playwright.sync_api import Browser, Error, Page

from checks.words import words
from tests.support.browser import STATIC
from tests.support.floor import Floor, let_in
from tests.support.phone import Phone
from tests.support.serve import ROOT, free_port, wait_until_healthy
from tests.support.shops import fields_of
from tests.support.waiting import until
from webapp.__main__ import gunicorn_arguments

SCRIPT = (Path(__file__).parent / "faults.js").read_text("utf-8")
CLOCK = """(() => {
  const ahead = %d * 1000, Real = Date;
  globalThis.Date = class extends Real {
    constructor(...given) { if (given.length) super(...given); else super(Real.now() + ahead); }
    static now() { return Real.now() + ahead; }
  };
  // A browser may never answer when it is asked for what it keeps; told so by the simulator.
  const hangs = location.protocol.startsWith("http") && sessionStorage.getItem("hangs");
  if (hangs) IDBFactory.prototype.open = () => ({});
})()"""


class Broken(AssertionError):
    """An invariant that does not hold."""


def must(holds: bool, what: str, *about: object) -> None:
    if not holds:
        raise Broken(" ".join([what, *map(repr, about)]))


class Server:
    """The server as `make run` starts it, in a group of processes that is killed as one."""

    def __init__(self, data: Path, files: Path) -> None:
        self.data, self.port, self.kills = data, free_port(), 0
        self.process: subprocess.Popen[bytes] | None = None
        self.files, self.release = files, 0
        shutil.copytree(STATIC, files)
        self.stamp()

    def stamp(self) -> None:
        """Each script says of which release it is, so that a mix of two is seen."""
        for script in self.files.rglob("*.js"):
            plain = script.read_text("utf-8").partition("\nvoid 'of release")[0]
            script.write_text(f"{plain}\nvoid 'of release {self.release}';\n", "utf-8")

    def renew(self) -> None:
        """Stop, put another release in place, and start."""
        self.kill()
        self.release += 1
        self.stamp()
        self.start()

    @property
    def alive(self) -> bool:
        return self.process is not None and self.process.poll() is None

    def start(self) -> None:
        """A request that is still on its way may kill it before it is up: then once more."""
        while not self.started():
            pass

    def started(self) -> bool:
        """Whether it is up, or was killed on the way. Raises RuntimeError: it ended by itself."""
        path = self.data / "server.log"
        *arguments, _ = gunicorn_arguments("127.0.0.1", str(self.port))
        with path.open("ab") as log:
            self.process = subprocess.Popen(
                [*arguments, f"tests.support.on_files:serve('{self.files}')"],
                cwd=ROOT,
                env=os.environ | {"TWENTYMILE_DATA": str(self.data)},
                stdout=log,
                stderr=log,
                start_new_session=True,
            )
        try:
            wait_until_healthy(f"http://127.0.0.1:{self.port}", self.process, path, patience=180)
        except RuntimeError:
            if self.process.poll() == -signal.SIGKILL:
                return False
            raise
        return True

    def kill(self) -> None:
        if self.alive and self.process is not None:
            os.killpg(self.process.pid, signal.SIGKILL)
            self.process.wait(10)
            self.kills += 1


@dataclass
class Known:
    """What a phone has said is saved: it must be there after anything."""

    answers: dict[str, dict[str, dict[int, set[str]]]] = field(default_factory=dict)  # by window
    records: dict[str, str] = field(default_factory=dict)  # id: hash
    kept: dict[str, str] = field(default_factory=dict)  # draft: record
    photos: dict[str, str] = field(default_factory=dict)  # id: draft
    newer: set[str] = field(default_factory=set)  # records this server has to refuse
    doubtful: set[str] = field(default_factory=set)  # drafts that were being kept at a kill
    owed: bool = False  # an older backup was put back, and this phone has not been asked since


class Side:
    """One phone with two windows, and what is known of it."""

    def __init__(self, browser: Browser, profile: Path, address: str) -> None:
        self.known, self.kills = Known(), 0
        self.phone = Phone(browser, profile, address, lasting=True)
        self.pages: list[Page] = []
        self.open(0, first=True)

    def open(self, clock: int, first: bool = False) -> None:
        self.phone.context.add_init_script(CLOCK % clock)
        if first:
            self.phone.install()
        second = self.phone.context.new_page()
        self.pages = [self.phone.page, second]
        for page in self.pages:
            page.goto(f"{self.phone.address}/")
            self.equip(page)

    def equip(self, page: Page) -> None:
        page.wait_for_selector(".page:not(.first)")
        page.evaluate(SCRIPT)
        must(bool(page.evaluate("sim.lasting")), "the phone's store is not opened")

    def reload(self, window: int) -> None:
        self.pages[window].reload()
        self.equip(self.pages[window])

    def update(self, window: int) -> None:
        """Look for another release and, where one waits, take it as a person does."""
        page = self.pages[window]
        if not page.evaluate("sim.newest()"):
            return
        page.evaluate("location.hash = '#/'; document.body.dataset.before = ''")
        self.read_what_waits(page)
        page.get_by_role("button", name="Update", exact=True).click()
        until(lambda: reloaded(page), "the page of the new release")
        self.equip(page)
        self.reload(1 - window)

    def read_what_waits(self, page: Page) -> None:
        """What stands over the page, as that another window answered too, is read first."""
        told = page.locator("dialog[open]")
        for _ in range(20):
            if not told.count():
                return
            told.last.get_by_role("button", name=words("en").say("app-see"), exact=True).click()
        raise AssertionError("what stands over the page comes again and again")

    def start_without_store(self, window: int) -> None:
        """A start at which the browser never answers; then one at which it does."""
        page = self.pages[window]
        page.evaluate("sessionStorage.setItem('hangs', 'yes')")
        page.reload()
        page.get_by_text(words("en").say("app-notice-keeps-nothing")).wait_for()
        page.evaluate("sessionStorage.removeItem('hangs')")
        self.reload(window)

    def forget(self) -> None:
        """Somebody clears what the browser keeps, while the app is open."""
        devices = self.phone.context.new_cdp_session(self.pages[0])
        origin = {"origin": self.phone.address, "storageTypes": "indexeddb"}
        devices.send("Storage.clearDataForOrigin", origin)
        devices.detach()
        for window in range(2):
            self.reload(window)
        self.known = Known()

    def kill(self) -> None:
        self.phone.kill()
        self.kills += 1

    def do(self, window: int, call: str, *given: Any) -> dict[str, Any]:
        line = f"(given) => sim.{call}(...given)"
        found: dict[str, Any] = self.pages[window].evaluate(line, list(given))
        return found

    def state(self) -> dict[str, Any]:
        found: dict[str, Any] = self.pages[0].evaluate("sim.state()")
        return found

    @property
    def key(self) -> str:
        """What the server knows the phone by."""
        return sha256(str(self.pages[0].evaluate("sim.device")).encode()).hexdigest()


def reloaded(page: Page) -> bool:
    line = "!('before' in document.body.dataset) && !!document.querySelector('.page:not(.first)')"
    try:
        return bool(page.evaluate(line))
    except Error:  # it is on its way
        return False


class Desk:
    """Somebody at the shop's desk, who may be signed out between reading and saving."""

    def __init__(self, app: Flask, floor: Floor, address: str) -> None:
        client = app.test_client()
        let_in(client, app, floor.staff)
        cookie = client.get_cookie("twentymile")
        must(cookie is not None, "nobody is signed in")
        self.cookie = "" if cookie is None else cookie.value
        self.place, self.page = address.partition("//")[2], f"/shop/customers/{floor.customer}"
        self.customer, self.fine, self.count = floor.customer, {""}, 0

    def asked(self, form: dict[str, str] | None = None) -> tuple[int, str] | None:
        """What the server said; None when nothing, or not all, came back."""
        line = http.client.HTTPConnection(self.place, timeout=20)
        headers = {"Cookie": f"twentymile={self.cookie}"}
        try:
            if form is None:
                line.request("GET", self.page, headers=headers)
            else:
                headers["Content-Type"] = "application/x-www-form-urlencoded"
                line.request("POST", self.page, urlencode(form), headers)
            reply = line.getresponse()
            said = reply.read().decode()
        except (OSError, http.client.HTTPException):
            return None
        finally:
            line.close()
        for header in reply.headers.get_all("Set-Cookie", []):
            if found := re.match(r"twentymile=([^;]+)", header):
                self.cookie = found[1]
        return reply.status, said

    def form(self) -> dict[str, str] | None:
        """The customer's form with another phone number; None where the page did not come."""
        found = self.asked()
        if found is None or found[0] != 200:
            return None
        self.count += 1
        return fields_of(found[1]) | {"phone": f"555 {self.count:04}"}

    def stored(self, database: Path) -> str:
        with closing(sqlite3.connect(database, timeout=20)) as connection:
            line = "SELECT phone FROM customers WHERE id = ?"
            return str(connection.execute(line, (self.customer,)).fetchone()[0])
