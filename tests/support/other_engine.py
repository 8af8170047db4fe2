"""Ways of a person through the app in Firefox ESR or WebKitGTK:
`other_engine.py NAME ADDRESS WAY [SECRET]`.

``stop``: first visit, a quick stop kept and sent, then the same without a server, and sent once it
is back. ``checks``: tires with a photo, ended in the middle and come back to, a walkaround, a
shop's link, and the next release taken. ``halt`` and ``hot``: a link's stop with smoke, and one
with a hub too hot to touch, kept without a server and sent once it is back. ``run``: a run begun,
21 miles typed, the loud stop met once more without a server, its check, and the run driven on.
``late``: a stop with one hub felt, taken up again 20 minutes later and begun anew, kept without a
server and sent once it is back.
``suite``: what ``/static/shop/suite.js`` writes. It runs in an environment of its own, with the
drivers of those browsers and nothing of ours. It writes WITHOUT, WITH and NEXT when the server is
to go, to come back, and to come back as another release, and reads a line once it has.
"""

from __future__ import annotations

import glob
import json
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

PATIENCE = 60  # seconds
TAP = """const said = %s;
const one = [...document.querySelectorAll("button, a")]
  .find((each) => each.textContent.trim().startsWith(said));
one?.click();
return Boolean(one);"""
# The plainest answer to whatever stands there: nothing seen, hubs cold, the most there is. Who taps
# on while the next screen is drawn has it drawn anew each time, and never sees it.
ANSWER = """
if (document.body.dataset.shown !== location.hash) return null;
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
const asked = [
  [".more-below:not([hidden])", ".more-below:not([hidden])"],
  [".pick:not([aria-pressed])", ".pick:not([aria-pressed])"],
  [".pad", ".unsure"],
  ["*", ".answers .answer"],
];
const none = [...document.querySelectorAll(".page:has(.ticks) button")]
  .find((one) => one.textContent.trim().startsWith("None of these"));
const here = location.hash.startsWith("#/ask/") ? asked : ways;
const [, target] = here.find(([seen]) => document.querySelector(seen));
const more = document.querySelector(".more-below:not([hidden])");
(none && !more ? none : document.querySelector(target))?.click();
return location.hash;"""
STORED = """const [kind, done] = arguments;
const open = indexedDB.open("twentymile");
open.onsuccess = () => {
  const all = open.result.transaction(kind).objectStore(kind).getAll();
  all.onsuccess = () => { open.result.close(); done(all.result.length); };
};"""

# 21 miles typed as the distance of a run, in what the phone counts in; and what was kept last.
MILES = """const field = document.querySelector("details form input");
if (!field) return false;
field.closest("details").open = true;
field.value = field.ariaLabel.endsWith("km") ? "33.8" : "21";
field.form.requestSubmit();
return true;"""
LAST = """const [kind, done] = arguments;
const open = indexedDB.open("twentymile");
open.onsuccess = () => {
  const all = open.result.transaction(kind).objectStore(kind).getAll();
  all.onsuccess = () => { open.result.close(); done(JSON.stringify(all.result.at(-1))); };
};"""

# As if what was told of hubs had been told 20 minutes earlier.
EARLIER = """const [kind, done] = arguments;
const open = indexedDB.open("twentymile");
open.onsuccess = () => {
  const work = open.result.transaction(kind, "readwrite"), store = work.objectStore(kind);
  const all = store.getAll();
  all.onsuccess = () => {
    for (const one of all.result) {
      for (const key of Object.keys(one.feltAt)) one.feltAt[key] -= 20 * 60000;
      store.put(one);
    }
  };
  work.oncomplete = () => { open.result.close(); done(all.result.length); };
};"""

# A picture as a camera gives one, put where a person would have chosen it.
PHOTO = """const [selector, done] = arguments, canvas = document.createElement("canvas");
Object.assign(canvas, { width: 900, height: 600 });
canvas.getContext("2d").fillRect(100, 100, 300, 200);
canvas.toBlob((blob) => {
  const chosen = new DataTransfer(), input = document.querySelector(selector);
  chosen.items.add(new File([blob], "IMG_1.jpg", { type: "image/jpeg" }));
  input.files = chosen.files;
  input.dispatchEvent(new Event("change", { bubbles: true }));
  done(true);
}, "image/jpeg");"""
SUITE = """const script = document.createElement("script");
Object.assign(script, { type: "module", src: "/static/shop/suite.js" });
document.body.append(script);"""
OUT = "return document.querySelector('#out')?.textContent ?? ''"


class Engine:
    """``go`` to an address, ``run`` a script, ``wait`` for what a script answers later."""

    go: Callable[[str], Any]
    run: Callable[[str], Any]
    wait: Callable[[str, str], Any]
    close: Callable[[], None]
    killed: Callable[[], Engine]


def firefox(profile: str = "") -> Engine:
    from marionette_driver.marionette import Marionette

    profile = profile or tempfile.mkdtemp()
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = int(probe.getsockname()[1])
    wanted = {"marionette.port": port, "browser.shell.checkDefaultBrowser": False}
    lines = [f"user_pref({json.dumps(k)}, {json.dumps(v)});" for k, v in wanted.items()]
    Path(profile, "user.js").write_text("\n".join(lines))
    command = ["firefox-esr", "--headless", "--marionette", "--profile", profile]
    quiet = subprocess.DEVNULL
    process = subprocess.Popen(command, stdout=quiet, stderr=quiet)
    driver = Marionette("127.0.0.1", port=port, startup_timeout=PATIENCE)
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

    def killed() -> Engine:
        process.kill()
        process.wait(20)
        return firefox(profile)

    one.close, one.killed = close, killed
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

    def killed() -> Engine:  # a driven WebKitGTK keeps nothing on disk: its page alone is ended
        driver.get("about:blank")
        return one

    one.killed = killed
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

    def answer_until(self, true: Callable[[], Any], what: str) -> None:
        self.until(lambda: true() or self.engine.run(ANSWER) is False, what)

    def sees(self, text: str) -> bool:
        return text in self.engine.run("return document.body?.innerText ?? ''")

    def tap(self, text: str) -> bool:
        return bool(self.engine.run(TAP % json.dumps(text)))

    def start(self) -> None:
        self.engine.go(f"{self.address}/")
        self.until(lambda: self.sees("Ready to work without signal"), "the app is held")

    def quick_stop(self) -> None:
        """Begin a stop, answer whatever comes, and keep the check."""
        self.begin("run_stop", "#/stop/")
        self.finish()

    def begin(self, check: str, *where: str) -> None:
        self.click(f"button[value={check}]")
        self.until(lambda: self.where().startswith(where), f"{check} begins")

    def finish(self) -> None:
        self.until(self.answered, "a verdict")
        self.until(lambda: self.sees("Held") or self.sees("Sent") or self.sees("Saved"), "kept")

    def click(self, selector: str) -> None:
        line = f"const one = document.querySelector({json.dumps(selector)}); one?.click();"
        self.until(lambda: self.engine.run(line + "return Boolean(one);"), selector)

    def photo(self) -> None:
        """A photo at the question that is shown."""
        self.click(".camera")
        there = "return Boolean(document.querySelector('#camera'))"
        self.until(lambda: self.engine.run(there), "a camera")
        self.engine.wait(PHOTO, "#camera")
        shown = "return document.querySelectorAll('.photo-dialog .thumbs img').length"
        self.until(lambda: self.engine.run(shown) == 1, "the photo is shown")
        self.tap("Done")

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

    def last(self, kind: str) -> Any:
        """What was kept last of a kind."""
        return json.loads(self.engine.wait(LAST, kind))

    def stored(self, kind: str) -> int:
        return int(self.engine.wait(STORED, kind))


def turn(word: str) -> None:
    """Let the test take the server away, or bring it back."""
    print(word, flush=True)
    sys.stdin.readline()


def stop(one: Person, _: str) -> None:
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


def checks(one: Person, secret: str) -> None:
    one.start()
    tires(one)
    one.start()
    one.click("button[value=walkaround]")
    one.begin("trip", "#/ask/", "#/walk/")
    one.finish()
    one.engine.go(f"{one.address}/#/from/{secret}")
    one.until(lambda: one.where().startswith("#/job/"), "the link's trailer")
    one.until(lambda: one.tap("Start"), "what is due can be begun")
    one.until(lambda: one.where().startswith(("#/stop/", "#/ask/")), "the due check begins")
    one.finish()
    one.until(lambda: one.stored("records") == 3, "three checks kept")
    one.until(lambda: one.stored("outbox") == 0, "all were sent")
    turn("NEXT")
    one.start()
    one.until(lambda: one.tap("Update"), "the next release is offered")
    one.until(lambda: one.sees("Twentymile next"), "it is there")
    if one.stored("records") != 3:
        sys.exit("a check was lost with the next release")


def tires(one: Person) -> None:
    """Half of it, with a photo; then the browser dies, and the rest."""
    one.begin("tires", "#/ask/")
    one.photo()
    where = one.where()
    one.answer_until(lambda: one.where() != where, "the second question")
    one.engine = one.engine.killed()
    one.engine.go(f"{one.address}/")
    one.until(lambda: one.tap("Go on"), "what was begun")
    one.until(lambda: one.where().startswith("#/ask/"), "its question")
    if one.where() == where:
        sys.exit("an answer was lost")
    one.finish()


DIALOG = """const [, yes] = document.querySelectorAll("dialog button");
yes?.click();
return Boolean(yes);"""


def halt(one: Person, secret: str) -> None:
    """At a link's stop there is smoke; kept without signal, sent once there is some."""
    one.start()
    due_stop(one, secret)
    one.until(lambda: one.tap("Smoke"), "smoke can be told")
    one.until(lambda: one.where().startswith("#/now/"), "the Stop page")
    one.until(lambda: one.tap("Left wheel"), "its wheel")
    one.until(lambda: one.sees("Left wheel: Smoke"), "the wheel stands first")
    kept_without_signal(one, "stop")


def hot(one: Person, secret: str) -> None:
    """Grinding is told by mistake and taken back; then a hub cannot be touched."""
    one.start()
    due_stop(one, secret)
    one.until(lambda: one.tap("Grinding"), "a sign can be told")
    one.until(lambda: one.where().startswith("#/now/"), "the Stop page")
    one.until(lambda: one.tap("Go on with the check"), "the way on")
    one.until(lambda: one.where().endswith("/signs"), "its signs")
    one.until(lambda: one.tap("Grinding"), "it can be taken back")
    one.until(lambda: one.engine.run(DIALOG), "whether that is meant is asked")
    pressed = "return document.querySelectorAll('.sign-rows [aria-pressed=true]').length"
    one.until(lambda: one.engine.run(pressed) == 0, "it is taken back")
    to_hubs(one)
    one.click(".ladder .no_touch")
    one.until(lambda: one.sees("Keep your hands off"), "hands off")
    kept_without_signal(one, "look", "stop")


def late(one: Person, secret: str) -> None:
    """A stop of which one hub was felt is taken up when that has cooled."""
    one.start()
    due_stop(one, secret)
    to_hubs(one)
    one.click(".ladder .warm")
    one.until(lambda: one.last("drafts")["facts"].get("hub_feel@1L"), "the hub is stored")
    if one.engine.wait(EARLIER, "drafts") != 1:
        sys.exit("not one stop was begun")
    one.engine.go(f"{one.address}/")
    one.until(lambda: one.tap("Go on"), "what was begun")
    one.until(lambda: one.tap("Begin this stop anew"), "whether it is to be begun anew")
    one.until(lambda: "hub_feel@1L" not in one.last("drafts")["facts"], "the hub is to be felt")
    kept_without_signal(one, "clear", "look", "unchecked", named="Not yet sent")


def to_hubs(one: Person) -> None:
    there = "return Boolean(document.querySelector('.ladder .rung'))"
    one.answer_until(lambda: one.engine.run(there), "the hubs")


def due_stop(one: Person, secret: str) -> None:
    one.engine.go(f"{one.address}/#/from/{secret}")
    one.until(lambda: one.where().startswith("#/job/"), "the link's trailer")
    one.until(lambda: one.tap("Start"), "what is due can be begun")
    one.until(lambda: one.where().startswith("#/stop/"), "the due stop begins")


def kept_without_signal(one: Person, *levels: str, named: str = "Left wheel") -> None:
    turn("WITHOUT")
    one.finish()
    if one.stored("outbox") != 1:
        sys.exit("it does not wait to be sent")
    found = one.last("records")["record"]["body"]["verdict"]["level"]
    if found not in levels:
        sys.exit(f"kept at {found}")
    one.engine.go(f"{one.address}/")  # from what the phone holds
    one.until(lambda: one.sees(named), "it stands on the front page without signal")
    turn("WITH")
    one.engine.go(f"{one.address}/")
    one.until(lambda: one.stored("outbox") == 0, "it was sent once there was signal")


def run(one: Person, _: str) -> None:
    one.start()
    one.until(lambda: one.tap("Start a run"), "a run can be begun")
    one.until(lambda: one.sees("Next: "), "what comes next")
    one.until(lambda: one.engine.run(MILES), "the distance can be typed")
    one.until(lambda: one.sees("Stop at the next safe place"), "the call")
    turn("WITHOUT")
    one.engine = one.engine.killed()
    one.engine.go(f"{one.address}/")  # from what the phone holds
    one.until(lambda: one.tap("Stop at the next safe place"), "the front page says a look is due")
    one.until(lambda: one.tap("Standing still: what is due"), "the call is still loud")
    one.until(lambda: one.tap("Check now"), "the stop is due")
    one.until(lambda: one.where().startswith("#/stop/"), "the check begins")
    one.finish()
    facts = one.last("records")["record"]["body"]["facts"]
    if not 33.8 <= facts["run_distance"] <= 36 or facts["run_speed"] not in (89, 90):
        # 21 miles in km; 55 mph or 90 km/h, as the phone counts
        sys.exit(f"the check was not told what the run knew: {facts}")
    one.engine.go(f"{one.address}/")
    one.until(lambda: one.tap("A run is under way"), "the run goes on")
    one.until(lambda: one.tap("Drive on"), "it can be driven on")
    one.until(lambda: one.sees("Next: ") and not one.sees("Look at:"), "nothing is due any more")


def suite(one: Person, _: str) -> None:
    one.engine.go(f"{one.address}/nowhere")
    one.engine.run(SUITE)
    one.until(lambda: one.engine.run(OUT), "what the suite found")
    print(one.engine.run(OUT))


def main() -> None:
    name, address, way, *secret = sys.argv[1:]
    ways = {one.__name__: one for one in (stop, checks, halt, hot, late, run, suite)}
    person = Person({"firefox": firefox, "webkit": webkit}[name](), address)
    try:
        ways[way](person, *secret, *[""][len(secret) :])
    finally:
        person.engine.close()


if __name__ == "__main__":
    main()
