"""Takes the pictures of the guide and the README from the real app: ``python docs/pictures.py``.

Starts a server on an empty data folder, works the app as a person does, and writes
``docs/pictures/*.png`` at 360 by 740, with what stood on each screen in ``said.json``. A test works
the same way through the app and compares the words, so that no picture outlives its screen.
"""

from __future__ import annotations

import json
import re
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from PIL import Image

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parent))

from tests.phone.test_years import HISTORY, KEEP, TRAILER  # noqa: E402
from tests.support.browser import launched  # noqa: E402
from tests.support.phone import Phone, phone  # noqa: E402
from tests.support.serve import serving  # noqa: E402

SCREENSHOTS = HERE.parent / "static" / "screenshots"  # of these, for whoever is about to install
COLOURS = 64  # enough for flat screens; a third of the size
PICTURES = HERE / "pictures"
LONG_LOOK = "let looks = 0; performance.now = () => 20000 * ++looks;"  # each look takes long enough
Shoot = Callable[[str], None]


# What ``road`` shoots: screens with miles and minutes that pass while they are taken.
SPANISH = {
    *("es-front", "es-hubs", "es-verdict", "es-stop-now", "es-settings"),
    *("es-walk", "es-walk-verdict", "es-tandem-electric", "es-tandem-surge"),
}
ROAD = {"run", "run-call", "lamps", "lamp-causes", "years", "trip"}


def said(one: Phone) -> str:
    """The words on the screen, without days, times and the numbers of phone and rules."""
    text = " ".join(one.page.inner_text(".page:not(.first)").split())
    text = re.sub(r"\b[0-9a-f]{12,}\b", "NUMBER", text)
    return re.sub(r"\b[A-Z][a-z]{2} \d{1,2}, \d{4}(, \d{1,2}:\d\d [AP]M)?", "DAY", text)


def taken(one: Phone, name: str) -> None:
    path = PICTURES / f"{name}.png"
    one.page.wait_for_timeout(250)
    one.page.screenshot(path=path)
    with Image.open(path) as shot:
        # This method keeps the few dots of a sign's colour that the usual one averages away.
        few = shot.convert("RGB").quantize(COLOURS, Image.Quantize.MAXCOVERAGE)
        few.save(path, optimize=True)


def tour(one: Phone, shoot: Shoot) -> None:
    """Work through the app and shoot each screen that the guide shows."""
    one.install()
    save_trailer(one)
    front_and_stop(one, shoot)
    walk(one, shoot)
    tires(one, shoot)
    stop_now(one, shoot)
    for name in ("history", "settings"):
        one.open(f"#/{name}")
        one.settle()
        shoot(name)


def save_trailer(one: Phone, axles: int = 1, brakes: str = "none") -> None:
    one.open("#/trailer/new")
    one.page.fill("#name", "Alder Fork 3")
    one.tap("Go on")
    one.page.wait_for_selector(".asking")
    one.settle()
    one.choose(f"button[value='{axles}']")
    one.choose(f"button[value={brakes}]")
    one.answer_until(lambda: not one.asking)
    one.tap("Save trailer")
    one.wait_for("location.hash.startsWith('#/trailer/')")
    one.settle()


def front_and_stop(one: Phone, shoot: Shoot) -> None:
    """A mild day, twenty miles: the right hub is clearly warmer than its mate."""
    one.open()
    one.settle()
    one.wait_for("!document.querySelector('.unsent')")
    one.page.get_by_text("Ready to work without signal").wait_for()
    shoot("front")
    one.begin("quick_stop")
    shoot("stop")
    one.answer_until(lambda: "/hubs." in one.where)
    one.tap_at(".ladder:nth-child(1) .cool")
    one.page.wait_for_selector(".ladder:nth-child(1) [aria-pressed=true]")
    one.settle()
    shoot("hubs")
    one.tap_at(".ladder:nth-child(2) .hot")
    one.page.wait_for_selector("[data-key^=pair_feel]")
    one.tap("Right clearly warmer")
    one.wait_for("location.hash.endsWith('/run')")
    one.settle()
    for fact, text in (("air", "60–80"), ("run_distance", "20–50"), ("run_speed", "55–65")):
        one.tap_at(f"[data-key={fact}] .pick:text-is('{text}')")
        one.page.wait_for_timeout(150)
    one.answer_until(lambda: not one.asking)
    shoot("verdict")
    one.page.locator("article.card").first.scroll_into_view_if_needed()
    one.page.evaluate("document.querySelector('article.card').scrollIntoView()")
    shoot("finding")
    one.tap("Keep and send")
    one.page.wait_for_selector(".kept")
    one.settle()


def walk(one: Phone, shoot: Shoot) -> None:
    one.open("#/walk")
    one.settle()
    shoot("depths")
    one.open()
    one.begin("walkaround")
    one.answer_until(lambda: one.where.endswith("/hitch"))
    one.page.evaluate(LONG_LOOK)
    one.answer()
    one.answer()
    shoot("walk")


def tires(one: Phone, shoot: Shoot) -> None:
    one.open()
    one.begin("tires")
    one.answer_until(lambda: "Tire damage" in one.question)
    one.page.locator(".more-below").wait_for(state="hidden")
    shoot("checklist")
    one.answer_until(lambda: "Pressure in this tire" in one.question)
    shoot("number")
    draft = one.where.split("/")[2]
    one.open(f"#/answers/{draft}")
    one.settle()
    shoot("answers")


def stop_now(one: Phone, shoot: Shoot) -> None:
    one.open()
    one.begin("quick_stop")
    one.tap("Smoke")
    one.page.wait_for_selector(".stop-now h1")
    one.tap("Right wheel")
    one.wait_for("document.querySelector('h1').textContent.startsWith('Right wheel')")
    one.settle()
    shoot("stop-now")


# A run is not begun beside the Stop now that was shot, so that check is thrown away.
THROW_AWAY = """() => new Promise((done) => {
  const open = indexedDB.open("twentymile");
  open.onsuccess = () => {
    const changing = open.result.transaction("drafts", "readwrite");
    changing.objectStore("drafts").clear();
    changing.oncomplete = () => { open.result.close(); done(); };
  };
})"""


def road(one: Phone, shoot: Shoot) -> None:
    """Without signal: a run and its call, the lamp test, the years of a hub, the day before."""
    one.page.evaluate(THROW_AWAY)
    one.page.evaluate(KEEP, HISTORY)
    one.offline(True)
    one.open("#/trip")
    one.settle()
    shoot("trip")
    one.open()
    one.page.reload()
    one.tap("Start a run")
    one.wait_for("location.hash.startsWith('#/run/before')")
    one.settle()
    one.tap("Start the run")  # what the stop found is not mended yet, so that it is asked
    one.page.get_by_role("dialog").get_by_role("button", name="Start the run").click()
    one.page.get_by_text("Next: ").wait_for()
    shoot("run")
    one.page.get_by_text("Put the distance right").click()
    one.page.locator("form input").fill("21")
    one.tap("Use this")
    one.page.wait_for_selector(".shouting")
    shoot("run-call")
    one.open("#/lamps")
    one.tap("Own outputs")
    one.tap("Begin")
    one.page.wait_for_selector(".lamp")
    left = one.page.locator("section.lamp").filter(has_text="Left lamp")
    left.get_by_role("button", name="Dark", exact=True).click()
    left.locator("[aria-pressed=true]").wait_for()
    shoot("lamps")
    one.tap("The rest is right")
    one.wait_for("location.hash === '#/lamps/left'")
    one.open("#/lamps/found")
    one.page.wait_for_selector(".cause")
    shoot("lamp-causes")
    one.open(f"#/years/{TRAILER}")
    one.page.wait_for_selector("svg.years")
    shoot("years")
    one.offline(False)


def spanish(one: Phone, shoot: Shoot) -> None:
    """The same on a phone that reads Spanish; what it says is compared elsewhere, word by word."""
    one.install()
    shoot("es-front")
    one.begin("quick_stop")
    one.answer_until(lambda: "/hubs." in one.where)
    one.tap_at(".ladder:nth-child(1) .cool")
    one.page.wait_for_selector(".ladder:nth-child(1) [aria-pressed=true]")
    one.settle()
    shoot("es-hubs")
    one.answer_until(lambda: not one.asking)
    shoot("es-verdict")
    one.open()
    one.begin("quick_stop")
    one.tap("Smoke")
    one.page.wait_for_selector(".stop-now h1")
    one.tap("Right wheel")
    one.settle()
    shoot("es-stop-now")
    one.open("#/settings")
    one.settle()
    shoot("es-settings")
    save_trailer(one)
    one.open()
    one.begin("walkaround")
    one.page.evaluate(LONG_LOOK)
    shoot("es-walk")
    one.answer_until(lambda: not one.asking)
    shoot("es-walk-verdict")
    for brakes in ("electric", "surge"):
        save_trailer(one, axles=2, brakes=brakes)
        one.open()
        one.begin("walkaround")
        one.page.evaluate(LONG_LOOK)
        one.answer_until(lambda: not one.asking)
        shoot(f"es-tandem-{brakes}")


def main() -> None:
    if sys.argv[1:] in ([], ["spanish"]):
        with (
            tempfile.TemporaryDirectory() as folder,
            launched() as browser,
            serving(Path(folder)) as address,
            phone(browser, Path(folder, "phone"), address, locale="es-US") as one,
        ):
            spanish(one, lambda name: taken(one, name))
    if sys.argv[1:] != ["spanish"]:
        english()


def english() -> None:
    words: dict[str, str] = {}
    with tempfile.TemporaryDirectory() as folder, launched() as browser:
        data = Path(folder, "data")
        data.mkdir()
        with serving(data) as address, phone(browser, Path(folder, "phone"), address) as one:

            def shoot(name: str) -> None:
                taken(one, name)
                words[name] = said(one)

            if sys.argv[1:] == ["road"]:
                one.install()
                road(one, lambda name: taken(one, name))
                return
            tour(one, shoot)
            road(one, lambda name: taken(one, name))
            text = json.dumps(words, indent=1, ensure_ascii=False) + "\n"
            (PICTURES / "said.json").write_text(text, "utf-8")
    for path in SCREENSHOTS.glob("*.png"):
        path.write_bytes((PICTURES / path.name).read_bytes())


if __name__ == "__main__":
    main()
