"""The app's files as they go out, and what every answer carries."""

from __future__ import annotations

import gzip
import json
import re
import urllib.request
from base64 import b64encode
from contextlib import closing
from hashlib import sha256
from pathlib import Path
from typing import Any

import brotli
import pytest
import rfc8785
from flask import Flask, request, session
from flask.testing import FlaskClient
from flask_wtf.csrf import generate_csrf

from tests.support.browser import STATIC
from tests.support.records import error_of
from tests.support.sent_words import by_id
from webapp import create_app
from webapp.app_files.fetched import PAPER, STYLES
from webapp.security import HEADERS

RULEBOOK = {"format": 1, "hash": "1" * 64}
SHEETS = {*STYLES["app"], *STYLES["later"], *STYLES["shop"], PAPER}
FILES = {
    "index.html": "<!doctype html><title>Twentymile</title>",
    "manifest.webmanifest": '{"icons": [{"src": "/static/icon-512.png"}]}',
    "sw.js": "const shell = self.__SHELL__;\n",
    "app.js": "export const one = 1\n" * 50,
    "style/main.css": "body { color: black }\n",
    "icon.png": "not really",
    "icon-512.png": "for the system, at install",
    "notes.md": "# not served",
    ".hidden.js": "not served",
    "style/.hidden.css": "not served",
    "../outside.js": "not served",
} | {f"css/{name}.css": f"/* {name} */\n  .{name} {{ margin: 0 }}\n" for name in SHEETS}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A static folder with one file of each sort."""
    for name, text in FILES.items():
        path = tmp_path / "static" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text)
    (tmp_path / "static" / "outside.js").symlink_to(tmp_path / "outside.js")
    return tmp_path / "static"


@pytest.fixture
def app(tmp_path: Path, folder: Path, new_app: Any) -> Flask:
    return new_app(tmp_path / "data", STATIC=folder, RULEBOOK=RULEBOOK)


def shell_of(response: Any) -> dict[str, Any]:
    found = re.match(r"self\.SHELL = (\{.*\});\n", response.text)
    assert found, response.text[:200]
    shell: dict[str, Any] = json.loads(found[1])
    return shell


# ---- addresses --------------------------------------------------------------------------------

SERVED = {
    "/": ("text/html; charset=utf-8", "index.html"),
    "/manifest.webmanifest": ("application/manifest+json", "manifest.webmanifest"),
    "/static/app.js": ("text/javascript; charset=utf-8", "app.js"),
    "/static/style/main.css": ("text/css; charset=utf-8", "style/main.css"),
    "/static/icon.png": ("image/png", "icon.png"),
}


@pytest.mark.parametrize("address", SERVED)
def test_a_file_goes_out_with_its_type_and_is_asked_for_again_each_time(client, address):
    kind, name = SERVED[address]
    response = client.get(address)
    assert response.status_code == 200
    assert response.headers["Content-Type"] == kind
    assert response.headers["Cache-Control"] == "no-cache"
    assert response.text == FILES[name]


@pytest.mark.parametrize("address", [*SERVED, "/rulebook.json", "/sw.js"])
def test_a_file_that_is_held_already_is_not_sent_again(client, address):
    first = client.get(address)
    again = client.get(address, headers={"If-None-Match": first.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")
    stale = client.get(address, headers={"If-None-Match": '"another"'})
    assert (stale.status_code, stale.data) == (200, first.data)


@pytest.mark.parametrize(
    "address", [*SERVED, "/rulebook.json", "/words.en.json", "/sw.js", "/healthz"]
)
def test_head_answers_like_get_without_the_body(client, address):
    get, head = client.get(address), client.head(address)
    assert head.data == b""
    assert head.status_code == get.status_code
    assert head.headers["Content-Length"] == get.headers["Content-Length"]


@pytest.mark.parametrize(
    "address",
    [
        "/static/",
        "/static/missing.js",
        "/static/notes.md",
        "/static/style",
        "/static/../data/secret_key",
        "/static/%2e%2e/data/secret_key",
        "/static/.hidden.js",
        "/static/style/.hidden.css",
        "/static/outside.js",
        "/nothing",
    ],
)
def test_nothing_else_is_served(client, address):
    response = client.get(address, headers={"Accept": "application/json"})
    assert error_of(response, 404)["code"] == "not_found"


def test_a_person_gets_an_error_as_a_page(client):
    response = client.get("/nothing", headers={"Accept": "text/html"})
    assert response.status_code == 404
    assert response.mimetype == "text/html"
    assert "<h1>There is nothing at this address.</h1>" in response.text


def test_text_is_compressed_for_those_who_take_it_and_pictures_are_not(client):
    plain = client.get("/static/app.js")
    packed = client.get("/static/app.js", headers={"Accept-Encoding": "gzip"})
    tighter = client.get("/static/app.js", headers={"Accept-Encoding": "gzip, deflate, br"})
    assert "Content-Encoding" not in plain.headers
    assert packed.headers["Content-Encoding"] == "gzip"
    assert gzip.decompress(packed.data) == plain.data
    assert tighter.headers["Content-Encoding"] == "br"
    assert brotli.decompress(tighter.data) == plain.data
    assert len(tighter.data) < len(packed.data) < len(plain.data)
    tags = {response.headers["ETag"] for response in (plain, packed, tighter)}
    assert len(tags) == 3
    assert plain.headers["Vary"] == packed.headers["Vary"] == "Accept-Encoding"
    refused = client.get("/static/app.js", headers={"Accept-Encoding": "gzip;q=0"})
    assert "Content-Encoding" not in refused.headers
    picture = client.get("/static/icon.png", headers={"Accept-Encoding": "gzip"})
    assert "Content-Encoding" not in picture.headers


def test_a_file_that_changes_goes_out_changed(client, folder):
    before = client.get("/static/app.js")
    (folder / "app.js").write_text("export const two=2")
    after = client.get("/static/app.js")
    assert after.text == "export const two=2"
    assert after.headers["ETag"] != before.headers["ETag"]


# ---- the worker's list ------------------------------------------------------------------------


def test_the_worker_gets_the_list_of_all_files_the_app_needs(client):
    response = client.get("/sw.js")
    assert response.headers["Content-Type"] == "text/javascript; charset=utf-8"
    assert response.headers["Cache-Control"] == "no-cache"
    assert response.headers["Service-Worker-Allowed"] == "/"
    shell = shell_of(response)
    assert shell["files"] == [
        "/",
        "/static/app.js",
        "/static/icon.png",
        "/static/style/main.css",
        "/app.css",
        "/manifest.en.webmanifest",
        "/rulebook.json",
        "/words.en.json",
    ]
    assert f"const shell = {json.dumps(shell)}" in response.text
    assert "__SHELL__" not in response.text


@pytest.mark.parametrize("of", ["app", "later", "shop"])
def test_the_style_sheets_go_out_as_one_in_their_order_and_the_last_for_paper(client, folder, of):
    wanted = "".join(f".{name} {{margin:0 }}" for name in STYLES[of])
    if of != "app":  # nothing is printed before the verdict's sheet is here
        wanted += f"@media print {{.{PAPER} {{margin:0 }}}}"
    assert client.get(f"/{of}.css").text == wanted
    (folder / "css" / f"{STYLES[of][-1]}.css").write_text(".changed {}")
    assert ".changed {}" in client.get(f"/{of}.css").text


def test_every_style_sheet_is_among_them():
    css = STATIC / "css"
    found = {path.relative_to(css).with_suffix("").as_posix() for path in css.rglob("*.css")}
    assert found == SHEETS


@pytest.mark.parametrize("name", ["index.html", "app.js", "manifest.webmanifest", "sw.js"])
def test_the_shells_version_moves_with_each_file_it_holds(client, folder, name):
    before = shell_of(client.get("/sw.js"))["version"]
    assert shell_of(client.get("/sw.js"))["version"] == before
    (folder / name).write_text("changed, self.__SHELL__")
    assert shell_of(client.get("/sw.js"))["version"] != before


@pytest.mark.slow
def test_the_shells_version_moves_with_the_rulebook(app, folder, tmp_path):
    other = create_app({"DATA": tmp_path / "b", "STATIC": folder, "RULEBOOK": {"hash": "2" * 64}})
    versions = {shell_of(a.test_client().get("/sw.js"))["version"] for a in (app, other)}
    assert len(versions) == 2


def test_a_file_without_meaning_for_the_app_does_not_move_the_version(client, folder):
    before = client.get("/sw.js").data
    (folder / "notes.md").write_text("# changed")
    assert client.get("/sw.js").data == before


# ---- headers, forms, cookies ------------------------------------------------------------------


NO_PARTS = ["/", "/healthz", "/nothing", "/static/nothing.js", "/static/icon.png", "/sw.js"]


@pytest.mark.parametrize("address", [*NO_PARTS, "/api/records"])
def test_every_answer_that_can_be_a_page_or_a_worker_carries_the_security_headers(client, address):
    response = client.get(address)
    assert {name: response.headers.get(name) for name in HEADERS} == HEADERS


@pytest.mark.parametrize("address", ["/static/app.js", "/static/css/base.css", "/rulebook.json"])
def test_what_a_page_takes_in_only_says_that_its_type_is_true(client, address):
    for headers in ({}, {"If-None-Match": client.get(address).headers["ETag"]}):
        response = client.get(address, headers=headers)
        said = {name: response.headers[name] for name in HEADERS if name in response.headers}
        assert said == {"X-Content-Type-Options": "nosniff"}


def test_the_content_policy_allows_only_our_own_and_nothing_inline():
    policy = HEADERS["Content-Security-Policy"]
    assert policy.startswith("default-src 'none';")
    assert "unsafe" not in policy
    assert "http" not in policy


def test_one_script_stands_in_the_page_and_is_allowed_by_its_hash(new_app, tmp_path):
    client = new_app(tmp_path / "real").test_client()
    response = client.get("/")
    inline = re.findall(r"<script>(.*?)</script>", response.text, re.DOTALL)
    assert len(inline) == 1
    assert "elsewhere" in inline[0]
    hashed = b64encode(sha256(inline[0].encode()).digest()).decode()  # CSP 3, 6.7.3.3
    policy = response.headers["Content-Security-Policy"]
    assert policy.split("; ")[1] == f"script-src 'self' 'sha256-{hashed}'"
    assert policy.replace(f" 'sha256-{hashed}'", "") == HEADERS["Content-Security-Policy"]
    assert "/static/first.js" not in client.get("/sw.js").text
    assert "sha256-" not in client.get("/shop").headers["Content-Security-Policy"]


def test_a_page_whose_first_script_changed_is_another_page(client, folder):
    (folder / "index.html").write_text('<script src="/static/first.js"></script>')
    (folder / "first.js").write_text("one()")
    before, version = client.get("/").text, shell_of(client.get("/sw.js"))["version"]
    (folder / "first.js").write_text("another()")
    assert (before, client.get("/").text) == (
        "<script>one()</script>",
        "<script>another()</script>",
    )
    assert shell_of(client.get("/sw.js"))["version"] != version


def form_app(tmp_path: Path, https: bool) -> Flask:
    """An application with one form, to see the form check and the cookie at work."""
    app = create_app({"DATA": tmp_path / "forms", "HTTPS": https, "RULEBOOK": RULEBOOK})

    @app.get("/token")
    def token() -> str:
        session.permanent = True
        return str(generate_csrf())

    @app.post("/form")
    def form() -> str:
        return "done"

    return app


def post_form(client: FlaskClient, scheme: str, token: str, **headers: str) -> Any:
    return client.post(
        "/form", data={"csrf_token": token}, headers=headers, base_url=f"{scheme}://localhost"
    )


@pytest.mark.slow
@pytest.mark.parametrize("https", [False, True])
def test_a_form_needs_its_token_over_http_and_https(tmp_path, https):
    client = form_app(tmp_path, https).test_client()
    scheme = "https" if https else "http"
    token = client.get("/token", base_url=f"{scheme}://localhost").text
    # Browsers under Referrer-Policy: same-origin send this header with our own forms.
    own = {"Referer": f"{scheme}://localhost/token"}
    assert post_form(client, scheme, token, **own).status_code == 200
    assert post_form(client, scheme, "", **own).status_code == 400
    assert post_form(client, scheme, token + "x", **own).status_code == 400
    if https:
        elsewhere = {"Referer": "https://elsewhere.example/"}
        assert post_form(client, scheme, token, **elsewhere).status_code == 400


@pytest.mark.slow
@pytest.mark.parametrize(
    ("https", "name", "marks"),
    [
        (True, "__Host-twentymile=", {"Secure", "HttpOnly", "Path=/", "SameSite=Lax"}),
        (False, "twentymile=", {"HttpOnly", "Path=/", "SameSite=Lax"}),
    ],
)
def test_the_session_cookie_is_guarded(tmp_path, https, name, marks):
    client = form_app(tmp_path, https).test_client()
    cookie = client.get("/token", base_url="https://localhost").headers["Set-Cookie"]
    parts = cookie.split("; ")
    assert parts[0].startswith(name)
    assert {part for part in parts if "=" not in part or part in marks} == marks
    assert any(part.startswith("Expires=") for part in parts)
    assert not any(part.startswith("Domain=") for part in parts)


@pytest.mark.parametrize(("proxies", "scheme"), [(0, "http"), (1, "https")])
def test_a_proxys_word_counts_only_where_one_is_expected(tmp_path, new_app, proxies, scheme):
    app = new_app(tmp_path / "proxied", PROXIES=proxies, RULEBOOK=RULEBOOK)
    app.add_url_rule("/scheme", view_func=lambda: request.scheme, endpoint="scheme")
    response = app.test_client().get("/scheme", headers={"X-Forwarded-Proto": "https"})
    assert response.text == scheme


def everything_stored(app: Flask) -> list[str]:
    with closing(app.extensions["store"].engine.raw_connection()) as connection:
        return list(connection.driver_connection.iterdump())


@pytest.mark.parametrize("method", ["GET", "HEAD"])
@pytest.mark.sqlite
def test_looking_changes_nothing_and_sets_no_cookie(app, client, method):
    before = everything_stored(app)
    seen = 0
    for rule in app.url_map.iter_rules():
        if "GET" in rule.methods and not rule.arguments:
            response = client.open(rule.rule, method=method)
            if rule.rule.startswith("/shop"):
                # To strangers the shop shows its sign-in, whose form's token needs a cookie.
                assert response.status_code == (200 if rule.rule == "/shop/sign-in" else 302)
            else:
                wanted = 404 if rule.rule == "/metrics" else 200  # open only where switched on
                assert response.status_code == wanted, rule.rule
                assert "Set-Cookie" not in response.headers
            seen += 1
    assert seen >= 5
    assert everything_stored(app) == before


# ---- the real app -----------------------------------------------------------------------------


def fetch(address: str) -> bytes:
    with urllib.request.urlopen(address, timeout=10) as answer:
        return bytes(answer.read())


@pytest.mark.slow
def test_everything_the_real_worker_lists_is_there(server):
    text = fetch(f"{server}/sw.js").decode()
    shell = json.loads(text.split("\n", 1)[0].removeprefix("self.SHELL = ").removesuffix(";"))
    assert shell["files"][0] == "/"
    for address in shell["files"]:
        assert fetch(server + address), address


FIGURES = "rulebook-figures"


@pytest.mark.slow
@pytest.mark.parametrize("part", ["rulebook", "words.en"])
def test_what_goes_out_has_the_hash_it_names(server, part):
    book = json.loads(fetch(f"{server}/{part}.json"))
    named = book.pop("hash")
    if "ids" in book:  # words travel apart from their ids
        book["say"] = by_id(book)
        del book["ids"]
    assert sha256(rfc8785.dumps(book)).hexdigest() == named


@pytest.mark.slow
def test_the_figures_are_whole_beside_the_rulebook_they_name(server):
    first, part = (json.loads(fetch(f"{server}/{name}.json")) for name in ("rulebook", FIGURES))
    assert part.pop("beside") == first["hash"]
    but = {kind: first[kind].keys() - names for kind, names in part.pop("but").items()}
    for kind, names in (part.pop("like") | but).items():
        assert not part[kind].keys() & set(names)
        part[kind] |= {name: first[kind][name] for name in names}
    named = part.pop("hash")
    assert sha256(rfc8785.dumps(part)).hexdigest() == named


@pytest.mark.parametrize("name", ["words.xx", "words-figures.xx", "words-other.en"])
def test_words_that_there_are_not_are_not_found(client, name):
    assert client.get(f"/{name}.json").status_code == 404
