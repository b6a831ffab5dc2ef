"""The stencil: the file of a machine that cuts along every line it is given.

So there is nothing in it but closed paths, each once.  What lies inside is cut first, while the
piece around it still holds it.  Copies lie apart, and never share an edge.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from wadforms.errors import BadInput, Fault, NotMakeable
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.nesting import compact, nest
from wadforms.templates.drawing import Drawing, Region, Style
from wadforms.templates.words import plan_size

GAP: Final = 3.0
"""Between two copies as they come out, and between them and the edge of the sheet [mm]."""
HAIRLINE: Final = 0.1
"""Width of the drawn line [mm]; the machine goes along its middle."""
BLACK: Final = "#000000"
MOST: Final = 500
"""Copies in one file."""

LARGEST_KERF: Final = 10.0
"""No beam, jet or bit of a workshop burns away more [mm]."""

_WIDEST: Final = 5.0  # of a drawn line [mm]

_COLOURS: Final = {
    # The sixteen basic colour keywords of CSS Color Module Level 3, 4.1.
    "black": "#000000",
    "silver": "#c0c0c0",
    "gray": "#808080",
    "white": "#ffffff",
    "maroon": "#800000",
    "red": "#ff0000",
    "purple": "#800080",
    "fuchsia": "#ff00ff",
    "green": "#008000",
    "lime": "#00ff00",
    "olive": "#808000",
    "yellow": "#ffff00",
    "navy": "#000080",
    "blue": "#0000ff",
    "teal": "#008080",
    "aqua": "#00ffff",
}


@dataclass(frozen=True, slots=True)
class Stencil:
    """Closed paths to cut along.

    Parameters
    ----------
    drawing : Drawing
        The sheet; its paths in the order in which they are to be cut.
    area : float
        Of one piece as it comes out of the machine [mm²].
    drawn_area : float
        Inside the drawn paths of one piece, holes taken out [mm²].
    count : int
        Pieces.
    width, height : float
        What all pieces take up as drawn [mm].
    """

    drawing: Drawing
    area: float
    drawn_area: float
    count: int
    width: float
    height: float


def stencil(
    name: str,
    outline: Outline,
    *,
    count: int = 1,
    kerf: float = 0.0,
    gap: float = GAP,
    board: tuple[float, float] | None = None,
    stroke: str = BLACK,
    hole_stroke: str | None = None,
    stroke_width: float = HAIRLINE,
) -> Stencil:
    """The paths that cut a piece out, or several of them.

    Parameters
    ----------
    name : str
        Of the shape; it goes into the file's title, not on the drawing.
    outline : Outline
        Of one piece as it shall come out [mm].
    count : int
        How many.
    kerf : float
        Width of what the beam burns away [mm].  The paths are moved by half of it, the outer
        ones out and the holes in, so that the piece comes out as `outline`.
    gap : float
        At least, between two copies and from them to the edge of the sheet [mm].
    board : (float, float), optional
        What the machine takes along x and y [mm]; without it the sheet is as large as it need be.
    stroke, hole_stroke : str
        Colours of outer paths and of holes, which many machines take for an order or a power:
        ``"#ff0000"``, ``"#f00"`` or one of the sixteen basic colour names of CSS.
    stroke_width : float
        Of the drawn lines [mm].

    Raises
    ------
    BadInput
        With every value that makes no sense.
    NotMakeable
        So many do not fit the board, or the kerf is wider than a part of the outline.

    Examples
    --------
    >>> disk = stencil("disk-40", Outline.circle(20), kerf=0.3)
    >>> round(disk.width, 6), round(disk.area, 2)
    (40.3, 1256.64)
    """
    colours = _checked(count, kerf, gap, board, stroke, hole_stroke or stroke, stroke_width)
    drawn = _kerfed(outline, kerf)
    apart = gap + kerf  # as drawn; the beam takes half of its width from both sides
    if board is None:
        spots = compact(drawn, gap=apart, count=count)
    else:
        room = [side - 2 * gap - kerf for side in board]
        if min(room) <= 0.0:
            raise NotMakeable("the board is no wider than the gap on both its sides")
        spots = nest(drawn, gap=apart, width=room[0], height=room[1], count=count)
    if len(spots.spots) < count:
        raise NotMakeable(_too_many(drawn, count, len(spots.spots), board))
    edge = gap + kerf / 2
    pieces = [drawn.turned(spot.turn).moved(spot.x + edge, spot.y + edge) for spot in spots.spots]
    width, height = board or (spots.width + 2 * edge, spots.height + 2 * edge)
    drawing = Drawing(
        title=f"{name}: stencil",
        description=f"{count} × {name}: closed paths to cut along, holes first.",
        width=width,
        height=height,
        items=tuple(_paths(pieces, colours, stroke_width)),
        background=None,
    )
    return Stencil(drawing, outline.area, drawn.area, count, spots.width, spots.height)


def colour(text: str) -> str | None:
    """A colour as ``#rrggbb``; None where the text is none.

    Examples
    --------
    >>> colour("#F00"), colour("blue"), colour("rust")
    ('#ff0000', '#0000ff', None)
    """
    word = text.strip().lower()
    if re.fullmatch("#[0-9a-f]{3}", word):
        return "#" + "".join(2 * digit for digit in word[1:])
    return word if re.fullmatch("#[0-9a-f]{6}", word) else _COLOURS.get(word)


def _checked(
    count: int,
    kerf: float,
    gap: float,
    board: tuple[float, float] | None,
    stroke: str,
    hole_stroke: str,
    stroke_width: float,
) -> tuple[str, str]:
    """The two colours, after everything was looked at."""
    faults = []
    if not 1 <= count <= MOST:
        faults.append(Fault("count", str(count), f"give 1 to {MOST}"))
    if not 0.0 <= kerf <= LARGEST_KERF:
        right = f"give the width that the beam burns away, 0 mm to {LARGEST_KERF:g} mm"
        faults.append(Fault("kerf", f"{kerf:g} mm", right))
    if not 0.1 <= gap <= 100.0:
        faults.append(Fault("gap", f"{gap:g} mm", "give 0.1 mm to 100 mm"))
    if board is not None and not all(0.0 < side <= 5000.0 for side in board):
        given = " × ".join(f"{side:g}" for side in board)
        faults.append(Fault("board", f"{given} mm", "give up to 5000 mm a side"))
    if not 0.0 < stroke_width <= _WIDEST:
        right = f"give more than 0 mm, up to {_WIDEST:g} mm"
        faults.append(Fault("stroke width", f"{stroke_width:g} mm", right))
    found = [colour(stroke), colour(hole_stroke)]
    for given, read in dict(zip((stroke, hole_stroke), found, strict=True)).items():
        if read is None:
            right = f"write '#ff0000', or one of {', '.join(_COLOURS)}"
            faults.append(Fault("stroke", repr(given[:40]), right))
    if faults:
        raise BadInput(*faults)
    return found[0] or "", found[1] or ""


def _kerfed(outline: Outline, kerf: float) -> Outline:
    try:
        return outline.offset(kerf / 2)
    except NotMakeable as error:
        raise NotMakeable(
            f"a kerf of {kerf:g} mm takes more than there is: {error}; give less, or none"
        ) from None


def _too_many(drawn: Outline, count: int, most: int, board: tuple[float, float] | None) -> str:
    on = " × ".join(f"{side:g}" for side in board or ())
    if not most:
        return f"an outline of {plan_size(drawn)} mm does not fit a board of {on} mm"
    return f"{count} outlines of {plan_size(drawn)} mm do not fit a board of {on} mm; {most} do"


def _paths(pieces: list[Outline], colours: tuple[str, str], width: float) -> Iterator[Region]:
    """Yield each contour alone: the holes of a piece, then what surrounds them."""
    outer = Style("cut", colours[0], width)
    inner = Style("cut a hole", colours[1], width)
    for piece in pieces:
        for hole in piece.holes:
            yield _path(hole, inner)
        yield _path(piece.outer, outer)


def _path(contour: Contour, style: Style) -> Region:
    return Region(Outline(contour), style)
