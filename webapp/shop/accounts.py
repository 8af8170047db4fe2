"""Signing in and out, passwords, and who belongs to the shop."""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from datetime import datetime, timedelta
from functools import cache
from typing import Any, TypedDict

from flask import (
    Blueprint,
    abort,
    current_app,
    flash,
    make_response,
    redirect,
    render_template,
    request,
    url_for,
)
from flask import session as cookie
from flask.typing import ResponseReturnValue
from sqlalchemy import Connection, func, select, update
from sqlalchemy.exc import IntegrityError
from werkzeug.security import check_password_hash, generate_password_hash

from webapp import logs
from webapp.clock import now
from webapp.follow_up import rate_limit
from webapp.security import sender
from webapp.shop import meanwhile, session, times, undoing
from webapp.shop.forms import (
    ButtonForm,
    Form,
    PasswordForm,
    ShopForm,
    SignInForm,
    StaffForm,
    given,
    sent_number,
)
from webapp.storage import audit, stamps
from webapp.storage.models import shops, staff
from webapp.storage.store import store
from webapp.wording import say, speak

blueprint = Blueprint("accounts", __name__, url_prefix="/shop")
HOME = "/shop"
SET = ("name", "phone", "email", "place", "zone", "units", "language", "mail_mend", "mail_overdue")
BACKUP_LATE = timedelta(days=7)  # common practice, no source


def hashed(password: str) -> str:
    return generate_password_hash(password, method="scrypt")


@cache
def nobody() -> str:
    """A hash to compare with where the login is unknown, so that both cases take as long."""
    return hashed(secrets.token_urlsafe())


def plain_login(text: str) -> str:
    return text.strip().casefold()


@blueprint.route("/sign-in", methods=["GET", "POST"])
def sign_in() -> ResponseReturnValue:
    if session.current() is not None:
        return redirect(HOME)
    form = SignInForm()
    if form.validate_on_submit():
        login = plain_login(given(form.login))
        until = shut_out(login)
        row = None if until else proved(login, given(form.password))
        if row is not None:
            return let_in(row) if row["code_seed"] is None else second_step(row)
        logs.security("shut_out" if until else "sign_in_refused", login=logs.masked(login))
        form.password.errors = [wait_words(until) if until else say("shop-sign-in-wrong")]
        return turned_away(form, 429 if until else 401)
    if request.method == "POST":
        return turned_away(form, 422)
    status = why_away(form)
    return render_template("shop/sign_in.html", form=form), status


def turned_away(form: Form, status: int) -> ResponseReturnValue:
    """A refusal stands at an address that can be read again: *Reload* and *Back* send no password.

    Nobody is signed in who could have it kept for them, so it waits in their own cookie.
    """
    errors = {field.name: str(field.errors[0]) for field in form if field.errors}
    login = given(form.login)[:80] if "login" in form else ""
    cookie["away"] = {"path": request.path, "status": status, "errors": errors, "login": login}
    return redirect(request.path, 303)


def why_away(form: Form) -> int:
    """Put what was refused into the form, once; the status of the page."""
    away = cookie.get("away")
    if request.method != "GET" or not away or away["path"] != request.path:
        return 200
    del cookie["away"]
    for name, text in away["errors"].items():
        if name in form:
            form[name].errors = [text]
    if "login" in form:
        form.login.data = away["login"]
    return int(away["status"])


def second_step(row: dict[str, Any]) -> ResponseReturnValue:
    """The password was right: now the code, for which there is a short while."""
    where = session.wanted(HOME)
    session.end()
    cookie[session.WANTED] = where
    cookie["half"] = [row["id"], row["epoch"], now().timestamp()]
    return redirect(url_for(session.SECOND_STEP))


def let_in(row: dict[str, Any]) -> ResponseReturnValue:
    """Whose password, and code where they use some, was right."""
    where = session.wanted(HOME)
    session.begin(row)
    logs.security("signed_in", staff=row["id"])
    return session.with_known(redirect(where), row["login"])


def shut_out(login: str) -> datetime | None:
    """Count a try to get in; until when it may not be made, or None."""
    here = rate_limit.from_here(login, sender())
    until = rate_limit.count(store(), rate_limit.ADDRESS, sender()) or rate_limit.count(
        store(), rate_limit.LOGIN, here
    )
    if until is None and not session.is_known(login):
        until = rate_limit.count(store(), rate_limit.ANYWHERE, login)
    return until


def wait_words(until: datetime) -> str:
    minutes = max(1, round((until - now()).total_seconds() / 60))
    return say("shop-sign-in-wait", minutes=minutes)


def proved(login: str, password: str) -> dict[str, Any] | None:
    """The staff member whose login and password these are, or None."""
    with store().reading() as connection:
        row = connection.execute(
            select(staff).where(staff.c.login == login, staff.c.gone.is_(None))
        ).first()
    fits = check_password_hash(nobody() if row is None else row.password_hash, password)
    if row is None or not fits:
        return None
    rate_limit.forgive(store(), rate_limit.LOGIN, rate_limit.from_here(login, sender()))
    rate_limit.take_back(store(), rate_limit.ANYWHERE, login)
    rate_limit.take_back(store(), rate_limit.ADDRESS, sender())
    return dict(row._mapping)


@blueprint.post("/sign-out")
def sign_out() -> ResponseReturnValue:
    logs.security("signed_out", staff=session.me()["id"])
    session.end()
    return signed_out()


def signed_out() -> ResponseReturnValue:
    """The shop's pages leave the browser. Not ``storage`` with them: what a phone keeps of its own
    checks is of the same origin."""
    response = make_response(redirect(url_for(session.SIGN_IN)))
    response.headers["Clear-Site-Data"] = '"cache"'
    return response


@blueprint.route("/account", methods=["GET", "POST"])
def account() -> ResponseReturnValue:
    form, me, status = PasswordForm(), session.me(), 200
    if form.validate_on_submit():
        until = shut_out(me["login"])
        if until is None and proved(me["login"], given(form.old)):
            change_password(me["id"], given(form.new))
            logs.security("password_changed", staff=me["id"])
            flash(say("shop-password-changed"))
            return redirect(url_for("accounts.account"))
        status = 429 if until else 422
        form.old.errors = [wait_words(until) if until else say("shop-password-wrong")]
    elif form.errors:
        status = 422
    rows = session.of_staff(me["id"])
    page = {"form": form, "button": ButtonForm(), "rows": rows, "here": session.me()["session_id"]}
    return render_template("shop/account.html", **page), status


def change_password(staff_id: int, password: str) -> None:
    with store().writing() as connection:
        set_password(connection, staff_id, password)
        row = connection.execute(select(staff).where(staff.c.id == staff_id)).one()
    session.begin(dict(row._mapping))


def set_password(connection: Connection, staff_id: int, password: str) -> None:
    """Every session of the staff member ends with the old password."""
    mine = update(staff).where(staff.c.id == staff_id)
    connection.execute(mine.values(password_hash=hashed(password)))
    session.end_all(connection, staff_id)


@blueprint.post("/account/everywhere")
def sign_out_everywhere() -> ResponseReturnValue:
    with store().writing() as connection:
        session.end_all(connection, session.me()["id"])
    logs.security("signed_out_everywhere", staff=session.me()["id"])
    session.end()
    flash(say("shop-signed-out"))
    return signed_out()


@blueprint.post("/account/sessions/<int:session_id>/end")
def end_session(session_id: int) -> ResponseReturnValue:
    """End one session, such as that of a lost phone."""
    me = session.me()
    session.end_one(me["id"], session_id)
    logs.security("session_ended", staff=me["id"])
    if session_id == me["session_id"]:
        session.end()
        return signed_out()
    flash(say("shop-session-ended"))
    return redirect(url_for("accounts.account"))


@blueprint.route("/details", methods=["GET", "POST"])
def details() -> ResponseReturnValue:
    """What customers see of the shop, and what it sets for itself."""
    me = session.me()
    with store().reading() as connection:
        row = connection.execute(select(shops).where(shops.c.id == me["shop_id"])).one()
    form, clash = ShopForm(data=dict(row._mapping)), None
    if form.validate_on_submit():
        try:
            speak(keep_details(form)["language"])
        except meanwhile.Clash as other:
            clash = other
            form.process(data=clash.both)
        else:
            flash(say("shop-saved"))
            return redirect(url_for("accounts.details", stored=sent_number() or None))
    with store().reading() as connection:
        deeds = audit.of(connection, me["shop_id"], "shop", me["shop_id"])
    parts = {"form": form, "mails": bool(current_app.config["SMTP_URL"]), "deeds": deeds}
    parts |= meanwhile.shown(clash, deeds, details_of(row._mapping))
    page = render_template("shop/details.html", **parts, **backup())
    return page, 409 if clash else 422 if form.errors else 200


def details_of(row: Mapping[Any, Any]) -> dict[str, Any]:
    return {name: row[name] for name in SET}


def keep_details(form: ShopForm) -> dict[str, Any]:
    """Store what was changed on the form; what is stored then. Raises ``meanwhile.Clash``."""
    me = session.me()
    with store().writing() as connection:
        before = details_of(meanwhile.held(connection, shops, me["shop_id"]))
        values = meanwhile.settled(before, {name: form[name].data for name in SET}, form)
        if values != before:
            here = update(shops).where(shops.c.id == me["shop_id"])
            connection.execute(here.values(**values))
            audit.write(connection, me, "shop", me["shop_id"], "changed", before, values)
    return values


class Backup(TypedDict):
    """When a backup was made last, and how many days ago."""

    backup: datetime | None
    backup_days: int
    backup_late: bool


def backup() -> Backup:
    """When the last backup was made, as far as the server knows, and whether that is long ago."""
    with store().reading() as connection:
        made = stamps.read(connection, "backup")
    days = 0 if made is None else (times.here(now()).date() - times.here(made).date()).days
    late = made is None or now() - made > BACKUP_LATE
    return {"backup": made, "backup_days": days, "backup_late": late}


@blueprint.route("/staff", methods=["GET", "POST"])
def people() -> ResponseReturnValue:
    form, me = StaffForm(), session.me()
    if form.validate_on_submit():
        login = plain_login(given(form.login))
        try:
            with store().writing() as connection:
                add_staff(connection, me["shop_id"], login, given(form.name), given(form.new))
        except IntegrityError:
            form.login.errors = [say("shop-login-taken")]
        else:
            logs.security("staff_added", staff=me["id"])
            flash(say("shop-staff-added", name=given(form.name), login=login))
            return redirect(url_for("accounts.people"))
    with store().reading() as connection:
        here = (staff.c.shop_id == me["shop_id"], staff.c.gone.is_(None))
        rows = connection.execute(
            select(staff).where(*here).order_by(func.lower(staff.c.name))
        ).all()
        since = staff.c.gone > now() - undoing.FOR
        gone = connection.execute(
            select(staff).where(staff.c.shop_id == me["shop_id"], since)
        ).all()
    known = {"form": form, "rows": rows, "gone": gone, "me": me, "button": ButtonForm()}
    page = render_template("shop/staff.html", **known)
    return page, 422 if form.errors else 200


def add_staff(connection: Connection, shop_id: int, login: str, name: str, password: str) -> None:
    """Raises ``IntegrityError`` when the login is taken."""
    names = {"shop_id": shop_id, "login": login, "name": name}
    connection.execute(staff.insert().values(**names, password_hash=hashed(password), epoch=1))


@blueprint.post("/staff/<int:staff_id>/remove")
def remove(staff_id: int) -> ResponseReturnValue:
    if staff_id == session.me()["id"]:
        abort(400, say("error-remove_self"))
    with store().writing() as connection:
        row = session.own(connection, staff, staff_id)
        session.end_all(connection, staff_id)
        # The login is free again; what they did keeps their name.
        freed = {"login": f"{row['login'][:60]} (left, {staff_id})"}
        if row["gone"] is None:
            here = update(staff).where(staff.c.id == staff_id)
            connection.execute(here.values(gone=now(), **freed))
            before = {"login": row["login"]}
            audit.write(connection, session.me(), "staff", staff_id, "removed", before)
    logs.security("staff_removed", staff=session.me()["id"], removed=staff_id)
    flash(say("shop-staff-gone", name=row["name"]))
    return redirect(url_for("accounts.people"))
