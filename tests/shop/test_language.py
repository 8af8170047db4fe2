"""A shop writes in its language, and to a customer in the customer's."""

from __future__ import annotations

import csv
import re
from collections.abc import Callable
from io import StringIO
from typing import Any

import pyotp
import pytest
from flask import Flask
from flask.testing import FlaskClient

from checks.units import units
from checks.words import words
from tests.shop.test_inbox import desk
from tests.shop.test_take_in import send as send_table
from tests.support.effort import few
from tests.support.floor import DAY, NOW, Floor, run_stop, shop_floor
from tests.support.records import HEADERS, envelope
from tests.support.shops import PASSWORD, TOKEN, Shop, fields_of, finished_job, followed, read_link
from tests.support.tongue import english_of, texts_in
from webapp.clock import now
from webapp.commands import mail as post
from webapp.commands.mail import written
from webapp.follow_up import schedule
from webapp.shop import measures
from webapp.shop.print.check import Document
from webapp.shop.reading import typed_words, unit_in_words
from webapp.shop.tables import TABLES
from webapp.storage.models import mails
from webapp.wording import speaking

SPANISH = words("es").say


def spanish_shop(shop: Shop) -> None:
    assert shop.post("/shop/details", {"language": "es", "units": "us"}).status_code == 302


def spanish_customer(shop: Shop) -> None:
    page = shop.client.get("/shop/customers").text
    address = re.search(r'href="(/shop/customers/\d+)"', page)[1]
    assert shop.post(address, {"language": "es"}).status_code == 302


@pytest.mark.parametrize(
    ("address", "name"),
    [
        ("/shop", "shop-nav-inbox"),
        ("/shop/jobs/new", "form-customer"),
        ("/shop/details", "shop-settings"),
        ("/shop/files", "shop-files-title"),
        ("/shop/recall", "shop-recall"),
    ],
)
def test_a_shops_pages_are_in_its_language_whatever_the_browser_reads(
    shop: Shop, address: str, name: str
) -> None:
    spanish_shop(shop)
    page = shop.client.get(address, headers={"Accept-Language": "en-US"}).text
    assert '<html lang="es-US">' in page
    assert SPANISH(name) in page


def test_who_is_not_signed_in_reads_what_the_browser_reads(app: Flask) -> None:
    page = app.test_client().get("/shop/sign-in", headers={"Accept-Language": "es"}).text
    assert SPANISH("form-password") in page


@pytest.mark.slow
def test_a_language_that_is_not_offered_is_refused(shop: Shop) -> None:
    assert shop.client.post(
        "/shop/details", data=shop_form(shop) | {"language": "xx"}
    ).status_code in (303, 422)
    assert '<html lang="en-US">' in shop.client.get("/shop").text


def shop_form(shop: Shop) -> dict[str, str]:
    return fields_of(shop.client.get("/shop/details").text)


def test_what_goes_to_a_customer_is_in_the_customers_language(shop: Shop) -> None:
    address, secret = finished_job(shop)
    spanish_customer(shop)
    page = shop.client.get(address).text
    assert '<html lang="en-US">' in page  # the shop goes on in its own
    assert f"/?language=es#/from/{secret}" in page
    begins = SPANISH("text-link", shop="", trailer="", address="").split(". ")[1]
    assert begins.partition(":")[0] in page
    sheet = shop.client.get(f"{address}/sheet").text
    assert SPANISH("print-sheet-open") in sheet
    assert SPANISH("form-due-hubs") in sheet  # proposed in English, read in Spanish
    assert words("en").say("form-due-hubs") not in sheet


@pytest.mark.slow
def test_a_due_check_is_told_in_the_phones_language_and_a_shops_own_words_stay(
    shop: Shop, app: Flask
) -> None:
    _, secret = finished_job(shop)
    phone = app.test_client()
    phone.set_cookie("language", "es")
    told = {one["what"] for one in read_link(phone, secret).get_json()["due"]}
    assert SPANISH("form-due-hubs") in told
    assert words("en").say("form-due-hubs") not in told
    assert schedule.what_due("Look at my own weld") == "Look at my own weld"


@pytest.mark.slow
def test_a_job_is_not_doubled_when_the_shop_changes_its_language(shop: Shop) -> None:
    address, _ = finished_job(shop)
    before = due_lines(shop, address)
    spanish_shop(shop)
    assert shop.post(f"{address}/edit", {"finish": "1"}).status_code == 302
    assert due_lines(shop, address) == before


def due_lines(shop: Shop, address: str) -> int:
    return len(re.findall(r"<strong>", shop.client.get(f"{address}/sheet").text))


@pytest.mark.slow
def test_the_calendar_is_in_the_shops_language(shop: Shop, app: Flask) -> None:
    finished_job(shop)
    spanish_shop(shop)
    shop.press("/shop/files/calendar", "/shop/files")
    feed = re.search(r"/calendar/[\w-]+\.ics", shop.client.get("/shop/files").text)
    assert feed
    text = app.test_client().get(feed[0], headers={"Accept-Language": "en"}).text
    assert SPANISH("calendar-title", shop="Pell Street Garage") in text.replace("\r\n ", "")
    assert "PRODID:-//Twentymile//ES\r\n" in text


def test_a_mail_is_in_the_shops_language(shop: Shop, app: Flask) -> None:
    shop.post("/shop/details", {"language": "es", "units": "us", "email": "desk@pell.test"})
    mail: Any = {"kind": "stop", "shop_id": shop.id, "record_id": "0"}
    with app.extensions["store"].writing() as connection:
        done = connection.execute(mails.insert().values(**mail, made=now(), tries=0, error=""))
        row = connection.execute(
            mails.select().where(mails.c.id == done.inserted_primary_key[0])
        ).one()
        with app.app_context():
            message = written(connection, row, app.config)
    assert message is not None
    assert message["Subject"] == SPANISH("mail-subject", trailer=SPANISH("mail-a-trailer"))
    assert SPANISH("mail-body", trailer=SPANISH("mail-a-trailer")) in message.get_content()


def addresses(app: Flask) -> list[str]:
    """Every page below /shop that is asked for by a number, or by none."""
    rules = [one for one in app.url_map.iter_rules() if "GET" in (one.methods or ())]
    plain = [one.rule for one in rules if one.rule.startswith("/shop")]
    numbered = [re.sub(r"<int:\w+>", "1", one) for one in plain]
    return sorted(one for one in numbered if "<" not in one)


# Files and pictures, ways on to another page, and what a table leaves here until it is taken in.
NO_PAGES = {
    "/shop/account/codes/picture.svg",
    "/shop/files/everything.zip",
    "/shop/find/customers",
    "/shop/fleet/1/out",
    "/shop/jobs/1/photos",
    "/shop/links/1/qr.svg",
    "/shop/sign-in",
    "/shop/sign-in/code",
    "/shop/trailers/1/years.pdf",
}


@pytest.mark.slow
def test_no_english_is_left_on_any_page_of_the_shop(shop: Shop, app: Flask) -> None:
    _, secret = finished_job(shop, note="Baleros y retenes nuevos.")
    spanish_shop(shop)
    send_table(shop, "trailer,customer\nAlder Fork 7,Bo Lund\n,Bo Lund\n")
    check = run_stop(smoke__1L="yes", tire_made__1L="0112")
    sent = envelope(check) | {"link": secret}
    assert app.test_client().post("/api/records", json=sent, headers=HEADERS).status_code == 200
    assert shop.post(f"/shop/checks/{check['id']}", {"reply": "Ya vamos."}).status_code == 302
    found, skipped = {}, set()
    for address in (*addresses(app), f"/shop/checks/{check['id']}"):
        answer = shop.client.get(address)
        if answer.status_code != 200 or answer.mimetype != "text/html":
            skipped.add(address)
            continue
        if left := english_of(texts_in(answer.text), "es"):
            found[address] = left
    assert skipped == NO_PAGES
    assert found == {}


# ---- who is not let in, and what is refused, missing or failed ----------------------------------


HTML = {"Accept": "text/html"}
Asked = Callable[[Shop, FlaskClient], Any]  # by a shop, or by a reader whom nobody knows


def with_password(reader: FlaskClient, word: str = PASSWORD, times: int = 1) -> Any:
    for _ in range(times):
        sent = token_of(reader) | {"login": "dana", "password": word}
        answer = followed(reader, reader.post("/shop/sign-in", data=sent))
    return answer


def token_of(reader: FlaskClient, address: str = "/shop/sign-in") -> dict[str, str]:
    found = TOKEN.search(reader.get(address).text)
    assert found, address
    return {"csrf_token": found[1]}


def with_code(shop: Shop, reader: FlaskClient, wrong: bool = False) -> Any:
    seed = re.search(r"<code>(\w+)</code>", shop.client.get("/shop/account/codes").text)
    assert seed
    shop.post("/shop/account/codes", {"code": pyotp.TOTP(seed[1]).at(now())})
    with_password(reader)
    address = "/shop/sign-in/code"
    if not wrong:
        return reader.get(address)
    return followed(reader, reader.post(address, data=token_of(reader, address) | {"code": "12"}))


def failing(_: Shop, reader: FlaskClient) -> Any:
    with pytest.MonkeyPatch.context() as patch:
        patch.setitem(reader.application.extensions, "store", None)
        patch.setitem(reader.application.config, "PROPAGATE_EXCEPTIONS", False)
        return reader.get(f"/calendar/{'A' * 43}.ics", headers=HTML)


REFUSED: dict[str, tuple[Asked, int]] = {
    "signing in": (lambda _, reader: reader.get("/shop/sign-in"), 200),
    "a wrong password": (lambda _, reader: with_password(reader, "a guess"), 401),
    "the sixth wrong password": (lambda _, reader: with_password(reader, "a guess", 6), 429),
    "no name and no password": (
        lambda _, reader: followed(reader, reader.post("/shop/sign-in", data=token_of(reader))),
        422,
    ),
    "a code that is asked": (with_code, 200),
    "a wrong code": (lambda shop, reader: with_code(shop, reader, wrong=True), 401),
    "nothing at an address": (lambda _, reader: reader.get("/nothing", headers=HTML), 404),
    "nothing at an address of the shop": (
        lambda shop, _: shop.client.get("/shop/jobs/999", headers=HTML),
        404,
    ),
    "a form to where none is taken": (lambda _, reader: reader.post("/", headers=HTML), 405),
    "a form without its token": (
        lambda shop, _: shop.client.post("/shop/details", headers=HTML),
        400,
    ),
    "a form of who is signed out": (
        lambda _, reader: reader.post("/shop/details", data=token_of(reader), headers=HTML),
        403,
    ),
    "a fault": (failing, 500),
}


@pytest.mark.parametrize("case", REFUSED)
def test_no_english_is_left_where_somebody_is_turned_away(
    shop: Shop, app: Flask, case: str
) -> None:
    spanish_shop(shop)
    reader = app.test_client()
    reader.set_cookie("language", "es")
    ask, status = REFUSED[case]
    answer = ask(shop, reader)
    assert (answer.status_code, answer.mimetype) == (status, "text/html")
    assert '<html lang="es-US">' in answer.text
    assert english_of(texts_in(answer.text), "es") == []
    assert not re.search(r"token|Forbidden|Request", " ".join(texts_in(answer.text)))


@pytest.mark.slow
def test_no_english_is_left_on_a_check_on_paper(
    app: Flask, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A hot hub by a driver's hand, as a PDF for a customer who reads Spanish."""
    floor = shop_floor(app)
    drawn: list[str] = []
    told = Document.told

    def noted(sheet: Document, text: str) -> str:
        drawn.append(text)
        return told(sheet, text)

    monkeypatch.setattr(Document, "told", noted)
    one = run_stop(hub_feel__1L="cool", hub_feel__1R="hot", smoke__1R="yes", air="64 degF")
    assert floor.send(one).status_code == 200
    floor.change("customers", floor.customer, language="es")
    assert desk(floor).get(f"/shop/checks/{one['id']}.pdf").data.startswith(b"%PDF")
    assert any(SPANISH("level-stop") in text for text in drawn)
    assert any(SPANISH("finding-has_smoke.do") in text for text in drawn)
    assert english_of(drawn, "es") == []


def test_where_nothing_was_read_page_and_paper_say_so_in_spanish(
    floor: Floor, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawn: list[str] = []
    told = Document.told
    monkeypatch.setattr(
        Document, "told", lambda sheet, text: told(sheet, drawn.append(text) or text)
    )
    one = run_stop(flames__1L="yes")
    assert floor.send(one).status_code == 200
    client = desk(floor)
    address = f"/shop/checks/{one['id']}"
    assert client.get(f"{address}.pdf").data.startswith(b"%PDF")
    for texts in (drawn, texts_in(client.get(address).text)):
        assert "Costumbre del oficio, sin fuente" in texts
        assert not [text for text in texts if "ommon practice" in text]


# In other states of these pages: signed in anew, nothing due, a link that ended, work left undone.
# tests/rules/test_every_word.py looks at what each says.
UNHUNG = {
    "print-codes-lost",
    "print-desk-hangs",
    "print-desk-nothing-due",
    "print-sheet-left",
    "print-sheet-no-code",
}


@pytest.mark.slow
def test_no_english_is_left_on_what_hangs_and_on_what_a_customer_takes_along(
    shop: Shop, app: Flask
) -> None:
    """Sheet and code of the lending desk before and after a Stop now, and a link that has ended."""
    address, secret = finished_job(shop, note="Baleros nuevos.")
    bare, _ = finished_job(
        shop,
        note="",
        customer_name="",
        customer_phone="",
        trailer_name="Alder Fork 9",
        **{"work:bearings": ""},
    )
    spanish_shop(shop)
    for one in re.findall(r'href="(/shop/customers/\d+)"', shop.client.get("/shop/customers").text):
        shop.post(one, {"language": "es"})
    read: list[str] = []

    def look(at: str) -> None:
        page = shop.client.get(at)
        assert page.status_code == 200, at
        texts = texts_in(page.text)
        assert english_of(texts, "es") == [], at
        read.extend(texts)

    def everywhere() -> None:
        for at in (
            "/shop/trailers/1/standing",
            "/shop/fleet/codes?size=label",
            "/shop/fleet/codes?size=page",
        ):
            look(at)
        for job in (address, bare):
            look(f"{job}/sheet")

    everywhere()
    shop.press("/shop/trailers/1/standing", "/shop/trailers/1/standing")
    everywhere()
    check = run_stop(smoke__1L="yes", tire_made__1L="0112")
    sent = envelope(check) | {"link": secret}
    assert app.test_client().post("/api/records", json=sent, headers=HEADERS).status_code == 200
    everywhere()
    said = words("es")
    wanted = {
        one for one in said.ids() if one.startswith(("print-desk-", "print-sheet-", "print-codes-"))
    }
    unread = {one for one in wanted if not any(longest(said.shape(one)) in text for text in read)}
    assert unread == UNHUNG, unread ^ UNHUNG


def longest(shape: list[Any]) -> str:
    """The longest run of text without a value."""
    return max((part for part in shape if isinstance(part, str)), key=len).strip()


# ---- forms that are refused ---------------------------------------------------------------------

FORM = re.compile(r'<form[^>]*method="post"[^>]*>.*?</form>', re.S)
ACTION = re.compile(r'<form[^>]*action="([^"]*)"')
FIELD = re.compile(r'<(?:input|select|textarea)[^>]*\bname="([^"]+)"')
# What every field holds: nothing, what is no number, day, choice or address, more than fits.
SPOILT = {"nothing": "", "nonsense": "?!", "too much": "ñandú " * 1000, "another number": "-999999"}


def forms_of(page: str, address: str) -> list[tuple[str, list[str]]]:
    """Where each form goes, and its fields but the token."""
    found = []
    for form in FORM.findall(page):
        action = ACTION.search(form)
        fields = [name for name in FIELD.findall(form) if name != "csrf_token"]
        found.append((action[1] if action and action[1] else address, fields))
    return [(to, fields) for to, fields in found if fields]


@pytest.mark.slow
@pytest.mark.parametrize("case", few(SPOILT, 1))
def test_no_english_is_left_where_a_form_is_refused(shop: Shop, app: Flask, case: str) -> None:
    finished_job(shop, note="Baleros y retenes nuevos.")
    spanish_shop(shop)
    refused, found = set(), {}
    for address in addresses(app):
        page = shop.client.get(address)
        if page.mimetype != "text/html" or "/sign-" in address:
            continue
        token = token_of(shop.client, address) if TOKEN.search(page.text) else {}
        for to, fields in forms_of(page.text, address):
            answer = shop.client.post(to, data=token | dict.fromkeys(fields, SPOILT[case]))
            answer = followed(shop.client, answer)
            if answer.status_code in (302, 303) or answer.mimetype != "text/html":
                continue
            if answer.status_code >= 400:
                refused.add(to)
            if left := english_of(texts_in(answer.text), "es"):
                found[to] = left
    assert len(refused) >= 3, refused
    assert found == {}


# ---- what goes out: mails, texts to send, calendar, tables --------------------------------------


def smoking(floor: Floor, count: int = 1) -> None:
    for _ in range(count):
        assert floor.send(run_stop(smoke__1L="yes", run_distance="20 mi")).status_code == 200


def to_mend(floor: Floor) -> None:
    floor.change("shops", floor.shop, mail_mend=True)
    one = run_stop()
    one["body"]["verdict"] = one["body"]["verdict"] | {"level": "mend"}
    assert floor.send(one).status_code == 200


def too_hot(floor: Floor, count: int = 1) -> None:
    for _ in range(count):
        one = run_stop()
        found = [{"finding": "too_hot", "place": "1L", "level": "look"}]
        one["body"]["verdict"] = {"level": "look", "findings": found}
        assert floor.send(one).status_code == 200


def late(floor: Floor) -> None:
    """The floor's due check, proposed in English, on a day that is over."""
    what = words("en").say("form-due-hubs")
    floor.change("shops", floor.shop, mail_overdue=True)
    floor.change("due", floor.due, by=NOW - DAY, what=what, record_id=None)


# What made the shop's mail wait, and the kind that waits last.
MAILED: dict[str, tuple[Callable[[Floor], None], str]] = {
    "one Stop now": (smoking, "stop"),
    "a Stop now more than are mailed one by one": (lambda floor: smoking(floor, 4), "stops"),
    "more of them than one mail lists": (lambda floor: smoking(floor, 40), "stops"),
    "one not to be driven on with yet": (too_hot, "held"),
    "one of them more than are mailed one by one": (lambda floor: too_hot(floor, 4), "helds"),
    "a Mend": (to_mend, "mend"),
    "an overdue check": (late, "overdue"),
}


@pytest.fixture
def floor(app: Flask) -> Floor:
    """A shop and a customer that both read Spanish."""
    made = shop_floor(app)
    made.change("shops", made.shop, language="es")
    made.change("customers", made.customer, language="es", phone="(555) 010-0123")
    return made


@pytest.mark.slow
@pytest.mark.parametrize("address", ["", "https://pell.example"], ids=["no address", "an address"])
@pytest.mark.parametrize("case", MAILED)
def test_no_english_is_left_in_a_mail(
    floor: Floor, monkeypatch: pytest.MonkeyPatch, case: str, address: str
) -> None:
    make, kind = MAILED[case]
    make(floor)
    out: list[Any] = []
    monkeypatch.setattr(post, "deliver", lambda _, message: out.append(message))
    floor.app.config.update(SMTP_URL="smtp://mail.example", ADDRESS=address)
    post.send_waiting(floor.app)
    for row in floor.rows("mails", sent=None):
        floor.change("mails", row["id"], next_try=NOW - DAY)
    post.send_waiting(floor.app)
    assert [row["kind"] for row in floor.rows("mails")][-1] == kind
    assert len(out) == len(floor.rows("mails"))
    texts = [text for one in out for text in (one["Subject"], *one.get_content().splitlines())]
    assert len(texts) > len(out)
    assert english_of(texts, "es") == []


def test_every_kind_of_mail_is_among_these() -> None:
    subjects = {name for name in words("en").ids() if name.startswith("mail-subject")}
    kinds = {kind for _, kind in MAILED.values()}
    assert {"mail-subject" if one == "stop" else f"mail-subject-{one}" for one in kinds} == subjects


SAID = {"shop": "Pell Street", "trailer": "Alder Fork 1", "address": "https://pell.example"}
SAID |= {"phone": "555 0142", "reply": "", "what": SPANISH("form-due-hubs")}


@pytest.mark.parametrize("name", [one for one in words("en").ids() if one.startswith("text-")])
def test_no_english_is_left_in_a_text_to_send(name: str) -> None:
    text = SPANISH(name, **SAID)
    assert "Alder Fork 1" in text
    assert english_of([text], "es") == []
    assert english_of([words("en").say(name, **SAID)], "es") != []  # the look finds some


def ready(page: str) -> list[str]:
    return re.findall(r'<textarea class="copy"[^>]*>([^<]*)', page)


@pytest.mark.slow
def test_no_english_is_left_on_pages_with_something_to_send(floor: Floor) -> None:
    """A trailer that is asked back on every list, an overdue check, and a reply."""
    one = run_stop(made=NOW - 450 * DAY, tire_made__1L="0112", smoke__1L="yes")
    assert floor.send(one).status_code == 200
    work = {"work": ["bearings", "storage"], "finished": NOW - 400 * DAY}
    floor.change("jobs", floor.job, opened=NOW - 401 * DAY, **work)
    late(floor)
    client = desk(floor)
    for address, count in (("/shop", 1), ("/shop/recall", 3)):
        page = client.get(address).text
        assert len(ready(page)) == count
        assert english_of(texts_in(page), "es") == []
    address = f"/shop/checks/{one['id']}"
    client.post(address, data={"reply": "El lunes."})
    page = client.get(address).text
    assert len(ready(page)) == 1
    assert english_of(texts_in(page), "es") == []


def test_units_that_are_words_are_said_in_the_shops_language() -> None:
    book = {"units": units() | {"stone": {"label": "st"}}}  # of another release
    with speaking("es"):
        assert measures.text((5, 6.5), "year") == "5.0 a 6.5 años"
        assert typed_words("3 slot", book) == "3 ranuras"
        assert typed_words("10–20 in32", book) == "10 a 20/32 in"
        assert typed_words("-10 to 0 degC", book) == "-10 a 0 °C"  # rough, from an English phone
        assert typed_words("under 20 degF", book) == f"{SPANISH('app-under', to='20')} °F"
        assert (
            typed_words("over 1,000 mi", book) == f"{SPANISH('app-over', **{'from': '1,000'})} mi"
        )
        assert typed_words("3 stone", book) == "3 st"
        assert unit_in_words("2 day", book) == "2 días"


@pytest.mark.parametrize(
    ("english", "spanish"),
    [
        ("5.0 to 6.5 years", "5.0 a 6.5 años"),
        ("6.5 years", "6.5 años"),
        ("(2 days)", "(2 días)"),
        ("1.5 slots", "1.5 ranuras"),
        ("2.0 thousandths in", "2.0 milésimas"),
        ("0.004 per °C", "0.004 por °C"),
        ("3 to any kg", "3 a sin límite kg"),
        ("none to 5 °C", "sin límite a 5 °C"),
    ],
)
def test_the_look_for_english_sees_it_in_numbers(english: str, spanish: str) -> None:
    assert english_of([english], "es") == [english]
    assert english_of([spanish], "es") == []


def test_no_english_is_left_in_the_calendar(floor: Floor) -> None:
    late(floor)
    client = desk(floor)
    client.post("/shop/files/calendar")
    feed = re.search(r"/calendar/[\w-]+\.ics", client.get("/shop/files").text)
    assert feed
    text = client.get(feed[0]).text.replace("\r\n ", "").replace("\\,", ",")
    assert SPANISH("form-due-hubs") in text
    values = [line.partition(":")[2] for line in text.splitlines()]
    assert english_of(values, "es") == []


@pytest.mark.parametrize("name", TABLES)
def test_no_english_is_left_in_the_rows_of_a_table(floor: Floor, name: str) -> None:
    smoking(floor)
    late(floor)
    answer = desk(floor).get(f"/shop/files/{name}.csv")
    assert answer.status_code == 200
    _, *rows = csv.reader(StringIO(answer.text.lstrip("\ufeff")))
    assert english_of([cell for row in rows for cell in row], "es") == []
