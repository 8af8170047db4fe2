"""Which language an answer is written in, and what goes out in each."""

from __future__ import annotations

import json
import re

import pytest
from flask import Flask
from flask.testing import FlaskClient

from checks.words import finished, words
from tests.support.records import error_of
from tests.support.sent_words import by_id
from webapp import wording
from webapp.app_files.fetched import words_at

# What the phone is set to, what a link names, what the browser reads, what it gets.
CHOICES = [
    ("nothing is told", "", "", "", "en"),
    ("the browser reads Spanish", "", "", "es-MX,es;q=0.9,en;q=0.8", "es"),
    ("it reads English first", "", "", "en-GB,en;q=0.9,es;q=0.8", "en"),
    ("it reads what is not offered", "", "", "pl,fr;q=0.9", "en"),
    ("then Spanish", "", "", "pl,es;q=0.9", "es"),
    ("the phone was set by hand", "es", "", "en-US", "es"),
    ("the phone was set to what is not offered", "xx", "", "es", "es"),
    ("a link names the reader's language", "", "es", "en-US", "es"),
    ("a link does not change what was set", "en", "es", "en-US", "en"),
    ("a link names what is not offered", "", "xx", "es", "es"),
    ("nobody could mean this", "../es", "", "%%", "en"),
]


@pytest.mark.parametrize(("why", "cookie", "link", "browser", "wanted"), CHOICES)
def test_the_page_comes_in_the_readers_language(
    client: FlaskClient, why: str, cookie: str, link: str, browser: str, wanted: str
) -> None:
    if cookie:
        client.set_cookie("language", cookie)
    page = client.get("/", query_string={"language": link}, headers={"Accept-Language": browser})
    assert re.search(r'<html lang="([a-z]+)', page.text)[1] == wanted, why
    assert words(wanted).say("app-what") in page.text
    other = client.get("/nothing", headers={"Accept-Language": browser, "Accept": "text/html"})
    assert words(wanted if not link else wording.FIRST).say("error-page-404") in other.text or link


def test_the_same_page_in_another_language_is_never_taken_for_the_one_held(
    client: FlaskClient,
) -> None:
    english = client.get("/").headers["ETag"]
    asked = {"If-None-Match": english, "Accept-Language": "es"}
    answer = client.get("/", headers=asked)
    assert answer.status_code == 200
    assert 'lang="es-US"' in answer.text
    assert client.get("/", headers=asked | {"Accept-Language": "en"}).status_code == 304


@pytest.mark.slow
@pytest.mark.parametrize("language", finished())
def test_a_language_has_its_words_its_manifest_and_its_worker(
    client: FlaskClient, language: str
) -> None:
    worker = client.get(f"/sw.js?language={language}").text
    shell = json.loads(worker.partition("\n")[0].removeprefix("self.SHELL = ").rstrip(";"))
    listed = [*shell["files"], *shell["rest"], *shell["asked"]]
    others = [one for one in finished() if one != language]
    assert {words_at(language, part) for part in ("first", "later", "figures")} <= set(listed)
    assert not [at for at in listed if any(f".{one}." in at for one in others)]
    said = words(language)
    for address in listed:
        if address.startswith("/words"):
            sent = client.get(address).get_json()
            assert sent["language"] == language
            say = by_id(sent)
            assert say == said.export(list(say))["say"]
    manifest = client.get(f"/manifest.{language}.webmanifest").get_json()
    assert manifest["description"] == said.say("app-description")
    assert manifest["lang"].partition("-")[0] == language


@pytest.mark.parametrize(
    "address",
    ["/words.xx.json", "/words-road.en.json", "/manifest.xx.webmanifest", "/sw.js?language=xx"],
)
def test_a_language_that_is_not_offered_is_not_found(client: FlaskClient, address: str) -> None:
    error_of(client.get(address), 404)


def test_the_rules_are_the_same_in_every_language(client: FlaskClient) -> None:
    """No word of any language goes into what the rules' hash is made of."""
    hashes = set()
    for language in finished():
        client.set_cookie("language", language)
        hashes.add(client.get("/rulebook.json").get_json()["hash"])
        hashes.add(client.get("/rulebook.json", headers={"Accept-Language": language}).data)
    assert len(hashes) == 2  # one hash, one body


def test_a_refusal_is_told_in_the_phones_language(client: FlaskClient) -> None:
    client.set_cookie("language", "es")
    error = error_of(client.get("/nothing", headers={"Accept": "application/json"}), 404)
    assert error["message"] == words("es").say("error-page-404")


def test_speaking_ends_where_it_began_and_takes_no_language_that_is_not_offered(app: Flask) -> None:
    with wording.speaking("es"):
        assert wording.say("level-stop") == "Deténgase ya"
        with wording.speaking("xx"):
            assert wording.language() == "es"
        with wording.speaking("en"):
            assert wording.say("level-stop") == "Stop now"
        assert wording.language() == "es"
    assert wording.language() == "en"


@pytest.mark.parametrize(("code", "name"), [("en", "English"), ("es", "español")])
def test_a_language_is_offered_under_its_own_name(code: str, name: str) -> None:
    """Unicode CLDR, names of languages in themselves."""
    assert wording.own_name(code) == name


# Unicode CLDR: decimal and group signs of each language; ties go to the even digit.
NUMBERS = [
    ("a whole number", "en", 7, 0, "7"),
    ("thousands", "en", 1234.5, 1, "1,234.5"),
    ("a tie", "en", 2.5, 0, "2"),
    ("Spanish as in the USA", "es", 12345.678, 2, "12,345.68"),
    ("below nothing", "es", -3.04, 1, "-3.0"),
]


@pytest.mark.parametrize(("why", "language", "value", "digits", "text"), NUMBERS)
def test_a_number_is_written_as_the_language_writes_it(
    why: str, language: str, value: float, digits: int, text: str
) -> None:
    with wording.speaking(language):
        assert wording.number_text(value, digits) == text, why


def test_a_third_language_has_numbers_of_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    """Unicode CLDR for German in Germany, which the product does not speak."""
    monkeypatch.setattr(wording, "region_of_page", lambda: "de-DE")
    assert wording.number_text(1234.5, 1) == "1.234,5"
