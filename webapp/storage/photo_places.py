"""Where photos lie: in the data folder, or in an object store that several hosts share."""

from __future__ import annotations

import logging
import os
import time
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from typing import Any, Protocol

log = logging.getLogger("webapp.storage.photo_places")


class Photos(Protocol):
    """Where the photos lie: a folder of this machine, or a bucket that several hosts share.

    Photos are named by ``path_of``; they are written once and never changed.
    """

    def write(self, path: str, data: bytes) -> None:
        """Keep a photo: it is there whole or not at all. Raises ``OSError`` where it is not."""

    def read(self, path: str) -> bytes | None:
        """The photo's bytes; None, and a line in the log, when it is missing."""

    def remove(self, paths: Iterable[str]) -> None:
        """Take deleted photos away; one that is gone already is no fault."""

    def names(self) -> set[str]:
        """The paths of all that lie there."""

    def tidy(self) -> None:
        """Take away what a power cut left half written."""


def place_of(data: Path, address: str) -> Photos:
    """The photos at ``address`` (``s3://bucket/folder``), or below the data folder without one."""
    return Bucket(address) if address else Folder(data)


def path_of(photo: str) -> str:
    """Where a photo lies below the data folder, or in the bucket."""
    return f"photos/{photo[-2:]}/{photo}.jpg"


def tell_missing(path: str) -> None:
    log.error("the photo's file %s is missing", path)


class Folder:
    """Photos as files below the data folder, readable by its owner only."""

    def __init__(self, data: Path) -> None:
        self.data = data

    def write(self, path: str, data: bytes) -> None:
        write_whole(self.data / path, data)

    def read(self, path: str) -> bytes | None:
        try:
            return (self.data / path).read_bytes()
        except FileNotFoundError:
            tell_missing(path)
            return None

    def remove(self, paths: Iterable[str]) -> None:
        for path in paths:
            (self.data / path).unlink(missing_ok=True)

    def names(self) -> set[str]:
        return {str(path.relative_to(self.data)) for path in self.data.glob("photos/*/*")}

    def tidy(self) -> None:
        for part in self.data.glob("photos/*/*.part"):
            with suppress(FileNotFoundError):  # another process tidies too
                if time.time() - part.stat().st_mtime > 3600:  # nothing takes an hour to write
                    part.unlink()


class Bucket:
    """Photos in an object store that speaks the S3 protocol; keys and endpoint as AWS_... settings.

    A put is whole or not at all, and acknowledged once it is stored: the protocol says so.
    """

    def __init__(self, address: str) -> None:
        import obstore  # only who keeps photos there carries it
        from obstore.store import S3Store

        within = os.environ.get("AWS_ENDPOINT_URL", "")
        options: Any = {"allow_http": within.startswith("http://"), "timeout": "30s"}
        self.api: Any = obstore
        self.store = S3Store.from_url(address, client_options=options)

    def write(self, path: str, data: bytes) -> None:
        try:
            self.api.put(self.store, path, data)
        except self.api.exceptions.BaseError as fault:
            raise OSError(str(fault)) from fault

    def read(self, path: str) -> bytes | None:
        try:
            return bytes(self.api.get(self.store, path).bytes())
        except FileNotFoundError:
            tell_missing(path)
            return None

    def remove(self, paths: Iterable[str]) -> None:
        self.api.delete(self.store, list(paths))

    def names(self) -> set[str]:
        return {one["path"] for some in self.api.list(self.store, "photos") for one in some}

    def tidy(self) -> None:
        """Nothing is ever half written there."""


def write_whole(path: Path, data: bytes) -> None:
    """Write a file that is there whole or not at all, also after a power cut."""
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    draft = path.with_suffix(f".{os.getpid()}.part")
    try:
        with open(os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        draft.rename(path)
    except BaseException:
        draft.unlink(missing_ok=True)
        raise
    for folder in (path.parent, path.parent.parent):
        handle = os.open(folder, os.O_RDONLY)
        os.fsync(handle)
        os.close(handle)
