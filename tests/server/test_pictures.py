"""What becomes of a picture: proven whole, upright, without metadata, or refused in words."""

from __future__ import annotations

import os
import random
import re
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from functools import cache
from hashlib import sha256
from io import BytesIO
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from tests.support.effort import rounds
from tests.support.pictures import (
    CORNERS,
    bomb,
    corner_colours,
    many_scans,
    photo,
    quarters,
    telltale,
    turned,
)
from tests.support.serve import ROOT
from tests.support.waiting import PATIENCE
from webapp.storage import decoding, images
from webapp.storage.decoding import SCANS, BadPicture, cleaned, jpeg_scans
from webapp.storage.images import prove
from webapp.wording import say

JPEG = photo()


@pytest.mark.parametrize("orientation", range(1, 9))
def test_every_exif_orientation_comes_out_upright(orientation):
    """The turns are those of EXIF 2.32, tag 0x0112."""
    kept = cleaned(turned(orientation))
    assert (kept.width, kept.height) == (160, 80)
    assert corner_colours(kept.data) == CORNERS
    assert 0x0112 not in Image.open(BytesIO(kept.data)).getexif()


def test_place_camera_comment_and_profile_are_gone():
    sent = telltale()
    assert b"Telltale" in sent
    assert b"behind the shed" in sent
    kept = cleaned(sent)
    image = Image.open(BytesIO(kept.data))
    assert not image.getexif()
    assert set(image.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
    for word in (b"Telltale", b"shed", b"Exif", b"profile", b"GPS"):
        assert word not in kept.data


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("mode", ["RGB", "L", "CMYK", "RGBA", "P", "1", "LA", "I;16"])
def test_each_allowed_format_and_mode_becomes_an_rgb_jpeg(kind, mode):
    image = quarters().convert("L" if mode == "I;16" else mode)
    image = image.convert(mode) if mode == "I;16" else image
    try:
        sent = photo(kind, image)
    except (OSError, ValueError):
        pytest.skip(f"{kind} does not hold {mode}")
    kept = cleaned(sent)
    image = Image.open(BytesIO(kept.data))
    assert (image.format, image.mode, image.size) == ("JPEG", "RGB", (160, 80))
    assert kept.sha256 == sha256(kept.data).hexdigest()


def test_what_is_see_through_becomes_white():
    kept = cleaned(photo("PNG", Image.new("RGBA", (8, 8), (0, 0, 0, 0))))
    assert Image.open(BytesIO(kept.data)).getpixel((4, 4)) == (255, 255, 255)


@pytest.mark.slow
def test_a_large_photo_is_kept_smaller_with_its_sides_in_proportion():
    kept = cleaned(photo(image=quarters(4000, 3000)))
    assert (kept.width, kept.height) == (2000, 1500)


REFUSED = {
    "nothing at all": (b"", "empty", "no bytes"),
    "a JPEG cut in half": (JPEG[: len(JPEG) // 2], "not_whole", "damaged"),
    "a JPEG cut in half and ended": (JPEG[: len(JPEG) // 2] + b"\xff\xd9", "not_whole", "damaged"),
    "a JPEG without its end": (JPEG[:-2], "not_whole", "damaged"),
    "a PNG cut in half": (photo("PNG")[:-60], "not_whole", "damaged"),
    "a GIF called JPEG": (photo("GIF"), "not_a_photo", "not a JPEG"),
    "a page called JPEG": (b"<html><script>1</script>", "not_a_photo", "not a JPEG"),
    "a text called JPEG": (b"hub was warm", "not_a_photo", "not a JPEG"),
    "a drawing with script": (b"<svg onload='1'/>", "not_a_photo", "not a JPEG"),
    "a page behind a JPEG": (JPEG + b"<script>1</script>", "tail", "hidden"),
    "a page behind a PNG": (photo("PNG") + b"<script>", "tail", "hidden"),
    "a page behind a WebP": (photo("WEBP") + b"<script>", "tail", "hidden"),
    "a bomb just over the limit": (bomb(4000, 2001), "too_many_pixels", "8 million"),
    "a bomb that Pillow warns of": (bomb(10_000, 10_000), "too_many_pixels", "million"),
    "a bomb that Pillow refuses": (bomb(60_000, 60_000), "too_many_pixels", "million"),
    "a side just over the limit": (bomb(1, 20_001), "too_many_pixels", "side over 20000"),
    "a JPEG with one scan too many": (many_scans(SCANS + 1), "too_costly", "more time"),
    "a progressive JPEG over its limit": (
        photo(image=quarters(4000, 2001), progressive=True),
        "too_many_pixels",
        "8 million",
    ),
    "a PNG whose pixels end early": (bomb(4000, 2000), "not_whole", "damaged"),
}


@pytest.mark.parametrize(("sent", "code", "words"), REFUSED.values(), ids=REFUSED.keys())
def test_what_is_no_whole_photo_is_refused_in_words(sent, code, words):
    with pytest.raises(BadPicture) as refused:
        cleaned(sent)
    assert refused.value.code == code
    assert words in told(refused.value)
    assert told(refused.value, ".fix").endswith(".")


def told(error: BadPicture, part: str = "") -> str:
    """The sentence that the sender reads, or how to put it right."""
    return say(f"error-photo-{error.code}{part}", **error.values)


def test_the_pixel_limit_holds_before_anything_is_decoded(monkeypatch):
    monkeypatch.setattr(Image.Image, "load", lambda self: pytest.fail("it was decoded"))
    monkeypatch.setattr(Image.Image, "draft", lambda *_: pytest.fail("it was decoded"))
    with pytest.raises(BadPicture, match="too_many_pixels"):
        cleaned(bomb(4000, 2001))


@pytest.mark.parametrize(("pixels", "taken"), [(160 * 80, True), (160 * 80 - 1, False)])
def test_the_pixel_limit_itself_is_inside(monkeypatch, pixels, taken):
    monkeypatch.setattr(decoding, "PIXELS", pixels)
    if taken:
        assert cleaned(JPEG).width == 160
    else:
        with pytest.raises(BadPicture, match="too_many_pixels"):
            cleaned(JPEG)


@pytest.mark.parametrize(
    ("length", "digest", "code"),
    [
        (len(JPEG) + 1, sha256(JPEG).hexdigest(), "cut_off"),
        (len(JPEG), sha256(JPEG[1:]).hexdigest(), "hash_mismatch"),
    ],
)
def test_a_wrong_length_or_hash_is_refused(length, digest, code):
    with pytest.raises(BadPicture) as refused:
        prove(JPEG, length, digest)
    assert refused.value.code == code


def test_the_right_length_and_hash_pass():
    prove(JPEG, len(JPEG), sha256(JPEG).hexdigest())


@pytest.mark.parametrize("scans", [SCANS - 1, SCANS])
def test_as_many_scans_as_are_allowed_are_taken(scans):
    assert cleaned(many_scans(scans)).width == 160


def test_scans_are_counted_of_the_picture_itself():
    """Pillow's encoder writes one scan, or ten when progressive (libjpeg's own script)."""
    small = Image.Exif()
    small[0x9286] = "\xff\xda" * 40  # a comment that looks like scans
    assert jpeg_scans(photo()) == 1
    assert jpeg_scans(photo(exif=small)) == 1
    assert jpeg_scans(photo(progressive=True)) == 10


# ---- in its own process -------------------------------------------------------------------------

# Made when they are asked for: to make them all takes a second of each process that collects.
HOSTILE = {
    "hundreds of scans": lambda: many_scans(900, quarters(1200, 1000)),
    "as many scans as allowed, on as many pixels": lambda: many_scans(SCANS, quarters(4000, 2000)),
    "a column": lambda: bomb(1, 39_999_999, b"\0\0" * 39_999_999, kind=0),
    "a PNG of all pixels": lambda: bomb(4000, 2000, (b"\0" + b"\x55" * 12000) * 2000),
    "a WebP of all pixels": lambda: photo("WEBP", quarters(4000, 2000)),
    "a JPEG of all pixels": lambda: photo(image=quarters(8000, 5000)),
    "a progressive JPEG of all pixels": lambda: photo(
        image=quarters(4000, 2000), progressive=True, subsampling=0
    ),
}


@cache
def hostile(case: str) -> bytes:
    return HOSTILE[case]()


# Processor time, which no neighbour takes: half is to take a picture in and hand it out.
MOST = 2 * decoding.SECONDS


@pytest.fixture
def decoder() -> Iterator[images.Decoder]:
    one = images.Decoder()
    yield one
    one.stop()


def memory_of(process: int) -> int:
    """The most memory it has had, in bytes (proc(5), VmHWM); 0 once it has ended."""
    try:
        text = Path(f"/proc/{process}/status").read_text()
    except (FileNotFoundError, ProcessLookupError):
        return 0
    found = re.search(r"VmHWM:\s+(\d+) kB", text)
    return int(found[1]) * 1024 if found else 0


@contextmanager
def watched(process: int) -> Iterator[list[int]]:
    """What memory it has while it works, looked at again and again."""
    seen, done = [0], threading.Event()

    def look() -> None:
        while not done.wait(0.005):
            seen.append(memory_of(process))

    looking = threading.Thread(target=look)
    looking.start()
    yield seen
    done.set()
    looking.join()
    seen.append(memory_of(process))


@pytest.mark.slow
@pytest.mark.parametrize("case", HOSTILE)
def test_no_picture_takes_more_than_a_second_and_200_megabytes(decoder, case):
    sent = hostile(case)
    decoder.cleaned(JPEG)  # starts the process
    number, before = decoder.process.pid, seconds_of(decoder.process.pid)
    with watched(number) as memory, suppress(BadPicture):
        decoder.cleaned(sent)
    if decoder.process is not None:  # else it was ended by the clock that is in it
        assert seconds_of(number) - before < MOST
    assert max(memory) < 200_000_000


SMALL = [photo(), photo("PNG"), photo("WEBP"), telltale(), photo(progressive=True), many_scans(10)]


def mangled(sent: bytes, chance: random.Random) -> bytes:
    """The same with a few of its bytes changed, left out, doubled or made up."""
    for _ in range(chance.randint(1, 6)):
        at, length = chance.randrange(len(sent)), chance.randint(0, 60)
        junk = chance.choice((b"", b"\xff\xda", b"\xff" * 8, chance.randbytes(length)))
        skipped = chance.choice((0, len(junk), length))
        sent = sent[:at] + junk + sent[at + skipped :] or b"\0"
    return sent[: chance.randrange(1, len(sent) + 1)] if chance.random() < 0.1 else sent


@pytest.mark.slow
@pytest.mark.sample
@pytest.mark.parametrize("seed", range(4))
def test_no_mangled_picture_takes_more_than_a_second_and_200_megabytes(decoder, seed):
    chance = random.Random(seed)
    decoder.cleaned(JPEG)  # starts the process
    for _ in range(rounds(63)):
        large = chance.random() < 0.01
        sent = mangled(chance.choice([*map(hostile, HOSTILE)] if large else SMALL), chance)
        number, before = decoder.process.pid, seconds_of(decoder.process.pid)
        with suppress(BadPicture):
            decoder.cleaned(sent)
        assert memory_of(number) < 200_000_000
        if decoder.process is None:  # its own clock ended it
            decoder.cleaned(JPEG)
        elif decoder.process.pid == number:
            assert seconds_of(number) - before < MOST


def seconds_of(process: int) -> float:
    """Processor time, in seconds (proc(5), utime and stime of stat)."""
    fields = Path(f"/proc/{process}/stat").read_text().rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


@pytest.mark.slow
def test_a_picture_that_ends_the_process_is_refused_and_the_next_is_taken(decoder):
    with pytest.raises(BadPicture) as refused:
        decoder.cleaned(many_scans(SCANS, image=Image.effect_noise((4000, 2000), 200)))
    assert refused.value.code == "too_costly"
    assert decoder.cleaned(JPEG).width == 160


@pytest.mark.slow
def test_a_process_that_hangs_is_ended(decoder, monkeypatch):
    decoder.cleaned(JPEG)  # the process is up; that it starts may take longer than the patience
    monkeypatch.setattr(images, "PATIENCE", 0.3)
    os.kill(decoder.process.pid, signal.SIGSTOP)
    with pytest.raises(BadPicture, match="too_costly"):
        decoder.cleaned(JPEG)


SERVE = "from webapp.storage import decoding; decoding.answer = lambda _: {}; decoding.serve()"
# What takes the place of decoding, and how its process ends.
COSTLY = {
    "nothing much": ("({}, b'')", 0),
    "more memory than there is for it": ("({}, bytearray(300_000_000))", 1),
    "time without end": ("1 in iter(int, 1)", -signal.SIGPROF),
}


@pytest.mark.slow
@pytest.mark.parametrize("case", COSTLY)
def test_what_costs_too_much_ends_its_process_alone(case):
    work, ends = COSTLY[case]
    command = [sys.executable, "-c", SERVE.replace("{}", work, 1)]
    sent = (1).to_bytes(4, "big") + b"x"
    done = subprocess.run(command, cwd=ROOT, input=sent, capture_output=True, timeout=PATIENCE)
    assert done.returncode == ends, done.stderr


def test_the_process_answers_as_the_function_does(decoder):
    for sent in (JPEG, telltale(), photo("PNG")):
        assert decoder.cleaned(sent) == cleaned(sent)
    for sent, code, words in REFUSED.values():
        with pytest.raises(BadPicture) as refused:
            decoder.cleaned(sent)
        assert refused.value.code == code
        assert words in told(refused.value)


@settings(max_examples=150, deadline=None)
@given(
    sent=st.sampled_from([photo(), photo("PNG"), photo("WEBP"), telltale()]),
    at=st.floats(0, 1),
    junk=st.binary(min_size=1, max_size=40),
)
def test_mangled_files_are_taken_whole_or_refused_never_a_fault(sent, at, junk):
    where = int(at * (len(sent) - 1))
    mangled = sent[:where] + junk + sent[where + len(junk) :]
    try:
        kept = cleaned(mangled)
    except BadPicture:
        return
    assert Image.open(BytesIO(kept.data)).format == "JPEG"
