"""Makes one outline of closed runs, or tells every place that stands against it."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any, Final

from wadforms.catalogue.outlines.refusal import LEAST_AREA, MOST_HOLES, Refused, refused
from wadforms.catalogue.outlines.tracing import Run
from wadforms.geometry.construct import centred
from wadforms.geometry.contour import Contour, Point
from wadforms.geometry.outline import Outline

if TYPE_CHECKING:
    from shapely import Polygon

_TOLD: Final = 3  # places of one kind that are named; the others are counted
_MOST_NODED: Final = 100  # corners of a ring whose every crossing is told, not the first alone
_SAME_AREA: Final = 1e-3  # share of an area by which two contours differ that are one

_Place = Callable[[Point], str]


def assembled(runs: Sequence[Run], place: _Place, finer: float = 1.0) -> Outline:
    """The outline whose contours are these, centred on its area.

    The largest is the outside, all others are holes in it, whichever way they run.

    Parameters
    ----------
    runs : sequence of Run
        As they were drawn.
    place : callable
        Tells a place for a message.
    finer : float
        How many times the outline will be enlarged.

    Raises
    ------
    Refused
        With every fault and its place: open, without area, crossing itself, several pieces.

    Examples
    --------
    >>> square = Run(((0, 0), (9, 0), (9, 9), (0, 9)), (0, 0, 0, 0), closed=True)
    >>> assembled([square], str).bounds
    (-4.5, -4.5, 4.5, 4.5)
    """
    if not runs:
        raise refused("a drawing without an outline", "draw one closed outline")
    if len(runs) > MOST_HOLES:
        right = f"draw one outline, with fewer than {MOST_HOLES} holes"
        raise refused(f"a drawing of {len(runs)} contours", right)
    faults = [fault for run in runs if not run.closed and (fault := _open(run, place))]
    contours = [run.contour for run in runs if run.closed]
    sound = []
    for contour in contours:
        polygon = Outline(contour).polygon() if _encloses(contour) else None
        if polygon is None or not polygon.convex_hull.area > 0.0:
            faults.append((f"a part without area near {place(contour.vertices[0])}", "remove it"))
        elif not polygon.is_valid:
            faults += _crossings(polygon, place)
        else:
            sound.append((contour, polygon))
    if faults:
        raise Refused(*_few(faults))
    sound.sort(key=lambda pair: -pair[1].area)
    if sound[0][1].area < LEAST_AREA / finer**2:
        raise refused("an outline without area", f"draw one of more than {LEAST_AREA:g} mm²")
    faults = list(_misplaced(sound, place))
    if faults:
        raise Refused(*_few(faults))
    turned = [c if c.area > 0 else c.reversed() for c, _ in sound]
    return centred(Outline(turned[0], tuple(turned[1:])))


def _open(run: Run, place: _Place) -> tuple[str, str] | None:
    first, last = run.points[0], run.points[-1]
    return (f"a path that ends at {place(last)} and began at {place(first)}", "close it")


def _encloses(contour: Contour) -> bool:
    return len(contour.vertices) > 2 or any(contour.bulges)


def _few(faults: list[tuple[str, str]]) -> list[tuple[str, str]]:
    """The first of many faults, and how many more there are."""
    if len(faults) <= _TOLD + 1:
        return faults
    more = (f"the like at {len(faults) - _TOLD} more places", "mend those first")
    return [*faults[:_TOLD], more]


def _crossings(polygon: Polygon, place: _Place) -> list[tuple[str, str]]:
    """Where the ring crosses or touches itself."""
    import shapely

    places: list[Point] = []
    if len(polygon.exterior.coords) <= _MOST_NODED:
        parts = shapely.get_parts(shapely.node(polygon.exterior))
        ends: dict[Point, int] = {}
        for line in parts:
            for x, y in (line.coords[0], line.coords[-1]):
                ends[x, y] = ends.get((x, y), 0) + 1
        places = [point for point, meeting in ends.items() if meeting > 2]
    if not places:
        found = re.search(r"\[(\S+) (\S+)\]", str(shapely.is_valid_reason(polygon)))
        places = [(float(found[1]), float(found[2])) if found else polygon.exterior.coords[0]]
    right = "draw lines that neither cross nor touch"
    return [(f"an outline that crosses itself near {place(point)}", right) for point in places]


def _misplaced(sound: Sequence[tuple[Contour, Any]], place: _Place) -> list[tuple[str, str]]:
    """What lies beside the outline, across it, in a hole of it, or there twice."""
    import shapely

    (_, outer), *others = sound
    shapely.prepare(outer)
    tree = shapely.STRtree([polygon for _, polygon in others])
    faults = []
    for i, (contour, polygon) in enumerate(others):
        near = place(contour.vertices[0])
        if outer.disjoint(polygon):
            faults.append((f"a second piece near {near}", "draw one piece in a file"))
            continue
        if not outer.contains_properly(polygon):
            if outer.symmetric_difference(polygon).area < _SAME_AREA * outer.area:
                faults.append((f"an outline drawn twice near {near}", "remove one of the two"))
            else:
                given = f"a hole near {near} that crosses or touches the outline"
                faults.append((given, "draw it wholly inside"))
            continue
        for j in tree.query(polygon, predicate="intersects"):
            other = others[j][1]
            if j >= i or math.isclose(other.area, 0.0):
                continue  # the larger one was told
            if other.contains_properly(polygon):
                faults.append((f"a second piece near {near}, within a hole", "remove it"))
            elif other.symmetric_difference(polygon).area < _SAME_AREA * other.area:
                faults.append((f"a hole drawn twice near {near}", "remove one of the two"))
            else:
                given = f"a hole near {near} that crosses or touches another"
                faults.append((given, "draw them apart"))
            break
    return faults
