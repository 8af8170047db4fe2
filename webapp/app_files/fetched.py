"""What a phone fetches, and when: in a first visit and after it; style sheets by their order."""

from __future__ import annotations

FOR_HOME = "icons/touch-180.png"  # asked for by the system, once, when it is put on a home screen
# These have an address of their own at the root, stand in the page, or have none at all.
NOT_BELOW_STATIC = ("index.html", "first.js", "manifest.webmanifest", "sw.js")
# Not needed to look round and to make a first check. The worker fetches all of these right after,
# as one, in the order in which they pack smallest: each for itself they weigh a third more. A tap
# that comes sooner gets its own.
LATER = {
    "data": (
        "due figures files kept_books language memory offering past photos presets run run_kept "
        "run_plan sending typed walking"
    ),
    "screens": (
        "answers ask ask_entry beside borrower calling camera checklist comfort compare due_cards "
        "figures figures_list figures_told history lamps link link_reading mended pair pause "
        "photos road run run_begin run_clock run_drive run_over run_verdict runs settings share "
        "still trailer trip under_way walk walk_depths walk_questions walk_zones years"
    ),
    "parts": "calendar chart figure pad plug sidewall working",
    "engine": "explain lamps pressure trend warm working",
    "parts/drawings": "details ladder line shown trailer",
}
LATER_SCRIPTS = tuple(
    f"/static/{folder}/{name}.js" for folder, names in LATER.items() for name in names.split()
)
TOGETHER = "/later-scripts.txt"
LAMP_TABLE = "/lamp-table.json"
LATER_STYLE = "/later.css"
LATER_WORDS = ("later",)
MANIFEST = "/manifest.{}.webmanifest"

# Style sheets in the order they are joined in, each named for what it dresses; then that for paper,
# which the app fetches later with the verdict that is printed.
SHARED = ("tokens", "base", "page", "buttons", "notes", "signs", "plan", "lists")
ENTRIES = ("pad", "ticks", "working")
STYLES = {
    "app": (
        *SHARED,
        *("dialog", "screen", "front", "asking", "halt", "history", "rows", "hubs"),
        *("large_letters", "word_a_line"),
    ),
    # What dresses only screens that a first visit does without.
    "later": (
        *ENTRIES,
        *("verdict", "stop_now", "compare", "camera", "photos", "link", "figures", "pair"),
        *("road", "lamps", "run", "trip"),
        *("years", "drawings", "walk", "answers", "comfort", "large_letters"),
    ),
    "shop": (
        *SHARED,
        *ENTRIES,
        *(f"shop/{name}" for name in ("frame", "form", "list", "job", "check", "figures", "desk")),
    ),
}
PAPER = "print"


def words_at(language: str, part: str = "first") -> str:
    """Where the words of a part are fetched."""
    return "/words{}.{}.json".format("" if part == "first" else f"-{part}", language)


def later(language: str) -> tuple[str, ...]:
    """What comes right after a first visit in this language, each at its own address."""
    said = (words_at(language, part) for part in LATER_WORDS)
    return (*LATER_SCRIPTS, LAMP_TABLE, *said, LATER_STYLE)
