"""Everything in one file, and into another server: row by row and photo by photo, or not at all."""

from __future__ import annotations

import json
import zipfile
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from flask import Flask

from tests.support.effort import few
from tests.support.floor import Floor, run_stop, shop_floor
from tests.support.photo_files import headers
from tests.support.pictures import photo
from tests.support.records import HEADERS, envelope
from tests.support.shops import JOB, TOKEN, a_shop, dump, finished_job, read_link, sign_in
from webapp import create_app
from webapp.commands import move
from webapp.storage import whole
from webapp.storage.migrate import newest

pytestmark = pytest.mark.slow

# What stays behind of a whole server: who is signed in, and what passes within days.
PASSING = ("sessions", "tries", "pairs", "refused", "mails", "stamps", "judgings")


@pytest.fixture
def elsewhere(tmp_path: Path) -> Flask:
    """Another server, on SQLite whatever the first one is on."""
    data = tmp_path / "elsewhere"
    url = f"sqlite:///{data / 'other.sqlite3'}"
    return create_app({"DATA": data, "DATABASE_URL": url, "SECRET_KEY": "k" * 32})


def filled(app: Flask) -> Floor:
    """Two shops with jobs, links, checks with photos, decided and not; and a record of no shop."""
    floor = shop_floor(app)
    check = run_stop(smoke__1L="yes")
    floor.send(check)
    body = photo()
    told = headers(body, link=floor.secret, record=check["id"])
    assert app.test_client().post("/api/photos", data=body, headers=told).status_code == 200
    library = a_shop(app, "Alder Fork Tool Library", "ines")
    job, _ = finished_job(library)
    page = TOKEN.search(library.client.get(job).text)[1]
    sent = {"csrf_token": page, "photos": (BytesIO(photo("PNG")), "race.png")}
    assert library.client.post(f"{job}/photos", data=sent).status_code == 302
    alone = envelope(run_stop())
    assert app.test_client().post("/api/records", json=alone, headers=HEADERS).status_code == 200
    return floor


def exported(app: Flask, shop_id: int | None = None) -> BytesIO:
    file = BytesIO()
    whole.write(app.extensions["store"], file, shop_id)
    file.seek(0)
    return file


def taken_in(app: Flask, file: BytesIO) -> Any:
    return whole.take_in(app.extensions["store"], file)


def rows(app: Flask) -> dict[str, list[Any]]:
    """All rows that go along; words have a number of each server's own."""
    found = {name: lines for name, lines in dump(app).items() if name not in PASSING}
    found["words"] = sorted(line[1:] for line in found["words"])
    return {name: sorted(lines, key=repr) for name, lines in found.items()}


def files(app: Flask) -> dict[str, bytes]:
    data = app.extensions["store"].data
    return {str(path.relative_to(data)): path.read_bytes() for path in data.glob("photos/*/*")}


def test_all_rows_and_photos_are_on_the_other_server_as_they_were(app, elsewhere):
    floor = filled(app)
    taken_in(elsewhere, exported(app))
    assert rows(elsewhere) == rows(app)
    assert files(elsewhere) == files(app)
    assert len(files(app)) == 2
    again = exported(elsewhere)
    assert zipfile.ZipFile(again).read("tables/records.jsonl") == zipfile.ZipFile(
        exported(app)
    ).read("tables/records.jsonl")
    assert read_link(elsewhere.test_client(), floor.secret).status_code == 200


@pytest.mark.slow
def test_it_goes_the_other_way_too_and_the_server_works_on(app, elsewhere):
    """On PostgreSQL new rows are numbered behind those that came in."""
    filled(elsewhere)
    taken_in(app, exported(elsewhere))
    assert rows(app) == rows(elsewhere)
    assert files(app) == files(elsewhere)
    client = sign_in(app, "ines")
    assert client.get("/shop/jobs").status_code == 200
    page = a_shop(app, "Third Shop", "third").post("/shop/jobs/new", JOB | {"finish": "1"})
    assert page.status_code == 302


def test_one_shop_alone_goes_without_the_others_and_without_keys(app, elsewhere):
    floor = filled(app)
    taken_in(elsewhere, exported(app, floor.shop))
    there, here = rows(elsewhere), rows(app)
    assert [row for row in here["jobs"] if row[1] == floor.shop] == there["jobs"]
    assert len(there["shops"]) == 1
    assert all("x" not in row[4] for row in there["staff"])
    assert "Ada Lund" not in repr(there)
    assert len(files(elsewhere)) == 1
    assert files(elsewhere).items() < files(app).items()
    assert read_link(elsewhere.test_client(), floor.secret).status_code == 200


def rewritten(file: BytesIO, change: Callable[[str, bytes], bytes | None]) -> BytesIO:
    """The file with each part as ``change`` has it; None leaves it out."""
    out, before = BytesIO(), zipfile.ZipFile(file)
    with zipfile.ZipFile(out, "w") as made:
        for name in before.namelist():
            body = change(name, before.read(name))
            if body is not None:
                made.writestr(name, body)
    out.seek(0)
    return out


def manifest(**changes: Any) -> Callable[[str, bytes], bytes]:
    def change(name: str, body: bytes) -> bytes:
        told = json.loads(body) | changes if name == "twentymile.json" else None
        return body if told is None else json.dumps(told).encode()

    return change


def only(part: str, body: bytes | None) -> Callable[[str, bytes], bytes | None]:
    return lambda name, before: body if name.endswith(part) else before


# What is wrong with the file, how it comes about, and what is said.
BAD = {
    "a row is changed": (lambda n, b: b.replace(b"Alder Fork 1", b"Alder Fork 2"), "damaged"),
    "a table is missing": (only("jobs.jsonl", None), "damaged"),
    "a table is cut": (only("records.jsonl", b'{"seq": 1'), "damaged"),
    "a row has another column": (only("shops.jsonl", b'{"id": 1, "x": 1}\n'), "damaged"),
    "a photo is missing": (only(".jpg", None), "damaged"),
    "a photo is another": (only(".jpg", b"no photo"), "damaged"),
    "the list of parts is missing": (only("twentymile.json", None), "no_export"),
    "the list of parts is no list": (only("twentymile.json", b"[]"), "no_export"),
    "another format": (manifest(format=2), "newer"),
    "a later release": (manifest(revision="9999"), "newer"),
    "an earlier release": (manifest(revision="0009"), "older"),
}


@pytest.mark.slow
@pytest.mark.parametrize("case", few(BAD, 3))
def test_a_file_that_is_not_right_is_refused_and_nothing_is_half_taken_in(app, elsewhere, case):
    change, code = BAD[case]
    filled(app)
    before = rows(elsewhere)
    with pytest.raises(whole.Unusable) as refused:
        taken_in(elsewhere, rewritten(exported(app), change))
    assert refused.value.code == code
    assert rows(elsewhere) == before
    assert files(elsewhere) == {}


@pytest.mark.parametrize("body", [b"", b"PK", b"x" * 400], ids=["empty", "cut", "other"])
def test_what_is_no_archive_is_refused(elsewhere, body):
    with pytest.raises(whole.Unusable) as refused:
        taken_in(elsewhere, BytesIO(body))
    assert refused.value.code == "damaged"


def test_bytes_that_flipped_on_the_way_are_noticed(app, elsewhere):
    filled(app)
    body = exported(app).getvalue()
    before = rows(elsewhere)
    for at in range(100, len(body), len(body) // 25):
        bent = body[:at] + bytes([body[at] ^ 0x10]) + body[at + 1 :]
        try:
            taken_in(elsewhere, BytesIO(bent))
        except whole.Unusable:
            assert rows(elsewhere) == before
        else:  # a bit that says nothing, such as one of a part's date
            assert rows(elsewhere) == rows(app)
            break
    assert at > 1000


@pytest.mark.slow
def test_a_server_that_has_something_takes_nothing_in(app, elsewhere):
    filled(app)
    shop_floor(elsewhere, "Here Before")
    before = rows(elsewhere)
    with pytest.raises(whole.Unusable) as refused:
        taken_in(elsewhere, exported(app))
    assert refused.value.code == "not_empty"
    assert rows(elsewhere) == before


@pytest.mark.slow
def test_a_photo_whose_file_is_lost_holds_nothing_else_back(app, elsewhere):
    filled(app)
    next(iter(app.extensions["store"].data.glob("photos/*/*"))).unlink()
    file = exported(app)
    assert len(json.loads(zipfile.ZipFile(file).read("twentymile.json"))["missing"]) == 1
    taken_in(elsewhere, file)
    assert rows(elsewhere) == rows(app)


# ---- the command --------------------------------------------------------------------------------


@pytest.mark.sqlite
def test_the_command_writes_a_file_of_its_owner_and_takes_it_in(app, tmp_path, monkeypatch, capsys):
    filled(app)
    target = tmp_path / "all.zip"
    run(monkeypatch, app.config["DATA"], "out", str(target))
    assert "Photos: 2" in capsys.readouterr().out
    assert target.stat().st_mode & 0o777 == 0o600
    run(monkeypatch, tmp_path / "new", "in", str(target))
    assert "is taken in. Rows: " in capsys.readouterr().out
    assert rows(create_app({"DATA": tmp_path / "new"})) == rows(app)


# What is asked of the command, and what it says.
REFUSALS = [
    (("out", "there.zip"), "is there already"),
    (("out", "x.zip", "--shop", "Nobody"), "no shop called Nobody"),
    (("in", "missing.zip"), "missing.zip"),
    (("in", "there.zip"), "damaged"),
]


@pytest.mark.sqlite
@pytest.mark.parametrize(("asked", "said"), REFUSALS, ids=[said for _, said in REFUSALS])
def test_the_command_says_what_is_in_the_way(app, tmp_path, monkeypatch, asked, said):
    monkeypatch.chdir(tmp_path)
    Path("there.zip").write_bytes(b"nothing")
    with pytest.raises(SystemExit) as ended:
        run(monkeypatch, app.config["DATA"], *asked)
    assert said in str(ended.value.code)
    assert not Path("x.zip").exists()


def run(monkeypatch: pytest.MonkeyPatch, data: Path, *asked: str) -> None:
    monkeypatch.setenv("TWENTYMILE_DATA", str(data))
    monkeypatch.setattr("sys.argv", ["move", *asked])
    move.main()


def test_the_file_names_the_layout_of_its_tables(app):
    told = json.loads(zipfile.ZipFile(exported(app)).read("twentymile.json"))
    assert told["revision"] == newest()
