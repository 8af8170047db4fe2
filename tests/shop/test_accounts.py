"""Who gets in, who stays in, and what a guesser meets."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from dataclasses import replace
from datetime import timedelta

import pytest
from flask import Flask
from sqlalchemy import select, update

from tests.support.command import run
from tests.support.effort import few
from tests.support.serve import ROOT
from tests.support.shops import (
    PASSWORD,
    TOKEN,
    a_shop,
    add_shop,
    dump,
    followed,
    sign_in,
    staff_row,
)
from webapp import create_app
from webapp.clock import now
from webapp.commands import accounts
from webapp.follow_up import rate_limit
from webapp.shop.session import browser_name
from webapp.storage.models import sessions, shops, tries

NEW = "torque wrench in the drawer"
HTTPS = {"base_url": "https://shop.example.org"}


@pytest.fixture
def https(tmp_path, new_app) -> Flask:
    """The application as it runs behind a proxy that holds a certificate."""
    found = new_app(tmp_path / "https", HTTPS=True)
    add_shop(found, "Pell Street Garage", "dana")
    return found


def try_in(app: Flask, login: str, password: str, address: str = "192.0.2.1") -> int:
    client, where = app.test_client(), {"environ_base": {"REMOTE_ADDR": address}}
    token = TOKEN.search(client.get("/shop/sign-in", **where).text)[1]
    data = {"csrf_token": token, "login": login, "password": password}
    answer = client.post("/shop/sign-in", data=data, **where)
    return followed(client, answer, **where).status_code


# ---- signing in -------------------------------------------------------------------------------


@pytest.mark.parametrize("word", ["", "what might it be"], ids=["none", "wrong"])
def test_a_refused_sign_in_is_read_again_without_sending_the_password(app, shop, word):
    client = app.test_client()
    token = TOKEN.search(client.get("/shop/sign-in").text)[1]
    data = {"csrf_token": token, "login": "dana", "password": word}
    answer = client.post("/shop/sign-in", data=data)
    assert (answer.status_code, answer.location) == (303, "/shop/sign-in")
    page = client.get(answer.location)
    assert page.status_code in (401, 422)
    assert 'value="dana"' in page.text
    assert 'class="wrong"' in page.text
    assert client.get(answer.location).status_code == 200, "told once"


# What was asked for while nobody was signed in, and where signing in then leads.
WANTED: dict[str, tuple[str, str, str, str]] = {
    "a page": ("GET", "/shop/jobs/new?trailer=1", "text/html", "/shop/jobs/new?trailer=1"),
    "a form that was sent": ("POST", "/shop/trailers/1/edit", "text/html", "/shop/trailers/1/edit"),
    "a button alone": ("POST", "/shop/due/1/drop", "text/html", "/shop"),
    "a picture": ("GET", "/shop/links/1/qr.svg", "text/html", "/shop"),
    "what a script asks": ("GET", "/shop/find/customers", "*/*", "/shop"),
    "nothing there": ("GET", "/shop/nothing", "text/html", "/shop"),
    "an address without end": ("GET", "/shop/find?q=" + "x" * 300, "text/html", "/shop"),
    "another site": ("GET", "//evil.example/shop", "text/html", "/shop"),
}


@pytest.mark.parametrize("case", WANTED)
def test_signing_in_leads_back_to_the_page_that_asked_for_it(app, shop, case):
    method, path, accept, then = WANTED[case]
    client = app.test_client()
    token = TOKEN.search(client.get("/shop/sign-in").text)[1]
    headers, asked = {"Accept": accept}, {"csrf_token": token}
    client.open(path, method=method, headers=headers, data=asked if method == "POST" else None)
    data = {"csrf_token": token, "login": "dana", "password": PASSWORD}
    assert client.post("/shop/sign-in", data=data).location == then


def test_who_signs_out_is_led_to_the_inbox_by_whoever_signs_in_next(app, shop):
    client = app.test_client()
    client.get("/shop/jobs", headers={"Accept": "text/html"})
    token = TOKEN.search(client.get("/shop/sign-in").text)[1]
    data = {"csrf_token": token, "login": "dana", "password": PASSWORD}
    assert client.post("/shop/sign-in", data=data).location == "/shop/jobs"
    out = TOKEN.search(client.get("/shop/account").text)[1]
    assert client.post("/shop/sign-out", data={"csrf_token": out}).status_code == 302
    data |= {"csrf_token": TOKEN.search(client.get("/shop/sign-in").text)[1]}
    assert client.post("/shop/sign-in", data=data).location == "/shop"


ENTRIES = {
    "login and password": ("dana", PASSWORD, 302),
    "login in capitals, with a blank": (" Dana ", PASSWORD, 302),
    "another password": ("dana", PASSWORD + "s", 401),
    "password in capitals": ("dana", PASSWORD.upper(), 401),
    "unknown login": ("ben", PASSWORD, 401),
    "no password": ("dana", "", 422),
    "no login": ("", PASSWORD, 422),
    "a password without end": ("dana", "x" * 5000, 422),
}


@pytest.mark.slow
@pytest.mark.parametrize("case", ENTRIES)
def test_only_login_and_password_together_get_in(app, case):
    add_shop(app, "Pell Street Garage", "dana")
    login, password, status = ENTRIES[case]
    assert try_in(app, login, password) == status


@pytest.mark.slow
def test_a_form_goes_through_when_another_page_answers_after_it(app: Flask, shop: object) -> None:
    client = app.test_client()
    token = TOKEN.search(client.get("/shop/sign-in").text)[1]
    client.post("/shop/sign-in", data={"csrf_token": token, "login": "dana", "password": PASSWORD})
    before = client.get_cookie("twentymile").value
    token = TOKEN.search(client.get("/shop/jobs/new").text)[1]
    # asked for at the same moment as the form's page, so with the cookie from before it
    client.set_cookie("twentymile", before)
    client.get("/shop/jobs")
    fields = {
        "csrf_token": token,
        "trailer_name": "Blue tilt bed",
        "fact:axles": "1",
        "finish": "1",
    }
    assert client.post("/shop/jobs/new", data=fields).status_code != 400


def test_the_password_is_kept_as_a_scrypt_hash(app, shop):
    assert staff_row(app, "dana").password_hash.startswith("scrypt:")
    assert PASSWORD not in repr(dump(app))


def test_the_session_cookie_is_closed_to_scripts_and_other_sites(app):
    add_shop(app, "Pell Street Garage", "dana")
    client = app.test_client()
    token = TOKEN.search(client.get("/shop/sign-in").text)[1]
    data = {"csrf_token": token, "login": "dana", "password": PASSWORD}
    cookies = client.post("/shop/sign-in", data=data).headers.getlist("Set-Cookie")
    assert {cookie.split("=")[0] for cookie in cookies} == {"twentymile", "twentymile-known"}
    for cookie in cookies:
        for part in ("HttpOnly", "SameSite=Lax", "Path=/", "Expires="):
            assert part in cookie


def test_over_https_the_cookie_is_bound_to_this_host(https):
    client = https.test_client()
    token = TOKEN.search(client.get("/shop/sign-in", **HTTPS).text)[1]
    data = {"csrf_token": token, "login": "dana", "password": PASSWORD}
    sent = {"data": data, "headers": {"Referer": "https://shop.example.org/shop/sign-in"}}
    answer = client.post("/shop/sign-in", **sent, **HTTPS)
    assert answer.status_code == 302
    cookies = answer.headers.getlist("Set-Cookie")
    names = {cookie.split("=")[0] for cookie in cookies}
    assert names == {"__Host-twentymile", "__Host-twentymile-known"}
    for cookie in cookies:
        assert "Secure" in cookie
        assert "Domain" not in cookie


# ---- forms from elsewhere ---------------------------------------------------------------------

REFERERS = {
    "from its own page": ("https://shop.example.org/shop/sign-in", True, 302),
    "from another site": ("https://evil.example/shop/sign-in", True, 400),
    "from a name that begins alike": ("https://shop.example.org.evil.example/", True, 400),
    "from the same host without TLS": ("http://shop.example.org/shop/sign-in", True, 400),
    "from nowhere": ("", True, 400),
    "without its token": ("https://shop.example.org/shop/sign-in", False, 400),
}


@pytest.mark.parametrize("case", REFERERS)
def test_over_https_a_form_is_taken_from_its_own_page_only(https, case):
    referer, with_token, status = REFERERS[case]
    client = https.test_client()
    token = TOKEN.search(client.get("/shop/sign-in", **HTTPS).text)[1]
    data = {"login": "dana", "password": PASSWORD} | ({"csrf_token": token} if with_token else {})
    headers = {"Referer": referer} if referer else {}
    assert client.post("/shop/sign-in", data=data, headers=headers, **HTTPS).status_code == status


def test_a_browser_is_told_to_send_where_its_forms_come_from(https):
    page = https.test_client().get("/shop/sign-in", **HTTPS)
    assert page.headers["Referrer-Policy"] == "same-origin"


# ---- guessing ---------------------------------------------------------------------------------


def test_guessing_one_login_is_shut_out_where_it_comes_from_and_its_owner_is_not(app):
    add_shop(app, "Pell Street Garage", "dana")
    tried = [try_in(app, "dana", "wrong guess") for n in range(8)]
    assert tried == [401] * 5 + [429] * 3
    assert try_in(app, "dana", PASSWORD) == 429, "the right one tells nothing"
    assert try_in(app, "dana", PASSWORD, "198.51.100.1") == 302


@pytest.mark.slow
def test_guessing_one_login_from_many_places_does_not_shut_out_a_browser_that_is_known(
    app, monkeypatch
):
    monkeypatch.setattr(rate_limit, "ANYWHERE", replace(rate_limit.ANYWHERE, free=6))
    add_shop(app, "Pell Street Garage", "dana")
    known = sign_in(app, "dana")
    known.delete_cookie("twentymile")
    tried = [try_in(app, "dana", "wrong guess", f"192.0.2.{n}") for n in range(9)]
    assert tried == [401] * 6 + [429] * 3
    assert try_in(app, "dana", PASSWORD, "198.51.100.1") == 429
    token = TOKEN.search(known.get("/shop/sign-in").text)[1]
    data = {"csrf_token": token, "login": "dana", "password": PASSWORD}
    assert known.post("/shop/sign-in", data=data).status_code == 302


@pytest.mark.parametrize("years", [-20, 20])
def test_nobody_is_shut_out_for_longer_than_an_hour_when_the_clock_was_wrong(app, years):
    add_shop(app, "Pell Street Garage", "dana")
    for _ in range(6):
        try_in(app, "dana", "wrong guess")
    there = now() + timedelta(days=365 * years)
    with app.extensions["store"].writing() as connection:
        connection.execute(update(tries).values(since=there, until=there + timedelta(minutes=1)))
    assert try_in(app, "dana", PASSWORD) == 302


def test_guessing_unknown_logins_looks_the_same(app):
    assert [try_in(app, "nobody", "wrong guess") for _ in range(7)] == [401] * 5 + [429] * 2


@pytest.mark.slow
def test_guessing_many_logins_is_shut_out_by_address(app):
    add_shop(app, "Pell Street Garage", "dana")
    tried = [try_in(app, f"login {n}", "wrong guess") for n in range(22)]
    assert tried == [401] * 20 + [429] * 2
    assert try_in(app, "dana", PASSWORD) == 429
    assert try_in(app, "dana", PASSWORD, "198.51.100.1") == 302


def test_an_address_of_ipv6_counts_with_its_network(app):
    tried = [try_in(app, f"login {n}", "wrong", f"2001:db8::{n:x}") for n in range(21)]
    assert tried[-1] == 429
    assert try_in(app, "login", "wrong", "2001:db8:0:1::1") == 401


def test_being_shut_out_ends_and_then_lasts_longer(app):
    add_shop(app, "Pell Street Garage", "dana")
    store, waits = app.extensions["store"], []
    for _ in range(5):
        try_in(app, "dana", "wrong guess")
    for _ in range(8):
        with store.writing() as connection:
            row = connection.execute(select(tries).where(tries.c.what == "login")).one()
            waits.append(round((row.until - row.since) / timedelta(minutes=1)))
            connection.execute(update(tries).values(until=now()))
        assert try_in(app, "dana", "wrong guess") == 401
    assert waits == [1, 2, 4, 8, 16, 32, 60, 60]
    with store.writing() as connection:
        connection.execute(update(tries).values(until=now()))
    assert try_in(app, "dana", PASSWORD) == 302
    here = rate_limit.from_here("dana", "127.0.0.1")
    assert rate_limit.closed_until(store, rate_limit.LOGIN, here) is None


@pytest.mark.slow
def test_signing_in_often_is_no_guessing(app):
    add_shop(app, "Pell Street Garage", "dana")
    assert {try_in(app, "dana", PASSWORD) for _ in range(25)} == {302}


def test_what_is_tried_is_counted_for_all_processes(app):
    add_shop(app, "Pell Street Garage", "dana")
    other = create_app({"DATA": app.config["DATA"]})
    tried = [try_in(one, "dana", "wrong guess") for one in (app, other) * 4]
    assert tried == [401] * 5 + [429] * 3


# ---- how a session ends -----------------------------------------------------------------------


def signed_in(client) -> bool:
    return client.get("/shop/jobs").status_code == 200


def test_a_changed_password_ends_every_other_session(app, shop):
    phone = sign_in(app, "dana")
    answer = shop.post("/shop/account", {"old": PASSWORD, "new": NEW, "again": NEW})
    assert answer.status_code == 302
    assert (signed_in(shop.client), signed_in(phone)) == (True, False)
    assert (try_in(app, "dana", PASSWORD), try_in(app, "dana", NEW)) == (401, 302)


def test_signing_out_everywhere_ends_every_session(app, shop):
    phone = sign_in(app, "dana")
    shop.press("/shop/account/everywhere", "/shop/account")
    assert (signed_in(shop.client), signed_in(phone)) == (False, False)


def test_signing_out_ends_this_session_only(app, shop):
    phone = sign_in(app, "dana")
    shop.press("/shop/sign-out", "/shop/account")
    assert (signed_in(shop.client), signed_in(phone)) == (False, True)


def copy_of(app, client):
    """Another browser with the same cookie, as whoever copied it would have."""
    thief = app.test_client()
    thief.set_cookie("twentymile", client.get_cookie("twentymile").value)
    return thief


def test_a_copied_cookie_opens_nothing_once_its_owner_has_signed_out(app, shop):
    thief = copy_of(app, shop.client)
    assert signed_in(thief)
    shop.press("/shop/sign-out", "/shop/account")
    assert not signed_in(thief)


@pytest.mark.slow
def test_signing_in_again_ends_what_this_browser_had(app, shop):
    thief = copy_of(app, shop.client)
    shop.post("/shop/account", {"old": PASSWORD, "new": NEW, "again": NEW})
    assert (signed_in(shop.client), signed_in(thief)) == (True, False)


AGES = {
    "just begun": (0, 0, True),
    "used every day for 89 days": (89, 0, True),
    "used every day for 90 days": (90, 0, False),
    "unused for 29 days": (29, 29, True),
    "unused for 30 days": (30, 30, False),
    "begun by a clock 23 h ahead": (-0.95, -0.95, True),
    "begun by a clock a year ahead": (-365, -365, False),
}


@pytest.mark.parametrize("case", AGES)
def test_a_session_ends_however_much_it_is_used(app, shop, case):
    made, seen, stays = AGES[case]
    with app.extensions["store"].writing() as connection:
        ages = {"made": now() - timedelta(days=made), "seen": now() - timedelta(days=seen)}
        connection.execute(update(sessions).values(**ages))
    assert signed_in(shop.client) is stays


def test_use_is_noted_twice_a_day_at_most(app, shop):
    store, hour = app.extensions["store"], timedelta(hours=1)
    for ago, noted in ((11 * hour, False), (13 * hour, True)):
        then = now() - ago
        with store.writing() as connection:
            connection.execute(update(sessions).values(seen=then))
        shop.client.get("/shop/jobs")
        with store.reading() as connection:
            assert (connection.execute(select(sessions.c.seen)).scalar_one() > then) is noted


def test_a_person_sees_where_they_are_signed_in_and_ends_one(app, shop):
    agent = "Mozilla/5.0 (Android 15; Mobile; rv:140.0) Gecko/140.0 Firefox/140.0"
    phone = sign_in(app, "dana", headers={"User-Agent": agent})
    page = shop.client.get("/shop/account").text
    assert "Firefox, Android" in page
    [number] = re.findall(r"/shop/account/sessions/(\d+)/end", page)
    shop.press(f"/shop/account/sessions/{number}/end", "/shop/account")
    assert (signed_in(shop.client), signed_in(phone)) == (True, False)
    gone = shop.press(f"/shop/account/sessions/{number}/end", "/shop/account")
    assert gone.status_code == 404


def test_nobody_ends_the_session_of_somebody_else(app, shop):
    shop.post("/shop/staff", {"name": "Ben Ruiz", "login": "ben", "new": NEW})
    ben = sign_in(app, "ben", NEW)
    token = TOKEN.search(ben.get("/shop/account").text)[1]
    sent = {"csrf_token": token}
    for number in ("1", "0", "999", str(2**63)):
        path = f"/shop/account/sessions/{number}/end"
        assert ben.post(path, data=sent).status_code == 404, number
    assert signed_in(shop.client)


AGENTS = {
    "": "",
    "curl/8.5.0": "",
    "Mozilla/5.0 (iPhone; CPU iPhone OS 18_5 like Mac OS X) AppleWebKit/605.1.15 "
    "(KHTML, like Gecko) Version/18.5 Mobile/15E148 Safari/604.1": "Safari, iPhone",
    "Mozilla/5.0 (Linux; Android 10; K) AppleWebKit/537.36 (KHTML, like Gecko) "
    "Chrome/138.0.0.0 Mobile Safari/537.36": "Chrome, Android",
    "Mozilla/5.0 (Windows NT 10.0; Win64; x64) AppleWebKit/537.36 (KHTML, like Gecko) "
    "Chrome/138.0.0.0 Safari/537.36 Edg/138.0.0.0": "Edge, Windows",
    "<script>alert(1)</script>" * 999: "",
}


@pytest.mark.parametrize(("agent", "name"), AGENTS.items())
def test_a_browser_is_named_as_its_owner_knows_it(agent, name):
    assert browser_name(agent) == name


BAD_PASSWORDS = {
    "the old one is wrong": ({"old": "not the old one", "new": NEW, "again": NEW}, "you use now"),
    "the new ones differ": ({"old": PASSWORD, "new": NEW, "again": NEW + "s"}, "differ"),
    "nine characters": ({"old": PASSWORD, "new": "x" * 9, "again": "x" * 9}, "10 characters"),
    "without end": ({"old": PASSWORD, "new": "x" * 201, "again": "x" * 201}, "10 characters"),
    "a common one": ({"old": PASSWORD, "new": "qwertyuiop", "again": "qwertyuiop"}, "soon guessed"),
}


@pytest.mark.parametrize("case", BAD_PASSWORDS)
def test_a_password_that_cannot_be_changed_stays(app, shop, case):
    sent, words = BAD_PASSWORDS[case]
    assert words in shop.post("/shop/account", sent).text
    assert try_in(app, "dana", PASSWORD) == 302


def test_guessing_the_old_password_is_shut_out_too(app, shop):
    sent = {"old": "wrong guess", "new": NEW, "again": NEW}
    statuses = [shop.post("/shop/account", sent).status_code for _ in range(6)]
    assert statuses == [422] * 5 + [429]


# ---- staff ------------------------------------------------------------------------------------


def test_staff_come_and_go(app, shop):
    shop.post("/shop/staff", {"name": "Ben Ruiz", "login": "Ben", "new": NEW})
    ben = sign_in(app, "ben", NEW)
    assert signed_in(ben)
    shop.press(f"/shop/staff/{staff_row(app, 'ben').id}/remove", "/shop/staff")
    assert not signed_in(ben)
    assert try_in(app, "ben", NEW) == 401
    assert "Remove Ben Ruiz" not in shop.client.get("/shop/staff").text
    shop.post("/shop/staff", {"name": "Ben Ruiz", "login": "ben", "new": NEW})
    assert try_in(app, "ben", NEW) == 302, "somebody who left can come back"


def test_nobody_removes_themselves_or_the_staff_of_others(app, shop):
    a_shop(app, "Alder Fork Tool Library", "ines")
    mine, theirs = staff_row(app, "dana").id, staff_row(app, "ines").id
    assert shop.press(f"/shop/staff/{mine}/remove", "/shop/staff").status_code == 400
    assert shop.press(f"/shop/staff/{theirs}/remove", "/shop/staff").status_code == 404
    assert signed_in(shop.client)


def test_a_login_belongs_to_one_person_of_all_shops(app, shop):
    a_shop(app, "Alder Fork Tool Library", "ines")
    answer = shop.post("/shop/staff", {"name": "Ines", "login": "INES", "new": NEW})
    assert "This login is taken" in answer.text


# ---- the command ------------------------------------------------------------------------------


def command(data, *arguments: str, given: str = PASSWORD + "\n"):
    return subprocess.run(
        [sys.executable, "-m", "webapp.commands.accounts", *arguments],
        cwd=ROOT,
        env=os.environ | {"TWENTYMILE_DATA": str(data)},
        input=given,
        capture_output=True,
        text=True,
        timeout=60,
    )


@pytest.mark.long
def test_the_first_account_is_made_from_the_command_line(tmp_path):
    first = ("add", " Pell  Street Garage", "--login", "Dana", "--phone", "555 0199")
    done = command(tmp_path, *first)
    assert done.stdout == "Pell Street Garage is added. Sign in as dana at /shop\n", done.stderr
    app = create_app({"DATA": tmp_path})
    assert try_in(app, "dana", PASSWORD) == 302
    with app.extensions["store"].reading() as connection:
        assert connection.execute(select(shops.c.phone)).scalar_one() == "555 0199"
    client = sign_in(app, "dana")
    done = command(tmp_path, "password", "--login", "dana", given=NEW)
    assert done.returncode == 0, done.stderr
    assert not signed_in(client)
    assert try_in(app, "dana", NEW) == 302


REFUSED = {
    "the same shop": (("add", "Pell Street Garage", "--login", "b"), PASSWORD, "is here already"),
    "a taken login": (("add", "Another", "--login", "DANA"), PASSWORD, "dana is taken"),
    "a short password": (("add", "Another", "--login", "b"), "short", "10 to 200"),
    "no password": (("add", "Another", "--login", "b"), "", "10 to 200"),
    "a common password": (("add", "Another", "--login", "b"), "password1234", "soon guessed"),
    "the shop's own name": (("add", "Hollow Oak", "--login", "b"), "hollow oak", "soon guessed"),
    "a nameless shop": (("add", " ", "--login", "b"), PASSWORD, "a name"),
    "a long name": (("add", "x" * 81, "--login", "b"), PASSWORD, "80 characters"),
    "an unknown login": (("password", "--login", "b"), PASSWORD, "no login b"),
}


@pytest.mark.slow
@pytest.mark.parametrize("case", few(REFUSED, 3))
def test_the_command_says_what_is_in_its_way(tmp_path, case):
    arguments, password, words = REFUSED[case]
    app = create_app({"DATA": tmp_path})
    add_shop(app, "Pell Street Garage", "dana")
    before = dump(app)
    done = run(accounts.main, *arguments, given=password, TWENTYMILE_DATA=str(tmp_path))
    assert done.returncode == 1
    assert done.stderr.startswith("Nothing was changed. ")
    assert words in done.stderr
    assert dump(app) == before
