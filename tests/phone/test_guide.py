"""The user guide shows pictures that exist and speaks the app's own words."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from PIL import Image

from tests.support.browser import STATIC

DOCS = Path(__file__).parents[2] / "docs"
GUIDE = (DOCS / "user-guide.md").read_text("utf-8")
SCRIPTS = "".join(path.read_text("utf-8") for path in STATIC.rglob("*.js"))


def test_every_picture_is_there_and_of_a_phone() -> None:
    named = re.findall(r"!\[[^\]]+\]\((pictures/[^)]+)\)", GUIDE)
    assert named
    for name in named:
        with Image.open(DOCS / name) as picture:
            assert picture.size == (360, 740), name


@pytest.mark.parametrize(
    "words",
    [
        "Ready to work without signal",
        "Put it down",
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
    assert words in SCRIPTS
    assert words.replace("’", "'") in re.sub(r"\s+", " ", GUIDE)
