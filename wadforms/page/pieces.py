"""Pictures and triangles of a piece, as the page shows them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from wadforms.families.base import Piece
    from wadforms.geometry.contour import Point
    from wadforms.geometry.outline import Outline
    from wadforms.templates.drawing import Drawing, Item

_THUMB: Final = 40.0  # side of a small picture [mm on the sheet]
_EDGE: Final = 2.0
_ROOM: Final = 90.0  # of an outline with marks
_MARK: Final = 3.0  # radius of a mark


def inline(drawing: Drawing) -> str:
    """A drawing as SVG that can stand within a page."""
    from wadforms.templates.svg import svg

    text = svg(drawing).decode()
    return text[text.index("<svg") :]


def thumbnail(piece: Piece) -> bytes:
    """A small picture of a piece from above, as SVG.

    Parameters
    ----------
    piece : Piece
        At its set size.

    Examples
    --------
    >>> from wadforms.families import family
    >>> b"<circle" in thumbnail(family("disk")().piece()) or b"<path" in thumbnail(
    ...     family("disk")().piece())
    True
    """
    from wadforms.templates.drawing import Drawing
    from wadforms.templates.pieces import plan
    from wadforms.templates.svg import svg

    scale = (_THUMB - 2 * _EDGE) / max(piece.body.base.size)
    height = max(scale * piece.body.base.size[1] + 2 * _EDGE, 12.0)
    items: Sequence[Item] = tuple(plan(piece, (_THUMB / 2, height / 2), scale))
    return svg(
        Drawing(
            title="a shape from above",
            description="The shape from above.",
            width=_THUMB,
            height=height,
            items=tuple(items),
            background=None,
        )
    )


def triangles(piece: Piece) -> bytes:
    """A piece as a binary STL file, to be looked at."""
    from wadforms.moulds.meshes.assembly import meshed
    from wadforms.moulds.meshes.mesh import stl_bytes

    return stl_bytes(meshed(piece.body), "piece, mm")


def marked(outline: Outline, places: Sequence[Point]) -> Drawing:
    """An outline with numbered marks where something is wrong with it.

    Parameters
    ----------
    outline : Outline
        At true size [mm].
    places : sequence of (float, float)
        What is to be marked [mm].

    Examples
    --------
    >>> from wadforms.geometry.outline import Outline
    >>> len(marked(Outline.circle(10), [(0, 10), (10, 0)]).items)
    5
    """
    from wadforms.templates import look
    from wadforms.templates.drawing import Circle, Drawing, Region, Text

    left, low, right, high = outline.bounds
    scale = _ROOM / max(right - left, high - low)
    edge = 3 * _MARK
    dx, dy = edge - scale * left, edge - scale * low
    items: list[Item] = [Region(outline.scaled(scale).moved(dx, dy), look.BEARING)]
    for number, (x, y) in enumerate(places, 1):
        at = (scale * x + dx, scale * y + dy)
        items.append(Circle(at, _MARK, look.ALARM))
        items.append(Text((at[0] + _MARK, at[1] + _MARK), str(number), look.STRONG))
    return Drawing(
        title="the outline with its faults",
        description=f"The outline; {len(places)} places are marked on it.",
        width=scale * (right - left) + 2 * edge,
        height=scale * (high - low) + 2 * edge,
        items=tuple(items),
    )


Box = tuple[tuple[float, float, float], tuple[float, float, float]]
"""The lowest and the highest corner [mm]."""


def bounds(stl: bytes) -> Box:
    """Where a part lies, so that it can be shown in the middle.

    Parameters
    ----------
    stl : bytes
        A binary STL file of ours.

    Returns
    -------
    tuple
        Its lowest and highest corner [mm].

    Examples
    --------
    >>> from wadforms.families import family
    >>> low, high = bounds(triangles(family("disk")(diameter=20, height=8, draft=0).piece()))
    >>> [round(v) for v in (*low, *high)]
    [-10, -10, 0, 10, 10, 8]
    """
    import numpy as np

    facet = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("more", "<u2")])
    corners = np.frombuffer(stl, facet, offset=84)["corners"].reshape(-1, 3)
    low, high = corners.min(axis=0).tolist(), corners.max(axis=0).tolist()
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])
