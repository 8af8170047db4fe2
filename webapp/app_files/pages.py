"""The app itself: its page, files, worker, manifest and rulebook."""

from __future__ import annotations

from flask import Blueprint, Response, abort, current_app, g, request

from checks.words import FIRST, finished
from webapp import wording
from webapp.app_files.asset import Asset
from webapp.app_files.fetched import LAMP_TABLE, TOGETHER
from webapp.app_files.shell import Shell
from webapp.security import content_policy

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
    """The page in the reader's language; its tag tells it from the others."""
    page = shell().page(wording.language())
    response = send(page and page.asset)
    if page and not g.within_page:
        response.headers["Content-Security-Policy"] = content_policy(page.allowed)
    return response


@blueprint.get("/manifest.webmanifest")
def first_manifest() -> Response:
    """Where it stood while there was one language, for phones that were installed then."""
    return manifest(FIRST)


@blueprint.get("/manifest.<language>.webmanifest")
def manifest(language: str) -> Response:
    return send(shell().asset("manifest.webmanifest", offered(language)))


def offered(language: str) -> str:
    """The language, where it is offered; 404 where it is not."""
    if language not in finished():
        abort(404)
    return language


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
@blueprint.get("/words-<any(figures, later):part>.<language>.json")
def words(part: str, language: str) -> Response:
    """The words of the app and of a part of the rulebook, in a language by its BCP 47 code."""
    return send(shell().words(part, offered(language)))


@blueprint.get(LAMP_TABLE)
def lamp_table() -> Response:
    return send(shell().lamp_table)


@blueprint.get(TOGETHER)
def together() -> Response:
    """What comes after a first visit in one piece, for the worker to take apart."""
    return send(shell().together())


@blueprint.get("/sw.js")
def worker() -> Response:
    """The worker that keeps the app in the language of its address, or of the phone."""
    named = request.args.get("language")
    response = send(shell().worker(offered(named) if named else wording.language()))
    response.headers["Service-Worker-Allowed"] = "/"
    return response
