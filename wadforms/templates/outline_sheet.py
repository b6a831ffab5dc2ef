"""The outline sheet: a shape at full size, to cut out and cut by.

The square that proves the scale stands in the lower left corner and holds the words; all the
rest of the sheet is for outlines.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from wadforms import units
from wadforms.errors import BadInput, Fault
from wadforms.families.base import Piece
from wadforms.geometry.outline import Outline
from wadforms.templates import look, proof
from wadforms.templates.drawing import Cross, Drawing, Item, Region, Text
from wadforms.templates.outline_places import (
    centre,
    cross_size,
    most_by_area,
    most_on_sheet,
    placed_outlines,
)
from wadforms.templates.paper import Paper
from wadforms.templates.paper import paper as paper_named
from wadforms.templates.words import folded, measure, plan_size, shortened


@dataclass(frozen=True, slots=True)
class OutlineSheet:
    """A sheet with outlines at full size.

    Parameters
    ----------
    drawing : Drawing
        The sheet.
    area : float
        Inside one of the outlines as drawn [mm²].
    factor : float
        Drawn size over set size.
    count : int
        Outlines on the sheet.
    """

    drawing: Drawing
    area: float
    factor: float
    count: int


def outline_sheet(
    name: str,
    piece: Piece,
    *,
    paper: str | Paper = "either",
    count: int = 1,
    shrinkage: float | None = None,
    facts: Sequence[str] = (),
    corrected: str | None = None,
) -> OutlineSheet:
    """A sheet that shows the outline of a piece at true scale, once or several times.

    Parameters
    ----------
    name : str
        Of the shape.
    piece : Piece
        At its set size.
    paper : str or Paper
        ``"a4"``, ``"letter"``, or ``"either"`` for a sheet that both can print; or a sheet.
    count : int
        How many outlines to draw.
    shrinkage : float or None
        Linear share S by which the piece shrinks between cutting and setting (ASTM C326):
        drying, and firing too where it is biscuit-fired first.  Where given, the outlines are
        drawn at wet size, set size/(1 − S).
    facts : sequence of str
        What else the sheet says under its title.
    corrected : str or None
        What it says where it is made for a printer that does not print true.

    Raises
    ------
    BadInput
        The paper is unknown, or count or shrinkage make no sense.
    NotMakeable
        The shape is too large for the sheet, or so many do not fit; the message says what does.

    Examples
    --------
    >>> from wadforms.families import family
    >>> sheet = outline_sheet("disk-20", family("disk")(diameter=20).piece(), count=3)
    >>> sheet.count, round(sheet.area, 2), sheet.drawing.width
    (3, 314.16, 210.0)
    """
    faults = []
    if count < 1:
        faults.append(Fault("count", str(count), "draw one outline or more"))
    if shrinkage is not None and not 0.0 <= shrinkage < 0.5:
        given = units.show(shrinkage, "share")
        faults.append(Fault("shrinkage", given, "give 0 % to less than 50 %"))
    if faults:
        raise BadInput(*faults)
    sheet = paper if isinstance(paper, Paper) else paper_named(paper)
    factor = _factor(shrinkage)
    outline = piece.outline.scaled(factor)
    labels = _labels(name, piece, outline, sheet, count)
    items: list[Item] = [*proof.proof(sheet.box[:2]), *proof.instructions(sheet.box[:2], corrected)]
    items += _title(name, piece, sheet, count, shrinkage, facts)
    for placed, label in placed_outlines(outline, labels, sheet, count):
        items += _cut_outline(placed, label)
    drawing = Drawing(
        title=f"{name}: outline sheet",
        description=(
            f"{count} outline{'s' if count > 1 else ''} of {name} at true scale, "
            f"{'set' if factor == 1.0 else 'wet'} size, with a 100 mm square and a 4 in line. "
            "Print at 100 %, no scaling, then measure the square."
        ),
        width=sheet.width,
        height=sheet.height,
        items=tuple(items),
    )
    return OutlineSheet(drawing, outline.area, factor, count)


def told(piece: Piece, shrinkage: float | None, facts: Sequence[str] = ()) -> list[str]:
    """What a sheet says of the piece, line by line.

    Parameters
    ----------
    piece, facts
        As for `outline_sheet`.
    shrinkage : float or None
        A linear share, as there.

    Examples
    --------
    >>> from wadforms.families import family
    >>> told(family("disk")(diameter=20, height=8).piece(), 0.05)[:2]
    ['Set size: Ø 20 × 8 mm', 'Drawn at wet size: Ø 21.1 × 8.4 mm']
    """
    factor = _factor(shrinkage)
    outline = piece.outline.scaled(factor)
    set_size = f"{plan_size(piece.outline)} × {measure(piece.height)} mm"
    if shrinkage is None:
        drawn = ["Drawn at set size, nothing added for shrinkage"]
    else:
        drawn = [
            f"Drawn at wet size: {plan_size(outline)} × {measure(piece.height * factor)} mm",
            f"= set size × {factor:.4f}, which is 1/(1 − {units.show(shrinkage, 'share')})",
        ]
    limit = outline_only(piece)
    return [
        *facts,
        f"Set size: {set_size}",
        *drawn,
        f"Area inside the line, as drawn: {outline.area:.0f} mm²",
        "Cut along the middle of the line",
        *([limit] if limit else []),
    ]


def most_outlines(
    name: str, piece: Piece, *, paper: str | Paper, count: int, shrinkage: float | None = None
) -> int:
    """How many outlines one sheet takes, up to `count`; 0 where not even one fits.

    Parameters
    ----------
    name, piece, paper, count
        As for `outline_sheet`.
    shrinkage : float or None
        A linear share, as there.

    Examples
    --------
    >>> from wadforms.families import family
    >>> most_outlines("disk-20", family("disk")(diameter=20).piece(), paper="a4", count=7)
    7
    """
    sheet = paper if isinstance(paper, Paper) else paper_named(paper)
    outline = piece.outline.scaled(_factor(shrinkage))
    count = min(count, most_by_area(outline, sheet, count))  # labels tell the number on a sheet
    return most_on_sheet(outline, _labels(name, piece, outline, sheet, count), sheet, count)


def _factor(shrinkage: float | None) -> float:
    return 1.0 if shrinkage is None else 1.0 / (1.0 - shrinkage)


def _labels(
    name: str, piece: Piece, outline: Outline, sheet: Paper, count: int
) -> list[tuple[str, str]]:
    size = f"{plan_size(piece.outline)} × {measure(piece.height)} mm"
    return [
        (name, f"set size {size}") if count == 1 else (f"{name}, {k} of {count}", f"set {size}")
        for k in range(1, most_by_area(outline, sheet, count) + 1)
    ]


def outline_only(piece: Piece) -> str | None:
    """A sentence for shapes that are more than their outline; None for those that are not.

    Examples
    --------
    >>> from wadforms.families import family
    >>> outline_only(family("cradle")().piece())
    'The outline only: the hollow is not cut this way'
    >>> outline_only(family("disk")().piece()) is None
    True
    """
    if piece.hollow_radius:
        what = "the hollow is"
    elif piece.tips and piece.tips.base_area:
        what = "the points are"
    elif piece.tips:
        what = "the pockets are"
    elif piece.body.pockets:
        what = "the slots are"
    else:
        return None
    return f"The outline only: {what} not cut this way"


def _title(
    name: str,
    piece: Piece,
    sheet: Paper,
    count: int,
    shrinkage: float | None,
    facts: Sequence[str],
) -> Iterator[Item]:
    """Yield what the shape is, inside the square."""
    x = sheet.box[0] + 6.0
    y = sheet.box[1] + proof.HEIGHT - 6.0
    width = proof.SQUARE - 12.0
    yield Text((x, y - 6.0), shortened(name, look.TITLE, width), look.TITLE)
    lines = [
        *told(piece, shrinkage, facts),
        f"{count} on this sheet" if count > 1 else "One on this sheet",
    ]
    rows = [row for line in lines for row in folded(line, look.BODY, width)]
    for k, row in enumerate(rows):
        yield Text((x, y - 15.0 - 5.6 * k), row, look.BODY)


def _cut_outline(outline: Outline, label: tuple[Text, ...]) -> Iterator[Item]:
    """Yield one outline with its centre mark and label."""
    yield Region(outline, look.CUT)
    yield Cross(centre(outline), cross_size(outline), look.FINE)
    yield from label
