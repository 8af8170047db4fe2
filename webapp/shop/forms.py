"""The forms whose fields are always the same."""

from __future__ import annotations

from typing import Any

from flask_wtf import FlaskForm
from wtforms import EmailField, Field, PasswordField, StringField, TelField, TextAreaField
from wtforms.validators import EqualTo, InputRequired, Length, ValidationError

from webapp.mail_address import is_mail_address

PASSWORD_LEAST, PASSWORD_MOST = 10, 200


def tidy(text: str | None) -> str:
    """One space between words, none around them."""
    return " ".join((text or "").split())


def needed(what: str) -> InputRequired:
    return InputRequired(message=what)


def up_to(length: int) -> Length:
    return Length(max=length, message=f"Use {length} characters at most.")


def name_field(label: str, why: str) -> StringField:
    return StringField(label, [needed(why), up_to(80)], filters=[tidy])


def plain_email(_form: Any, field: Any) -> None:
    if field.data and not is_mail_address(field.data):
        raise ValidationError("Write it like name@example.org, or leave it empty.")


def up_to_folded(length: int) -> Any:
    """At most so many characters as they are kept: folding case makes two letters of an ß."""

    def check(_form: Any, field: Any) -> None:
        if len((field.data or "").casefold()) > length:
            raise ValidationError(f"Use {length} characters at most.")

    return check


class Form(FlaskForm):  # type: ignore[misc]  # the library brings no types
    """A form with its token."""


def given(field: Field) -> str:
    """What was written in a field; empty when nothing was."""
    return str(field.data or "")


class SignInForm(Form):
    login = StringField("Login", [needed("Write your login."), up_to(80)], filters=[tidy])
    password = PasswordField("Password", [needed("Write your password."), up_to(PASSWORD_MOST)])


def new_password() -> PasswordField:
    length = Length(
        PASSWORD_LEAST,
        PASSWORD_MOST,
        f"Use {PASSWORD_LEAST} characters or more; four words in a row do well.",
    )
    return PasswordField("New password", [needed("Write a new password."), length])


class PasswordForm(Form):
    old = PasswordField("Password now", [needed("Write the password you use now.")])
    new = new_password()
    again = PasswordField(
        "New password again", [EqualTo("new", "The two new passwords differ: write both again.")]
    )


class StaffForm(Form):
    name = name_field("Name", "Write the name, as customers know it.")
    login = StringField("Login", [needed("Write a login."), up_to_folded(80)], filters=[tidy])
    new = new_password()


class ShopForm(Form):
    name = name_field("Name of the shop", "Write the name that customers know.")
    phone = TelField("Phone", [up_to(40)], filters=[tidy])
    email = EmailField("Email", [up_to(254), plain_email], filters=[tidy])
    place = StringField("Address", [up_to(200)], filters=[tidy])


class CustomerForm(Form):
    name = name_field("Name", "Write a name.")
    phone = TelField("Phone", [up_to(40)], filters=[tidy])
    email = EmailField("Email", [up_to(254), plain_email], filters=[tidy])


class TrailerForm(Form):
    name = name_field("What do you call it?", "Give it a name you will know it by.")


class JobForm(Form):
    """What is typed in a job; the questions of the rulebook stand beside it."""

    trailer_name = StringField("What do you call it?", [up_to(80)], filters=[tidy])
    customer_name = StringField("Name", [up_to(80)], filters=[tidy])
    customer_phone = TelField("Phone, if you have it", [up_to(40)], filters=[tidy])
    note = TextAreaField("What was done, for the customer to read", [up_to(2000)])


class ButtonForm(Form):
    """A button alone; it still carries the token."""
