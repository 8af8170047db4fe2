"""Takes the pictures of the user guide from the real app: ``python docs/pictures.py``.

Starts a server on an empty data folder, works the app as a person does, and writes
``docs/pictures/*.png`` at 360 by 740.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from PIL import Image

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parent))

from tests.support.browser import launched  # noqa: E402
from tests.support.phone import Phone, phone  # noqa: E402
from tests.support.serve import serving  # noqa: E402

COLOURS = 64  # enough for flat screens; a third of the size


def shoot(one: Phone, name: str) -> None:
    path = HERE / "pictures" / f"{name}.png"
    one.page.wait_for_timeout(200)
    one.page.screenshot(path=path)
    with Image.open(path) as shot:
        # This method keeps the few dots of a sign's colour that the usual one averages away.
        few = shot.convert("RGB").quantize(COLOURS, Image.Quantize.MAXCOVERAGE)
        few.save(path, optimize=True)


def answer_until(one: Phone, words: str) -> None:
    one.answer_until(lambda: words in one.question)


def roughly(one: Phone, text: str) -> None:
    one.choose(f".pick:text-is('{text}')")


def save_trailer(one: Phone) -> None:
    one.open("#/trailer/new")
    one.page.fill("#name", "Alder Fork 3")
    one.tap("Go on")
    one.page.wait_for_selector(".asking")
    one.settle()
    one.choose("button[value='1']")
    one.choose("button[value=none]")
    one.answer_until(lambda: not one.asking)
    shoot(one, "answers")
    one.tap("Save trailer")
    one.wait_for("location.hash.startsWith('#/trailer/')")
    one.settle()


def quick_stop(one: Phone) -> None:
    """A mild day, twenty miles: the left hub is clearly warmer than its mate."""
    one.open()
    one.settle()
    shoot(one, "front")
    one.tap_at("button[value=run_stop]")
    one.settle()
    shoot(one, "stop")
    one.tap_at("button[value=quick_stop]")
    one.page.wait_for_selector(".asking")
    one.settle()
    shoot(one, "number")
    for text in ("60–80", "20–50", "55–65", "2–5"):
        roughly(one, text)
    answer_until(one, "Look and smell")
    shoot(one, "checklist")
    one.answer()
    one.choose("button[value=cool]")
    answer_until(one, "How warm")
    shoot(one, "ask")
    one.choose("button[value=hot]")
    one.choose("button[value=left_clearly]")
    shoot(one, "verdict")
    one.page.locator("article.card").first.scroll_into_view_if_needed()
    one.page.evaluate("scrollBy(0, 260)")
    shoot(one, "finding")
    one.tap("Keep and send")
    one.page.wait_for_selector(".kept")
    one.page.get_by_text("and sent").wait_for()
    shoot(one, "kept")


def stop_now(one: Phone) -> None:
    one.open()
    one.begin("quick_stop")
    answer_until(one, "Look and smell")
    one.tap("Smoke")
    one.tap("Only these")
    one.page.wait_for_selector(".halt")
    one.tap_at(".now")
    one.wait_for("location.hash.startsWith('#/sofar/')")
    one.settle()
    shoot(one, "stop-now")


def main() -> None:
    with tempfile.TemporaryDirectory() as folder, launched() as browser:
        data = Path(folder, "data")
        data.mkdir()
        with serving(data) as address, phone(browser, Path(folder, "phone"), address) as one:
            one.install()
            save_trailer(one)
            quick_stop(one)
            stop_now(one)
            one.open("#/history")
            one.settle()
            shoot(one, "history")
            one.open("#/settings")
            one.settle()
            shoot(one, "settings")


if __name__ == "__main__":
    main()
