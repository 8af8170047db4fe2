"""The five signs are told apart without colour: rendered by the browser, then seen by other eyes.

Colour blindness is simulated as published: Machado, Oliveira and Fernandes, "A
Physiologically-based Model for Simulation of Color Vision Deficiency", IEEE TVCG 15 (2009), the
matrices for severity 1.0, applied to linear light. Grey is the luminance of Rec. 709; sRGB is made
linear by IEC 61966-2-1.
What counts as seen apart is ours, common practice without a source.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from itertools import combinations

import numpy as np
import numpy.typing as npt
import pytest
from PIL import Image
from playwright.sync_api import Browser, Page

from checks.words import words
from tests.support.effort import few

Array = npt.NDArray[np.float64]
LEVELS = ("stop", "mend", "look", "nothing", "unchecked")
SIDE = 48  # as in a list of checks, CSS pixels
EYES = {
    "usual": np.eye(3),
    "grey": np.full((3, 3), 0.0) + np.array([0.2126, 0.7152, 0.0722]),
    "protanopia": np.array(
        [
            [0.152286, 1.052583, -0.204868],
            [0.114503, 0.786281, 0.099216],
            [-0.003882, -0.048116, 1.051998],
        ]
    ),
    "deuteranopia": np.array(
        [
            [0.367322, 0.860646, -0.227968],
            [0.280085, 0.672501, 0.047413],
            [-0.011820, 0.042940, 0.968881],
        ]
    ),
    "tritanopia": np.array(
        [
            [1.255528, -0.076749, -0.178779],
            [-0.078411, 0.930809, 0.147602],
            [0.004733, 0.691367, 0.303900],
        ]
    ),
}
DRAW = """async ([levels, side]) => {
    const { sign } = await import("/static/parts/sign.js");
    document.body.replaceChildren(...levels.map((level) => {
        const shown = sign(level);
        shown.firstChild.style.inlineSize = shown.firstChild.style.blockSize = `${side}px`;
        return shown;
    }));
}"""


SCHEMES = [("light", "none"), ("dark", "none"), ("light", "active"), ("dark", "active")]


@pytest.fixture(scope="module", params=SCHEMES, ids=lambda one: f"{one[0]}, forced {one[1]}")
def signs(chromium: Browser, server: str, request: pytest.FixtureRequest) -> Iterator[Page]:
    scheme, forced = request.param
    page = chromium.new_page(color_scheme=scheme, forced_colors=forced)
    page.goto(server)
    page.wait_for_selector(".page:not(.first)")
    page.evaluate(DRAW, [LEVELS, SIDE])
    yield page
    page.close()


def seen(page: Page, eyes: Array) -> dict[str, Array]:
    """Each sign as these eyes see it: rows, columns, red green blue from 0 to 1."""
    found = {}
    for level in LEVELS:
        shot = page.locator(f".sign.{level} svg").screenshot()
        with Image.open(io.BytesIO(shot)) as image:
            given = np.asarray(image.convert("RGB").resize((SIDE, SIDE)), dtype=np.float64) / 255
        linear = np.where(given <= 0.04045, given / 12.92, ((given + 0.055) / 1.055) ** 2.4)
        other = np.clip(linear @ eyes.T, 0, 1)
        found[level] = np.where(
            other <= 0.0031308, other * 12.92, 1.055 * other ** (1 / 2.4) - 0.055
        )
    return found


def apart(one: Array, other: Array) -> float:
    """The share of dots that differ by an eighth of the scale or more in some channel."""
    return float((np.abs(one - other).max(axis=2) >= 1 / 8).mean())


FLOOR = 0.25  # of a sign's dots


@pytest.mark.parametrize("eyes", few(EYES, 1))
def test_no_two_signs_look_alike(signs: Page, eyes: str) -> None:
    shown = seen(signs, EYES[eyes])
    near = {
        pair: round(apart(shown[pair[0]], shown[pair[1]]), 3) for pair in combinations(LEVELS, 2)
    }
    assert min(near.values()) >= FLOOR, near


@pytest.mark.parametrize("eyes", EYES)
def test_white_stays_white_for_all_eyes(eyes: str) -> None:
    assert EYES[eyes].sum(axis=1) == pytest.approx(np.ones(3), abs=1e-5)


def test_the_measure_finds_one_sign_like_itself(signs: Page) -> None:
    shown = seen(signs, EYES["usual"])
    assert apart(shown["stop"], shown["stop"]) == 0


def test_stop_and_nothing_would_be_alike_by_colour_alone_in_grey(signs: Page) -> None:
    """Why there are shapes: the middle of the red and of the green sign are one grey."""
    shown = seen(signs, EYES["grey"])
    inside = [shown[level][SIDE // 4, SIDE // 2] for level in ("stop", "nothing")]
    assert np.abs(inside[0] - inside[1]).max() < 1 / 8


def test_each_level_has_a_word_of_its_own(signs: Page) -> None:
    said = signs.locator(".sign .word").all_inner_texts()
    assert said == [words("en").say(f"level-{level}") for level in LEVELS]
    assert len(set(said)) == len(LEVELS)
