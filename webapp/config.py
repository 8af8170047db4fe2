"""Settings: read from the environment once, at start."""

from __future__ import annotations

import os
import re
import secrets
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from webapp.file_lock import locked
from webapp.wording import say

ROOT = Path(__file__).resolve().parent.parent


class BadSetting(ValueError):
    """A setting that cannot be used; the message names it and says what it accepts."""


def folder(text: str) -> Path:
    return Path(text).expanduser().resolve()


def switch(text: str) -> bool:
    if text not in ("0", "1"):
        raise ValueError(say("cli-set-switch"))
    return text == "1"


def count(text: str) -> int:
    if not text.isascii() or not text.isdigit():
        raise ValueError(say("cli-set-count"))
    return int(text)


def address(text: str) -> str:
    if text and not re.fullmatch(r"https?://[^/\s?#]+/?", text):
        raise ValueError(say("cli-set-address"))
    return text.rstrip("/")


def bucket(text: str) -> str:
    if text and not re.fullmatch(r"s3://[a-z0-9][a-z0-9.-]{1,61}[a-z0-9](/\S*)?", text):
        raise ValueError(say("cli-set-bucket"))
    return text


def mail_server(text: str) -> str:
    at = urlsplit(text)
    if text and (at.scheme not in ("smtp", "smtps") or not at.hostname):
        raise ValueError(say("cli-set-mail"))
    return text


@dataclass(frozen=True)
class Setting:
    """``name`` in the environment, ``key`` in the application's config."""

    name: str
    key: str
    read: Callable[[str], Any]
    default: str


# docs/operations.md explains each of these; a test holds the page to this list.
SETTINGS = (
    Setting("TWENTYMILE_DATA", "DATA", folder, "data"),
    Setting("TWENTYMILE_DATABASE_URL", "DATABASE_URL", str, ""),
    Setting("TWENTYMILE_PHOTOS", "PHOTOS", bucket, ""),
    Setting("TWENTYMILE_HTTPS", "HTTPS", switch, "0"),
    Setting("TWENTYMILE_PROXIES", "PROXIES", count, "0"),
    Setting("TWENTYMILE_ADDRESS", "ADDRESS", address, ""),
    Setting("TWENTYMILE_UPLOAD_SECONDS", "UPLOAD_SECONDS", count, "30"),
    Setting("TWENTYMILE_HEADER_SECONDS", "HEADER_SECONDS", count, "10"),
    Setting("TWENTYMILE_REQUEST_SECONDS", "REQUEST_SECONDS", count, "300"),
    Setting("TWENTYMILE_CONNECTIONS", "CONNECTIONS", count, "200"),
    Setting("TWENTYMILE_STRANGER_MB", "STRANGER_MB", count, "100"),
    Setting("TWENTYMILE_SMTP_URL", "SMTP_URL", mail_server, ""),
    Setting("TWENTYMILE_MAIL_FROM", "MAIL_FROM", str, ""),
    Setting("TWENTYMILE_METRICS", "METRICS", switch, "0"),
    Setting("TWENTYMILE_REQUEST_LOG", "REQUEST_LOG", switch, "0"),
    Setting("SECRET_KEY", "SECRET_KEY", str, ""),
)


def from_environment(
    given: Mapping[str, Any], environment: Mapping[str, str] | None = None
) -> dict[str, Any]:
    """Every setting by its key; ``given`` wins over ``environment``, which wins over defaults."""
    environment = os.environ if environment is None else environment
    config = {s.key: read(s, environment) for s in SETTINGS if s.key not in given}
    config |= {"STATIC": ROOT / "static"} | dict(given)
    make_data_folder(config["DATA"])
    config["DATABASE_URL"] = database_url(config["DATABASE_URL"], config["DATA"])
    try:
        config["SECRET_KEY"] = config["SECRET_KEY"] or kept_secret(config["DATA"])
    except OSError as error:
        told = {"file": str(error.filename), "why": str(error.strerror)}
        raise BadSetting(say("cli-set-denied", folder=repr(str(config["DATA"])), **told)) from None
    return cookie_settings(config["HTTPS"]) | config


def read(setting: Setting, environment: Mapping[str, str]) -> Any:
    text = environment.get(setting.name, "").strip() or setting.default
    try:
        return setting.read(text)
    except ValueError as error:
        raise BadSetting(
            say("cli-set", name=setting.name, value=repr(text), how=str(error))
        ) from None


def make_data_folder(data: Path) -> None:
    try:
        data.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        told = {"folder": repr(str(data)), "why": str(error.strerror)}
        raise BadSetting(say("cli-set-no-folder", **told)) from None


def database_url(url: str, data: Path) -> str:
    """The given address with its driver named, or SQLite in the data folder."""
    if not url:
        return f"sqlite:///{data / 'twentymile.sqlite3'}"
    for prefix in ("postgres://", "postgresql://"):
        if url.startswith(prefix):
            return "postgresql+psycopg://" + url.removeprefix(prefix)
    if not url.startswith(("postgresql+psycopg://", "sqlite:///")):
        raise BadSetting(say("cli-set-database"))
    return url


def kept_secret(data: Path) -> str:
    """The key that signs sessions: made once, readable by the owner only, kept over restarts."""
    path = data / "secret_key"
    with locked(data / "start.lock"):
        if not path.exists():
            handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
            with os.fdopen(handle, "w") as file:
                file.write(secrets.token_hex(32))
                file.flush()
                os.fsync(file.fileno())
        secret = path.read_text().strip()
    if not secret:
        raise BadSetting(say("cli-set-secret", file=path.name))
    return secret


def cookie_settings(https: bool) -> dict[str, Any]:
    # The __Host- name makes browsers refuse the cookie from anywhere but this host over HTTPS.
    return {
        "SESSION_COOKIE_NAME": "__Host-twentymile" if https else "twentymile",
        "SESSION_COOKIE_SECURE": https,
        "SESSION_COOKIE_HTTPONLY": True,
        "SESSION_COOKIE_SAMESITE": "Lax",
        "PERMANENT_SESSION_LIFETIME": timedelta(days=90),
        "PREFERRED_URL_SCHEME": "https" if https else "http",
        # A page kept open for a week still has to send its form; the token dies with the session.
        "WTF_CSRF_TIME_LIMIT": None,
    }
