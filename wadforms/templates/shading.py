"""Hatching as plain lines, so that every format and every printer shows it alike."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from wadforms.geometry.contour import Contour, Point
from wadforms.geometry.outline import Outline
from wadforms.templates.drawing import Lines, Style

if TYPE_CHECKING:
    from shapely import Geometry


def hatch(
    regions: Sequence[Outline], style: Style, *, spacing: float = 1.0, degrees: float = 45.0
) -> Lines:
    """Parallel lines over regions, clipped to them.

    The lines belong to one grid fixed to the sheet, so neighbouring regions match.

    Parameters
    ----------
    regions : sequence of Outline
        Where to hatch [mm].
    style : Style
        Of the lines.
    spacing : float
        Between lines [mm].
    degrees : float
        Direction of the lines from +x.

    Examples
    --------
    >>> square = Outline(Contour.polygon([(0.5, 0.5), (3.5, 0.5), (3.5, 2.5), (0.5, 2.5)]))
    >>> hatch([square], Style("hatch", "#000000", 0.1), degrees=0).spans
    (((0.5, 1.0), (3.5, 1.0)), ((0.5, 2.0), (3.5, 2.0)))
    """
    import shapely

    ux, uy = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    spans: list[tuple[Point, Point]] = []
    for region in regions:
        x0, y0, x1, y1 = region.bounds
        corners = [(x, y) for x in (x0, x1) for y in (y0, y1)]
        along = [x * ux + y * uy for x, y in corners]
        across = [y * ux - x * uy for x, y in corners]
        first, last = math.ceil(min(across) / spacing), math.floor(max(across) / spacing)
        polygon = region.polygon()
        for k in range(first, last + 1):
            d = k * spacing
            ends = [(t * ux - d * uy, t * uy + d * ux) for t in (min(along), max(along))]
            cut = shapely.intersection(polygon, shapely.LineString(ends))
            for part in shapely.get_parts(cut):
                if part.geom_type == "LineString" and part.length > 0.0:
                    (ax, ay), (bx, by) = part.coords
                    spans.append(((ax, ay), (bx, by)))
    return Lines(tuple(spans), style)


def outlines_of(region: Geometry) -> tuple[Outline, ...]:
    """The polygons of a shapely region as outlines; what has no area is left out."""
    import shapely

    found = []
    for polygon in shapely.get_parts(region):
        if polygon.geom_type != "Polygon" or polygon.is_empty:
            continue
        rings = [polygon.exterior, *polygon.interiors]
        points = [list(ring.coords)[:-1] for ring in rings]
        ccw = [p if ring.is_ccw else p[::-1] for p, ring in zip(points, rings, strict=True)]
        outer, *holes = (Contour.polygon(p) for p in ccw)
        found.append(Outline(outer, tuple(holes)))
    return tuple(found)
