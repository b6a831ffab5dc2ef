"""Where a sheet of a drawing has room for its square, its words and its crosses."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Final

from wadforms.geometry.contour import Point
from wadforms.geometry.outline import Outline
from wadforms.templates.drawing import Arc, Circle, Lines, Region, Text, Window
from wadforms.templates.placing import Box

if TYPE_CHECKING:
    from shapely import Geometry

_FREE: Final = 3.0  # between a cross and other lines, where there is room [mm]
_CLEAR: Final = 3.0  # between the square and the edges of what a sheet shows [mm]
_AWAY: Final = 12.0  # so far from the drawing the square is far enough [mm]
_STEP: Final = 6.0  # between places that are tried for the square [mm]
_BARELY: Final = 1e-3  # away from all lines is more than this [mm]
_BETWEEN: Final = 0.3  # lines that stand for words [mm]
_COARSE: Final = 0.2  # chord error where only the room on the sheet is looked for [mm]


def clearest(places: Sequence[Point], ink: Geometry | None, size: float) -> Point:
    """The first of the places at which a cross has least of the ink around it [mm].

    Parameters
    ----------
    places : sequence of (float, float)
        Where it may stand [mm].
    ink : shapely geometry or None
        The lines of the drawing [mm].
    size : float
        Of the cross [mm].

    Examples
    --------
    >>> import shapely
    >>> clearest([(0.0, 0.0), (20.0, 0.0)], shapely.LineString([(0, 2), (5, 2)]), 6.0)
    (20.0, 0.0)
    """
    import shapely

    if ink is None:
        return places[0]
    reach = size / 2 + _FREE
    boxes = [shapely.box(x - reach, y - reach, x + reach, y + reach) for x, y in places]
    lengths = [round(float(ink.intersection(box).length), 2) for box in boxes]
    return places[lengths.index(min(lengths))]


def ink_in(content: Sequence[Window], box: Box) -> Geometry:
    """All lines that are seen in a box.

    Parameters
    ----------
    content : sequence of Window
        What is drawn.
    box : tuple of float
        Smallest x, smallest y, largest x, largest y [mm].

    Examples
    --------
    >>> from wadforms.templates import look
    >>> ring = Window((0, 0, 9, 9), (Circle((5, 5), 2, look.FINE),))
    >>> round(ink_in([ring], (0, 0, 5, 9)).length, 1)
    6.3
    """
    import shapely

    lines = shapely.union_all([line for window in content for line in _ink(window)])
    ink = shapely.clip_by_rect(lines, *box)
    shapely.prepare(ink)
    return ink


def quiet_place(ink: Geometry, box: Box, size: tuple[float, float]) -> tuple[Point, bool]:
    """Where something crosses least of the drawing, its lower left corner, and whether nothing.

    Parameters
    ----------
    ink : shapely geometry
        The lines of the drawing [mm].
    box : tuple of float
        Where it may stand [mm].
    size : (float, float)
        Of what shall stand there [mm].
    """
    import numpy as np
    import shapely

    x0, y0, x1, y1 = box
    width, height = size
    room = (x1 - x0 - width, y1 - y0 - height)
    edge = [min(_CLEAR, side / 2) for side in room]
    xs = np.linspace(x0 + edge[0], x0 + room[0] - edge[0], 1 + int((room[0] - 2 * edge[0]) / _STEP))
    ys = np.linspace(y0 + edge[1], y0 + room[1] - edge[1], 1 + int((room[1] - 2 * edge[1]) / _STEP))
    x, y = (a.ravel() for a in np.meshgrid(xs, ys))
    places = shapely.box(x, y, x + width, y + height)
    # Where several places cross nothing, one that is well away from everything is best.
    away = np.nan_to_num(shapely.distance(places, ink), nan=_AWAY)  # from nothing: no number
    crossed = np.zeros(len(places))
    if not (away > _BARELY).any():  # else what is crossed elsewhere is of no matter, and slow
        crossed = np.round(shapely.length(shapely.intersection(ink, places)), 6)
    best = int(np.argmin(np.round(crossed - 1e-3 * np.minimum(away, _AWAY), 6)))
    return (float(x[best]), float(y[best])), bool(crossed[best] == 0.0)


def _ink(window: Window) -> Iterator[Geometry]:
    """Yield the lines of what is seen, and lines that stand for its words."""
    import shapely

    for item in window.parts:
        match item:
            case Region(outline, _):
                yield outline.polygon(_COARSE).boundary
            case Lines(spans, _):
                yield shapely.MultiLineString([list(span) for span in spans])
            case Circle(centre, radius, _):
                yield Outline.circle(radius, centre).polygon(_COARSE).boundary
            case Arc(centre, radius, start, sweep, _):
                angles = [math.radians(start + sweep * k / 32) for k in range(33)]
                (x, y) = centre
                yield shapely.LineString(
                    [(x + radius * math.cos(a), y + radius * math.sin(a)) for a in angles]
                )
            case Text():
                # Words on words cannot be read: each counts as if its box were full of lines.
                x0, y0, x1, y1 = item.box
                rows = math.ceil((y1 - y0) / _BETWEEN)
                levels = [y0 + (y1 - y0) * k / rows for k in range(rows + 1)]
                yield shapely.MultiLineString([[(x0, y), (x1, y)] for y in levels])
