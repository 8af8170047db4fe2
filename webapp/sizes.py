"""How many bytes each address takes."""

from __future__ import annotations

import re

RECORD = 256 * 1024
PHOTO = 2_000_000
BUNDLE = 20_000_000
FORM = 1_000_000
TABLE = 2_000_000  # a spreadsheet's rows, and what a form adds to them
BENCH = 10 * PHOTO + 1_000_000  # photos of a job, and what a form adds to them
# Read this much of a body that is too large, so that the sender gets to see the answer.
DRAINED = 8 * 1024 * 1024

# Records and all other calls of the phone take no more than a record.
BENCH_PHOTOS = re.compile(r"/shop/jobs/[0-9]{1,10}/photos\Z")
LARGER = {"/api/photos": PHOTO, "/api/pairs": BUNDLE, "/shop/take-in": TABLE}


def most(path: str) -> int:
    """The largest body that is read at ``path``, in bytes."""
    if path in LARGER:
        return LARGER[path]
    if BENCH_PHOTOS.match(path):
        return BENCH
    return RECORD if path.startswith("/api/") else FORM
