"""What every answer carries, the check on forms, and how a secret is kept."""

from __future__ import annotations

from hashlib import sha256

from flask import Flask, Response, request
from flask_wtf.csrf import CSRFProtect

from webapp.network import network_of

csrf = CSRFProtect()

CONTENT_POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
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

HEADERS = {
    "Content-Security-Policy": CONTENT_POLICY,
    "X-Content-Type-Options": "nosniff",
    # Not `no-referrer`: over HTTPS the form check wants to see where a form came from.
    "Referrer-Policy": "same-origin",
    "Permissions-Policy": "camera=(self), geolocation=(self), microphone=(), payment=(), usb=()",
    "Cross-Origin-Opener-Policy": "same-origin",
}


def init_app(app: Flask) -> None:
    csrf.init_app(app)
    app.after_request(add_headers)


def add_headers(response: Response) -> Response:
    for name, value in HEADERS.items():
        response.headers.setdefault(name, value)
    if request.path.startswith("/api/"):
        response.headers["Cache-Control"] = "no-store"
    return response


def digest(secret: str) -> str:
    """What is stored in the place of a secret: its SHA-256, in hexadecimal."""
    return sha256(secret.encode()).hexdigest()


def sender() -> str:
    """Where the request comes from; of an IPv6 address the network, which one person has whole."""
    return network_of(request.remote_addr)
