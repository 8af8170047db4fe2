"""Every screen in another language: no English left, nothing beside the catalogue, nothing cut."""

from __future__ import annotations

import re
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser
from werkzeug.serving import make_server

from checks.rulebook import export_words, load
from checks.rulebook.export import SOURCED
from checks.sources import pieces
from checks.words import FOLDERS, add_folder, finished, forget, words
from tests.phone.test_desk import standing
from tests.phone.test_fits import TOURS
from tests.support.desk import Desk, arrive
from tests.support.drawn import ways
from tests.support.effort import some
from tests.support.fits import SIZES, unfit
from tests.support.made_up import LANGUAGE, make
from tests.support.phone import Phone, installed, phone
from tests.support.tongue import cases, left_in_english, outside_the_catalogue, texts_of
from tests.support.tours import Look, stopped
from webapp import create_app
from webapp.clock import now

Tour = Callable[[Phone, Look], None]
pytestmark = pytest.mark.english  # languages are what it is about
NARROW = {"320 wide": SIZES["320 wide"]}
# Written by the test, or the same in every language: languages, the sign, the name, units.
MADE = {
    "Alder Fork car hauler with the winch 3",
    "English",
    "español",
    "Esperanto",
    "STOP",
    "Twentymile",
    "kPa",
    "min",
}


@pytest.mark.long
@pytest.mark.parametrize("tour", some(TOURS, 2), ids=lambda one: one.__name__)
@pytest.mark.parametrize("language", finished()[1:])
def test_no_english_is_left_on_any_screen_and_nothing_is_cut(
    chromium: Browser, server: str, tmp_path: Path, tour: Tour, language: str
) -> None:
    found: dict[str, object] = {}
    seen: list[str] = []

    def look(one: Phone, name: str) -> None:
        seen.append(name)
        if left := left_in_english(one.page, language):
            found[name] = left
        if cut := unfit(one.page, NARROW):
            found[f"{name}, 320 px"] = cut

    with installed(chromium, server, f"{language}-US") as one:
        one.page.emulate_media(reduced_motion="reduce")
        tour(one, look)
    assert len(seen) > 1
    assert found == {}


@pytest.mark.long
@pytest.mark.parametrize("language", finished()[1:])
def test_no_english_is_left_on_a_shops_link_either(
    chromium: Browser, desk: Desk, tmp_path: Path, language: str
) -> None:
    """What the shop wrote itself stays as it is; here that is in no language."""
    secret = desk.job(note="", trailer_name="Alder Fork 3", customer_name="Ada Lund")
    with phone(chromium, tmp_path, desk.address, locale=f"{language}-US") as one:
        arrive(one, secret)
        one.settle()
        assert left_in_english(one.page, language) == []
        assert unfit(one.page, NARROW) == {}
        one.open()
        one.settle()
        assert left_in_english(one.page, language) == []
        assert unfit(one.page, NARROW) == {}


@pytest.mark.long
def test_where_nothing_was_read_the_source_says_so_in_spanish(
    chromium: Browser, server: str
) -> None:
    with installed(chromium, server, "es-US") as one:
        stopped(one)  # fire
        one.tap("Keep and send")
        one.page.wait_for_selector(".kept")
        one.settle()
        one.tap_at(".card > details summary")
        told = one.page.locator(".card > details p").last
        told.wait_for()
        assert told.inner_text() == "Costumbre del oficio, sin fuente."


@pytest.mark.long
def test_a_source_is_told_in_spanish_and_what_it_cites_is_marked(
    chromium: Browser, server: str
) -> None:
    """So that a voice reads each in its own language, and a law can be looked up by its name."""
    with installed(chromium, server, "es-US") as one:
        one.begin("walkaround")
        one.finish()
        working = one.page.locator(".card > details")
        for at in range(working.count()):
            working.nth(at).locator("summary").first.click()
        working.locator("[lang=en]").first.wait_for()
        one.settle()
        cited = set(working.locator("[lang=en]").all_inner_texts())
        told = " ".join(working.all_inner_texts())
        assert not re.search(r"[{}\[\]]", told), "a part without its words"
        known = {
            piece.text
            for kind in SOURCED
            for item in load().data[kind].values()
            for piece in pieces(item["source"], words("es").say)
            if piece.cited
        }
        assert cited <= known
        assert left_in_english(one.page, "es") == []


SPOKEN = """async (asked) => {
  const { byId, say, takeWords } = await import("/static/data/words.js");
  for (const part of ["", "-later", "-figures"])
    takeWords(byId(await (await fetch(`/words${part}.es.json`)).json()));
  return asked.map(([id, values]) => say(id, values));
}"""


@pytest.mark.long
def test_the_phone_says_each_text_as_the_server_does(
    chromium: Browser, server: str, tmp_path: Path
) -> None:
    """In every case, with every plural form; test_every_word.py looks at what is said."""
    parts = [export_words(part, "es")["say"] for part in ("first", "later", "figures")]
    names = sorted({name for part in parts for name in part})
    asked = [(name, values) for name in names for values in ways(name, "es")]
    assert len(names) > 3000
    with phone(chromium, tmp_path, server, locale="es-US") as one:
        one.open()
        told = one.page.evaluate(SPOKEN, asked)
    said = words("es")
    wanted = [said.say(name, **values) for name, values in asked]
    assert [both for both in zip(told, wanted, strict=True) if both[0] != both[1]] == []


VALUES = """async () => {
  const { valueText } = await import("/static/parts/numbers.js");
  const book = { data: await (await fetch("/rulebook.json")).json() };
  return [[[5, 6.5], "year"], [[1, 1], "year"], [[2, 2], "day"], [[1, 1], "day"],
    [[3, 1e9], "kg"], [[1, 2], "count"]]
    .map(([range, unit]) => valueText(book, range, unit, "metric"));
}"""


def test_units_that_are_words_are_said_in_the_phones_language(
    chromium: Browser, server: str, tmp_path: Path
) -> None:
    with phone(chromium, tmp_path, server, locale="es-US") as one:
        one.open()
        told = ["5.0 a 6.5 años", "1.0 año", "2 días", "1 día", "3 a sin límite kg", "1 a 2"]
        assert one.page.evaluate(VALUES) == told


@pytest.mark.long
@pytest.mark.parametrize("language", finished()[1:])
def test_no_english_is_left_on_a_borrowers_code_and_on_links_that_end(
    chromium: Browser, desk: Desk, tmp_path: Path, language: str
) -> None:
    def look(one: Phone) -> None:
        one.settle()
        assert left_in_english(one.page, language) == []
        assert unfit(one.page, NARROW) == {}

    secret = desk.job(note="", trailer_name="Alder Fork 4", customer_name="Ada Lund")
    _, code = standing(desk, "Alder Fork 5", note="", customer_name="Ada Lund")
    with phone(chromium, tmp_path, desk.address, locale=f"{language}-US") as one:
        arrive(one, code)
        look(one)
        arrive(one, secret)
        desk.change_link(secret, revoked=now())
        one.page.reload()
        one.page.locator(".trouble").wait_for()
        look(one)
        one.open()
        look(one)
        for none in ("B" * 43, "B" * 42):
            one.open(f"#/from/{none}")
            look(one)


BACK = ("app-link-you", "app-link-back", "app-link-back-told", "app-link-out.help")


@pytest.mark.long
def test_no_english_is_left_where_a_borrower_brings_a_trailer_back(
    chromium: Browser, desk: Desk, tmp_path: Path
) -> None:
    """Out with a walk, seen on the front page, and back by the borrower's word."""
    _, secret = standing(desk, "Alder Fork 6", note="", customer_name="Ada Lund")
    read: list[str] = []

    def look(one: Phone) -> None:
        one.settle()
        read.extend(texts_of(one.page))
        assert left_in_english(one.page, "es") == []
        assert unfit(one.page, NARROW) == {}

    with phone(chromium, tmp_path, desk.address, locale="es-US") as one:
        arrive(one, secret)
        job = one.where
        one.page.fill("input[type=text]", "Noor Vance")
        one.page.locator("input[type=text]").blur()
        one.wait_stored("links", lambda kept: kept[0].get("borrower"))
        look(one)
        one.tap_at("button.big[value=walkaround]")
        one.tap_at("button[value=trip]")
        one.page.wait_for_selector(".asking")
        one.settle()
        one.finish()
        one.page.wait_for_selector(".kept")
        look(one)
        one.open()
        look(one)
        one.open(job)
        look(one)
        one.tap("I have brought it back")
        one.page.locator(".note[role=status]").wait_for()
        look(one)
    said = words("es")
    for name in BACK:
        text = max(cases(said.shape(name)), key=len)
        begins = max(text.split("\0"), key=len).strip()
        assert any(begins in one for one in read), name


@pytest.fixture(scope="module")
def made_up(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A server that also offers the made-up language."""
    before = list(FOLDERS)
    add_folder(make(tmp_path_factory.mktemp("words")).parent)
    assert LANGUAGE in finished()
    app = create_app({"DATA": tmp_path_factory.mktemp("data")})
    server = make_server("127.0.0.1", 0, app, threaded=True)
    thread = threading.Thread(target=server.serve_forever, args=(0.01,))
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    thread.join()
    server.server_close()
    FOLDERS[:] = before
    forget()


@pytest.mark.long
@pytest.mark.parametrize("tour", some(TOURS, 1), ids=lambda one: one.__name__)
def test_a_longer_language_fits_and_nothing_stands_beside_the_catalogue(
    chromium: Browser, made_up: str, tmp_path: Path, tour: Tour
) -> None:
    found: dict[str, object] = {}

    def look(one: Phone, name: str) -> None:
        if left := outside_the_catalogue(one.page, MADE):
            found[name] = left
        if cut := unfit(one.page, NARROW):
            found[f"{name}, 320 px"] = cut

    with installed(chromium, made_up, LANGUAGE) as one:
        one.page.emulate_media(reduced_motion="reduce")
        tour(one, look)
    assert found == {}


def test_the_look_finds_english_and_what_is_beside_the_catalogue(
    chromium: Browser, server: str, tmp_path: Path
) -> None:
    with phone(chromium, tmp_path, server) as one:
        one.open()
        english = left_in_english(one.page, "es")
        assert {"Before you go", "Settings", "Hubs, wheels, tires and load."} <= set(english)
        assert "Settings" in outside_the_catalogue(one.page, MADE)
        assert "Settings" in texts_of(one.page)


# ---- changing the language by hand --------------------------------------------------------------


HELD = """async () => (await Promise.all((await caches.keys()).map(async (name) =>
  (await (await caches.open(name)).keys()).map(({ url }) => new URL(url).pathname)))).flat()"""
SHOWN = "[...document.querySelectorAll('.topic')].filter((one) => one.checkVisibility()).length"


def choose(one: Phone, code: str) -> None:
    one.open("#/settings")
    one.settle()
    with one.page.expect_event("load"):
        one.tap_at(f"button[lang={code}]")
    one.wait_for(f"document.documentElement.lang.startsWith('{code}')")
    one.page.wait_for_selector(".page:not(.first)")


@pytest.mark.long
def test_a_language_is_chosen_by_hand_kept_and_works_without_signal(
    chromium: Browser, server: str, tmp_path: Path
) -> None:
    with phone(chromium, tmp_path, server, lasting=True) as one:
        one.install()
        one.begin("quick_stop")
        one.finish()
        made_in_english = one.where
        choose(one, "es")
        held = one.page.evaluate(HELD)
        assert [at for at in held if ".en." in at] == []  # the other language takes no room
        one.offline(True)
        one.open()
        assert "Ajustes" in texts_of(one.page)
        one.open(made_in_english)  # made in one language, opened in the other
        one.settle()
        assert left_in_english(one.page, "es") == []
        one.close()
        one.start()
        one.offline(True)
        one.open()
        assert "Ajustes" in texts_of(one.page)
        one.offline(False)
        choose(one, "en")
        assert "Settings" in texts_of(one.page)


def test_without_signal_the_language_stays_and_says_why(
    chromium: Browser, server: str, tmp_path: Path
) -> None:
    with installed(chromium, server) as one:
        one.open("#/settings")
        one.settle()
        one.offline(True)
        one.tap_at("button[lang=es]")
        one.page.locator(".trouble").wait_for()
        assert "takes a signal" in one.page.inner_text(".trouble")
        one.open()
        assert "Settings" in texts_of(one.page)


@pytest.mark.long
def test_synonyms_find_a_figure(chromium: Browser, server: str, tmp_path: Path) -> None:
    with installed(chromium, server, "es-MX") as one:
        one.open("#/figures")
        one.page.wait_for_selector(".topic")
        for own, other in (("llanta", "neumático"), ("LLANTA", "neumatico"), ("lanza", "timon")):
            one.page.fill("#find-figure", own)
            count = one.page.evaluate(SHOWN)
            one.page.fill("#find-figure", other)
            assert one.page.evaluate(SHOWN) >= count > 0, other
        one.page.fill("#find-figure", "xyzzy")
        assert one.page.evaluate(SHOWN) == 0
