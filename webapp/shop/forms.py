"""The forms whose fields are always the same."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from flask import request
from flask_wtf import FlaskForm
from uuid_utils import uuid7
from wtforms import (
    BooleanField,
    EmailField,
    Field,
    PasswordField,
    SelectField,
    StringField,
    TelField,
    TextAreaField,
)
from wtforms.validators import EqualTo, InputRequired, Length, ValidationError

from checks.words import finished
from webapp import passwords
from webapp.mail_address import is_mail_address
from webapp.wording import later, own_name, say, zones

# Of a form and one of its fields; raises ValidationError with what to put right.
Validator = Callable[[Any, Any], None]


def tidy(text: str | None) -> str:
    """One space between words, none around them."""
    return " ".join((text or "").split())


def lines(text: str | None) -> str:
    """As it was typed: browsers send the end of a line as two characters, and count one."""
    return (text or "").replace("\r\n", "\n").strip()


def number() -> str:
    """What a form that is kept on its device is told from others by (static/shop/kept.js)."""
    return sent_number() or str(uuid7())


def sent_number() -> str:
    return request.form.get("form", "")[:36]


def needed(what: str) -> InputRequired:
    return InputRequired(message=later(what))


def up_to(length: int) -> Length:
    return Length(max=length, message=later("form-too-long", most=str(length)))


def name_field(label: str, why: str) -> StringField:
    return StringField(later(label), [needed(why), up_to(80)], filters=[tidy])


def plain_email(_form: Any, field: Any) -> None:
    if field.data and not is_mail_address(field.data):
        raise ValidationError(say("form-email-odd"))


def up_to_folded(length: int) -> Validator:
    """At most so many characters as they are kept: folding case makes two letters of an ß."""

    def check(_form: Any, field: Any) -> None:
        if len((field.data or "").casefold()) > length:
            raise ValidationError(say("form-too-long", most=str(length)))

    return check


def between(low: int, high: int, why: str) -> Validator:
    """A whole number within limits; the library's own check fails on one of hundreds of digits."""

    def check(_form: Any, field: Any) -> None:
        if field.data is None or not low <= field.data <= high:
            raise ValidationError(say(why))

    return check


class Form(FlaskForm):  # type: ignore[misc]  # the library brings no types
    """A form with its token, which has no id: a page may hold many forms."""

    class Meta(FlaskForm.Meta):  # type: ignore[misc]
        def wrap_formdata(self, form: Any, formdata: Any) -> Any:
            # The library would take any JSON for a form, and ends on what is no object.
            return None if request.is_json else super().wrap_formdata(form, formdata)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if "csrf_token" in self:
            self.csrf_token.render_kw = {"id": False}


def given(field: Field) -> str:
    """What was written in a field; empty when nothing was."""
    return str(field.data or "")


class SignInForm(Form):
    login = StringField(
        later("form-login"), [needed("form-login-missing"), up_to(80)], filters=[tidy]
    )
    password = PasswordField(
        later("form-password"), [needed("form-password-missing"), up_to(passwords.MOST)]
    )


class CodeForm(Form):
    code = StringField(
        later("form-code"),
        [needed("form-code-missing"), up_to(20)],
        render_kw={"inputmode": "numeric"},
    )


class OldPasswordForm(Form):
    old = PasswordField(
        later("form-password-old"),
        [needed("form-password-old-missing"), up_to(passwords.MOST)],
    )


def new_password() -> PasswordField:
    length = Length(
        passwords.LEAST,
        passwords.MOST,
        later("form-password-length", least=passwords.LEAST),
    )
    checks = [needed("form-password-new-missing"), length, hard_to_guess]
    return PasswordField(later("form-password-new"), checks)


def hard_to_guess(form: Any, field: Any) -> None:
    about = [form[name].data or "" for name in ("name", "login") if name in form]
    if passwords.is_guessable(field.data, *about):
        raise ValidationError(say("form-password-guessable"))


class PasswordForm(Form):
    old = PasswordField(later("form-password-old"), [needed("form-password-old-missing")])
    new = new_password()
    again = PasswordField(
        later("form-password-again"), [EqualTo("new", later("form-password-differ"))]
    )


class StaffForm(Form):
    name = name_field("form-name", "form-name-missing")
    login = StringField(
        later("form-login"), [needed("form-login-new-missing"), up_to_folded(80)], filters=[tidy]
    )
    new = new_password()


def zone_choices() -> list[tuple[str, str]]:
    return [("", say("form-zone-server")), *((name, name) for name in zones())]


def units_choices() -> list[tuple[str, str]]:
    return [(name, say(f"form-units-{name}")) for name in ("us", "metric")]


def language_choices() -> list[tuple[str, str]]:
    return [(code, own_name(code)) for code in finished()]


def customer_languages() -> list[tuple[str, str]]:
    return [("", say("form-language-shop")), *language_choices()]


class ShopForm(Form):
    name = name_field("form-shop-name", "form-shop-name-missing")
    phone = TelField(later("form-phone"), [up_to(40)], filters=[tidy])
    email = EmailField(later("form-email"), [up_to(254), plain_email], filters=[tidy])
    place = StringField(later("form-address"), [up_to(200)], filters=[tidy])
    zone = SelectField(later("form-zone"), choices=zone_choices)
    units = SelectField(later("form-units"), choices=units_choices)
    language = SelectField(later("form-language"), choices=language_choices)
    mail_mend = BooleanField(later("form-mail-mend"))
    mail_overdue = BooleanField(later("form-mail-overdue"))


class CustomerForm(Form):
    name = name_field("form-name", "form-customer-name-missing")
    phone = TelField(later("form-phone"), [up_to(40)], filters=[tidy])
    email = EmailField(later("form-email"), [up_to(254), plain_email], filters=[tidy])
    language = SelectField(later("form-language"), choices=customer_languages)


class TrailerForm(Form):
    name = name_field("form-trailer-name", "form-trailer-name-missing")
    plate = StringField(later("form-plate"), [up_to(16)], filters=[tidy])
    vin = StringField(later("form-vin"), [up_to(20)], filters=[tidy])


class JobForm(Form):
    """What is typed in a job; the questions of the rulebook stand beside it."""

    trailer_name = StringField(later("form-trailer-name"), [up_to(80)], filters=[tidy])
    customer_name = StringField(later("form-name"), [up_to(80)], filters=[tidy])
    customer_phone = TelField(later("form-customer-phone"), [up_to(40)], filters=[tidy])
    note = TextAreaField(later("form-note"), [up_to(2000)], filters=[lines])
    work_order = StringField(later("form-work-order"), [up_to(40)], filters=[tidy])
    plate = StringField(later("form-plate"), [up_to(16)], filters=[tidy])
    vin = StringField(later("form-vin"), [up_to(20)], filters=[tidy])


class ButtonForm(Form):
    """A button alone; it still carries the token."""
