"""What a layout flows over the pages of a crew sheet: words, cards, tables, pictures."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING, Any, Final
from xml.sax.saxutils import escape

from wadforms.firing.sheet.columns import in_columns
from wadforms.firing.sheet.parts import (
    Block,
    Card,
    Cards,
    Cell,
    CrewSheet,
    Part,
    Pick,
    Plain,
    Points,
    Table,
)
from wadforms.setting.assessment import VERDICTS
from wadforms.templates import look
from wadforms.templates.card_picture import mark
from wadforms.templates.drawing import Drawing
from wadforms.templates.pdf import POINT, face, place

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

_GAP: Final = 5.0  # between the two columns of cards [mm]
_PAD: Final = 2.5  # inside a card [mm]
_PICTURE: Final = 36.0  # width on a card [mm]
_WIDE_PICTURE: Final = 46.0  # of one that has measures to be read [mm]
_SMALL_PICTURE: Final = 14.0  # width in a table [mm]
_TICK: Final = 6.0  # side of a box to tick [mm]
_MARK: Final = 4.6
_TALLEST: Final = 200.0  # cards that are not broken [mm]
_WITH_HEADING: Final = 40.0  # a heading goes to the next page rather than stand with less [mm]
_WITH_CAPTION: Final = 12.0  # of a table's caption, with which its first row stays [mm]
_INK: Final = look.INK

_SIZES: Final = {
    "title": (22.0, True),
    "heading": (16.0, True),
    "name": (14.0, True),
    "wads": (15.0, True),
    "set": (12.0, True),
    "strong": (11.5, True),
    "body": (11.0, False),
    "detail": (10.0, False),
    "figures": (8.5, False),
}
"""Sizes of type in the format's own unit of 1/72 in, and whether it is bold."""


def painted(width: float, height: float, paint: Callable[[Canvas], None]) -> Any:
    """Something of a size [mm] that is painted where the layout puts it."""
    from reportlab.platypus import Flowable

    thing = Flowable()
    thing.width, thing.height = width / POINT, height / POINT
    thing.draw = lambda: paint(thing.canv)
    return thing


def _bound(text: str) -> str:
    """Text whose numbers stay with their units, and a mix with its name."""
    return re.sub(r"(?<=\d) (?=(?:mm|kg|g|l|ml)\b)|(?<=\bmix) ", "\u00a0", text)


class Story:
    """Turns the parts of a sheet into what the layout flows over pages `width` mm wide."""

    def __init__(self, width: float) -> None:
        from reportlab.lib.styles import ParagraphStyle

        self.width = width
        self.marks = {verdict: mark(verdict) for verdict in VERDICTS}
        self.styles = {
            name: ParagraphStyle(
                name,
                fontName=face(bold=bold),
                fontSize=size,
                leading=1.22 * size,
                bulletFontName=face(bold=True),
                bulletFontSize=size,
                splitLongWords=1,
            )
            for name, (size, bold) in _SIZES.items()
        }
        self.styles["alarm"] = ParagraphStyle(
            "alarm", self.styles["heading"], textColor=look.WHITE, leftIndent=6
        )
        self.styles["number"] = ParagraphStyle("number", self.styles["set"], alignment=2)
        self.styles["right"] = ParagraphStyle("right", self.styles["detail"], alignment=2)

    def of(self, sheet: CrewSheet) -> Iterator[Any]:
        """Yield the whole sheet."""
        from reportlab.platypus import Spacer

        yield self._words(sheet.title, "title")
        yield Spacer(0, 4)
        date = sheet.date or "date ______________"
        yield self._words(f"Crew sheet, {date}", "body")
        for verdict, said in sheet.tally:
            yield self._marked(verdict, said)
        for part in sheet.parts:
            yield from self._part(part)

    def _part(self, part: Part) -> Iterator[Any]:
        """Yield a part under its heading, framed where it is an alarm, never the heading alone."""
        from reportlab.platypus import CondPageBreak, PageBreak, Spacer

        below = [thing for block in part.blocks for thing in self._block(block)]
        room = 0.0
        for thing in below:
            if room >= _WITH_HEADING / POINT:
                break
            tall = thing.wrap(self.width / POINT, 1e6)[1]
            room += getattr(thing, "least", min(tall, _WITH_HEADING / POINT))
        heading = self._heading(part)
        room += heading.wrap(self.width / POINT, 1e6)[1] + 18.0
        yield PageBreak() if part.apart else CondPageBreak(room)
        yield Spacer(0, 12)
        yield heading
        yield Spacer(0, 4)
        yield from below

    def _heading(self, part: Part) -> Any:
        """A heading that is also an entry of the reader's list of contents."""

        def paint(canvas: Canvas) -> None:
            canvas.bookmarkPage(part.key)
            canvas.addOutlineEntry(part.heading, part.key, 0)
            canvas.setLineWidth(2.4)
            canvas.line(0, 0, self.width / POINT, 0)

        rule = painted(self.width, 2.2, paint)
        rows = [[self._words(part.heading, "alarm" if part.alarm else "heading")], [rule]]
        style: list[Any] = []
        if part.alarm:
            style = [("BACKGROUND", (0, 0), (-1, 0), _INK), ("BOTTOMPADDING", (0, 0), (-1, 0), 4.0)]
        return self._table(rows, [self.width], style)

    def _block(self, block: Block) -> Iterator[Any]:
        """Yield one block."""
        from reportlab.platypus import CondPageBreak, Spacer

        match block:
            case Cards(cards=cards):
                yield Spacer(0, 4)
                yield self._cards(cards)
            case Table():
                data = self._data(block)
                yield CondPageBreak(_WITH_CAPTION / POINT + data.least)
                yield Spacer(0, 4)
                yield self._words(block.caption, "strong")
                yield data
            case Points():
                if block.caption:
                    yield CondPageBreak(2 * _WITH_CAPTION / POINT)
                    yield Spacer(0, 8)
                    yield self._words(block.caption, "strong")
                for number, (what, text) in enumerate(block.items, 1):
                    yield self._point(what, text, block, number)
            case Plain(text=text):
                yield self._words(text, "body")

    def _point(self, what: str, text: str, block: Points, number: int, size: str = "") -> Any:
        """One point of a list."""
        from reportlab.lib.styles import ParagraphStyle
        from reportlab.platypus import Paragraph

        base = self.styles[size or ("detail" if block.small else "body")]
        style = ParagraphStyle("point", base, leftIndent=22, spaceBefore=3)
        said = f'<font name="{face(bold=True)}">{escape(what)}.</font> ' if what else ""
        bullet = f"{number}." if block.numbered else "•"
        return Paragraph(said + escape(text), style, bulletText=bullet)

    def _cards(self, cards: tuple[Card, ...]) -> Any:
        """Cards in two columns, as many on a page as it takes."""
        column = (self.width - _GAP) / 2
        drawn = [drawn for card in cards for drawn in self._broken(card, column)]
        return in_columns(drawn, width=self.width / POINT, gap=_GAP / POINT)

    def _broken(self, card: Card, width: float) -> Iterator[Any]:
        """Yield a card, in parts where it is too tall for a page."""
        first, count = 0, len(card.picks)
        while first < len(card.picks):
            name = f"{card.name} (continued)" if first else card.name
            part = replace(card, name=name, picks=card.picks[first : first + count])
            drawn = self._card(part, width)
            height = drawn.wrap(width / POINT, 1e6)[1]
            if height > _TALLEST / POINT and len(part.picks) > 1:
                count = len(part.picks) - 1
                continue
            yield drawn
            first += count

    def _card(self, card: Card, width: float) -> Any:
        """One card in its frame."""
        inner = width - 2 * _PAD
        count = card.count.replace(" ", "\u00a0")
        name = self._words(f"{card.name} {count}", "name")
        head = self._table([[name, self._tick()]], [inner - _TICK - 1.0, _TICK + 1.0])
        rows = [[head]]
        for pick in card.picks:
            rows.append([self._words(pick.where, "detail")])
            rows.append([self._pick(pick, inner)])
        pad, gap = _PAD / POINT, 3.0
        style = [
            ("BOX", (0, 0), (-1, -1), 1.2, _INK),
            ("LEFTPADDING", (0, 0), (-1, -1), pad),
            ("RIGHTPADDING", (0, 0), (-1, -1), pad),
            ("TOPPADDING", (0, 0), (-1, 0), pad),
            ("BOTTOMPADDING", (0, 0), (-1, 0), gap),
            ("NOSPLIT", (0, 0), (-1, -1)),
        ]
        for k in range(1, len(rows), 2):
            style += [
                ("LINEABOVE", (0, k), (-1, k), 0.6, _INK),
                ("TOPPADDING", (0, k), (-1, k), gap),
                ("BOTTOMPADDING", (0, k), (-1, k), gap),
                ("BOTTOMPADDING", (0, k + 1), (-1, k + 1), 2 * gap),
            ]
        style.append(("BOTTOMPADDING", (0, -1), (-1, -1), pad))
        return self._table(rows, [width], style)

    def _pick(self, pick: Pick, width: float) -> Any:
        """Picture on the left, the largest words on the right, remarks below."""
        drawing = pick.picture
        wide = _WIDE_PICTURE if pick.wide else _PICTURE
        aside = 0.0 if drawing is None else wide + 2.0
        right = [self._words(pick.wads, "set" if pick.wide else "wads")]
        plain = "detail" if pick.wide else "body"
        right += [
            self._words(line, plain if k or pick.wide else "set")
            for k, line in enumerate(pick.lines)
        ]
        if pick.verdict:
            right.append(self._marked(pick.verdict, pick.verdict))
        cells: list[Any] = [right]
        if drawing is not None:
            cells.insert(0, self._picture(drawing, wide))
        rows = [cells]
        widths = [width - aside] if drawing is None else [aside, width - aside]
        style = []
        said = [(remark, "detail") for remark in pick.remarks]
        for text, size in said + [(text, "figures") for text in pick.figures]:
            style.append(("SPAN", (0, len(rows)), (-1, len(rows))))
            point = self._point("", text, Points(items=()), 0, size)
            rows.append([point, *[""] * (len(widths) - 1)])
        return self._table(rows, widths, style)

    def _data(self, table: Table) -> Any:
        """A table of data, its heads again on each page."""
        count = len(table.heads)
        words = {0, *table.words}
        numbers = 15.0 if table.small else 30.0  # [mm]
        room = self.width - numbers * (count - len(words))
        widths = [room / len(words) if k in words else numbers for k in range(count)]
        heads = [
            self._words(head, "set" if k in words else "number")
            for k, head in enumerate(table.heads)
        ]
        rows = [heads]
        for cells in table.rows:
            row = [self._row_head(cells[0], widths[0], table)]
            row += [
                self._cell(cell, widths[k], table, number=k not in words)
                for k, cell in enumerate(cells[1:], 1)
            ]
            rows.append(row)
        style = [
            ("LINEBELOW", (0, 0), (-1, 0), 1.2, _INK),
            ("LINEBELOW", (0, 1), (-1, -1), 0.5, _INK),
            ("TOPPADDING", (0, 0), (-1, -1), 1.5 if table.small else 3),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 1.5 if table.small else 3),
        ]
        style += [("LEFTPADDING", (k, 0), (k, -1), 14) for k in table.words]
        data = self._table(rows, widths, style, repeatRows=1)
        head = self._table(rows[:2], widths, style[:3])
        data.least = head.wrap(self.width / POINT, 1e6)[1]
        return data

    def _row_head(self, cell: Cell, width: float, table: Table) -> Any:
        """The first cell of a row, with its box to tick and its picture."""
        cells: list[Any] = []
        widths = []
        if table.tick:
            cells.append(self._tick())
            widths.append(_TICK + 3.0)
        if cell.picture is not None:
            cells.append(self._picture(cell.picture, _SMALL_PICTURE))
            widths.append(_SMALL_PICTURE + 3.0)
        words = [self._words(cell.text, "detail" if table.small else "strong")]
        words += [self._words(line, "detail") for line in cell.detail]
        if not cells:
            return words
        return self._table([[*cells, words]], [*widths, width - sum(widths)])

    def _cell(self, cell: Cell, width: float, table: Table, *, number: bool) -> list[Any]:
        """Any other cell."""
        if number:
            found = [self._words(cell.text, "right" if table.small else "number")]
            return found + [self._words(line, "right") for line in cell.detail]
        found = [self._words(cell.text, "detail" if table.small else "body")]
        if cell.verdict:
            sides = [self._picture(self.marks[cell.verdict], _MARK), found]
            found = [self._table([sides], [_MARK + 1.4, width - _MARK - 1.4])]
        return found + [self._words(line, "detail") for line in cell.detail]

    def _marked(self, verdict: str, said: str) -> Any:
        """A mark and a few words beside it."""
        size, bold = _SIZES["set"]
        height = 1.22 * size * POINT

        def paint(canvas: Canvas) -> None:
            place(canvas, self.marks[verdict], (0, (height - _MARK) / 2 - 0.2), _MARK)
            canvas.setFont(face(bold=bold), size)
            canvas.drawString((_MARK + 1.4) / POINT, 0.3 * size, said)

        return painted(_MARK, height, paint)

    def _words(self, text: str, style: str) -> Any:
        """A paragraph."""
        from reportlab.platypus import Paragraph

        return Paragraph(escape(_bound(text)), self.styles[style])

    def _picture(self, drawing: Drawing, width: float) -> Any:
        """A drawing at a width [mm]."""
        height = width * drawing.height / drawing.width
        return painted(width, height, lambda canvas: place(canvas, drawing, (0, 0), width))

    def _tick(self) -> Any:
        """A box to tick by pencil."""
        side = _TICK / POINT

        def paint(canvas: Canvas) -> None:
            canvas.setLineWidth(1.6)
            canvas.rect(0, 0, side, side)

        return painted(_TICK, _TICK, paint)

    def _table(
        self, rows: list[list[Any]], widths: list[float], style: Any = (), **more: Any
    ) -> Any:
        """Cells side by side [mm], without room between them unless the style asks."""
        from reportlab.platypus import Table as Grid

        bare = [
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            *((f"{side}PADDING", (0, 0), (-1, -1), 0) for side in ("LEFT", "RIGHT", "TOP")),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
        ]
        columns = [width / POINT for width in widths]
        return Grid(rows, colWidths=columns, style=[*bare, *style], hAlign="LEFT", **more)
