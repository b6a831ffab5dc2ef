"""The stencil: the file of a machine that cuts along every line it is given.

So there is nothing in it but closed paths, each once.  What lies inside is cut first, while the
piece around it still holds it.  Copies lie apart, and never share an edge: cut
once it would leave one of them an open path, and cut twice it burns.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from wadforms.errors import BadInput, Fault, NotMakeable, quoted
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
"""No beam, jet or bit of a workshop takes away more [mm]."""

_WIDEST: Final = 5.0  # of a drawn line [mm]
_LONGEST: Final = 5000.0  # side of a board [mm]

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


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutting:
    """How a machine cuts.

    Parameters
    ----------
    kerf : float
        Width of what the beam, the jet or the bit takes away [mm].
    gap : float
        At least, between two copies and from them to the edge of the sheet [mm].
    board : (float, float), optional
        What the machine takes along x and y [mm]; without it the sheet is as large as it need be.
    stroke, hole_stroke : str
        Colours of outer paths and of holes, which many machines take for an order or a power:
        ``"#ff0000"``, ``"#f00"`` or one of the sixteen basic colour names of CSS.  Holes have
        the colour of outer paths if not given.
    stroke_width : float
        Of the drawn lines [mm].

    Raises
    ------
    BadInput
        With every value that makes no sense.

    Examples
    --------
    >>> Cutting(stroke="red").colours
    ('#ff0000', '#ff0000')
    """

    kerf: float = 0.0
    gap: float = GAP
    board: tuple[float, float] | None = None
    stroke: str = BLACK
    hole_stroke: str | None = None
    stroke_width: float = HAIRLINE

    def __post_init__(self) -> None:
        faults = []
        if not 0.0 <= self.kerf <= LARGEST_KERF:
            right = f"give the width that the beam takes away, 0 mm to {LARGEST_KERF:g} mm"
            faults.append(Fault("kerf", f"{self.kerf:g} mm", right))
        if not 0.1 <= self.gap <= 100.0:
            right = "give 0.1 mm to 100 mm: an edge that two copies share would be cut twice"
            faults.append(Fault("gap", f"{self.gap:g} mm", right))
        if self.board is not None and not all(0.0 < side <= _LONGEST for side in self.board):
            given = " × ".join(f"{side:g}" for side in self.board)
            faults.append(Fault("board", f"{given} mm", f"give up to {_LONGEST:g} mm a side"))
        if not 0.0 < self.stroke_width <= _WIDEST:
            right = f"give more than 0 mm, up to {_WIDEST:g} mm"
            faults.append(Fault("stroke width", f"{self.stroke_width:g} mm", right))
        for where, code in (("stroke", self.stroke), ("hole stroke", self.hole_stroke)):
            if code is not None and colour(code) is None:
                right = f"write '#ff0000', or one of {', '.join(_COLOURS)}"
                faults.append(Fault(where, quoted(code), right))
        if faults:
            raise BadInput(*faults)

    @property
    def colours(self) -> tuple[str, str]:
        """The colours of outer paths and of holes as ``#rrggbb``."""
        outer = colour(self.stroke) or BLACK
        return outer, colour(self.hole_stroke or outer) or outer


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
    name: str, outline: Outline, *, count: int = 1, cutting: Cutting | None = None
) -> Stencil:
    """The paths that cut a piece out, or several of them.

    The paths are moved by half the kerf, the outer ones out and the holes in, so that the piece
    comes out as `outline`.

    Parameters
    ----------
    name : str
        Of the shape; it goes into the file's title, not on the drawing.
    outline : Outline
        Of one piece as it shall come out [mm].
    count : int
        How many.
    cutting : Cutting, optional
        How they are cut; without kerf and in black if not given.

    Raises
    ------
    BadInput
        There are too many or too few.
    NotMakeable
        So many do not fit the board, or the kerf is wider than a part of the outline.

    Examples
    --------
    >>> disk = stencil("disk-40", Outline.circle(20), cutting=Cutting(kerf=0.3))
    >>> round(disk.width, 6), round(disk.area, 2)
    (40.3, 1256.64)
    """
    if not 1 <= count <= MOST:
        raise BadInput(Fault("count", str(count), f"give 1 to {MOST}"))
    cutting = cutting or Cutting()
    kerf, gap, board = cutting.kerf, cutting.gap, cutting.board
    drawn = _kerfed(outline, kerf)
    edge = gap + kerf / 2  # as drawn; the beam takes half of its width from each side
    if board is None:
        spots = compact(drawn, gap=gap + kerf, count=count)
    else:
        width, height = (max(side - 2 * edge, 1e-6) for side in board)
        spots = nest(drawn, gap=gap + kerf, width=width, height=height, count=count)
        if len(spots.spots) < count:
            raise NotMakeable(_too_many(drawn, count, len(spots.spots), board))
    pieces = [spot.place(drawn).moved(edge, edge) for spot in spots.spots]
    width, height = board or (spots.width + 2 * edge, spots.height + 2 * edge)
    drawing = Drawing(
        title=f"{name}: stencil",
        description=f"{count} × {name}: closed paths to cut along, holes first.",
        width=width,
        height=height,
        items=tuple(_paths(pieces, cutting)),
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


def _kerfed(outline: Outline, kerf: float) -> Outline:
    try:
        return outline.offset(kerf / 2)
    except NotMakeable as error:
        raise NotMakeable(
            f"a kerf of {kerf:g} mm takes more than there is: {error}; give less, or none"
        ) from None


def _too_many(drawn: Outline, count: int, most: int, board: tuple[float, float]) -> str:
    on = " × ".join(f"{side:g}" for side in board)
    if not most:
        return f"an outline of {plan_size(drawn)} mm does not fit a board of {on} mm"
    return f"{count} outlines of {plan_size(drawn)} mm do not fit a board of {on} mm; {most} do"


def _paths(pieces: list[Outline], cutting: Cutting) -> Iterator[Region]:
    """Yield each contour alone: the holes of a piece, then what surrounds them."""
    colours = cutting.colours
    outer = Style("cut", colours[0], cutting.stroke_width)
    inner = Style("cut a hole", colours[1], cutting.stroke_width)
    for piece in pieces:
        for hole in piece.holes:
            yield Region(Outline(hole), inner)
        yield Region(Outline(piece.outer), outer)
