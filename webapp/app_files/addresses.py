"""Addresses that open the app on somebody's phone, and their QR codes."""

from __future__ import annotations

from io import BytesIO
from urllib.parse import urlsplit

import segno
from flask import current_app, request


def origin() -> str:
    """Where this server is reached, without a slash at the end."""
    set_one: str = current_app.config["ADDRESS"]
    return set_one or request.host_url.rstrip("/")


def is_doubtful() -> bool:
    """Whether phones may not reach what codes name, or cannot work there without signal."""
    at = urlsplit(origin())
    return at.scheme != "https" or at.hostname in ("localhost", "127.0.0.1", "::1")


def app_address(way: str, secret: str, language: str = "") -> str:
    """What a person opens, for a phone that has not chosen a language in the one given.

    After the # nothing is sent to any server, or kept in its logs.
    """
    reader = f"?language={language}" if language else ""
    return f"{origin()}/{reader}#/{way}/{secret}"


def qr_svg(address: str) -> str:
    """The address as a QR code (ISO/IEC 18004), on white so that any camera reads it."""
    picture = BytesIO()
    segno.make(address, error="m").save(picture, kind="svg", scale=8, border=4, light="#fff")
    return picture.getvalue().decode()
