"""How fast the phone makes a photo small, and what comes out.

Run with ``python -m tests.benchmarks.photos``. Twelve megapixels go through the app's own script in
headless Chromium at a quarter of this machine's speed, in all eight orientations a camera writes.
Exits with 1 when a photo is too large, too slow (median of an orientation), turned, or still
carries what the camera wrote beside it.
"""

from __future__ import annotations

import base64
import sys
from io import BytesIO
from pathlib import Path
from statistics import median
from typing import Any

from PIL import Image

ROOT = Path(__file__).parents[2]

from tests.support.browser import engine_page, launched  # noqa: E402
from tests.support.photo_files import CORNERS, STORED_AS, camera_file, corners_of, scene  # noqa: E402

SLOWDOWN, RUNS = 4, 5
SIZE, EDGE, BYTES, MS = (4032, 3024), 1600, 250_000, 800

SHRINK = """async ({ file, runs }) => {
    const { shrink } = await import("/static/data/photos.js");
    const blob = await (await fetch(`data:image/jpeg;base64,${file}`)).blob();
    const times = [];
    let small;
    for (let i = 0; i < runs; i++) {
        const start = performance.now();
        small = await shrink(blob);
        times.push(performance.now() - start);
    }
    const bytes = Array.from(new Uint8Array(small.data), (byte) => String.fromCharCode(byte));
    return { times, small: btoa(bytes.join("")), width: small.width, height: small.height };
}"""


def shrunk(page: Any, file: bytes, runs: int) -> tuple[list[float], bytes]:
    answer = page.evaluate(SHRINK, {"file": base64.b64encode(file).decode(), "runs": runs})
    return answer["times"], base64.b64decode(answer["small"])


def faults(small: bytes) -> list[str]:
    """What is wrong with a photo that the app made."""
    image = Image.open(BytesIO(small))
    image.load()
    wrong = {
        f"{len(small)} bytes": len(small) > BYTES,
        f"{image.width} x {image.height}": max(image.size) > EDGE or image.width < image.height,
        "turned": corners_of(image) != {name: name for name in CORNERS},
        "metadata": len(image.getexif()) > 0 or b"Exif" in small or b"Alder Fork" in small,
    }
    return [name for name, is_wrong in wrong.items() if is_wrong]


def main() -> int:
    picture, bad = scene(*SIZE), 0
    with launched() as browser:
        page = engine_page(browser)
        session = page.context.new_cdp_session(page)
        session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWDOWN})
        for orientation in STORED_AS:
            file = camera_file(picture, orientation)
            (first, *times), small = shrunk(page, file, RUNS)
            found = faults(small) + (["too slow"] if median(times) > MS else [])
            bad += bool(found)
            print(
                f"orientation {orientation}: "
                f"{len(file) / 1e6:.1f} MB to {len(small) / 1000:.0f} kB, "
                f"median {median(times):.0f} ms, worst {max(times):.0f} ms, first {first:.0f} ms; "
                f"{', '.join(found) or 'upright, no metadata'}"
            )
    print(f"budget: {BYTES / 1000:.0f} kB, {MS} ms at {SLOWDOWN}x slow-down")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
