"""The app's own files: small, all of them in the worker's cache, and replaced only when agreed."""

from __future__ import annotations

import json
import re
import shutil
import threading
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest
from flask import request
from playwright.sync_api import Browser
from werkzeug.serving import make_server

from checks.words import finished
from tests.support.browser import STATIC
from tests.support.effort import some
from tests.support.phone import Phone, installed, phone
from tests.support.waiting import until
from tests.support.weight import weighed
from webapp import create_app

SCRIPT_BYTES, VISIT_BYTES, OFFLINE_BYTES = 60_000, 100_000, 250_000


@pytest.fixture(scope="module")
def first_visit(
    chromium: Browser, server: str, tmp_path_factory: pytest.TempPathFactory
) -> dict[str, int]:
    """What a first visit fetches in its first two seconds, with its bytes on the wire."""
    return weighed(chromium, server, tmp_path_factory.mktemp("visit"))


def test_the_script_fits_a_slow_phone(first_visit: dict[str, int]) -> None:
    scripts = {path: size for path, size in first_visit.items() if path.endswith(".js")}
    first = {"/static/routes.js", "/static/engine/judge.js", "/static/screens/stop_signs.js"}
    assert first <= set(scripts)
    assert sum(scripts.values()) <= SCRIPT_BYTES


@pytest.mark.long
@pytest.mark.english  # files and sizes of the languages there are
@pytest.mark.parametrize("language", finished()[1:])
def test_a_first_visit_in_another_language_fits_too_and_brings_that_one_alone(
    chromium: Browser, server: str, tmp_path: Path, language: str
) -> None:
    found = weighed(chromium, server, tmp_path, locale=language)
    assert {path for path in found if path.startswith("/words")} == {f"/words.{language}.json"}
    assert sum(found.values()) <= VISIT_BYTES


@pytest.mark.english  # files and sizes of the languages there are
def test_the_first_visit_fits_a_weak_signal(first_visit: dict[str, int]) -> None:
    assert {"/", "/app.css", "/rulebook.json", "/words.en.json"} <= set(first_visit)
    assert sum(first_visit.values()) <= VISIT_BYTES


@pytest.mark.slow
@pytest.mark.parametrize("language", finished())
def test_all_that_is_kept_to_work_without_signal_fits(server: str, language: str) -> None:
    """Drawings, figures and every word with it, as packed for an encrypted line."""
    worker = f"/sw.js?language={language}"
    listed = re.match(r"self\.SHELL = (.*);", body(server + worker).decode())
    assert listed
    shell = json.loads(listed[1])
    together = shell["together"]
    assert "/static/parts/drawings/trailer.js" in together["files"]
    kept = [*shell["files"], *shell["rest"], together["address"], *shell["asked"], worker]
    assert {"/static/routes.js", "/lamp-table.json", "/rulebook-figures.json"} <= set(kept)
    assert not [address for address in kept if "/screenshots/" in address]
    assert sum(packed(server + address) for address in kept) <= OFFLINE_BYTES


def packed(address: str) -> int:
    asked = urllib.request.Request(address, headers={"Accept-Encoding": "br"})
    with urllib.request.urlopen(asked, timeout=10) as answer:
        assert answer.headers.get("Content-Encoding", "none") == "br" or address.endswith(".png")
        return len(answer.read())


@pytest.fixture(scope="module")
def first_files(server: str) -> set[str]:
    """What the worker fetches when it installs."""
    listed = re.match(r"self\.SHELL = (.*);", body(f"{server}/sw.js").decode())
    assert listed
    return set(json.loads(listed[1])["files"])


@pytest.mark.long
@pytest.mark.english  # files and sizes of the languages there are
def test_the_worker_holds_every_file_of_its_list(
    chromium: Browser, server: str, first_files: set[str], tmp_path: Path
) -> None:
    with phone(chromium, tmp_path, server) as one:
        one.install()
        held = one.page.evaluate(
            """async () => {
              const [name] = await caches.keys();
              const requests = await (await caches.open(name)).keys();
              return requests.map((request) => new URL(request.url).pathname);
            }"""
        )
    assert first_files <= set(held)
    scripts = {f"/static/{path.relative_to(STATIC)}" for path in STATIC.rglob("*.js")}
    ours = {path for path in scripts if not path.startswith("/static/shop/")}
    within_the_page = "/static/first.js"
    assert ours - {"/static/sw.js", within_the_page} <= set(held)


def body(address: str) -> bytes:
    with urllib.request.urlopen(address) as response:
        return bytes(response.read())


def test_every_file_that_is_imported_is_there() -> None:
    for path in STATIC.rglob("*.js"):
        for name in re.findall(r'from "(\.[^"]+)"', path.read_text("utf-8")):
            assert (path.parent / name).is_file(), f"{path.name} imports {name}"


@pytest.fixture
def spoilt() -> dict[str, bytes]:
    """What the worker gets instead of a file, by its address."""
    return {}


@pytest.fixture
def given() -> list[str]:
    """Where the worker was given something else instead, in turn."""
    return []


@pytest.fixture
def release(
    tmp_path: Path, spoilt: dict[str, bytes], given: list[str]
) -> Iterator[tuple[str, Path]]:
    """A server on a copy of the app's files, for a test that changes them: address and folder."""
    folder = tmp_path / "static"
    shutil.copytree(STATIC, folder)
    app = create_app({"DATA": tmp_path / "data", "STATIC": folder})

    @app.before_request
    def spoil() -> bytes | None:
        by_worker = "/sw.js?" in request.headers.get("Referer", "")
        if not by_worker or request.path not in spoilt:
            return None
        given.append(request.path)
        return spoilt[request.path]

    server = make_server("127.0.0.1", 0, app, threaded=True)
    thread = threading.Thread(target=server.serve_forever, args=(0.01,))
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}", folder
    server.shutdown()
    thread.join()
    server.server_close()


# What comes in the place of a file of the first start, while the worker fetches it.
WRONG = {
    "a page of the network": ("/static/engine/judge.js", b"<html>Sign in to this network</html>"),
    "an empty answer": ("/app.css", b""),
    "the front page of another release": ("/", b"<!doctype html><title>Next</title>"),
    "a script of another release": ("/static/routes.js", b"export const next = true;"),
}


@pytest.mark.long
@pytest.mark.parametrize("case", some(WRONG, 1))
def test_a_wrong_answer_during_install_does_not_stay(
    chromium: Browser,
    release: tuple[str, Path],
    spoilt: dict[str, bytes],
    tmp_path: Path,
    case: str,
) -> None:
    address, _ = release
    path, wrong = WRONG[case]
    spoilt[path] = wrong
    with phone(chromium, tmp_path / "phone", address) as one:
        one.open()
        assert one.page.evaluate(INSTALLED) == "redundant"
        spoilt.clear()
        one.install()  # the next start puts it right
        one.offline(True)
        one.open()
        one.begin("quick_stop")


@pytest.mark.long
@pytest.mark.english  # names files of a language
def test_a_release_in_the_middle_of_what_follows_is_not_mixed_in(
    chromium: Browser,
    release: tuple[str, Path],
    spoilt: dict[str, bytes],
    given: list[str],
    tmp_path: Path,
) -> None:
    address, _ = release
    listed = re.match(r"self\.SHELL = (.*);", body(f"{address}/sw.js").decode())
    assert listed
    together = json.loads(listed[1])["together"]
    spoilt[together["address"]] = b"export const next = true;"
    path = together["files"][-1]
    with phone(chromium, tmp_path / "phone", address) as one:
        one.open()
        assert one.page.evaluate(INSTALLED) != "redundant"
        until(lambda: together["address"] in given, "what follows a first visit is asked for")
        for _ in range(20):  # through the worker, which has other things to do
            one.page.evaluate("fetch('/app.css').then((answer) => answer.text())")
        assert one.page.evaluate("(path) => caches.match(path).then(Boolean)", path) is False
        spoilt.clear()
        one.install()
        one.offline(True)
        one.open()
        one.begin("quick_stop")


# How the install ends that the page's start has begun.
INSTALLED = """async () => {
  const address = "/sw.js?language=en", kept = { updateViaCache: "none" };
  const registration = await navigator.serviceWorker.register(address, kept);
  const worker = registration.installing ?? registration.waiting ?? registration.active;
  if (!worker) return "redundant";
  const ended = () => ["installed", "activating", "activated", "redundant"].includes(worker.state);
  while (!ended()) await new Promise((done) => {
    worker.addEventListener("statechange", done, { once: true });
  });
  return worker.state;
}"""


@pytest.mark.long
def test_a_new_release_waits_until_no_check_is_open(
    chromium: Browser, release: tuple[str, Path], tmp_path: Path
) -> None:
    address, folder = release
    with phone(chromium, tmp_path / "phone", address) as one:
        one.install()
        old = caches(one)
        one.begin("quick_stop")
        one.answer()
        rename_app(folder, "Twentymile next")
        assert check_for_update(one) == "waiting"
        assert caches(one) != old  # it is fetched, but the open check goes on with the old one
        assert one.page.get_by_text("A new version is here").count() == 0
        one.answer()
        here = one.question

        second = one.context.new_page()  # another window still has a check open
        second.goto(f"{address}/{one.where}")
        second.wait_for_selector(".asking")
        one.tap("Later")
        one.tap("Front page")
        one.page.get_by_text("A new version is here").wait_for()
        one.tap("Update")
        one.page.get_by_text("open in another window").wait_for()
        one.tap("I see")
        assert "next" not in one.page.inner_text("h1")
        second.close()

        one.tap("Update")
        one.page.get_by_text("Twentymile next").wait_for()
        assert len(caches(one)) == 1
        assert caches(one) != old
        one.tap("Go on")
        one.settle()
        assert one.question == here


def caches(one: Phone) -> list[str]:
    return list(one.page.evaluate("caches.keys()"))


def rename_app(folder: Path, name: str) -> None:
    """Make the files another release, in one step: the browser may look at any time."""
    front = folder / "index.html"
    changed = front.with_suffix(".part")
    title, found = re.subn(r"{{ app-name }}</h1>", f"{name}</h1>", front.read_text("utf-8"))
    assert found == 1
    changed.write_text(title, "utf-8")
    changed.replace(front)


def check_for_update(one: Phone) -> str:
    """Let the browser look for a new worker; the state it reaches.

    A look that the browser began by itself before the release came is shared, and finds nothing:
    then it is to look again.
    """
    return str(
        one.page.evaluate(
            """async () => {
              const registration = await navigator.serviceWorker.getRegistration();
              let worker = null;
              for (let look = 0; look < 20 && !worker; look += 1) {
                await registration.update();
                worker = registration.installing ?? registration.waiting;
              }
              while (worker?.state === "installing") await new Promise((r) => setTimeout(r, 20));
              return registration.waiting ? "waiting" : worker?.state ?? "none";
            }"""
        )
    )


# ---- colours -----------------------------------------------------------------------------------


def tokens(dark: bool) -> dict[str, str]:
    """The tokens of tokens.css, resolved to hex."""
    text = (STATIC / "css" / "tokens.css").read_text("utf-8")
    light, _, night = text.partition("@media (prefers-color-scheme: dark)")
    found = dict(re.findall(r"(--[\w-]+): ([^;]+);", light))
    if dark:
        found |= dict(re.findall(r"(--[\w-]+): ([^;]+);", night))

    def resolved(value: str) -> str:
        inner = re.fullmatch(r"var\((--[\w-]+)\)", value)
        return resolved(found[inner[1]]) if inner else value

    return {name: resolved(value) for name, value in found.items()}


def luminance(colour: str) -> float:
    """Relative luminance. Source: WCAG 2.2."""
    parts = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_contrast_is_computed_as_wcag_does() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)  # WCAG's own example


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize(
    ("front", "back"),
    [
        ("--text", "--ground"),
        ("--text", "--panel"),
        ("--text", "--careful"),
        ("--quiet", "--ground"),
        ("--quiet", "--panel"),
        ("--on-strong", "--strong"),
    ],
)
def test_text_has_seven_to_one(front: str, back: str, dark: bool) -> None:
    colours = tokens(dark)
    assert contrast(colours[front], colours[back]) >= 7


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize("line", ["--line", "--stop-line", "--look-line", "--focus", "--sign-edge"])
def test_lines_have_three_to_one(line: str, dark: bool) -> None:
    colours = tokens(dark)
    assert contrast(colours[line], colours["--ground"]) >= 3


@pytest.mark.parametrize(("sign", "text"), [("--stop", "#ffffff"), ("--look", "#ffffff")])
def test_words_on_signs_have_seven_to_one(sign: str, text: str) -> None:
    assert contrast(tokens(False)[sign], text) >= 7


@pytest.mark.long
def test_everything_to_tap_is_large_enough(chromium: Browser, server: str, tmp_path: Path) -> None:
    with installed(chromium, server) as one:
        small = tap_targets(one)
        for hash in ("#/settings", "#/history", "#/trailers", "#/trailer/new"):
            one.open(hash)
            one.settle()
            small |= tap_targets(one)
        one.open()
        one.begin("tires")
        for _ in range(12):
            small |= tap_targets(one)
            answers = one.page.locator(".answer:visible").evaluate_all(
                "all => all.map((one) => one.getBoundingClientRect().height)"
            )
            assert min(answers) >= 72
            one.answer()
        one.open(f"#/answers/{one.where.split('/')[2]}")
        one.settle()
        small |= tap_targets(one)
        one.tap("See the verdict")
        one.settle()
        small |= tap_targets(one)
    assert small == {}


def tap_targets(one: Phone) -> dict[str, list[float]]:
    """What can be tapped on this screen and is under 48 px either way, by its text."""
    # a busy machine shows a screen before its later sheet is there
    one.wait_for("[...document.querySelectorAll('link[rel=stylesheet]')].every((one) => one.sheet)")
    return dict(
        one.page.evaluate(
            """() => Object.fromEntries([...document.querySelectorAll(
                "button, a, select, input:not([type=file]), summary, label[for=file]")]
              .map((one) => [one.textContent.trim() || one.ariaLabel || one.id,
                             one.getBoundingClientRect()])
              .filter(([, box]) => box.width && (box.width < 48 || box.height < 48))
              .map(([text, box]) => [text, [box.width, box.height]]))"""
        )
    )
