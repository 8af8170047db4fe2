"""Hubs and tires over the years on paper: two plots a row, black on white."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from webapp.clock import local_now
from webapp.shop.plots import Plot
from webapp.shop.print.check import ACROSS, MARGIN, Document
from webapp.shop.years import Years
from webapp.wording import day_text, say

BETWEEN = 6.0  # mm
EACH = (ACROSS - BETWEEN) / 2
TEXT = 7.0  # points, of what stands in a plot
WORDS = 15.0  # mm above a plot: whose it is, and what it says
BAND = 225  # grey, 0 to 255: light enough for dots on it, dark enough for a copier


def pdf(trailer: str, groups: Sequence[Years], me: Mapping[str, Any]) -> bytes:
    """The groups one below the other under the trailer's name."""
    sheet = Document(f"{me['shop_name']}  ·  {trailer}")
    sheet.set_title(say("shop-history-title", trailer=trailer))
    sheet.text_block(f"{me['shop_name']}  {me['shop_phone']}", 9)
    sheet.text_block(trailer, 18, bold=True)
    sheet.text_block(day_text(local_now()), 11)
    sheet.ln(2)
    sheet.text_block(say("road-years-lead") if groups else say("shop-none"), 9)
    if groups:
        sheet.text_block(say("road-years-key"), 9)
    for group in groups:
        high = WORDS + EACH * group.plots[0].high / group.plots[0].wide
        sheet.head(group.title, high)
        for row in (group.plots[n : n + 2] for n in range(0, len(group.plots), 2)):
            sheet.keep(high + 4)
            y = sheet.get_y()
            for number, plot in enumerate(row):
                figure(sheet, plot, MARGIN + number * (EACH + BETWEEN), y)
            sheet.set_y(y + high + 4)
    drawn = bytes(sheet.output())
    sheet.close_fonts()
    return drawn


def figure(sheet: Document, plot: Plot, x: float, y: float) -> None:
    """One plot with its words, its upper left corner there."""
    size = 5.0
    if plot.row.look:
        sheet.level_sign("look", x, y, size)
    indent = size + 1.5 if plot.row.look else 0.0
    for text, bold in ((plot.row.name, True), (plot.row.told, False)):
        sheet.face(8.5, bold)
        sheet.set_xy(x + indent, y if bold else y + 4.2)
        sheet.multi_cell(EACH - indent, 3.6, sheet.told(text), align="L")
    Drawing(sheet, plot, x, y + WORDS).draw()


class Drawing:
    """A plot in its own units, put on paper."""

    def __init__(self, sheet: Document, plot: Plot, x: float, y: float) -> None:
        self.sheet, self.plot, self.x, self.y = sheet, plot, x, y
        self.scale = EACH / plot.wide

    def at(self, x: float, y: float) -> tuple[float, float]:
        return self.x + x * self.scale, self.y + y * self.scale

    def draw(self) -> None:
        if self.plot.band:
            self.band(*self.plot.band)
        self.grid()
        self.signs()
        self.sheet.set_line_width(0.35)
        for x, top, height in self.plot.bars:
            self.sheet.rect(*self.at(x - 3, top), 6 * self.scale, height * self.scale)
        self.sheet.set_fill_color(0)
        for x, top, middle, foot in self.plot.dots:
            self.stroke((x, top), (x, foot))
            self.sheet.circle(*self.at(x, middle), 3.2 * self.scale, style="F")
        self.sheet.set_line_width(0.2)

    def band(self, top: float, foot: float) -> None:
        sheet, left = self.sheet, self.plot.left
        sheet.set_fill_color(BAND)
        wide = (self.plot.wide - left) * self.scale
        sheet.rect(*self.at(left, top), wide, (foot - top) * self.scale, style="F")
        sheet.set_dash_pattern(dash=0.6, gap=0.9)
        for y in (top, foot):
            self.stroke((left, y), (self.plot.wide, y))
        sheet.set_dash_pattern()

    def grid(self) -> None:
        plot = self.plot
        self.sheet.set_line_width(0.08)
        for y, text in plot.lines:
            self.stroke((plot.left, y), (plot.wide, y))
            self.words(text, plot.left - 4, y, "R")
        self.words(plot.unit, 0, plot.above - 9, "L")
        self.words(plot.first, plot.left, plot.high - 8, "L")
        if plot.last != plot.first:
            self.words(plot.last, plot.wide, plot.high - 8, "R")

    def signs(self) -> None:
        self.sheet.set_line_width(0.3)
        for x, sign in self.plot.marks:
            if sign.kind == "tires":
                self.sheet.set_dash_pattern(dash=1.2, gap=0.8)
            self.stroke((x, self.plot.above - 4), (x, self.plot.floor))
            self.sheet.set_dash_pattern()
            self.words(sign.letter, x, self.plot.above - 9, "C")

    def stroke(self, start: tuple[float, float], end: tuple[float, float]) -> None:
        self.sheet.line(*self.at(*start), *self.at(*end))

    def words(self, text: str, x: float, y: float, align: str) -> None:
        """A short text whose left end, middle or right end is at ``x``, its middle at ``y``."""
        self.sheet.face(TEXT)
        shown = self.sheet.told(text)
        wide = self.sheet.get_string_width(shown) + 2 * self.sheet.c_margin
        left, middle = self.at(x, y)
        edge = self.sheet.c_margin
        start = left - {"L": edge, "C": wide / 2, "R": wide - edge}[align]
        self.sheet.set_xy(start, middle - 1.5)
        self.sheet.cell(wide, 3, shown, align="L")
