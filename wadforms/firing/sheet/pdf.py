"""Writes a crew sheet on paper: as many pages as it takes, numbered, the same bytes each time."""

from __future__ import annotations

import io
from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from wadforms.firing.sheet.flow import Story, painted
from wadforms.firing.sheet.parts import Cards, CrewSheet, Plain, Points, Table
from wadforms.templates.paper import Paper
from wadforms.templates.pdf import POINT, face, refuse_letters

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

_FOOT: Final = 8.0  # of the page, for its number [mm]
_TOTAL: Final = "pages"


def sheet_pdf(sheet: CrewSheet, paper: Paper) -> bytes:
    """The sheet as a PDF file.

    Parameters
    ----------
    sheet : CrewSheet
        What to write.
    paper : Paper
        Its pages.

    Raises
    ------
    BadInput
        A text holds a letter that the font does not have.

    Examples
    --------
    >>> from wadforms.templates.paper import paper
    >>> sheet_pdf(CrewSheet(title="November", date="", tally=(), parts=()), paper("a4"))[:5]
    b'%PDF-'
    """
    # What a name lacks in one weight it lacks in the other.
    refuse_letters((text, False) for text in _texts(sheet))
    from reportlab.platypus import BaseDocTemplate, Frame, PageTemplate

    out = io.BytesIO()
    x0, y0, x1, y1 = paper.box
    doc = BaseDocTemplate(
        out,
        pagesize=(paper.width / POINT, paper.height / POINT),
        title=f"{sheet.title}: crew sheet",
        creator="wadforms",
        author="",
        lang="en",
        invariant=1,  # no time and no random name in the file
        initialFontName=face(bold=False),
    )
    foot = (y0 + _FOOT) / POINT
    frame = Frame(
        x0 / POINT,
        foot,
        (x1 - x0) / POINT,
        y1 / POINT - foot,
        leftPadding=0,
        rightPadding=0,
        topPadding=0,
        bottomPadding=0,
        id="page",
    )

    def number(canvas: Canvas, _: object) -> None:
        canvas.setFont(face(bold=False), 9.0)
        words = f"{sheet.title}: crew sheet" + (f", {sheet.date}" if sheet.date else "")
        canvas.drawString(x0 / POINT, (y0 + 1.0) / POINT, words)
        page = f"page {canvas.getPageNumber()} of "
        canvas.drawRightString(x1 / POINT - 16.0, (y0 + 1.0) / POINT, page)
        canvas.saveState()
        canvas.translate(x1 / POINT - 16.0, (y0 + 1.0) / POINT)
        canvas.doForm(_TOTAL)  # it is known on the last page
        canvas.restoreState()

    doc.addPageTemplates(PageTemplate(frames=[frame], onPage=number))
    doc.build([*Story(x1 - x0).of(sheet), painted(0.0, 0.0, _total)])
    return out.getvalue()


def _total(canvas: Canvas) -> None:
    """Say how many pages there are, which every page's foot asks for."""
    canvas.beginForm(_TOTAL, 0, -3, 30, 12)
    canvas.setFont(face(bold=False), 9.0)
    canvas.drawString(0, 0, str(canvas.getPageNumber()))
    canvas.endForm()


def _texts(sheet: CrewSheet) -> Iterator[str]:
    """Yield every text of the sheet that comes from the list or from the user's shapes."""
    yield from (sheet.title, sheet.date)
    for part in sheet.parts:
        for block in part.blocks:
            match block:
                case Cards(cards=cards):
                    for card in cards:
                        yield card.name
                        for pick in card.picks:
                            yield from (pick.where, pick.wads, *pick.lines)
                            yield from (*pick.remarks, *pick.figures)
                case Table(rows=rows):
                    yield block.caption
                    for row in rows:
                        for cell in row:
                            yield from (cell.text, *cell.detail)
                case Points(items=items):
                    yield block.caption
                    for item in items:
                        yield from item
                case Plain(text=text):
                    yield text
