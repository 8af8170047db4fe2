"""One shape for everything that is refused: what is wrong, where, and how to put it right."""

from __future__ import annotations

import logging
from typing import Any

from flask import Flask, Response, jsonify, render_template, request
from flask.typing import ResponseReturnValue
from werkzeug.exceptions import HTTPException

# Status: code, message, fix.
PLAIN: dict[int, tuple[str, str, str]] = {
    400: (
        "bad_request",
        "The request cannot be read.",
        "Go back, load the page again and send it once more.",
    ),
    404: (
        "not_found",
        "There is nothing at this address.",
        "Check the address, or start from the front page.",
    ),
    405: (
        "method_not_allowed",
        "This address does not take that kind of request.",
        "Use the method that the documentation names.",
    ),
    408: (
        "too_slow",
        "What was sent did not arrive in time.",
        "Send it again, with a better signal if you can.",
    ),
    413: (
        "too_large",
        "What was sent is larger than this address takes.",
        "Send it in smaller parts.",
    ),
    500: (
        "server_fault",
        "The server failed and stored nothing.",
        "Keep the record and send it again later.",
    ),
}


class Refusal(Exception):
    """Ends a request with the error shape.

    ``field`` is the dotted path of the part that is wrong, or empty.
    """

    def __init__(self, status: int, code: str, message: str, fix: str, field: str = "") -> None:
        super().__init__(message)
        self.status = status
        self.error = {"code": code, "message": message, "fix": fix, "field": field}


def init_app(app: Flask) -> None:
    app.register_error_handler(Refusal, lambda refusal: answer(refusal.status, refusal.error))
    app.register_error_handler(HTTPException, on_http_error)
    app.register_error_handler(Exception, on_fault)


def answer(status: int, error: dict[str, str]) -> tuple[Any, int]:
    """The error as JSON to programs, as a page to people."""
    if request.path.startswith("/api/") or not request.accept_mimetypes.accept_html:
        return jsonify(error=error), status
    return render_template("error.html", error=error, status=status), status


def on_http_error(error: HTTPException) -> ResponseReturnValue:
    status = error.code or 500
    if status < 400:
        return error
    code, message, fix = PLAIN.get(
        status, (error.name.lower().replace(" ", "_"), f"{error.name}.", PLAIN[400][2])
    )
    if status == 400 and error.description:
        message = error.description
    body, _ = answer(status, {"code": code, "message": message, "fix": fix, "field": ""})
    # A 405 says which methods are allowed in a header; that and the like must survive.
    kept = {k: v for k, v in error.get_headers() if k.lower() != "content-type"}
    response: Response = (
        body if isinstance(body, Response) else Response(body, mimetype="text/html")
    )
    response.status_code = status
    response.headers.extend(kept)
    return response


def on_fault(error: Exception) -> ResponseReturnValue:
    logging.getLogger("webapp").error("fault at %s", request.path, exc_info=error)
    code, message, fix = PLAIN[500]
    return answer(500, {"code": code, "message": message, "fix": fix, "field": ""})
