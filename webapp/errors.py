"""One shape for everything that is refused: what is wrong, where, and how to put it right."""

from __future__ import annotations

import logging
from typing import Any

from flask import Flask, Response, jsonify, render_template, request
from flask.typing import ResponseReturnValue
from flask_wtf.csrf import CSRFError
from werkzeug.exceptions import BadRequest, HTTPException

from webapp import logs
from webapp.wording import say

# The code of each status that the libraries end a request with.
PLAIN = {
    400: "bad_request",
    403: "forbidden",
    404: "not_found",
    405: "method_not_allowed",
    408: "too_slow",
    413: "too_large",
    500: "server_fault",
}


class Refusal(Exception):
    """Ends a request with the error shape.

    The sentences are the words ``error-CODE`` and their ``.fix`` with ``values`` in their places,
    or those of ``words`` where one code has several. ``field`` is the dotted path of the part that
    is wrong, or empty. What a program is told all the same stands ``beside`` the error.
    """

    def __init__(
        self, status: int, code: str, field: str = "", words: str = "", **values: object
    ) -> None:
        self.status = status
        self.beside: dict[str, Any] = {}
        self.error = shaped(code, words or code, field, **values)
        super().__init__(self.error["message"])


def shaped(code: str, words: str, field: str = "", **values: object) -> dict[str, str]:
    message, fix = (say(f"error-{words}{part}", **values) for part in ("", ".fix"))
    return {"code": code, "message": message, "fix": fix, "field": field}


def init_app(app: Flask) -> None:
    app.register_error_handler(Refusal, refused)
    app.register_error_handler(HTTPException, on_http_error)
    app.register_error_handler(Exception, on_fault)


def refused(refusal: Refusal) -> tuple[Any, int]:
    return answer(refusal.status, refusal.error, refusal.beside)


def answer(
    status: int, error: dict[str, str], beside: dict[str, Any] | None = None
) -> tuple[Any, int]:
    """The error as JSON to programs, as a page to people."""
    if request.path.startswith("/api/") or not request.accept_mimetypes.accept_html:
        return jsonify(error=error, **(beside or {})), status
    return render_template("error.html", error=error, status=status), status


def on_http_error(error: HTTPException) -> ResponseReturnValue:
    if isinstance(error, CSRFError):
        logs.security("form_token_refused")
    status = error.code or 500
    if status < 400:
        return error
    shape = shaped(PLAIN.get(status, plain(error.name)), f"page-{status if status in PLAIN else 0}")
    if type(error) is BadRequest and error.description != BadRequest.description:
        shape["message"] = str(error.description)  # our own words; those of libraries are English
    body, _ = answer(status, shape)
    # A 405 says which methods are allowed in a header; that and the like must survive.
    kept = {k: v for k, v in error.get_headers() if k.lower() != "content-type"}
    response: Response = (
        body if isinstance(body, Response) else Response(body, mimetype="text/html")
    )
    response.status_code = status
    response.headers.extend(kept)
    return response


def on_fault(error: Exception) -> ResponseReturnValue:
    note_fault(error)
    return answer(500, shaped(PLAIN[500], "page-500"))


def note_fault(error: Exception) -> None:
    logging.getLogger("webapp").error("fault at %s", logs.page(), exc_info=error)


def plain(name: str) -> str:
    return name.lower().replace(" ", "_")
