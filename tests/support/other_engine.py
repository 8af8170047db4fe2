"""A person's way through the app in Firefox ESR or WebKitGTK:
`other_engine.py NAME ADDRESS`.

First visit, a quick stop kept and sent, then the same without a server, and sent once it is back.
It runs in an environment of its own, with the drivers of those browsers and nothing of ours. It
writes WITHOUT and WITH when the server is to go and to come back, and reads a line once it has.
"""

from __future__ import annotations

import glob
import json
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

PATIENCE = 60  # seconds
PREFERENCES = {"marionette.port": 2932, "browser.shell.checkDefaultBrowser": False}
TAP = """const said = %s;
const one = [...document.querySelectorAll("button, a")]
  .find((each) => each.textContent.trim().startsWith(said));
one?.click();
return Boolean(one);"""
# The plainest answer to whatever stands there: nothing seen, hubs cold, the most there is.
ANSWER = """
const zone = ".zone-row:not(:has([aria-pressed=true]))";
const proof = ".proof:not(:has([aria-pressed=true]))";
const ladder = ".ladder:has(.rung):not(:has([aria-pressed=true]))";
const ways = [
  [".sign-rows", ".foot .main"],
  [zone, `${zone} .fine`],
  [".proof .pad", ".proof .pad .unsure"],
  [proof, `${proof} .pick:nth-last-child(2)`],
  [".asked .todo", ".asked .todo"],
  [ladder, `${ladder} .cold`],
  ["*", ".row-of:not(:has([aria-pressed=true])):not(:has(.told)) .pick"],
];
const [, target] = ways.find(([seen]) => document.querySelector(seen));
document.querySelector(target)?.click();
return location.hash;"""
STORED = """const [kind, done] = arguments;
const open = indexedDB.open("twentymile");
open.onsuccess = () => {
  const all = open.result.transaction(kind).objectStore(kind).getAll();
  all.onsuccess = () => { open.result.close(); done(all.result.length); };
};"""


class Engine:
    """``go`` to an address, ``run`` a script, ``wait`` for what a script answers later."""

    go: Callable[[str], Any]
    run: Callable[[str], Any]
    wait: Callable[[str, str], Any]
    close: Callable[[], None]


def firefox() -> Engine:
    from marionette_driver.marionette import Marionette

    profile = tempfile.mkdtemp()
    lines = [f"user_pref({json.dumps(k)}, {json.dumps(v)});" for k, v in PREFERENCES.items()]
    Path(profile, "user.js").write_text("\n".join(lines))
    command = ["firefox-esr", "--headless", "--marionette", "--profile", profile]
    quiet = subprocess.DEVNULL
    process = subprocess.Popen(command, stdout=quiet, stderr=quiet)
    driver = Marionette("127.0.0.1", port=PREFERENCES["marionette.port"], startup_timeout=PATIENCE)
    driver.raise_for_port(timeout=PATIENCE)
    driver.start_session()
    driver.timeout.script = PATIENCE
    one = Engine()
    one.go, one.run = driver.navigate, driver.execute_script
    one.wait = lambda script, given: driver.execute_async_script(script, script_args=[given])

    def close() -> None:
        driver.delete_session()
        process.terminate()
        process.wait(20)

    one.close = close
    return one


def webkit() -> Engine:
    from selenium import webdriver
    from selenium.webdriver.webkitgtk.service import Service

    options = webdriver.WebKitGTKOptions()
    options.binary_location = glob.glob("/usr/lib/*/webkit2gtk-4.*/MiniBrowser")[0]
    options.add_argument("--automation")
    driver = webdriver.WebKitGTK(options=options, service=Service("/usr/bin/WebKitWebDriver"))
    driver.set_script_timeout(PATIENCE)
    one = Engine()
    one.go, one.run, one.close = driver.get, driver.execute_script, driver.quit
    one.wait = driver.execute_async_script
    return one


class Person:
    def __init__(self, engine: Engine, address: str) -> None:
        self.engine, self.address = engine, address

    def until(self, true: Callable[[], Any], what: str) -> None:
        deadline = time.monotonic() + PATIENCE
        while not true():
            if time.monotonic() > deadline:
                page = self.engine.run("return location.hash + document.body.innerText")
                sys.exit(f"never came: {what}\n{page[:1500]}")
            time.sleep(0.1)

    def sees(self, text: str) -> bool:
        return text in self.engine.run("return document.body?.innerText ?? ''")

    def tap(self, text: str) -> bool:
        return bool(self.engine.run(TAP % json.dumps(text)))

    def start(self) -> None:
        self.engine.go(f"{self.address}/")
        self.until(lambda: self.sees("Ready to work without signal"), "the app is held")

    def quick_stop(self) -> None:
        """Begin a stop, answer whatever comes, and keep the check."""
        self.engine.run("document.querySelector('button[value=run_stop]').click()")
        self.until(lambda: self.where().startswith("#/stop/"), "a stop begins")
        self.until(self.answered, "a verdict")
        self.until(lambda: self.sees("Held") or self.sees("Sent") or self.sees("Saved"), "kept")

    def where(self) -> str:
        return str(self.engine.run("return location.hash"))

    def answered(self) -> bool:
        if self.tap("Keep and send"):
            return True
        for text in ("Go on with the check", "See the verdict"):
            if self.tap(text):
                return False
        self.engine.run(ANSWER)
        return False

    def stored(self, kind: str) -> int:
        return int(self.engine.wait(STORED, kind))


def turn(word: str) -> None:
    """Let the test take the server away, or bring it back."""
    print(word, flush=True)
    sys.stdin.readline()


def journey(one: Person) -> None:
    one.start()
    one.quick_stop()
    one.until(lambda: one.stored("records") == 1, "one check kept")
    one.until(lambda: one.stored("outbox") == 0, "it was sent")
    turn("WITHOUT")
    one.start()  # from what the phone holds
    one.quick_stop()
    one.until(lambda: one.stored("records") == 2, "a second check kept without signal")
    if one.stored("outbox") != 1:
        sys.exit("it does not wait to be sent")
    turn("WITH")
    one.start()
    one.until(lambda: one.stored("outbox") == 0, "it was sent once there was signal")


def main() -> None:
    name, address = sys.argv[1:]
    engine = {"firefox": firefox, "webkit": webkit}[name]()
    try:
        journey(Person(engine, address))
    finally:
        engine.close()


if __name__ == "__main__":
    main()
