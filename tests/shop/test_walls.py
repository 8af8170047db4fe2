"""Every address of the application, walked by those it is not for; and reading changes nothing."""

from __future__ import annotations

import re
from io import BytesIO
from typing import Any
from zipfile import ZipFile

import pytest
from flask import Flask

from tests.support.pictures import photo
from tests.support.records import HEADERS
from tests.support.shops import TOKEN, Shop, a_shop, dump, finished_job

# Anybody may ask these: the app itself, and what phones send with a device's id or a secret.
OPEN = re.compile(
    r"/($|static/|api/|sw\.js|app\.css|manifest|rulebook|figures|words|lamp-table|healthz|readyz|metrics|calendar|later-scripts\.txt|shop/sign-in$)"
)
READS = ("GET", "HEAD")


@pytest.fixture
def shop(app):
    """A shop that has one of everything, under the first of all ids."""
    found = a_shop(app)
    job, _ = finished_job(found)
    found.press("/shop/trailers/1/standing", "/shop/trailers/1/standing")
    assert job == "/shop/jobs/1"
    table = (BytesIO(b"trailer,customer\nTilt bed,Ada Lund\n"), "ours.csv")
    page = TOKEN.search(found.client.get("/shop/take-in").text)[1]
    sent = {"csrf_token": page, "kind": "trailers", "file": table}
    assert found.client.post("/shop/take-in", data=sent).location == "/shop/take-in/1"
    pictures = {"csrf_token": page, "photos": (BytesIO(photo()), "race.jpg")}
    assert found.client.post("/shop/jobs/1/photos", data=pictures).status_code == 302
    record = re.search(r"/shop/checks/([0-9a-f-]{36})", found.client.get(job).text)
    assert found.post(f"/shop/checks/{record[1]}", {"reply": "We come."}).status_code == 302
    return found


@pytest.fixture
def other(app, shop):
    """Another shop, with nothing yet."""
    return a_shop(app, "Alder Fork Tool Library", "ines")


def addresses(app: Flask) -> list[tuple[str, str, bool]]:
    """Method, address and whether it names a row, for every rule; rows by what ``shop`` has."""
    with app.extensions["store"].reading() as connection:
        record = connection.exec_driver_sql("SELECT id FROM records").scalar_one()
        picture = connection.exec_driver_sql("SELECT id FROM photos").scalar_one()
    names = {
        "staff_id": 1,
        "job_id": 1,
        "trailer_id": 1,
        "customer_id": 1,
        "due_id": 1,
        "intake_id": 1,
    }
    names |= {
        "link_id": 1,
        "session_id": 1,
        "record": record,
        "record_id": record,
        "photo_id": picture,
    }
    names |= {
        "filename": "routes.js",
        "name": "checks",
        "season": "repack",
        "kind": "trailers",
        "id": record,
        "photo": picture,
        "secret": "A" * 43,
    }
    found = []
    for rule in app.url_map.iter_rules():
        given = {name: names.get(name, 1) for name in rule.arguments}
        path = re.sub(r"<(?:[^:<>]+:)?(\w+)>", lambda m: str(given[m[1]]), str(rule))  # noqa: B023
        for method in sorted((rule.methods or set()) - {"OPTIONS"}):
            found.append((method, path, bool(rule.arguments - {"name", "season", "kind"})))
    return found


def ask(app: Flask, client: Any, method: str, path: str) -> Any:
    """One request with a valid form token, so that it is the wall that answers."""
    app.config["WTF_CSRF_ENABLED"] = False
    try:
        return client.open(path, method=method, headers={"Accept": "text/html"}, buffered=True)
    finally:
        app.config["WTF_CSRF_ENABLED"] = True


def said(answer: Any) -> str:
    """What an answer says, unpacked where it is packed."""
    if answer.mimetype != "application/zip" or not answer.data:
        return str(answer.text)
    whole = ZipFile(BytesIO(answer.data))
    return "".join(whole.read(name).decode(errors="replace") for name in whole.namelist())


@pytest.mark.slow
def test_a_stranger_meets_the_sign_in_page_everywhere(app, shop):
    """Every address that is not open to all sends away whoever is not signed in."""
    stranger, before, met = app.test_client(), dump(app), []
    for method, path, _ in addresses(app):
        if OPEN.match(path):
            continue
        answer = ask(app, stranger, method, path)
        away = answer.status_code == 302 and answer.location == "/shop/sign-in"
        if not away and answer.status_code not in (403, 404):
            met.append((method, path, answer.status_code))
        assert "Ada Lund" not in answer.text
    assert met == []
    assert dump(app) == before


@pytest.mark.slow
def test_another_shop_finds_nothing_of_this_one(app, shop, other):
    """What names a row of another shop is as absent as what was never there."""
    before, met = dump(app), []
    for method, path, names_a_row in addresses(app):
        if OPEN.match(path) or path in ("/shop/sign-out", "/shop/account/everywhere"):
            continue
        answer = ask(app, other.client, method, path)
        if names_a_row and answer.status_code != 404:
            met.append((method, path, answer.status_code))
        for word in ("Ada Lund", "Green boat trailer", "Pell Street"):
            assert word not in said(answer), (method, path)
    assert met == []
    # Its own feed, inbox or refused form may be its own; nothing of the first shop has moved.
    own = dict.fromkeys(("tries", "refused"))
    assert dump(app) | own == before | own


def test_another_shops_rows_cannot_be_named_in_a_form(app, shop, other):
    before = dump(app)
    sent = {"trailer_name": "Ours", "customer": "1", "finish": "1"}
    assert other.post("/shop/jobs/new", sent).status_code == 404
    fields = {"trailer": "1", "finish": "1", "form": "x"}
    assert other.post("/shop/jobs/new", fields).status_code == 404
    assert other.client.get("/shop/jobs/new?trailer=1").status_code == 404
    assert dump(app) == before


@pytest.mark.slow
def test_the_shop_itself_gets_in_everywhere(app, shop):
    """The walls stand where they should: the same addresses answer to whom they belong."""
    met = [
        (path, answer.status_code)
        for method, path, _ in addresses(app)
        if method == "GET" and path.startswith("/shop") and not path.endswith("/edit")
        for answer in [ask(app, shop.client, method, path)]
        if answer.status_code not in (200, 302)
    ]
    assert met == []


@pytest.mark.slow
@pytest.mark.long
def test_reading_changes_nothing(app, shop):
    """GET and HEAD of every address, by its own shop and by a stranger, leave every table alone."""
    before = dump(app)
    for client in (shop.client, app.test_client()):
        for method, path, _ in addresses(app):
            if method in READS:
                answer = client.open(path, method=method, headers=HEADERS, buffered=True)
                assert answer.status_code < 500, (method, path)
    assert dump(app) == before


@pytest.mark.slow
def test_what_belongs_to_a_shop_is_kept_by_no_cache(app, shop):
    for method, path, _ in addresses(app):
        if method == "GET" and path.startswith(("/shop", "/photos")):
            answer = shop.client.get(path, buffered=True)
            assert answer.headers["Cache-Control"] == "no-store", path


@pytest.mark.slow
def test_a_form_without_its_token_is_refused_everywhere(app, shop):
    before = dump(app)
    for method, path, _ in addresses(app):
        if method == "POST" and not path.startswith("/api/"):
            assert shop.client.post(path).status_code == 400, path
    assert dump(app) == before


@pytest.mark.slow
def test_no_address_takes_a_links_secret(app, shop):
    """Addresses are kept in logs. A calendar alone can be told nothing but an address."""
    taking = [str(r) for r in app.url_map.iter_rules() if "secret" in r.arguments]
    assert [rule for rule in taking if not rule.startswith("/calendar/")] == []


def test_ids_out_of_range_are_refused_in_words(app, shop: Shop):
    for number in ("0", "999999", str(2**31), str(2**63), "-1", "1.5"):
        for kind in ("jobs", "trailers", "customers"):
            assert shop.client.get(f"/shop/{kind}/{number}").status_code == 404, number


NASTY = "<script>alert(1)</script>"


@pytest.mark.slow
@pytest.mark.long
def test_what_people_wrote_is_text_on_every_page(app, shop):
    """Names and notes with markup stand on every page as they were typed."""
    columns = ("shops.name", "customers.name", "trailers.name", "jobs.note", "due.what")
    with app.extensions["store"].writing() as connection:
        for table, column in (one.split(".") for one in columns):
            connection.exec_driver_sql(f"UPDATE {table} SET {column} = '{NASTY}'")
    shown = []
    for method, path, _ in addresses(app):
        if method == "GET" and path.startswith("/shop"):
            answer = ask(app, shop.client, method, path)
            if answer.mimetype == "text/html":
                assert NASTY not in answer.text, path
                shown += [path] * ("&lt;script&gt;" in answer.text)
    assert len(shown) > 10
