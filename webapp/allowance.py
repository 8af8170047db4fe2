"""What one place may send in an hour without a shop's link, counted in this process.

Records need no account, so whoever reaches the server could fill its disk. What is over waits on
the phone, which sends it again later; nothing is lost.
"""

from __future__ import annotations

import threading
import time
from collections import Counter

from flask import Flask, current_app

from webapp import logs
from webapp.errors import Refusal
from webapp.security import sender

HOUR = 3600.0  # seconds


class Allowance:
    """``most`` bytes an hour from each place; 0 is no limit. Hours are the same for all places."""

    def __init__(self, most: int) -> None:
        self.most = most
        self.sent: Counter[str] = Counter()
        self.began = time.monotonic()
        self.turn = threading.Lock()

    def left(self, place: str, length: int) -> int:
        """How many bytes ``place`` may send after these; if below 0, these do not count."""
        with self.turn:
            if time.monotonic() - self.began >= HOUR:
                self.sent.clear()
                self.began = time.monotonic()
            left = self.most - self.sent[place] - length
            if left >= 0:
                self.sent[place] += length
            return left


def init_app(app: Flask) -> None:
    app.extensions["allowance"] = Allowance(app.config["STRANGER_MB"] * 1_000_000)


def take(length: int) -> None:
    """Count what came without a link. Raises Refusal where its place has sent too much."""
    allowance: Allowance = current_app.extensions["allowance"]
    if allowance.most and allowance.left(sender(), length) < 0:
        logs.security("place_flooded", bytes=length)
        raise Refusal(429, "too_many", words="too_many_bytes", most=allowance.most // 1_000_000)
