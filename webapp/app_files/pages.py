"""The app itself: its page, files, worker, manifest and rulebook."""

from __future__ import annotations

from flask import Blueprint, Response, abort, current_app

from checks.words import finished
from webapp.app_files.shell import Asset, Shell

blueprint = Blueprint("pages", __name__)


def shell() -> Shell:
    kept: Shell = current_app.extensions["shell"]
    return kept


def send(asset: Asset | None) -> Response:
    if asset is None:
        abort(404)
    return asset.response()


def static_file(filename: str) -> Response:
    return send(shell().asset(filename))


@blueprint.get("/")
def front() -> Response:
    return send(shell().asset("index.html"))


@blueprint.get("/manifest.webmanifest")
def manifest() -> Response:
    return send(shell().asset("manifest.webmanifest"))


@blueprint.get("/<any(app, later, shop):of>.css")
def style(of: str) -> Response:
    return send(shell().style(of))


@blueprint.get("/rulebook.json")
def rulebook() -> Response:
    return send(shell().rulebook)


@blueprint.get("/rulebook-figures.json")
def figures() -> Response:
    """The figures: the phone asks for them when it first needs them, and keeps them then."""
    return send(shell().figures)


@blueprint.get("/words.<language>.json", defaults={"part": "first"})
@blueprint.get("/words-<any(figures, later, road):part>.<language>.json")
def words(part: str, language: str) -> Response:
    """The words of the app and of a part of the rulebook, in a language by its BCP 47 code."""
    return send(shell().words(part, language) if language in finished() else None)


@blueprint.get("/lamp-table.json")
def lamp_table() -> Response:
    return send(shell().lamp_table)


@blueprint.get("/sw.js")
def worker() -> Response:
    response = send(shell().worker())
    response.headers["Service-Worker-Allowed"] = "/"
    return response
