"""A check on paper: one column of A4 or Letter, black and white enough for any printer."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from io import BytesIO
from pathlib import Path
from typing import Any

from fpdf import FPDF
from fpdf.enums import MethodReturnValue, XPos, YPos
from fpdf.fonts import TTFFont
from PIL import Image

from checks.sources import Piece
from webapp.shop import times
from webapp.shop.signs import SIGNS
from webapp.storage.store import store
from webapp.wording import place_text, said, say

Json = dict[str, Any]
# The built-in fonts know Western European letters only; this one, if installed, knows more.
FONTS = Path("/usr/share/fonts/truetype/dejavu")
# In millimetres: Letter is narrower in height, A4 in width; what fits both prints on both.
WIDTH, HEIGHT, MARGIN = 210, 279, 18
ACROSS = WIDTH - 2 * MARGIN
SIGN = 9
PHOTO = 75  # as high as this at the most
LINE = 4.4  # of small print
MEASURED = MethodReturnValue.HEIGHT
PLAIN = str.maketrans({"−": "-", "–": "-", "≤": "<=", "’": "'", "“": '"', "”": '"', "→": "->"})


# These change how the sign before them looks, and say nothing themselves: variation selectors,
# the joiner, skin tones (Unicode Technical Standard 51, Unicode Emoji).
SILENT = re.compile("[\u200d\ufe0e\ufe0f\U0001f3fb-\U0001f3ff]")


def named(one: str) -> str:
    """What cannot be drawn, by its name in Unicode: ``[thumbs up sign]``."""
    name = unicodedata.name(one, "")
    numbered = not name or name.split("-")[-1] == f"{ord(one):X}"  # letters without a name
    return f"[U+{ord(one):04X}]" if numbered else f"[{name.lower()}]"


class Document(FPDF):
    """A page that knows its fonts, its signs and its foot."""

    def __init__(self, foot: str) -> None:
        super().__init__(format=(WIDTH, HEIGHT))
        self.set_margin(MARGIN)
        self.set_auto_page_break(True, MARGIN)
        self.foot, self.wide = foot, (FONTS / "DejaVuSans.ttf").exists()
        if self.wide:
            self.add_font("sheet", "", FONTS / "DejaVuSans.ttf")
            self.add_font("sheet", "B", FONTS / "DejaVuSans-Bold.ttf")
        self.add_page()

    def close_fonts(self) -> None:
        """The library leaves their files open."""
        for font in self.fonts.values():
            if isinstance(font, TTFFont):
                font.ttfont.close()

    def footer(self) -> None:
        self.set_y(-MARGIN + 4)
        self.face(8)
        self.cell(
            0,
            4,
            self.told(f"{self.foot}  ·  {say('print-page', number=self.page_no())}"),
            align="C",
        )

    def face(self, size: float, bold: bool = False) -> None:
        self.set_font("sheet" if self.wide else "helvetica", "B" if bold else "", size)

    def told(self, text: str) -> str:
        """The text in letters that the font of the moment has; what it has not is named."""
        if not self.wide:
            text = unicodedata.normalize("NFKC", text.translate(PLAIN))
        heard = SILENT.sub("", text).replace("\t", " ")
        return "".join(one if self.draws(one) else named(one) for one in heard)

    def draws(self, one: str) -> bool:
        font = self.current_font
        if isinstance(font, TTFFont):
            return one == "\n" or ord(one) in font.cmap
        return ord(one) < 256

    def text_block(
        self, text: str, size: float = 10, bold: bool = False, indent: float = 0
    ) -> None:
        self.face(size, bold)
        self.set_x(MARGIN + indent)
        self.multi_cell(
            ACROSS - indent,
            size * 0.48,
            self.told(text),
            align="L",
            new_x=XPos.LMARGIN,
            new_y=YPos.NEXT,
        )

    def side_by_side(self, parts: list[tuple[str, float, bool]]) -> None:
        """Texts in small print on one page, each with its share of the width and whether bold.

        They are measured first: the library's own way draws twice, on copies of all fonts.
        """

        def put(dry_run: bool) -> float:
            x, y, highest = float(MARGIN), self.get_y(), 0.0
            for text, share, bold in parts:
                self.face(9, bold)
                self.set_xy(x, y)
                wide, told = ACROSS * share, self.told(text)
                high = self.multi_cell(
                    wide, LINE, told, align="L", dry_run=dry_run, output=MEASURED
                )
                assert isinstance(high, float)
                x, highest = x + wide, max(highest, high)
            self.set_xy(MARGIN, y)
            return highest

        self.keep(put(dry_run=True))
        self.set_y(self.get_y() + put(dry_run=False))

    def head(self, text: str, room: float = 12) -> None:
        """A heading, on the next page when not even ``room`` is left below it."""
        self.keep(12 + room)
        self.ln(3)
        self.text_block(text, 12, bold=True)
        self.line(MARGIN, self.get_y() + 0.5, WIDTH - MARGIN, self.get_y() + 0.5)
        self.ln(2)

    def keep(self, height: float) -> None:
        """Start a new page when less than that is left on this one."""
        if self.get_y() + height > HEIGHT - MARGIN:
            self.add_page()

    def level_sign(self, level: str, x: float, y: float, size: float = SIGN) -> None:
        """The sign as a shape in outline: told apart without any colour, sparing with ink."""
        self.set_line_width(0.5)
        if SIGNS[level].dashed:
            self.set_dash_pattern(dash=1.2, gap=0.8)
        at = [(x + px * size / 48, y + py * size / 48) for px, py in SIGNS[level].corners]
        if not at:
            self.ellipse(x + size / 24, y + size / 24, size * 11 / 12, size * 11 / 12)
        else:
            self.polygon(at)
        self.set_dash_pattern()
        self.set_line_width(0.2)
        self.face(size * (0.72 if level == "stop" else 1.6), bold=True)
        self.set_xy(x, y + (size * 0.12 if level == "mend" else 0))
        self.cell(size, size, self.told(SIGNS[level].mark), align="C")


def pdf(check: Json, row: Json, notes: list[Any], photos: list[Any], me: Json) -> bytes:
    """The printed record of a check as ``reading.told`` gives it."""
    sheet = Document(f"{me['shop_name']}  ·  {say('print-check', id=check['id'])}")
    sheet.set_title(f"{check['name']}, {row['trailer_name'] or ''}")
    top(sheet, check, row, me)
    findings(sheet, check)
    photo_pages(sheet, photos, check)
    spoken(sheet, notes)
    answered(sheet, check)
    worked(sheet, check)
    proof(sheet, check, row)
    drawn = bytes(sheet.output())
    sheet.close_fonts()
    return drawn


def top(sheet: Document, check: Json, row: Json, me: Json) -> None:
    sheet.text_block(f"{me['shop_name']}  {me['shop_phone']}", 9)
    sheet.text_block(row["trailer_name"] or say("print-trailer"), 18, bold=True)
    whose = f", {row['customer']}" if row["customer"] else ""
    sheet.text_block(
        say("print-check-of", check=check["name"], moment=moment(check["made"])) + whose, 11
    )
    sheet.ln(2)
    levels = [("", check["level"])]
    if check["differ"]:
        levels = [
            (say("print-on-phone") + " ", check["level"]),
            (say("print-on-server") + " ", server_level(check)),
        ]
    for who, level in levels:
        y = sheet.get_y()
        sheet.level_sign(level, MARGIN, y)
        sheet.set_xy(MARGIN + SIGN + 3, y)
        sheet.face(14, bold=True)
        sheet.cell(0, SIGN, sheet.told(who + said(f"level-{level}", level)))
        sheet.set_xy(MARGIN, y + SIGN + 1.5)
    if check["held"]:
        sheet.text_block(say("shop-held"), 12, bold=True)
    for text in summary(check):
        sheet.text_block(text)


def server_level(check: Json) -> str:
    return check["server"]["level"] or "unchecked"


def summary(check: Json) -> list[str]:
    found = []
    if check["readiness"]:
        low, high = check["readiness"]
        found.append(say("shop-check-readiness", low=low, high=high))
    if check["coverage"]:
        counts = check["coverage"]
        found.append(say("shop-check-coverage", answered=counts["answered"], asked=counts["asked"]))
    return found


def moment(when: Any) -> str:
    return f"{times.day_text(when)}, {times.clock_text(when)}"


def findings(sheet: Document, check: Json) -> None:
    listed = [(say("shop-check-found"), check["findings"])]
    if check["differ"]:
        listed = [
            (say("shop-check-phone-found"), check["findings"]),
            (say("print-server-found"), check["server_findings"]),
        ]
    for title, found in listed:
        sheet.head(title)
        if not found:
            sheet.text_block(say("shop-check-nothing"))
        for one in found:
            finding(sheet, one)


def finding(sheet: Document, one: Json) -> None:
    sheet.keep(24)
    y = sheet.get_y()
    sheet.level_sign(one["level"], MARGIN, y)
    sheet.set_y(y)
    indent = SIGN + 3
    where = f" ({one['where']})" if one["where"] else ""
    sheet.text_block(one["title"] + where, 11, bold=True, indent=indent)
    for text in (one["do"], one["why"], *one["cautions"]):
        if text:
            sheet.text_block(text, indent=indent)
    if one["source"]:
        sheet.text_block(
            say("print-source", source=plain(one["source"]), standing=one["standing"]),
            8,
            indent=indent,
        )
    elif one["standing"]:
        sheet.text_block(one["standing"].capitalize(), 8, indent=indent)
    sheet.set_y(max(sheet.get_y(), y + SIGN) + 2)


def plain(source: list[Piece]) -> str:
    return "".join(piece.text for piece in source)


def photo_name(one: Json) -> str:
    """What a photo shows: the point it was taken at, or that it is from the bench."""
    if one["job_id"] is not None:
        return say("shop-photos-one", day=times.day_text(one["received"]))
    return said(f"point-{one['point']}", one["point"])


def photo_pages(sheet: Document, photos: list[Any], check: Json) -> None:
    if not photos:
        return
    sheet.head(say("shop-check-photos"), PHOTO + 8)
    for one in photos:
        name = photo_name(one)
        where = place_text(one["place"], check["axles"])
        data = store().photos.read(one["path"])
        if data is None:
            sheet.text_block(say("print-photo-missing", name=name))
            continue
        image = Image.open(BytesIO(data))
        wide = min(ACROSS, PHOTO * image.width / image.height)
        sheet.keep(wide * image.height / image.width + 8)
        sheet.text_block(f"{name} ({where})" if where else name, bold=True)
        sheet.image(image, x=MARGIN, w=wide)
        sheet.ln(3)


def spoken(sheet: Document, notes: list[Any]) -> None:
    """What was said to the customer. What is for the shop only never goes out."""
    replies = [one for one in notes if one.reply]
    if replies:
        sheet.head(say("print-said"))
    for one in replies:
        sheet.text_block(moment(one.made), bold=True)
        sheet.text_block(one.reply)
        sheet.ln(1)


def answered(sheet: Document, check: Json) -> None:
    sheet.head(say("shop-check-answered"), 30)
    for one in check["answers"]:
        where = f" ({one['where']})" if one["where"] else ""
        sheet.side_by_side([(one["ask"] + where, 0.68, False), (one["text"], 0.32, True)])


def worked(sheet: Document, check: Json) -> None:
    if check["working"]:
        sheet.head(say("shop-check-working"))
    for one in check["working"]:
        sheet.keep(14)
        sheet.text_block(f"{one['title']}: {one['text']}", 10, bold=True)
        for step in one["steps"]:
            sheet.text_block(f"{step['title']}: {step['text']}", 8.5, indent=4)
            if step.get("sum", step["text"]) != step["text"]:
                sheet.text_block(f"= {step['sum']}", 8, indent=8)
            if step.get("source"):
                sheet.text_block(plain(step["source"]), 8, indent=8)
        sheet.ln(1)


def proof(sheet: Document, check: Json, row: Mapping[str, Any]) -> None:
    sheet.head(say("shop-check-proof"))
    for text in (
        say("print-record", id=check["id"], moment=moment(check["received"])),
        say("print-hash", hash=row["hash"]),
        say("print-rules-phone", hash=check["rulebooks"]["phone"]),
        say("print-rules-server", hash=check["rulebooks"]["server"]),
    ):
        sheet.text_block(text, 8)
