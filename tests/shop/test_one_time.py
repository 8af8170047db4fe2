"""One-time codes: what they are by RFC 6238, and that they open once, for their owner alone."""

from __future__ import annotations

import html
import re
from datetime import UTC, datetime

import pyotp
import pytest

from tests.support.shops import PASSWORD, TOKEN, dump, followed, sign_in
from webapp.clock import now
from webapp.commands import accounts
from webapp.shop import one_time
from webapp.shop.one_time import STEP, step_of
from webapp.storage.models import staff

# RFC 6238, appendix B, SHA-1: the times and codes of the table, of which the last six digits count.
RFC = [
    (59, "94287082"),
    (1111111109, "07081804"),
    (1111111111, "14050471"),
    (1234567890, "89005924"),
    (2000000000, "69279037"),
    (20000000000, "65353130"),
]


@pytest.mark.parametrize(("seconds", "code"), RFC)
def test_the_codes_are_those_of_the_rfc(monkeypatch, seconds, code):
    secret = "GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ"  # 12345678901234567890 in base 32
    monkeypatch.setattr(one_time, "maker", lambda _: pyotp.TOTP(secret, interval=STEP))
    moment = datetime.fromtimestamp(seconds, UTC)
    assert step_of("seed", code[2:], moment) == seconds // STEP


@pytest.mark.parametrize(
    ("off", "fits"), [(0, True), (-STEP, True), (STEP, True), (-2 * STEP, False), (2 * STEP, False)]
)
def test_a_code_of_the_step_before_or_after_fits_too(app, off, fits):
    with app.app_context():
        moment = datetime.fromtimestamp(1111111111, UTC)
        code = one_time.maker("seed").at(1111111111 + off)
        assert (step_of("seed", code, moment) is not None) is fits


@pytest.mark.parametrize("code", ["", "12345", "abcdef", "½½½½½½", "\ud800", "0000000"])
def test_what_is_no_code_fits_never(app, code):
    with app.app_context():
        assert step_of("seed", code, datetime.fromtimestamp(1111111111, UTC)) is None


@pytest.fixture(autouse=True)
def standing_clock(monkeypatch):
    """A code is of its half minute: none goes by between making one and sending it."""
    moment = now()
    monkeypatch.setattr(one_time, "now", lambda: moment)


# ---- on, in, off ------------------------------------------------------------------------------


def secret_on(page: str) -> str:
    return re.search(r"<code>(\w+)</code>", page)[1]


def code(secret: str, steps: int = 0) -> str:
    return pyotp.TOTP(secret).at(int(one_time.now().timestamp()) + steps * STEP)


@pytest.fixture
def secret(shop):
    """Codes are on; the code that turned them on was that of the step before."""
    found = secret_on(shop.client.get("/shop/account/codes").text)
    answer = shop.post("/shop/account/codes", {"code": code(found, -1)})
    assert answer.location == "/shop/account"
    return found


def password(app, client=None, word=PASSWORD):
    client = client or app.test_client()
    token = TOKEN.search(client.get("/shop/sign-in").text)[1]
    data = {"csrf_token": token, "login": "dana", "password": word}
    return client, followed(client, client.post("/shop/sign-in", data=data))


def second(client, given):
    token = TOKEN.search(client.get("/shop/sign-in/code").text)[1]
    sent = {"csrf_token": token, "code": given}
    return followed(client, client.post("/shop/sign-in/code", data=sent))


def is_in(client) -> bool:
    return client.get("/shop").status_code == 200


def test_the_password_alone_no_longer_opens(app, secret):
    client, answer = password(app)
    assert answer.location == "/shop/sign-in/code"
    assert not is_in(client)


@pytest.mark.slow
def test_password_and_code_open(app, secret):
    client, _ = password(app)
    assert second(client, code(secret)).location == "/shop"
    assert is_in(client)


def test_password_and_code_lead_back_to_the_page_that_asked_for_them(app, secret):
    client = app.test_client()
    client.get("/shop/jobs", headers={"Accept": "text/html"})
    password(app, client)
    assert second(client, code(secret)).location == "/shop/jobs"


def test_blanks_in_a_code_do_not_matter(app, secret):
    client, _ = password(app)
    digits = code(secret)
    assert second(client, f" {digits[:3]} {digits[3:]} ").location == "/shop"


def test_a_code_opens_once(app, secret):
    client, _ = password(app)
    used = code(secret)
    second(client, used)
    thief, _ = password(app)
    assert second(thief, used).status_code == 401
    assert not is_in(thief)


def test_the_code_that_turned_codes_on_opens_nothing(app, secret):
    client, _ = password(app)
    assert second(client, code(secret, -1)).status_code == 401


@pytest.mark.slow
def test_a_wrong_password_asks_for_no_code(app, secret):
    client, answer = password(app, word="what might it be")
    assert answer.status_code == 401
    assert client.get("/shop/sign-in/code").location == "/shop/sign-in"


@pytest.mark.slow
def test_guessing_codes_is_shut_out(app, secret):
    client, _ = password(app)
    statuses = [second(client, "000000").status_code for _ in range(6)]
    assert statuses == [401] * 5 + [429]
    assert second(client, code(secret)).status_code == 429


def test_after_five_minutes_the_password_is_asked_again(app, secret, monkeypatch):
    client, _ = password(app)
    later = now() + one_time.HALF_WAY * 1.1
    monkeypatch.setattr(one_time, "now", lambda: later)
    assert client.get("/shop/sign-in/code").location == "/shop/sign-in"


@pytest.mark.slow
def test_a_new_password_ends_what_was_half_way(app, shop, secret):
    client, _ = password(app)
    new = "torque wrench in the drawer"
    shop.post("/shop/account", {"old": PASSWORD, "new": new, "again": new})
    assert client.get("/shop/sign-in/code").location == "/shop/sign-in"


@pytest.mark.parametrize("given", ["", "000000", "abc"])
def test_codes_are_not_turned_on_by_a_wrong_one(app, shop, given):
    shop.client.get("/shop/account/codes")
    shop.post("/shop/account/codes", {"code": given})
    sign_in(app, "dana")


def test_the_picture_holds_what_an_app_reads_and_is_gone_once_codes_are_on(shop):
    shop.client.get("/shop/account/codes")
    answer = shop.client.get("/shop/account/codes/picture.svg")
    assert (answer.mimetype, answer.headers["Cache-Control"]) == ("image/svg+xml", "no-store")
    found = secret_on(shop.client.get("/shop/account/codes").text)
    shop.post("/shop/account/codes", {"code": code(found)})
    assert shop.client.get("/shop/account/codes/picture.svg").status_code == 302
    assert found not in shop.client.get("/shop/account/codes").text


def test_the_database_holds_no_secret(app, secret):
    assert secret not in dump(app)


@pytest.mark.parametrize(("word", "still"), [(PASSWORD, False), ("what might it be", True)])
def test_codes_are_turned_off_by_the_password_alone(app, shop, secret, word, still):
    shop.post("/shop/account/codes/off", {"old": word}, page="/shop/account/codes")
    _, answer = password(app)
    assert (answer.location == "/shop/sign-in/code") is still


def test_the_operator_turns_codes_off(app, secret):
    accounts.codes_off(app.extensions["store"], "dana")
    sign_in(app, "dana")
    with pytest.raises(accounts.Refused):
        accounts.codes_off(app.extensions["store"], "nobody")


def test_a_colleagues_codes_are_their_own(app, shop, secret):
    shop.post(
        "/shop/staff", {"login": "ines", "name": "Ines", "new": "torque wrench in the drawer"}
    )
    sign_in(app, "ines", "torque wrench in the drawer")
    with app.extensions["store"].reading() as connection:
        rows = connection.execute(staff.select().order_by(staff.c.id)).all()
    assert [row.code_seed is None for row in rows] == [False, True]
    assert html.unescape(shop.client.get("/shop/account").text).count("Turn codes off") == 1
