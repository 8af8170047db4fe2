"""What becomes of a picture: proven whole, upright, without metadata, or refused in words."""

from __future__ import annotations

from hashlib import sha256
from io import BytesIO

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from tests.support.pictures import CORNERS, bomb, corner_colours, photo, quarters, telltale, turned
from webapp.storage import images
from webapp.storage.images import BadPicture, cleaned, prove

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
    "a bomb just over the limit": (bomb(8000, 5001), "too_many_pixels", "40 million"),
    "a bomb that Pillow warns of": (bomb(10_000, 10_000), "too_many_pixels", "40 million"),
    "a bomb that Pillow refuses": (bomb(60_000, 60_000), "too_many_pixels", "40 million"),
    "a PNG whose pixels end early": (bomb(8000, 5000), "not_whole", "damaged"),
}


@pytest.mark.parametrize(("sent", "code", "words"), REFUSED.values(), ids=REFUSED.keys())
def test_what_is_no_whole_photo_is_refused_in_words(sent, code, words):
    with pytest.raises(BadPicture, match=words) as refused:
        cleaned(sent)
    assert refused.value.code == code
    assert refused.value.fix.endswith(".")


def test_the_pixel_limit_holds_before_anything_is_decoded(monkeypatch):
    monkeypatch.setattr(Image.Image, "load", lambda self: pytest.fail("it was decoded"))
    monkeypatch.setattr(Image.Image, "draft", lambda *_: pytest.fail("it was decoded"))
    with pytest.raises(BadPicture, match="million pixels"):
        cleaned(bomb(8000, 5001))


@pytest.mark.parametrize(("pixels", "taken"), [(160 * 80, True), (160 * 80 - 1, False)])
def test_the_pixel_limit_itself_is_inside(monkeypatch, pixels, taken):
    monkeypatch.setattr(images, "PIXELS", pixels)
    if taken:
        assert cleaned(JPEG).width == 160
    else:
        with pytest.raises(BadPicture, match="pixels"):
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
