"""What every answer carries, the check on forms, and how a secret is kept."""

from __future__ import annotations

import hmac
from base64 import urlsafe_b64encode
from hashlib import sha256
from urllib.parse import urlsplit

from flask import Flask, Response, current_app, g, request
from flask_wtf.csrf import CSRFProtect

from webapp.errors import Refusal
from webapp.network import network_of

csrf = CSRFProtect()


def content_policy(script: str = "") -> str:
    """Content-Security-Policy of our pages; ``script`` is one more source of scripts."""
    return "; ".join(
        (
            "default-src 'none'",
            f"script-src 'self' {script}".rstrip(),
            "style-src 'self'",
            "connect-src 'self'",
            "manifest-src 'self'",
            "worker-src 'self'",
            "form-action 'self'",
            "img-src 'self' blob:",
            "base-uri 'none'",
            "frame-ancestors 'none'",
        )
    )


# Staff may open the server from the machine itself, whatever customers call it.
HERE = ("localhost", "127.0.0.1", "[::1]")

HEADERS = {
    "Content-Security-Policy": content_policy(),
    "X-Content-Type-Options": "nosniff",
    # Not `no-referrer`: over HTTPS the form check wants to see where a form came from.
    "Referrer-Policy": "same-origin",
    "Permissions-Policy": "camera=(self), geolocation=(self), microphone=(), payment=(), usb=()",
    "Cross-Origin-Opener-Policy": "same-origin",
}

# What a page takes in (script, style, data) has no page of its own to guard: the browser goes by
# the page's headers. On a first visit the others would be a fifth of all that comes over the air.
WITHIN_PAGES = {"X-Content-Type-Options": HEADERS["X-Content-Type-Options"]}


def init_app(app: Flask) -> None:
    app.before_request(refuse_nul)
    csrf.init_app(app)
    app.after_request(add_headers)
    if app.config["ADDRESS"]:
        app.config["TRUSTED_HOSTS"] = [urlsplit(app.config["ADDRESS"]).hostname, *HERE]


def refuse_nul() -> None:
    """PostgreSQL keeps no NUL in a text, and no keyboard writes one."""
    if request.path.startswith("/api/"):
        return  # those are checked field by field
    for sent in (request.args, request.form):
        if any("\0" in text for pair in sent.items(multi=True) for text in pair):
            raise Refusal(
                400,
                "nul",
            )


def add_headers(response: Response) -> Response:
    for name, value in (WITHIN_PAGES if g.get("within_page") else HEADERS).items():
        response.headers.setdefault(name, value)
    if current_app.config["HTTPS"]:
        response.headers["Strict-Transport-Security"] = "max-age=31536000"
    if request.path.startswith("/api/"):
        response.headers["Cache-Control"] = "no-store"
    return response


def digest(secret: str) -> str:
    """What is stored in the place of a secret: its SHA-256, in hexadecimal."""
    # Half a character (a lone surrogate) may come in as a guess: it has a digest like any other.
    return sha256(secret.encode(errors="surrogatepass")).hexdigest()


def seeded_secret(what: str, seed: str) -> str:
    """The secret of a link or calendar with this ``seed``: 43 letters, digits, ``-`` and ``_``.

    HMAC-SHA256 (RFC 2104) under the server's key: the database alone gives nobody a link.
    """
    made = hmac.digest(
        current_app.config["SECRET_KEY"].encode(), f"{what} {seed}".encode(), "sha256"
    )
    return urlsafe_b64encode(made).rstrip(b"=").decode()


def sender() -> str:
    """Where the request comes from; of an IPv6 address the network, which one person has whole."""
    return network_of(request.remote_addr)
