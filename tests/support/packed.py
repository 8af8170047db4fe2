"""Each file of the app is packed once in a run: each process of each server would do it anew, for
five seconds of processor time."""

from __future__ import annotations

import fcntl
import os
from functools import cached_property
from hashlib import sha256
from pathlib import Path

from flask import Flask

from webapp.app_files.asset import Asset

FOLDER = "TWENTYMILE_PACKED"  # names the folder of a run


def share() -> None:
    """Let this process leave what it packs to the others of the run, and take what they packed."""
    if FOLDER not in os.environ:
        return
    pack, folder = Asset.br.func, Path(os.environ[FOLDER])

    def br(asset: Asset) -> bytes:
        with (folder / sha256(asset.body).hexdigest()).open("a+b") as kept:
            fcntl.flock(kept, fcntl.LOCK_EX)  # until it is closed
            kept.seek(0)
            if not (packed := kept.read()):
                packed = pack(asset)
                kept.write(packed)
        return packed

    Asset.br = cached_property(br)  # type: ignore[misc]
    Asset.br.__set_name__(Asset, "br")


def serve() -> Flask:
    """What gunicorn serves in a run of tests."""
    from webapp.__main__ import serve as plain

    share()
    return plain()
