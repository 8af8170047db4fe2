"""How easy a Spanish text reads: the perspicuity of Szigriszt Pazos, read on the INFLESZ scale.

I = 206.835 - 62.3 S/W - W/N for S syllables, W words and N sentences: F. Szigriszt Pazos, Sistemas
predictivos de legibilidad del mensaje escrito, thesis, Universidad Complutense de Madrid, 1993 (the
formula was read in a page about it, the thesis was not). Bands: Barrio-Cantalejo and others, Anales
del Sistema Sanitario de Navarra 31(2), 2008: 65 to 80 is fairly easy, from 80 very easy. They were
fitted on texts of 500 words and more, so only pooled texts are scored.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

FAIRLY_EASY, VERY_EASY = 65, 80
WORD = re.compile(r"[^\W\d_]+")
# Stamped on metal and written in both languages; units; what stands in brackets as a synonym.
NOT_COUNTED = re.compile(r"\([^)]*\)|\b(?:[A-Z]{2,}|psi|lb|mm|mph|km|kPa|pulg|ft|mi)\b")
ENDS = re.compile(r"(?<!pulg)[.?!;:…](?=\s|$)")
STRONG, WEAK, ACCENTED = "aeoáéó", "iuü", "íú"


def syllables(word: str) -> int:
    """Vowel groups by the spelling rules of Spanish: ``cuer-da``, ``le-er``, ``en-frí-e``."""
    text = re.sub(r"(?<=[qg])u(?=[eéií])", "", word.lower())
    text = re.sub(r"y(?![aeiouáéíóúü])", "i", text)
    count, before = 0, ""
    for letter in text:
        vowel = letter in STRONG + WEAK + ACCENTED
        if vowel and not joined(before, letter):
            count += 1
        before = letter if vowel else ""
    return max(1, count)


def joined(before: str, letter: str) -> bool:
    """Whether two vowels side by side are one syllable."""
    if not before or before in ACCENTED or letter in ACCENTED:
        return False
    return not (before in STRONG and letter in STRONG) and before != letter


def counts(texts: Iterable[str]) -> tuple[int, int, int]:
    """Words, syllables and sentences of all texts together; each text ends a sentence."""
    words = parts = sentences = 0
    for text in texts:
        bare = NOT_COUNTED.sub(" ", text)
        found = WORD.findall(bare)
        if not found:
            continue
        words += len(found)
        parts += sum(map(syllables, found))
        sentences += sum(1 for one in ENDS.split(bare) if WORD.search(one))
    return words, parts, sentences


def inflesz(words: int, parts: int, sentences: int) -> float:
    return 206.835 - 62.3 * parts / words - words / sentences


def fernandez_huerta(words: int, parts: int, sentences: int) -> float:
    """J. Fernández Huerta, 1959, as set right by G. Law, Linguist List 22.2332 (2011)."""
    return 206.84 - 60 * parts / words - 1.02 * words / sentences
