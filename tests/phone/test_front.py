"""The front page is drawn by the answer itself: before any script, and without a jump after it."""

from __future__ import annotations

import http.server
import threading
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from tests.support.phone import Phone
from tests.support.waiting import PATIENCE, drawn, until

PHONE = {"width": 360, "height": 740}
# How far things moved by themselves, as web.dev/cls defines it.
SHIFTS = """() => new Promise((done) => new PerformanceObserver((list) =>
    done(list.getEntries().reduce((sum, { value }) => sum + value, 0)))
    .observe({ type: "layout-shift", buffered: true }) || setTimeout(() => done(0), 1500))"""


@pytest.fixture
def bare(chromium: Browser, server: str) -> Iterator[Page]:
    """A browser whose scripts never arrive."""
    context = chromium.new_context(viewport=PHONE, service_workers="block")
    page = context.new_page()
    page.route("**/routes.js", lambda _: None)
    yield page
    context.close()


def test_it_is_there_before_the_app(bare: Page, server: str) -> None:
    bare.goto(f"{server}/", wait_until="commit")
    for text in ("Twentymile", "twenty miles out", "You've stopped", "Before you go", "Tires"):
        bare.locator(".first").get_by_text(text).first.wait_for()
    assert bare.locator(".band").is_visible()
    assert bare.locator("button").count() == 0  # those are the app's


def test_another_address_does_not_show_it_first(bare: Page, server: str) -> None:
    bare.goto(f"{server}/#/history", wait_until="commit")
    bare.locator(".first").wait_for(state="attached")
    expect(
        bare.locator(".first")
    ).to_be_hidden()  # its styles come late, and nothing is drawn before


# Each control of the page as it came: where its tap leads.
TAPS = {
    "#/begin/run_stop": "#/stop/",
    "#/begin/walkaround": "#/walk",
    "#/begin/tires": "#/ask/",
    "#/figures": "#/figures",
    "#/run/start": "#/run",
    "#/lamps": "#/lamps",
    "#/trailers": "#/trailers",
    "#/history": "#/history",
    "#/settings": "#/settings",
}


def heard(page: Page, enough: Callable[[], bool]) -> None:
    """Wait until the page has asked for enough; the driver hears of it while it talks."""
    until(lambda: page.evaluate("true") and enough(), "what the page asks for")


@pytest.mark.parametrize("control", TAPS)
def test_what_was_tapped_before_the_app_was_there_is_begun(
    chromium: Browser, server: str, control: str
) -> None:
    context = chromium.new_context(viewport=PHONE, service_workers="block")
    page = context.new_page()
    held: list[Route] = []
    page.route("**/routes.js", lambda route: held.append(route))
    page.goto(f"{server}/", wait_until="commit")
    page.locator(f".first a[href='{control}']").click()
    assert page.locator(".first a").count() == len(TAPS)
    heard(page, lambda: bool(held))
    held[0].continue_()
    page.locator(".first").wait_for(state="detached")
    until(lambda: TAPS[control] in page.url, TAPS[control])
    page.go_back()
    page.locator("button.big", has_text="You've stopped").wait_for()
    context.close()


# What leads to a screen, and what of it comes late.
SLOW = [
    ("Figures", "**/screens/figures.js"),
    ("Figures", "**/rulebook-figures.json"),
    ("Start a run", "**/screens/run.js"),
]


@pytest.mark.parametrize(("control", "late"), SLOW)
def test_who_goes_back_while_a_screen_is_fetched_is_not_sent_forth_again(
    chromium: Browser, server: str, control: str, late: str
) -> None:
    context = chromium.new_context(viewport=PHONE, service_workers="block")
    page = context.new_page()
    held: list[Route] = []
    page.route(late, lambda route: held.append(route))
    page.goto(f"{server}/")
    big = page.locator("button.big", has_text="You've stopped")
    big.wait_for()
    page.get_by_role("link", name=control).click()
    heard(page, lambda: bool(held))
    page.go_back()
    big.wait_for()
    with page.expect_response(late) as answer:
        held[0].continue_()
    answer.value.finished()
    if late.endswith(".js"):  # until it has run
        page.evaluate(f"import('/static/{late.removeprefix('**/')}')")
    for _ in range(10):
        drawn(page)
    assert page.evaluate("location.hash") in ("", "#/")
    assert big.is_visible()
    page.reload()
    big.wait_for()
    assert page.get_by_role("link", name="Start a run").is_visible()  # none is under way
    context.close()


def test_a_stop_of_no_saved_trailer_waits_for_nothing_that_comes_later(fresh: Phone) -> None:
    fresh.page.route("**/data/presets.js", lambda _: None)
    fresh.page.goto(f"{fresh.address}/")
    fresh.page.locator("button.big", has_text="You've stopped").click()
    fresh.page.locator(".sign-rows").wait_for()


# Whether the front page is about to be drawn: it asks then whether a shop uses this device.
ABOUT_TO_BE_DRAWN = """() => {
  const kept = window.localStorage;
  Object.defineProperty(window, "localStorage", { get() { window.drawing = true; return kept; } });
}"""


def test_a_finger_that_is_down_when_the_app_comes_taps_what_it_is_on(fresh: Phone) -> None:
    page = fresh.page
    held: list[Route] = []
    page.route("**/rulebook.json", lambda route: held.append(route))
    page.add_init_script(f"({ABOUT_TO_BE_DRAWN})()")
    page.goto(f"{fresh.address}/", wait_until="commit")
    page.get_by_role("link", name="You've stopped").hover()
    heard(page, lambda: bool(held))
    page.mouse.down()
    held[0].continue_()
    fresh.wait_for("window.drawing")
    drawn(page)
    page.mouse.up()
    page.locator(".sign-rows").wait_for()


def test_what_was_tapped_is_carried_out_once_the_app_can_be_fetched(fresh: Phone) -> None:
    page = fresh.page
    held: list[Route] = []
    page.route("**/judge.js", lambda route: held.append(route))
    page.goto(f"{fresh.address}/", wait_until="commit")
    page.get_by_role("link", name="You've stopped").click()
    heard(page, lambda: bool(held))
    held[0].abort()
    page.unroute("**/judge.js")
    page.get_by_role("heading", name="Twentymile could not start").wait_for()
    page.get_by_role("button", name="Try again").click()
    page.locator(".sign-rows").wait_for()


# A browser may end the worker while that hands out files: the script of the app, or all but one.
SCRIPT_FAILS = """(often) => {
  if (performance.getEntriesByType("navigation")[0].type === "reload" && often === "once") return;
  const append = HTMLHeadElement.prototype.append;
  HTMLHeadElement.prototype.append = function (one) {
    if (one.src?.endsWith("routes.js")) one.src = "/static/none.js";
    append.call(this, one);
  };
}"""


@pytest.mark.parametrize(
    ("often", "seen"), [("once", "You've stopped"), ("always", "Twentymile could not start")]
)
def test_a_start_that_fails_where_the_phone_holds_the_app_is_tried_once_more(
    fresh: Phone, often: str, seen: str
) -> None:
    fresh.install()
    fresh.page.add_init_script(f"({SCRIPT_FAILS})('{often}')")
    fresh.page.goto(f"{fresh.address}/")
    fresh.page.locator(".page:not(.first)", has_text=seen).wait_for()
    how = "performance.getEntriesByType('navigation').map(({ type }) => type).join()"
    assert fresh.page.evaluate(how) == "reload"


# What a part that fails so many times comes to.
FILE_FAILS = """async (times) => {
  const { later } = await import("/static/router.js");
  let left = times;
  const load = async () => {
    if (left-- > 0) throw new TypeError("Failed to fetch");
    return "here";
  };
  return later(load).catch(({ message }) => message);
}"""


@pytest.mark.parametrize(("times", "seen"), [(1, "here"), (0, "here"), (2, "not on the phone yet")])
def test_a_part_of_the_app_that_does_not_come_is_asked_for_once_more(
    one: Phone, times: int, seen: str
) -> None:
    assert seen in one.page.evaluate(FILE_FAILS, times)


@pytest.mark.parametrize(("hash", "before"), [("", False), ("#/history", True)])
def test_the_app_is_fetched_after_the_styles_of_the_page_that_is_shown(
    fresh: Phone, hash: str, before: bool
) -> None:
    page = fresh.page
    held: list[Route] = []
    asked: list[bool] = []  # whether the styles were still on their way
    waiting = [True]
    page.route("**/app.css", lambda route: held.append(route))
    page.on("request", lambda one: asked.append(waiting[0]) if "routes.js" in one.url else None)
    page.goto(f"{fresh.address}/{hash}", wait_until="commit")
    page.wait_for_load_state("domcontentloaded")
    heard(page, lambda: bool(held) and (bool(asked) or not before))
    waiting[0] = False
    held[0].continue_()
    page.locator(".page:not(.first)").wait_for()
    assert asked == [before]


def test_nothing_jumps_when_the_app_takes_over(chromium: Browser, server: str) -> None:
    context = chromium.new_context(viewport=PHONE)
    page = context.new_page()
    page.goto(f"{server}/")
    page.locator("button.big").first.wait_for()
    assert page.evaluate(SHIFTS) < 0.01
    context.close()


STANDS = """() => [...document.querySelectorAll(".title, .what, .band, .big *, .links a")]
  .map((one) => [one.textContent, ...Object.values(one.getBoundingClientRect().toJSON())])"""


@pytest.mark.long
def test_what_the_app_draws_anew_stands_where_it_stood(chromium: Browser, server: str) -> None:
    """A shift is not counted of what is replaced; a largest paint is, by half a pixel."""
    stood = []
    for script in (False, True):
        context = chromium.new_context(viewport=PHONE, java_script_enabled=script)
        page = context.new_page()
        page.goto(f"{server}/")
        page.locator(f"{'button' if script else 'a'}.big").first.wait_for()
        stood.append(page.evaluate(STANDS))
        context.close()
    assert len(stood[0]) > 10
    assert stood[0] == stood[1]


@contextmanager
def in_two_parts(server: str, cut: bytes) -> Iterator[tuple[str, threading.Event]]:
    """The server behind a weak signal: its page stops before ``cut``, until it may go on."""
    go_on = threading.Event()

    class Halting(http.server.BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            asked = urllib.request.Request(server + self.path)
            with urllib.request.urlopen(asked) as answer:
                body, kind = answer.read(), answer.headers["Content-Type"]
            self.send_response(200)
            self.send_header("Content-Type", kind)
            self.send_header("Content-Length", str(len(body)))
            self.end_headers()
            at = body.index(cut) if self.path == "/" else 0
            self.wfile.write(body[:at])
            self.wfile.flush()
            go_on.wait(PATIENCE if at else 0)
            self.wfile.write(body[at:])

        def log_message(self, *_: object) -> None:
            pass

    halting = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Halting)
    threading.Thread(target=halting.serve_forever, args=(0.01,), daemon=True).start()
    try:
        yield f"http://127.0.0.1:{halting.server_port}", go_on
    finally:
        halting.shutdown()
        halting.server_close()


@pytest.mark.long
@pytest.mark.english  # hands the page on itself, without its language
@pytest.mark.parametrize("cut", [b"<footer", b'<a class="big" href="#/begin/tires"', b"<nav"])
def test_nothing_jumps_when_the_page_comes_in_two_parts(
    chromium: Browser, server: str, cut: bytes
) -> None:
    with in_two_parts(server, cut) as (halting, go_on):
        context = chromium.new_context(viewport=PHONE, service_workers="block")
        page = context.new_page()
        page.goto(f"{halting}/", wait_until="commit")
        page.locator(".first .what").wait_for(state="attached")
        drawn(page)  # what is there of it, if anything is shown
        go_on.set()
        page.locator("button.big").first.wait_for()
        assert page.evaluate(SHIFTS) == 0
        context.close()


def test_a_stop_now_that_was_left_says_on_the_front_page_what_and_where(fresh: Phone) -> None:
    fresh.open()
    fresh.tap("You've stopped")
    fresh.tap("Smoke")
    fresh.page.wait_for_selector(".stop-now h1")
    fresh.open()
    assert "\nSmoke at a wheel; which one is not said\n" in fresh.page.inner_text(".due.stop")
    fresh.tap_at(".due.stop")
    fresh.tap("Right wheel")
    fresh.page.get_by_role("heading", name="Right wheel: Smoke").wait_for()
    fresh.open()
    assert "Right wheel: Smoke at this wheel" in fresh.page.inner_text(".due.stop")


def test_a_stop_now_cannot_be_thrown_away_but_only_kept(fresh: Phone) -> None:
    fresh.open()
    fresh.begin("quick_stop")
    fresh.tap("Smoke")
    fresh.page.wait_for_selector(".stop-now h1")
    (draft,) = fresh.stored("drafts")
    fresh.open(f"#/pause/{draft['id']}")
    fresh.page.locator(".due.stop").wait_for()
    fresh.tap("Throw away")
    fresh.page.locator("dialog", has_text="Smoke").get_by_role("button", name="No").click()
    assert len(fresh.stored("drafts")) == 1
    fresh.tap("Throw away")
    fresh.page.locator("dialog").get_by_role("button", name="Keep and send").click()
    fresh.page.wait_for_selector(".kept")
    fresh.open()
    fresh.page.locator(".due.stop").wait_for()


@pytest.mark.long
def test_the_logo_is_there_without_signal(fresh: Phone) -> None:
    fresh.install()
    fresh.offline(True)
    fresh.page.reload()
    fresh.page.locator("button.big").first.wait_for()
    fresh.wait_for("document.querySelector('.title img').naturalWidth > 0")


@pytest.mark.parametrize("fate", ["refused", "never answered"])
def test_a_stop_now_is_shown_though_its_looks_do_not_come(fresh: Phone, fate: str) -> None:
    looks = (lambda route: route.abort()) if fate == "refused" else (lambda route: None)
    fresh.context.route("**/later.css", looks)
    fresh.page.add_init_script("delete Navigator.prototype.serviceWorker")
    fresh.open()
    fresh.begin("quick_stop")
    fresh.tap("Smoke")
    fresh.page.locator(".stop-now h1").wait_for()
    assert "Stay clear" in fresh.page.inner_text(".stop-now")


def test_what_is_fetched_for_long_says_so(fresh: Phone) -> None:
    held: list[Route] = []
    fresh.context.route("**/screens/walk_depths.js", lambda route: held.append(route))
    fresh.page.add_init_script("delete Navigator.prototype.serviceWorker")
    fresh.open()
    fresh.page.locator("button.big").nth(1).click()
    fresh.page.locator("[data-late='Being fetched…']").wait_for()
    for route in held:
        route.continue_()
    fresh.page.locator("[data-late]").wait_for(state="detached")


def test_what_is_said_while_it_starts_does_not_stand_there_afterwards(fresh: Phone) -> None:
    fresh.open()
    fresh.page.wait_for_function("document.getElementById('spoken').textContent === ''")
