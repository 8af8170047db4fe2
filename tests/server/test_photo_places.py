"""Photos in the data folder and in a bucket: one and the same to all who use them."""

from __future__ import annotations

import subprocess
import sys
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.support.photo_files import headers
from tests.support.pictures import photo
from tests.support.serve import free_port
from tests.support.waiting import until
from webapp import create_app
from webapp.storage import photo_places
from webapp.storage.photo_places import Bucket, Folder, Photos, place_of

pytestmark = pytest.mark.slow

SERVER = Path(sys.prefix) / "s3" / "bin" / "moto_server"
ONE, OTHER = photo_places.path_of("a" * 36), photo_places.path_of("b" * 36)


@pytest.fixture(scope="module")
def bucket() -> Iterator[str]:
    """An empty bucket of a server that speaks the S3 protocol; its packages stand apart, because
    they and the product's want different versions of the same ones (``make s3-server``)."""
    if not SERVER.exists():
        pytest.skip("there is no server of the S3 protocol here: make s3-server")
    port = free_port()
    command = [str(SERVER), "-H", "127.0.0.1", "-p", str(port)]
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    address = f"http://127.0.0.1:{port}"
    with pytest.MonkeyPatch.context() as setting:
        for name, value in {
            "AWS_ENDPOINT_URL": address,
            "AWS_ACCESS_KEY_ID": "shop",
            "AWS_SECRET_ACCESS_KEY": "secret",
            "AWS_REGION": "us-east-1",
        }.items():
            setting.setenv(name, value)
        make_bucket(f"{address}/trailers")
        yield "s3://trailers"
    process.terminate()
    process.wait(20)


def make_bucket(address: str) -> None:
    def made() -> bool:
        try:
            urllib.request.urlopen(urllib.request.Request(address, method="PUT"), timeout=20)
        except urllib.error.URLError:
            return False
        return True

    until(made, "a bucket")


@pytest.fixture(params=["folder", "bucket"])
def kept(request, tmp_path: Path) -> Photos:
    if request.param == "folder":
        return place_of(tmp_path, "")
    found = place_of(tmp_path, request.getfixturevalue("bucket") + f"/{tmp_path.name}")
    assert isinstance(found, Bucket)
    return found


def test_what_was_written_is_read(kept):
    kept.write(ONE, b"one")
    kept.write(OTHER, b"other")
    assert (kept.read(ONE), kept.read(OTHER)) == (b"one", b"other")
    assert kept.names() == {ONE, OTHER}


def test_what_is_missing_is_none_and_told(kept, caplog):
    assert kept.read(ONE) is None
    assert ONE in caplog.text


def test_what_was_removed_is_gone_and_removing_twice_is_no_fault(kept):
    kept.write(ONE, b"one")
    kept.remove([ONE, OTHER])
    kept.remove([ONE])
    kept.remove([])
    assert kept.names() == set()
    kept.tidy()


def test_a_bucket_that_does_not_answer_is_an_error_that_keeps_the_photo_on_the_phone(bucket):
    missing = place_of(Path(), "s3://no-such-bucket")
    with pytest.raises(OSError, match="NoSuchBucket"):
        missing.write(ONE, b"one")


def test_the_server_keeps_and_shows_photos_in_a_bucket(bucket, tmp_path):
    """Through the API, as a phone sends them; nothing of them lies in the data folder."""
    folder = f"{bucket}/{tmp_path.name}"
    app = create_app({"TESTING": True, "DATA": tmp_path, "PHOTOS": folder, "SECRET_KEY": "k" * 40})
    sent = photo()
    answer = app.test_client().post("/api/photos", data=sent, headers=headers(sent))
    assert answer.status_code == 200, answer.text
    lying = app.extensions["store"].photos.names()
    assert lying == {photo_places.path_of(answer.json["id"])}
    assert list(tmp_path.glob("photos/*/*")) == []


def test_without_an_address_photos_lie_in_the_data_folder(tmp_path):
    assert isinstance(place_of(tmp_path, ""), Folder)
