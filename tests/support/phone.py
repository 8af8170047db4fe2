"""A phone for the tests: the real app in Chromium, worked by its labels."""

from __future__ import annotations

import contextlib
import functools
import json
import os
import re
import signal
from collections.abc import Callable, Iterator
from pathlib import Path

from playwright.sync_api import Browser, BrowserContext, Locator, Page

from tests.support.browser import FLAGS, executable, watch
from tests.support.tongue import said
from tests.support.waiting import drawn, until

SCREEN = {"width": 360, "height": 740}
MADE = {"viewport": SCREEN, "has_touch": True, "accept_downloads": True}

# Whether the phone holds what its second start fetches.
HELD = """async () => (await Promise.all(["/rulebook-figures.json",
    `/words-figures.${document.documentElement.lang.split("-")[0]}.json`]
  .map((address) => caches.match(address)))).every(Boolean)"""

# How long a look took, by the page's clock: never by how quick the machine is.
NO_TIME = """() => {
  const moment = performance.now();
  performance.now = () => moment;
}"""
LONG_LOOK = """() => {
  let moment = performance.now();
  performance.now = () => (moment += 20000);
}"""

# What stands on the screen when a person is asked something, first match wins.
OPEN_LADDER = ".ladder:has(.rung):not(:has([aria-pressed=true]))"
CHECKLIST, PAD = ".ticks", ".pad"
PROOF = ".proof:not(:has([aria-pressed=true]))"
OPEN_ZONE = ".zone-row:not(:has([aria-pressed=true]))"


class Phone:
    """One phone. ``taps`` counts what the thumb did.

    It is a context of the run's browser, which is there in no time; ``used`` is one of an earlier
    test. What is to outlive its end, or needs ``flags``, is ``lasting``: a browser of its own with
    its profile on disk.
    """

    def __init__(
        self,
        browser: Browser,
        profile: Path,
        address: str,
        flags: list[str] | None = None,
        lasting: bool = False,
        locale: str = "en-US",
        used: BrowserContext | None = None,
    ) -> None:
        self.browser, self.profile, self.address = browser, profile, address
        self.flags = [*FLAGS, *(flags or [])]
        self.lasting, self.used = lasting or bool(flags), used
        self.made = MADE | {"locale": locale}
        self.taps = 0
        self.faults: list[str] = []
        self.start()

    def start(self) -> None:
        """Open the browser, as tapping its icon does."""
        self.context: BrowserContext = self.opened() if self.lasting else self.beside()
        self.page: Page = (self.context.pages or [self.context.new_page()])[0]
        self.page.on("pageerror", lambda error: self.faults.append(str(error)))

    def beside(self) -> BrowserContext:
        return self.used or self.browser.new_context(**self.made)  # type: ignore[arg-type]

    def opened(self) -> BrowserContext:
        context = self.browser.browser_type.launch_persistent_context(
            self.profile,
            executable_path=executable(),
            args=self.flags,
            **self.made,  # type: ignore[arg-type]
        )
        return watch(context)

    def open(self, hash: str = "") -> None:
        """Go there; where the app is open already the screen before it stands for a moment more."""
        self.page.goto(f"{self.address}/{hash}")
        self.page.wait_for_selector(".page:not(.first)")
        self.settle()

    def install(self) -> None:
        """First visit, until the front page says that the phone now holds the whole app."""
        self.open()
        ready = said(self.language, "Ready to work without signal.")[0]
        self.page.get_by_text(ready.rstrip(".")).wait_for()

    def offline(self, off: bool) -> None:
        self.context.set_offline(off)

    depth = "trip"  # how far a walk is to go
    full = False  # whether the stop that was begun is to end as a full one

    def kill(self) -> None:
        """End a lasting phone as one short of memory does: at once, nothing tidied up."""
        process = int(os.readlink(self.profile / "SingletonLock").rpartition("-")[2])
        os.kill(process, signal.SIGKILL)
        with contextlib.suppress(Exception):
            self.context.close()
        until(lambda: not running(process), "the browser's end")

    def close(self) -> None:
        with contextlib.suppress(Exception):
            self.context.close()

    # ---- the thumb ----

    def tap(self, text: str) -> None:
        """Tap what has this name, given in English."""
        self.taps += 1
        self.by_name(text).first.click()

    def by_name(self, text: str) -> Locator:
        """Buttons and links whose name has this in it, given in English and as it is written.

        "Go on" is not in "Before you go Once round", as it would be for a driver that takes a text.
        """
        name = re.compile("|".join(map(re.escape, said(self.language, text))))
        return self.page.get_by_role("button", name=name).or_(
            self.page.get_by_role("link", name=name)
        )

    @property
    def language(self) -> str:
        return str(self.made["locale"]).partition("-")[0]

    def tap_at(self, selector: str) -> None:
        self.taps += 1
        self.page.locator(selector).first.click()

    def keys(self, digits: str) -> None:
        for digit in digits:
            self.tap_at(f".key:text-is('{digit}')")

    def begin(self, check: str) -> None:
        """From the front page to the first question; a full stop begins as one for hubs only."""
        self.full = check == "run_stop"
        self.tap_at(f"button[value={'run_stop' if check == 'quick_stop' else check}]")
        if check == "walkaround":
            self.tap_at(f"button[value={self.depth}]")
        self.page.wait_for_selector(".asking")
        self.settle()

    @property
    def question(self) -> str:
        return self.page.inner_text("h1")

    @property
    def where(self) -> str:
        return str(self.page.evaluate("location.hash"))

    @property
    def asking(self) -> bool:
        return self.where.startswith(("#/ask/", "#/stop/", "#/walk"))

    def answer(self) -> None:
        """Answer what is asked in the plainest way, and wait for the next screen."""
        self.settle()
        before = self.where
        if before.startswith(("#/stop/", "#/walk/")):
            self.answer_by_hand()
            return
        if self.page.locator(CHECKLIST).count():
            self.see_all()
            self.tap("None of these")
        elif self.page.locator(".pick:not([aria-pressed])").count():
            self.tap_at(".pick")
        elif self.page.locator(PAD).count():
            self.tap_at(".unsure")
        else:
            self.tap_at(".answers .answer")
        self.wait_for(f"location.hash !== {json.dumps(before)}")
        self.settle()

    def answer_by_hand(self) -> None:
        """One tap of a stop or a walk: nothing seen, hubs cold and alike, the first of a row."""
        state = "location.hash + document.querySelectorAll('[aria-pressed=true]').length"
        before = self.page.evaluate(state)
        if self.page.locator(".sign-rows").count():
            self.tap_at(".foot .main")
        elif self.page.locator(OPEN_ZONE).count():
            self.tap_at(f"{OPEN_ZONE} .fine")
        elif self.page.locator(".proof .pad").count():
            self.tap_at(".proof .pad .unsure")
        elif self.page.locator(PROOF).count():
            self.tap_at(f"{PROOF} .pick:nth-last-child(2)")  # the most there can be
        elif self.page.locator(".asked .todo").count():
            self.tap_at(".asked .todo")
        elif self.page.locator(OPEN_LADDER).count():
            self.tap_at(f"{OPEN_LADDER} .cold")
        else:
            self.tap_at(".row-of:not(:has([aria-pressed=true])):not(:has(.told)) .pick")
        self.wait_for(f"{state} !== {json.dumps(before)}")
        self.settle()
        return

    def see_all(self) -> None:
        """Look through a list to its end."""
        drawn(self.page)
        more = self.page.locator(".more-below:visible")

        def on() -> None:  # by script: the button is gone as soon as the last line was on screen
            more.evaluate_all("all => all.forEach((one) => one.hidden || one.click())")
            drawn(self.page)

        self.repeat(on, lambda: not more.count())

    def choose(self, selector: str) -> None:
        """Tap an answer and wait for the screen that follows."""
        before = self.where
        self.tap_at(selector)
        self.wait_for(f"location.hash !== {json.dumps(before)}")
        self.settle()

    def settle(self) -> None:
        """Wait until the screen shown is the one the address names."""
        self.wait_for("document.body.dataset.shown === location.hash")

    def wait_for(self, condition: str) -> None:
        """Poll from outside: the page's content policy forbids what the driver would poll with."""
        try:
            until(lambda: bool(self.page.evaluate(condition)), condition)
        except AssertionError as error:
            raise AssertionError(f"{error}, {self.state()}") from None

    def state(self) -> str:
        """What a test that waited in vain had on its screen."""
        shown = self.page.evaluate("[document.body.dataset.shown, document.readyState]")
        return f"at {self.where}, drawn {shown}, faults {self.faults}:\n{self.page.content()}"

    def sending_over(self) -> None:
        """Wait until no page is trying to send: the app holds a lock while it does."""
        self.page.evaluate("navigator.locks.request('twentymile-send', () => {})")

    def wait_stored(
        self, kind: str, enough: Callable[[list[dict[str, object]]], bool]
    ) -> list[dict[str, object]]:
        """What the phone keeps of one kind, once ``enough``; AssertionError if it never is."""
        until(lambda: enough(self.stored(kind)), f"enough {kind}")
        return self.stored(kind)

    def answer_until(self, enough: Callable[[], bool], limit: int = 150) -> None:
        self.repeat(self.answer, enough, limit)

    def repeat(
        self, step: Callable[[], object], enough: Callable[[], bool], limit: int = 150
    ) -> None:
        """Do it again until that is enough; AssertionError after ``limit`` times."""
        for _ in range(limit):
            if enough():
                return
            step()
        raise AssertionError(f"not enough after {limit} times: {self.question}")

    def feel(self, *words: str) -> None:
        """Answer up to the hubs, then what each ladder still open is told in turn."""
        self.answer_until(lambda: self.page.locator(OPEN_LADDER).count() > 0)
        ladders = self.page.locator(OPEN_LADDER)
        for word in words:
            left = ladders.count()
            ladders.locator(f".{word}").first.click()
            # before it is drawn answered, the next word would be given on the same ladder
            until(functools.partial(fewer, ladders, left), "the ladder drawn as answered")
            self.settle()

    def finish(self) -> None:
        """Answer whatever is left, keep the check, and stay on its verdict."""
        self.answer_until(lambda: not self.asking)
        self.repeat(self.past_stop_now, lambda: not self.where.startswith("#/now/"))
        if self.full and self.by_name("Go on: nuts").count():
            self.tap("Go on: nuts")
            self.wait_for("!location.hash.startsWith('#/sofar/')")
            self.settle()
            self.answer_until(lambda: not self.asking)
        if self.where.startswith("#/answers/"):
            self.tap("See the verdict")
        self.tap("Keep and send")
        self.page.wait_for_selector(".kept")
        self.settle()

    def past_stop_now(self) -> None:
        self.tap("Go on with the check")
        self.wait_for("!location.hash.startsWith('#/now/')")
        self.settle()
        self.answer_until(lambda: not self.asking)

    def stored(self, kind: str) -> list[dict[str, object]]:
        """What the phone keeps of one kind, read past the app."""
        return list(
            self.page.evaluate(
                """kind => new Promise((resolve, reject) => {
                  const open = indexedDB.open("twentymile");
                  open.onerror = () => reject(open.error);
                  open.onsuccess = () => {
                    const all = open.result.transaction(kind).objectStore(kind).getAll();
                    all.onsuccess = () => {
                      open.result.close();
                      resolve(JSON.parse(JSON.stringify(all.result)));
                    };
                  };
                })""",
                kind,
            )
        )


def running(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    return True


@contextlib.contextmanager
def phone(
    browser: Browser,
    profile: Path,
    address: str,
    flags: list[str] | None = None,
    lasting: bool = False,
    locale: str = "en-US",
) -> Iterator[Phone]:
    """A phone that is put away at the end. A fault of the page's script fails the test."""
    one = Phone(browser, profile, address, flags, lasting, locale)
    try:
        yield one
    finally:
        one.close()
    assert one.faults == []


# By browser, address and locale: contexts whose worker holds the whole app.
_visited: dict[tuple[Browser, str, str], list[BrowserContext]] = {}


@contextlib.contextmanager
def installed(browser: Browser, address: str, locale: str = "en-US") -> Iterator[Phone]:
    """A phone that holds the app and nothing else, on its front page.

    The first visit is made once; the next test gets the same phone, all that was stored on it
    forgotten. Who adds scripts or a clock to the context, or is about the first visit itself, takes
    a ``phone`` and installs it.
    """
    free = _visited.setdefault((browser, address, locale), [])
    one = Phone(browser, Path(), address, locale=locale, used=free.pop() if free else None)
    try:
        if one.used:
            one.open()
        else:
            one.install()
        yield one
    except BaseException:
        one.close()
        raise
    forget(one)
    free.append(one.context)
    assert one.faults == []


STORES = "indexedDB.databases().then(({ length }) => length)"


def forget(one: Phone) -> None:
    """All but the worker and its files; no page of the app is open when the signal comes back."""
    pages = one.context.pages
    blank = one.context.new_page()
    for page in pages:
        page.close()
    one.context.set_offline(False)
    one.context.unroute_all()
    one.context.clear_permissions()
    session = one.context.new_cdp_session(blank)
    kinds = "cookies,local_storage,indexeddb"
    session.send("Storage.clearDataForOrigin", {"origin": one.address, "storageTypes": kinds})
    session.detach()
    # Nothing says that all is gone when this is answered; the next test begins with a new store.
    blank.goto(f"{one.address}/healthz")
    until(lambda: blank.evaluate(STORES) == 0, "the store is forgotten")
    blank.goto("about:blank")


def fewer(some: Locator, than: int) -> bool:
    """Whether there are fewer of them by now."""
    return some.count() < than
