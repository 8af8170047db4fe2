"""The user guide shows pictures that exist and speaks the app's own words."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Browser

from docs.pictures import ROAD, SPANISH, said, tour
from tests.support.phone import phone

ROOT = Path(__file__).parents[2]
DOCS, CATALOGUE = ROOT / "docs", ROOT / "checks" / "words" / "en"
GUIDE = (DOCS / "user-guide.md").read_text("utf-8")
WORDS = "".join(path.read_text("utf-8") for path in CATALOGUE.glob("*.ftl"))


def test_every_picture_is_there_and_of_a_phone() -> None:
    named = re.findall(r"!\[[^\]]+\]\((pictures/[^)]+)\)", GUIDE)
    assert named
    for name in named:
        with Image.open(DOCS / name) as picture:
            assert picture.size == (360, 740), name


def test_screenshots_for_installing_are_pictures_of_the_guide() -> None:
    manifest = json.loads((ROOT / "static" / "manifest.webmanifest").read_text("utf-8"))
    shown = {Path(one["src"]).name: one for one in manifest["screenshots"]}
    kept = {path.name: path for path in (ROOT / "static" / "screenshots").iterdir()}
    assert len(shown) >= 3
    assert shown.keys() == kept.keys()
    for name, path in kept.items():
        assert path.read_bytes() == (DOCS / "pictures" / name).read_bytes(), name
        assert (shown[name]["sizes"], shown[name]["form_factor"]) == ("360x740", "narrow")


@pytest.mark.parametrize(
    "words",
    [
        "Ready to work without signal",
        "Later",
        "Still these tires?",
        "Nothing else here",
        "Not looked at this time",
        "Pass it on",
        "Check this trailer again",
        "Only these",
        "None of these",
        "Only three digits",
        "Cannot read it",
        "Check your answers",
        "What to check next",
        "Can’t tell yet",
        "Keep and send",
        "Save everything to a file",
        "Fetch from a file",
        "Save this trailer",
        "Not yet sent",
        "Send now",
        "Working and source",
    ],
)
def test_the_guide_uses_the_apps_words(words: str) -> None:
    assert words in WORDS
    assert words.replace("’", "'") in re.sub(r"\s+", " ", GUIDE)


@pytest.mark.long
def test_the_pictures_show_what_the_screens_say(
    chromium: Browser, server: str, tmp_path: Path
) -> None:
    """Where this fails, ``make pictures`` takes them anew."""
    words: dict[str, str] = {}
    with phone(chromium, tmp_path, server) as one:
        tour(one, lambda name: words.update({name: said(one)}))
    assert words == json.loads((DOCS / "pictures" / "said.json").read_text("utf-8"))
    named = re.findall(r"pictures/([\w-]+)\.png", GUIDE + (ROOT / "README.md").read_text("utf-8"))
    assert set(named) == set(words) | ROAD | SPANISH
