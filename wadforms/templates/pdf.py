"""Writes drawings as the pages of a PDF file: true to the millimetre, the same bytes each time.

A page has the size of its drawing.  The text is set in a font that travels in the file, so it
looks alike everywhere; the file asks its reader to print without scaling (ISO 32000-1, 12.2).
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterable, Sequence
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from wadforms.errors import BadInput, Fault
from wadforms.geometry.contour import Point
from wadforms.templates.drawing import (
    Arc,
    Circle,
    Drawing,
    Lettering,
    Lines,
    Primitive,
    Region,
    Style,
    Text,
    Window,
)

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

POINT: Final = 25.4 / 72
"""The unit of the format, 1/72 in [mm]."""

_FACES: Final = {False: ("WadformsText", "Vera.ttf"), True: ("WadformsBold", "VeraBd.ttf")}
"""Bitstream Vera Sans, a free font that reportlab ships, light and bold."""

_STEP: Final = math.radians(45.0)  # a curve of so much strays from its arc by 4e-6 of the radius
_MITRE: Final = 4.0  # as SVG has it where nothing is said


def pdf(drawings: Sequence[Drawing]) -> bytes:
    """The drawings as one PDF file, a page each.

    Parameters
    ----------
    drawings : sequence of Drawing
        One or more; the file is titled as the first.

    Raises
    ------
    BadInput
        There is no drawing, or a text holds a letter that the font does not have.

    Examples
    --------
    >>> from wadforms.templates.look import CUT
    >>> sheet = Drawing(title="Ø 20", description="A disk.", width=30, height=30,
    ...                 items=(Circle((15, 10), 10, CUT),))
    >>> pdf([sheet])[:5], pdf([sheet]) == pdf([sheet])
    (b'%PDF-', True)
    """
    if not drawings:
        raise BadInput(Fault("drawings", "none", "give one or more"))
    _refuse_letters(drawings)
    from reportlab.pdfgen.canvas import Canvas

    out = io.BytesIO()
    # invariant: no time and no random name in the file.
    canvas = Canvas(out, pageCompression=1, invariant=1, initialFontName=face(bold=False))
    canvas.setTitle(drawings[0].title)
    canvas.setSubject(drawings[0].description)
    canvas.setCreator("wadforms")
    canvas.setAuthor("")
    canvas.setViewerPreference("PrintScaling", "None")
    for drawing in drawings:
        canvas.setPageSize((drawing.width / POINT, drawing.height / POINT))
        canvas.scale(1.0 / POINT, 1.0 / POINT)
        canvas.setMiterLimit(_MITRE)
        if drawing.background:
            canvas.setFillColor(_colour(drawing.background))
            canvas.rect(0, 0, drawing.width, drawing.height, stroke=0, fill=1)
        for item in drawing.primitives():
            _draw(canvas, item)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def _draw(canvas: Canvas, item: Primitive) -> None:
    match item:
        case Region(outline, style):
            pen = _PathPen(canvas)
            outline.draw(pen)
            _paint(canvas, pen.path, style)
        case Lines(spans, style):
            pen = _PathPen(canvas)
            for start, end in spans:
                pen.move_to(start)
                pen.line_to(end)
            _paint(canvas, pen.path, style)
        case Circle(centre, radius, style):
            pen = _PathPen(canvas)
            start = (centre[0] + radius, centre[1])
            pen.move_to(start)
            pen.arc_to(start, centre, math.tau)
            pen.close()
            _paint(canvas, pen.path, style)
        case Arc(centre, radius, first, sweep, style):
            pen = _PathPen(canvas)
            pen.move_to(_on_circle(centre, radius, math.radians(first)))
            end = _on_circle(centre, radius, math.radians(first + sweep))
            pen.arc_to(end, centre, math.radians(sweep))
            _paint(canvas, pen.path, style)
        case Window((x0, y0, x1, y1), parts):
            canvas.saveState()
            edge = canvas.beginPath()
            edge.rect(x0, y0, x1 - x0, y1 - y0)
            canvas.clipPath(edge, stroke=0, fill=0)
            for part in parts:
                _draw(canvas, part)
            canvas.restoreState()
        case Text((x, y), text, lettering, anchor):
            canvas.setFillColor(_colour(lettering.ink))
            canvas.setFont(face(bold=lettering.bold), lettering.size)
            set_line = {
                "start": canvas.drawString,
                "middle": canvas.drawCentredString,
                "end": canvas.drawRightString,
            }[anchor]
            set_line(x, y, text)


def _paint(canvas: Canvas, path: Any, style: Style) -> None:
    """Fill and stroke a path, by the rule that SVG uses where nothing is said."""
    canvas.saveState()
    if style.fill:
        canvas.setFillColor(_colour(style.fill))
        canvas.setFillAlpha(style.opacity)
    if style.stroke:
        canvas.setStrokeColor(_colour(style.stroke))
        canvas.setLineWidth(style.width)
        canvas.setDash(list(style.dash))
    non_zero = 1
    canvas.drawPath(path, stroke=bool(style.stroke), fill=bool(style.fill), fillMode=non_zero)
    canvas.restoreState()


class _PathPen:
    """Draws a path; arcs become curves of the third degree, so many that none can tell."""

    def __init__(self, canvas: Canvas) -> None:
        self.path = canvas.beginPath()
        self.here: Point = (0.0, 0.0)

    def move_to(self, point: Point) -> None:
        self.path.moveTo(*point)
        self.here = point

    def line_to(self, point: Point) -> None:
        self.path.lineTo(*point)
        self.here = point

    def arc_to(self, point: Point, centre: Point, sweep: float) -> None:
        """Go along an arc, each part by the curve that touches it at both ends and its middle."""
        radius = math.dist(self.here, centre)
        angle = math.atan2(self.here[1] - centre[1], self.here[0] - centre[0])
        parts = max(1, math.ceil(abs(sweep) / _STEP - 1e-9))
        turn = sweep / parts
        pull = 4.0 / 3.0 * math.tan(turn / 4.0) * radius
        for k in range(parts):
            first, last = angle + k * turn, angle + (k + 1) * turn
            start = _on_circle(centre, radius, first)
            end = point if k == parts - 1 else _on_circle(centre, radius, last)
            self.path.curveTo(
                start[0] - pull * math.sin(first),
                start[1] + pull * math.cos(first),
                end[0] + pull * math.sin(last),
                end[1] - pull * math.cos(last),
                *end,
            )
        self.here = point

    def close(self) -> None:
        self.path.close()


def _on_circle(centre: Point, radius: float, angle: float) -> Point:
    return centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)


def _colour(code: str) -> Any:
    from reportlab.lib.colors import HexColor

    return HexColor(code)


def place(canvas: Canvas, drawing: Drawing, corner: Point, width: float) -> None:
    """Paint a drawing on the page of a document that another writer lays out.

    Parameters
    ----------
    canvas : Canvas
        Of the page, in the format's own unit.
    drawing : Drawing
        What to paint.
    corner : (float, float)
        Where its lower left comes to lie [mm].
    width : float
        How wide it becomes on the page [mm].
    """
    canvas.saveState()
    canvas.translate(corner[0] / POINT, corner[1] / POINT)
    canvas.scale(width / drawing.width / POINT, width / drawing.width / POINT)
    canvas.setMiterLimit(_MITRE)
    for item in drawing.primitives():
        _draw(canvas, item)
    canvas.restoreState()


@cache
def face(*, bold: bool) -> str:
    """The name of the font, which the writer now knows.

    Examples
    --------
    >>> face(bold=True)
    'WadformsBold'
    """
    import reportlab
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    name, file = _FACES[bold]
    # By its full path: a search would also look where this machine keeps its own fonts.
    path = Path(reportlab.__file__).parent / "fonts" / file
    pdfmetrics.registerFont(TTFont(name, str(path)))
    return name


@cache
def _letters(*, bold: bool) -> frozenset[str]:
    from reportlab.pdfbase import pdfmetrics

    return frozenset(map(chr, pdfmetrics.getFont(face(bold=bold)).face.charToGlyph))


def _refuse_letters(drawings: Sequence[Drawing]) -> None:
    """Refuse letters that would come out as empty boxes.

    Raises
    ------
    BadInput
        With every text that has some.
    """
    words = [pair for drawing in drawings for pair in _texts(drawing.primitives())]
    refuse_letters((text, lettering.bold) for text, lettering in words)


def refuse_letters(texts: Iterable[tuple[str, bool]]) -> None:
    """Refuse letters that would come out as empty boxes.

    Parameters
    ----------
    texts : iterable of (str, bool)
        Each text, and whether it is bold.

    Raises
    ------
    BadInput
        With every text that has some.

    Examples
    --------
    >>> refuse_letters([("Große Schüssel, Ø 20", False)])
    """
    faults: dict[str, Fault] = {}
    for text, bold in texts:
        lacking = sorted(set(text) - _letters(bold=bold))
        if lacking:
            right = (
                f"leave out {' '.join(map(repr, lacking))}, which the font of the PDF lacks, "
                "or write SVG"
            )
            faults[text] = Fault("text", repr(text), right)
    if faults:
        raise BadInput(*faults.values())


def _texts(items: Any) -> list[tuple[str, Lettering]]:
    found = []
    for item in items:
        if isinstance(item, Text):
            found.append((item.text, item.lettering))
        elif isinstance(item, Window):
            found += _texts(item.parts)
    return found
