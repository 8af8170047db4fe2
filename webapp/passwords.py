"""Which passwords a guesser would try first; zxcvbn knows the lists."""

from __future__ import annotations

from zxcvbn import zxcvbn

LEAST, MOST = 10, 200
# 3 of 4: "safely unguessable", 10^8 to 10^10 guesses; the library's own scale.
STRONG = 3
READ = 72  # characters the library takes; what comes after them only makes a password longer


def is_guessable(password: str, *about: str) -> bool:
    """Whether a guesser who knows common passwords and the words of ``about`` gets in soon."""
    known = [word for text in about for word in (text, *text.split()) if word]
    return int(zxcvbn(password[:READ], user_inputs=known)["score"]) < STRONG
