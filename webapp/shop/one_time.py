"""One-time codes as a second proof of who signs in: by time (RFC 6238), from any app for them."""

from __future__ import annotations

import hmac
import secrets
from base64 import b32encode
from datetime import datetime, timedelta
from hashlib import sha256
from typing import Any

import pyotp
from flask import Blueprint, Response, flash, redirect, render_template, request, url_for
from flask import session as cookie
from flask.typing import ResponseReturnValue
from sqlalchemy import or_, select, update

from webapp import logs
from webapp.app_files.addresses import origin, qr_svg
from webapp.clock import now
from webapp.follow_up import rate_limit
from webapp.security import seeded_secret
from webapp.shop import accounts, session
from webapp.shop.forms import ButtonForm, CodeForm, OldPasswordForm, given
from webapp.storage.models import staff
from webapp.storage.store import store
from webapp.wording import say

blueprint = Blueprint("one_time", __name__, url_prefix="/shop")
STEP = 30  # seconds, as every app that makes codes takes for granted
HALF_WAY = timedelta(minutes=5)  # from the password to the code


def maker(seed: str) -> pyotp.TOTP:
    """What makes the codes: 160 bits (RFC 4226, section 4) from the seed and the server's key."""
    secret = sha256(seeded_secret("one_time", seed).encode()).digest()[:20]
    return pyotp.TOTP(b32encode(secret).decode(), interval=STEP)


def step_of(seed: str, code: str, moment: datetime) -> int | None:
    """The step of time whose code this is, of this one and those beside it; or None."""
    codes, here = maker(seed), int(moment.timestamp()) // STEP
    tidy = "".join(code.split()).encode(errors="surrogatepass")
    near = (here, here - 1, here + 1)
    fits = [one for one in near if hmac.compare_digest(codes.at(one * STEP).encode(), tidy)]
    return fits[0] if fits else None


def taken(staff_id: int, seed: str, code: str) -> bool:
    """Whether the code opens; each does so once (RFC 6238, section 5.2)."""
    step = step_of(seed, code, now())
    if step is None:
        return False
    unused = or_(staff.c.code_step.is_(None), staff.c.code_step < step)
    with store().writing() as connection:
        mine = update(staff).where(staff.c.id == staff_id, unused)
        return connection.execute(mine.values(code_step=step)).rowcount == 1


# ---- signing in ----------------------------------------------------------------------------------


def half_way() -> dict[str, Any] | None:
    """Whose password was right a short while ago."""
    half = cookie.get("half")
    if not isinstance(half, list) or abs(now().timestamp() - half[2]) > HALF_WAY.total_seconds():
        return None
    with store().reading() as connection:
        here = (staff.c.id == half[0], staff.c.epoch == half[1], staff.c.gone.is_(None))
        row = connection.execute(select(staff).where(*here)).first()
    return None if row is None else dict(row._mapping)


@blueprint.route("/sign-in/code", methods=["GET", "POST"])
def enter() -> ResponseReturnValue:
    row = half_way()
    if row is None or row["code_seed"] is None:
        return redirect(url_for(session.SIGN_IN))
    form = CodeForm()
    if form.validate_on_submit():
        until = rate_limit.count(store(), rate_limit.CODE, str(row["id"]))
        if until is None and taken(row["id"], row["code_seed"], given(form.code)):
            rate_limit.forgive(store(), rate_limit.CODE, str(row["id"]))
            return accounts.let_in(row)
        logs.security("shut_out" if until else "code_refused", staff=row["id"])
        form.code.errors = [accounts.wait_words(until) if until else say("shop-code-wrong")]
        return accounts.turned_away(form, 429 if until else 401)
    if request.method == "POST":
        return accounts.turned_away(form, 422)
    status = accounts.why_away(form)
    return render_template("shop/code.html", form=form), status


# ---- turning them on and off ---------------------------------------------------------------------


@blueprint.route("/account/codes", methods=["GET", "POST"])
def setting() -> ResponseReturnValue:
    """Codes begin with one that fits, so that nobody is shut out by a clock that is wrong."""
    me = session.me()
    if me["code_seed"] is not None:
        return render_template("shop/codes_on.html", form=OldPasswordForm(), button=ButtonForm())
    seed = new_seed()
    form = CodeForm()
    if form.validate_on_submit():
        step = step_of(seed, given(form.code), now())
        if step is None:
            flash(say("shop-code-wrong"))
            return redirect(url_for("one_time.setting"))
        keep(me["id"], seed, step)
        cookie.pop("code_seed", None)
        logs.security("codes_on", staff=me["id"])
        flash(say("shop-codes-on"))
        return redirect(url_for("accounts.account"))
    return render_template("shop/codes_off.html", form=form, secret=maker(seed).secret)


def new_seed() -> str:
    """That of this browser while codes are turned on; without the server's key it is nothing."""
    return str(cookie.setdefault("code_seed", secrets.token_hex(16)))


@blueprint.get("/account/codes/picture.svg")
def picture() -> ResponseReturnValue:
    if session.me()["code_seed"] is not None or "code_seed" not in cookie:
        # Once codes are on, nobody reads the secret again.
        return redirect(url_for("one_time.setting"))
    name = f"{session.me()['login']} ({session.me()['shop_name']})"
    address = maker(new_seed()).provisioning_uri(name=name, issuer_name=f"Twentymile {origin()}")
    return Response(qr_svg(address), mimetype="image/svg+xml")


@blueprint.post("/account/codes/off")
def off() -> ResponseReturnValue:
    form, me = OldPasswordForm(), session.me()
    if form.validate_on_submit():
        until = accounts.shut_out(me["login"])
        if until is None and accounts.proved(me["login"], given(form.old)):
            keep(me["id"], None, None)
            logs.security("codes_off", staff=me["id"])
            flash(say("shop-codes-off"))
            return redirect(url_for("accounts.account"))
        flash(accounts.wait_words(until) if until else say("shop-password-wrong"))
    return redirect(url_for("one_time.setting"))


def keep(staff_id: int, seed: str | None, step: int | None) -> None:
    with store().writing() as connection:
        mine = update(staff).where(staff.c.id == staff_id)
        connection.execute(mine.values(code_seed=seed, code_step=step))
