"""Input that nobody sends by accident: it is refused in words, and never a fault of the server."""

from __future__ import annotations

import os
import sqlite3
import stat
import subprocess
import sys
import time
from contextlib import closing
from pathlib import Path

import pytest

from tests.support.floor import run_stop, shop_floor
from tests.support.records import HEADERS, envelope, error_of, record
from tests.support.serve import ROOT
from tests.support.shops import JOB, TOKEN, a_shop, followed
from webapp import create_app
from webapp.commands import mail
from webapp.commands.backup import back_up
from webapp.config import BadSetting
from webapp.storage import photo_places

# ---- addresses, forms and fields ----------------------------------------------------------------


@pytest.mark.parametrize(
    "path", ["/static/%00", "/static/a%00.js", "/%00", "/photos/%00", "/shop/%00", "/calendar/%00"]
)
def test_a_nul_in_an_address_leads_nowhere(client, path):
    assert client.get(path).status_code in (302, 404)


SURROGATES = {
    "a link's secret": ("/api/links/read", '{"secret": "\\ud800"}', 404),
    "a link's secret that was opened": ("/api/links/opened", '{"secret": "\\ud800"}', 404),
    "a pair's secret": ("/api/pairs/read", '{"secret": "\\ud800"}', 404),
    "a photo's link": ("/api/photos/read", '{"secret": "\\ud800", "id": "\\ud800"}', 404),
    "a bundle": ("/api/pairs", '{"bundle": {"a": "\\ud800"}}', 200),  # kept as it came
    "a bundle's key": ("/api/pairs", '{"bundle": {"\\udfff": 1}}', 200),
}


@pytest.mark.parametrize("case", SURROGATES)
def test_half_a_character_is_no_fault(client, case):
    path, body, status = SURROGATES[case]
    answer = client.post(path, data=body, headers=HEADERS, content_type="application/json")
    assert answer.status_code == status
    if status != 200:
        error_of(answer, status)


@pytest.mark.slow
@pytest.mark.parametrize("number", [0, -1, 2**31 - 1, 2**31, 2**63 - 1, 2**63, 2**80])
def test_a_check_that_names_a_due_check_that_cannot_be_is_taken(app, number):
    floor = shop_floor(app)
    assert floor.send(due=number).status_code == 200
    assert floor.rows("records")[0]["due_id"] is None


NO_NUMBERS = ["²", "٣", "1²", "१"]


@pytest.mark.slow
@pytest.mark.parametrize("text", NO_NUMBERS)
def test_a_number_in_a_form_that_is_none_is_refused_in_words(app, text):
    shop = a_shop(app)
    answer = shop.post("/shop/jobs/new", JOB | {"fact:axles": text})
    assert answer.status_code == 422


def test_an_answer_without_end_is_refused_in_words(app):
    shop = a_shop(app)
    answer = shop.post("/shop/jobs/new", JOB | {"fact:brakes": "x" * 5000})
    assert answer.status_code == 422
    assert "…" in answer.text


@pytest.mark.slow
@pytest.mark.parametrize("months", ["0", "61", "9" * 400])
def test_a_figure_past_its_limits_is_refused_in_words(app, months):
    answer = a_shop(app).post("/shop/recall", {"months": months, "miles": ""})
    assert answer.status_code == 422
    assert "Months from 1 to 60" in answer.text


@pytest.mark.slow
@pytest.mark.parametrize("name", ["note", "trailer_name", "csrf_token", "all:pin_done", "other"])
def test_a_nul_in_a_form_is_refused(app, name):
    shop = a_shop(app)
    answer = shop.post("/shop/jobs/new", JOB | {name: "a\0b"})
    assert answer.status_code == 400
    assert "cannot be typed" in answer.text


@pytest.mark.slow
@pytest.mark.parametrize("sent", ['"text"', "[1]", "7", "null", "{}"])
def test_json_in_the_place_of_a_form_is_no_fault(app, sent):
    shop = a_shop(app)
    app.config["WTF_CSRF_ENABLED"] = False
    for address in ("/shop/account", "/shop/account/codes", "/shop/trailers/new"):
        answer = shop.client.post(address, data=sent, content_type="application/json")
        assert answer.status_code < 500, address


def test_a_nul_in_a_search_is_refused(app):
    assert a_shop(app).client.get("/shop/trailers?q=%00").status_code == 400


@pytest.mark.parametrize(("login", "status"), [("ß" * 40, 302), ("ß" * 41, 422), ("ß" * 80, 422)])
def test_a_login_is_measured_as_it_is_kept(app, login, status):
    """Case folding makes two letters of each ß (Unicode, CaseFolding.txt)."""
    shop = a_shop(app)
    answer = shop.post("/shop/staff", {"name": "Ines", "login": login, "new": "grease gun bolts"})
    assert answer.status_code == status
    assert ("80 characters" in answer.text) == (status == 422)


def test_signing_in_with_a_login_longer_than_any_is_a_wrong_login(app):
    visitor = app.test_client()
    token = TOKEN.search(visitor.get("/shop/sign-in").text)[1]
    data = {"csrf_token": token, "login": "ß" * 80, "password": "x"}
    assert followed(visitor, visitor.post("/shop/sign-in", data=data)).status_code == 401


MAILS = {
    "name@example.org": True,
    "": True,
    "<>": False,
    "<@a.b>": False,
    "a@b.c, d@e.f": False,
    "Ines <ines@pell.example>": False,
    "a@b..c": False,
    "a@": False,
    "@b.c": False,
    "a b@c.d": False,
}


@pytest.mark.parametrize("address", MAILS)
def test_mail_goes_to_one_plain_address(app, address):
    shop = a_shop(app)
    answer = shop.post("/shop/details", {"email": address, "units": "us", "language": "en"})
    assert (answer.status_code == 302) == MAILS[address]


def test_an_address_kept_from_before_that_is_none_says_so_instead_of_going_nowhere(app):
    floor = shop_floor(app)
    floor.change("shops", floor.shop, email="<>")
    app.config["SMTP_URL"] = "smtp://127.0.0.1:9"
    floor.send(run_stop(smoke__1L="yes"))
    assert [row["error"] for row in floor.rows("mails")] == [""]
    assert mail.send_waiting(app) == 0
    assert floor.rows("mails")[0]["error"] == "the shop has no email address"


# ---- where links lead ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("host", "status"),
    [
        ("trailers.example.org", 200),
        ("trailers.example.org:8020", 200),
        ("localhost", 200),
        ("localhost:8020", 200),
        ("127.0.0.1", 200),
        ("elsewhere.example", 400),
        ("trailers.example.org.elsewhere.example", 400),
    ],
)
def test_with_its_address_set_the_server_answers_to_no_foreign_name(
    tmp_path, new_app, host, status
):
    app = new_app(tmp_path, ADDRESS="https://trailers.example.org")
    for path in ("/", "/shop/sign-in"):
        assert app.test_client().get(path, headers={"Host": host}).status_code == status


@pytest.mark.parametrize("method", ["GET", "POST"])
@pytest.mark.parametrize("path", ["/shop", "/shop/jobs/new", "/shop/nowhere"])
def test_under_a_foreign_name_nobody_is_sent_to_sign_in(tmp_path, new_app, path, method):
    app = new_app(tmp_path, ADDRESS="https://trailers.example.org")
    foreign = {"Host": "elsewhere.example", "Accept": "text/html"}
    answer = app.test_client().open(path, method=method, headers=foreign)
    assert answer.status_code == 400


# ---- what every answer carries ------------------------------------------------------------------


@pytest.mark.parametrize(("https", "there"), [(True, True), (False, False)])
def test_over_https_browsers_are_told_to_stay_with_it(tmp_path, new_app, https, there):
    answer = new_app(tmp_path, HTTPS=https).test_client().get("/healthz")
    assert ("Strict-Transport-Security" in answer.headers) == there


@pytest.mark.parametrize("path", ["/shop/sign-out", "/shop/account/everywhere"])
def test_signing_out_clears_what_the_browser_holds_but_never_the_app(app, path):
    """`storage` would take the records that a phone keeps, which are of the same origin."""
    shop = a_shop(app)
    answer = shop.press(path, "/shop/account")
    assert answer.headers["Clear-Site-Data"] == '"cache"'


# ---- the data folder and the database -----------------------------------------------------------


@pytest.mark.slow
@pytest.mark.sqlite
def test_the_database_is_its_owners_whatever_the_folder_allows(tmp_path):
    data = tmp_path / "data"
    data.mkdir(mode=0o755)
    (data / "twentymile.sqlite3").touch(mode=0o644)
    app = create_app({"DATA": data})
    assert (
        app.test_client().post("/api/records", json=envelope(record()), headers=HEADERS).status_code
        == 200
    )
    modes = {path.name: oct(stat.S_IMODE(path.stat().st_mode)) for path in data.iterdir()}
    assert set(modes.values()) == {"0o600"}, modes


def command(module: str, **environment: str) -> subprocess.CompletedProcess[str]:
    """Run ``python -m module`` to its end, in an interpreter of its own: a traceback would show."""
    return subprocess.run(
        [sys.executable, "-m", module],
        cwd=ROOT,
        env=os.environ | environment,
        capture_output=True,
        text=True,
        timeout=60,
    )


def damage(path: Path) -> None:
    path.write_bytes(b"no database" * 500)


def make_newer(path: Path) -> None:
    with closing(sqlite3.connect(path)) as database:
        database.execute("UPDATE alembic_version SET version_num = '9999'")
        database.commit()


BROKEN = {
    "a damaged database": (damage, "is damaged or no database"),
    "a database of a newer release": (make_newer, "a newer release"),
}


@pytest.mark.long
@pytest.mark.sqlite
@pytest.mark.parametrize("case", BROKEN)
def test_a_database_that_cannot_be_used_ends_the_start_in_words(tmp_path, case):
    spoil, words = BROKEN[case]
    create_app({"DATA": tmp_path}).extensions["store"].engine.dispose()
    for path in tmp_path.glob("*-wal"):
        path.unlink()
    spoil(tmp_path / "twentymile.sqlite3")
    with pytest.raises(BadSetting, match=words):
        create_app({"DATA": tmp_path})
    for module in ("webapp", "webapp.commands.verify", "webapp.commands.mail"):
        done = command(module, TWENTYMILE_DATA=str(tmp_path), PORT="65001")
        assert done.returncode == 1
        assert words in done.stderr
        assert "Traceback" not in done.stderr


@pytest.mark.sqlite
@pytest.mark.skipif(os.geteuid() == 0, reason="nothing is read-only to root")
def test_a_read_only_database_ends_the_start_in_words(tmp_path):
    create_app({"DATA": tmp_path}).extensions["store"].engine.dispose()
    (tmp_path / "twentymile.sqlite3").chmod(0o400)
    with pytest.raises(BadSetting, match="written to"):
        create_app({"DATA": tmp_path})


@pytest.mark.sqlite
def test_a_backup_of_a_damaged_database_leaves_no_file(tmp_path):
    source, target = tmp_path / "twentymile.sqlite3", tmp_path / "copy.sqlite3"
    damage(source)
    with pytest.raises(ValueError, match="damaged"):
        back_up(f"sqlite:///{source}", target)
    assert not target.exists()


def test_a_photo_that_cannot_be_written_leaves_no_part(tmp_path, monkeypatch):
    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(photo_places.os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        photo_places.write_whole(tmp_path / "photos" / "ab" / "a.jpg", b"x")
    assert list(tmp_path.rglob("*.part")) == []


@pytest.mark.slow
def test_parts_left_by_a_power_cut_are_taken_away_at_the_next_start(tmp_path):
    create_app({"DATA": tmp_path})
    folder = tmp_path / "photos" / "ab"
    folder.mkdir(parents=True)
    for name, age in (("old.1.part", 7200), ("new.1.part", 0), ("kept.jpg", 7200)):
        (folder / name).touch()
        os.utime(folder / name, (time.time() - age,) * 2)
    create_app({"DATA": tmp_path})
    assert sorted(path.name for path in folder.iterdir()) == ["kept.jpg", "new.1.part"]
