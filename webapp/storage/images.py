"""A picture that came in: proven whole, and decoded and written anew in a process beside this one.

What is kept is never what was sent. Only the pixels of the one picture survive: no place, no
camera, no comment, nothing hidden behind its end.
"""

from __future__ import annotations

import atexit
import json
import subprocess
import sys
import threading
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from queue import LifoQueue
from typing import Any

from webapp import sizes
from webapp.storage.decoding import BadPicture, Picture, too_costly

BYTES = sizes.PHOTO
# In -I nothing around the file is imported, so the process is small and starts at once.
COMMAND = (sys.executable, "-I", str(Path(__file__).with_name("decoding.py")))
AT_ONCE = 2  # decoding takes up to 200 MB
PATIENCE = 30.0  # seconds by the clock, where a machine is so busy that processor time stands still


def prove(body: bytes, length: int, digest: str) -> None:
    """Raise BadPicture unless ``body`` has the length and the SHA-256 that were announced.

    A cut upload reaches the application without any exception, so both are looked at.
    """
    if len(body) != length:
        raise BadPicture(
            "cut_off",
            arrived=str(len(body)),
            length=str(length),
        )
    if sha256(body).hexdigest() != digest:
        raise BadPicture(
            "hash_mismatch",
        )


class Decoder:
    """The process that decodes, started when first needed and again after a picture ended it."""

    def __init__(self) -> None:
        self.process: subprocess.Popen[bytes] | None = None

    def cleaned(self, body: bytes) -> Picture:
        process = self.process = self.process or started()
        too_long = threading.Timer(PATIENCE, process.kill)
        too_long.start()
        try:
            return asked(process, body)
        except (OSError, EOFError):
            self.stop()
            raise too_costly() from None
        finally:
            too_long.cancel()

    def stop(self) -> None:
        process, self.process = self.process, None
        if process is not None:
            process.kill()
            with suppress(OSError):
                process.communicate()


def started() -> subprocess.Popen[bytes]:
    return subprocess.Popen(
        COMMAND,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env={},
        close_fds=True,
    )


def asked(process: subprocess.Popen[bytes], body: bytes) -> Picture:
    """Raises BadPicture; OSError or EOFError when the process has ended."""
    assert process.stdin is not None
    process.stdin.write(len(body).to_bytes(4, "big") + body)
    process.stdin.flush()
    head: dict[str, Any] = json.loads(frame(process))
    data = frame(process)
    if "bad" in head:
        code, values = head["bad"]
        raise BadPicture(code, **values)
    return Picture(data, head["width"], head["height"])


def frame(process: subprocess.Popen[bytes]) -> bytes:
    assert process.stdout is not None
    length = process.stdout.read(4)
    if len(length) < 4:
        raise EOFError
    return process.stdout.read(int.from_bytes(length, "big"))


decoders: LifoQueue[Decoder] = LifoQueue()
for _ in range(AT_ONCE):
    decoders.put(Decoder())


def cleaned(body: bytes) -> Picture:
    """The picture in ``body``, decoded to its last row and encoded anew. Raises BadPicture."""
    decoder = decoders.get()
    try:
        return decoder.cleaned(body)
    finally:
        decoders.put(decoder)


@atexit.register
def stop_all() -> None:
    while not decoders.empty():
        decoders.get().stop()
