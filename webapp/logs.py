"""Log lines as JSON objects without personal data, and the log of what touches security.

A person, a login or an address never stands in a line. That the same one comes up again can be
seen all the same: by the number of the row, or by a hash under the server's key.
"""

from __future__ import annotations

import hmac
import json
import logging
import sys
from datetime import UTC, datetime
from time import perf_counter
from typing import Any

from flask import Flask, Response, current_app, g, request

from webapp.network import network_of

SECURITY = logging.getLogger("twentymile.security")
ANSWERS = logging.getLogger("twentymile.answers")
METHODS = ("GET", "HEAD", "POST", "PUT", "DELETE", "OPTIONS")


class Lines(logging.Formatter):
    """One JSON object a line: ``time`` in UTC, ``level``, ``log``, ``event`` and more."""

    def format(self, record: logging.LogRecord) -> str:
        line: dict[str, Any] = {
            "time": datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds"),
            "level": record.levelname.lower(),
            "log": record.name,
            "event": record.getMessage(),
        }
        line |= getattr(record, "about", {})
        if record.exc_info:
            line["fault"] = self.formatException(record.exc_info)
        return json.dumps(line, ensure_ascii=False)


def write_to_standard_error() -> None:
    """All logs of this process, one line each."""
    handler = logging.StreamHandler(sys.stderr)
    handler.setFormatter(Lines())
    logging.getLogger().handlers = [handler]
    for log in (SECURITY, ANSWERS):
        log.setLevel(logging.INFO)


def init_app(app: Flask) -> None:
    """Note each answer, where that is wanted."""
    if app.config["REQUEST_LOG"]:
        app.before_request(begin)
        app.after_request(note)


def begin() -> None:
    g.came = perf_counter()


def note(response: Response) -> Response:
    about: dict[str, Any] = {"method": method(), "page": page()}
    took = perf_counter() - g.get("came", perf_counter())
    about |= {"status": response.status_code, "ms": round(took * 1000, 1)}
    ANSWERS.info("answered", extra={"about": about})
    return response


def method() -> str:
    return request.method if request.method in METHODS else "other"


def page() -> str:
    """The rule that the address matched: the address itself may hold a secret or an id."""
    return request.url_rule.rule if request.url_rule else "none"


def security(event: str, **about: int | str | None) -> None:
    """Note in the security log what happened, at which page and from where (as a hash)."""
    known = {"page": page(), "place": masked(network_of(request.remote_addr))}
    SECURITY.info(event, extra={"about": known | about})


def masked(text: str) -> str:
    """The same text under the same key has the same mask; from the mask nobody gets the text."""
    key = current_app.config["SECRET_KEY"].encode()
    masked = hmac.digest(key, b"log " + text.encode(errors="surrogatepass"), "sha256")
    return masked[:8].hex()
