"""From a picture to an outline at true size, with all that was found and assumed."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING, Final, NamedTuple

from wadforms.catalogue.outlines.refusal import Refused, refused
from wadforms.catalogue.photo import edge, ink
from wadforms.catalogue.photo.corners import Edge
from wadforms.catalogue.photo.notes import shape_notes, sheet_notes
from wadforms.catalogue.photo.picture import Photo
from wadforms.catalogue.photo.scale import (
    Extent,
    Known,
    Plane,
    Sheet,
    sheet_plane,
)
from wadforms.catalogue.photo.smoothing import smooth
from wadforms.errors import BadInput, Fault
from wadforms.geometry.construct import centroid
from wadforms.geometry.contour import Contour, Point
from wadforms.geometry.outline import Outline

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from shapely import Geometry

TOLERANCE: Final = 0.2
"""How far smoothing may move the outline if nothing else is said and a pixel is finer [mm]."""

MOST_POINTS: Final = 300
"""As many points may the outline have."""

KINDS: Final = ("told", "filled", "line")
"""How the shape is drawn: told from the picture, a filled shape, or a closed line."""

_MARGIN: Final = 0.02  # share of a sheet's height along its edges where nothing is looked for
_FILLED: Final = 0.75  # share of what it encloses that is ink; with more it is no line
_STEEP: Final = math.sqrt(math.tau)  # width of an edge over the deviation of the blur it is from
_SLACK: Final = 0.5  # of what smoothing may move, by which the middle of a line may be off
_LONGEST: Final = 40_000  # pixels along one edge; a longer one is frayed


class Wanted(NamedTuple):
    """What to look for.

    Parameters
    ----------
    near : (float, float) or None
        A place in or beside the shape [pixels of the file]; the largest shape if None.
    light : bool
        Whether it is lighter than its ground.
    kind : str
        One of `KINDS`.
    holes : bool
        Whether its holes are kept.
    tolerance : float or None
        How far smoothing may move the outline [mm]; `TOLERANCE` or a pixel if None, whichever is
        larger.
    """

    near: Point | None = None
    light: bool = False
    kind: str = KINDS[0]
    holes: bool = False
    tolerance: float | None = None


class Traced(NamedTuple):
    """The outline of a drawing, and how it was found.

    Parameters
    ----------
    outline : Outline
        Centred on its area, as seen, y up [mm].
    plane : Plane
        How the picture's pixels lie in the plane of the drawing [mm].
    origin : (float, float)
        Where the outline's middle is in that plane [mm].
    resolution : float
        How large a pixel is at the shape [mm].
    blur : float
        How wide the edge between ink and paper is [mm].
    tolerance : float
        How far smoothing was allowed to move the outline [mm].
    moved_most, moved_mean : float
        How far it moved it, but beside corners [mm].
    corners : int
        How many sharp corners the outline has.
    sharpened : float
        How far the farthest of them was carried on beyond what is seen [mm].
    line_width : float or None
        Of the pen, where the shape is a line and its middle was taken [mm].
    left_out : int
        How many holes it has that were not kept.
    place : (float, float)
        The middle of the shape in the picture [pixels of the file].
    among, equals : int
        How many shapes there are, and how many of about this one's size.
    notes : tuple of str
        What was assumed, each a sentence.
    """

    outline: Outline
    plane: Plane
    origin: Point
    resolution: float
    blur: float
    tolerance: float
    moved_most: float
    moved_mean: float
    corners: int
    sharpened: float
    line_width: float | None
    left_out: int
    place: Point
    among: int
    equals: int
    notes: tuple[str, ...]

    @property
    def points(self) -> int:
        """How many points the outline has."""
        return sum(len(contour.vertices) for contour in self.outline.contours)


def traced(photo: Photo, known: Known, wanted: Wanted) -> Traced:
    """The outline of the shape in a picture.

    Parameters
    ----------
    photo : Photo
        The picture.
    known : Extent, Between or Sheet
        A length in it that is known.
    wanted : Wanted
        What to look for.

    Raises
    ------
    BadInput
        No such shape is there, or it has no closed and clear outline; or the sheet is not found.

    Examples
    --------
    >>> import numpy as np
    >>> y, x = np.mgrid[0:300, 0:400]
    >>> disk = np.where((x - 200) ** 2 + (y - 150) ** 2 < 100**2, 0.1, 0.9).astype(np.float32)
    >>> photo = Photo(np.zeros((300, 400, 3), np.uint8), disk, 1, "disk.png")
    >>> found = traced(photo, Extent("width", 40.0), Wanted())
    >>> [round(side, 2) for side in found.outline.size], round(found.resolution, 3)
    ([40.0, 40.0], 0.2)
    """
    try:
        return _traced(photo, known, wanted)
    except Refused as error:
        raise BadInput(*(Fault(photo.name, *fault) for fault in error.faults)) from None


def _traced(photo: Photo, known: Known, wanted: Wanted) -> Traced:
    import numpy as np

    r = photo.reduced

    def shown(pixel: Point) -> str:
        return "({:.0f}, {:.0f}) px".format(*_whole(pixel, r))

    near = None if wanted.near is None else _part(wanted.near, r)
    if near is not None and not (0 <= near[0] < photo.size[0] and 0 <= near[1] < photo.size[1]):
        raise refused(f"the place {shown(near)}", "name one within the picture")
    plane = sheet_plane(photo.grey, known) if isinstance(known, Sheet) else Plane(())
    seen = _inside(photo, plane) if plane.corners else None
    even, chosen, level = _found(photo, seen, wanted, near, shown)
    rings, edges, blur, pen = _edges(even, chosen.blot, level, wanted, shown)
    plane, notes = _scaled(plane, known, rings[0], photo)
    place = chosen.blot.middle
    pixel = plane.resolution(place)
    tolerance = wanted.tolerance or max(TOLERANCE, pixel)
    blunt = (max(2.0 * blur, 3.0) + 0.8 * (pen or 0.0)) * pixel
    seen_edge = Edge(
        ink=_ink([plane.to_mm(ring) for ring in edges]),
        pen=(pen or 0.0) * pixel,
        haze=blur * pixel / _STEEP,
        slack=(_SLACK if pen else 1.0) * max(tolerance, pixel),
    )
    parts = [
        smooth(plane.to_mm(ring), tolerance=tolerance, step=pixel, blunt=blunt, edge=seen_edge)
        for ring in rings
    ]
    outline = _outline([part.contour for part in parts], pixel)
    before = plane
    if isinstance(known, Extent):  # smoothing must not take anything off the length that is known
        factor = known.length / outline.size[known.along == "height"]
        outline, pixel = outline.scaled(factor), pixel * factor
        plane = Plane(tuple(v * factor for v in plane.matrix[:6]) + plane.matrix[6:], plane.corners)
    worst = max(parts, key=lambda part: float(part.moved.max()))
    if float(worst.moved.max()) > 1.5 * tolerance:
        (at,) = before.to_pixels(np.array([worst.worst]))
        notes.append(
            f"Farther than allowed from what is drawn near {shown(_pair(at))}: look there for a "
            "hair or a fray."
        )
    doubtful = [place for part in parts for place in part.doubtful]
    if doubtful:
        at = ", ".join(shown(_pair(p)) for p in before.to_pixels(np.array(doubtful)))
        notes.append(f"Taken for a tight bend, though it may be meant as a sharp corner: {at}.")
    middle = centroid(outline)
    moved = np.concatenate([part.moved for part in parts])
    return Traced(
        outline=outline.moved(-middle[0], -middle[1]),
        plane=plane,
        origin=middle,
        resolution=pixel / r,
        blur=blur * pixel,
        tolerance=tolerance,
        moved_most=float(moved.max()),
        moved_mean=float(moved.mean()),
        corners=sum(part.corners for part in parts),
        sharpened=max(part.sharpened for part in parts),
        line_width=None if pen is None else pen * pixel,
        left_out=0 if pen or wanted.holes else len(chosen.blot.holes),
        place=_whole(place, r),
        among=chosen.among,
        equals=chosen.equals,
        notes=(
            *notes,
            *shape_notes(told=wanted.kind == "told", pen=pen, pixel=pixel / r, parts=parts),
        ),
    )


def _found(
    photo: Photo,
    seen: NDArray[np.uint8] | None,
    wanted: Wanted,
    near: Point | None,
    shown: Callable[[Point], str],
) -> tuple[NDArray[np.float32], ink.Chosen, float]:
    """How dark the picture is, what was chosen in it, and the level of its edge."""

    def look(line: bool) -> tuple[NDArray[np.float32], ink.Chosen, float]:
        even = ink.evened(photo.grey, seen, light=wanted.light, line=line)
        first = ink.blots(even, ink.first_level(even), seen)
        chosen = ink.choose(first, near, shown)
        level = ink.own_level(even, chosen.blot)
        # By the shape's own ink now; nearest to where it was found before.
        again = ink.blots(even, level, seen)
        best = ink.choose(again, near or _on(chosen.blot), shown)
        return even, best._replace(among=chosen.among, equals=chosen.equals), level

    if wanted.kind != "line":
        return look(False)
    found = look(True)
    blot = found[1].blot
    if blot.holes and ink.is_hollow(photo.grey, blot, ink.width_of(blot)):
        return found
    # Perhaps the edge of something wide: a very thick line, which encloses much, or a filled shape.
    filled = bool(blot.holes)
    try:
        plain = look(False)
    except Refused:
        pass  # the light is too uneven for that
    else:
        whole = plain[1].blot
        width = ink.width_of(whole)
        if math.dist(whole.middle, blot.middle) <= width:  # else it is something else, as a shadow
            if whole.inked <= _FILLED * whole.enclosed:
                return plain
            filled = filled or not ink.is_open(whole, width)
    if filled:
        given = f"a filled shape around {shown(blot.middle)} that is said to be a line"
        raise refused(given, "say --drawn filled")
    return found


def _whole(pixel: Point, reduced: int) -> Point:
    """A place of the averaged picture in the pixels of the file."""
    return (pixel[0] + 0.5) * reduced - 0.5, (pixel[1] + 0.5) * reduced - 0.5


def _part(pixel: Point, reduced: int) -> Point:
    return (pixel[0] + 0.5) / reduced - 0.5, (pixel[1] + 0.5) / reduced - 0.5


def _pair(point: NDArray[np.float64]) -> Point:
    return float(point[0]), float(point[1])


def _inside(photo: Photo, plane: Plane) -> NDArray[np.uint8]:
    """Where the sheet is, without a margin along its edges."""
    import cv2
    import numpy as np

    corners = np.array(plane.corners)
    middle = corners.mean(axis=0)
    ring = middle + (corners - middle) * (1.0 - 2.0 * _MARGIN)
    seen = np.zeros(photo.grey.shape, np.uint8)
    cv2.fillPoly(seen, [np.rint(ring).astype(np.int32)], 255)
    return seen


def _on(blot: ink.Blot) -> Point:
    """A place on a blot."""
    x, y = blot.outside[0]
    return float(x), float(y)


def _edges(
    even: NDArray[np.float32], blot: ink.Blot, level: float, wanted: Wanted, shown: object
) -> tuple[list[NDArray[np.float64]], list[NDArray[np.float64]], float, float | None]:
    """What is followed, the edges of the ink, their blur, and the width of a line [pixels]."""
    assert callable(shown)  # noqa: S101 - for the type checker
    width = ink.width_of(blot)
    if (wanted.kind == "line" and not blot.holes) or (
        wanted.kind == "told" and ink.is_open(blot, width)
    ):
        found = ink.gap(blot)
        if found is None:
            raise refused(f"a line around {shown(blot.middle)} that encloses nothing", "close it")
        place, open_by = found
        given = f"a line that is open by {open_by:.0f} px near {shown(place)}"
        raise refused(given, "close it, or say that the shape is filled")
    if max(len(blot.outside), *(len(hole) for hole in blot.holes), 0) > _LONGEST:
        raise refused("a shape with a frayed edge", "draw it with a clear edge")
    outer = edge.follow(even, blot.outside, level)
    if wanted.kind == "line" or (wanted.kind == "told" and ink.is_line(blot, width)):
        inner = edge.follow(even, blot.holes[0], level)
        points, pen = edge.middle(outer.points, inner.points)
        return [points], [outer.points, inner.points], outer.width, pen
    rings = [outer.points]
    if wanted.holes:
        rings += [edge.follow(even, hole, level).points for hole in blot.holes]
    return rings, rings, outer.width, None


def _ink(rings: list[NDArray[np.float64]]) -> Geometry:
    """What lies within the first ring and in none of the others."""
    import shapely

    whole, *holes = (shapely.make_valid(shapely.Polygon(ring)) for ring in rings)
    return shapely.difference(whole, shapely.union_all(holes))


def _scaled(
    plane: Plane, known: Known, ring: NDArray[np.float64], photo: Photo
) -> tuple[Plane, list[str]]:
    """The plane by what is known, and what that assumes."""
    import numpy as np

    lens = "the lens draws straight lines straight"
    if isinstance(known, Sheet):
        return plane, sheet_notes(plane, known, photo, lens)
    if isinstance(known, Extent):
        span = np.ptp(ring, axis=0)[int(known.along == "height")]
    else:
        (x0, y0), (x1, y1) = (_part(p, photo.reduced) for p in (known.start, known.end))
        span = np.hypot(x1 - x0, y1 - y0)
        if span < 10:
            raise refused("two points in about the same place", "name two that are far apart")
    note = f"Assumed: the picture was taken from straight above, and {lens}."
    return Plane.even(known.length / float(span)), [note]


def _outline(contours: list[Contour], pixel: float) -> Outline:
    """One outline of the contours, shown to be sound; `pixel` in mm."""
    outline = Outline(contours[0], tuple(contours[1:]))
    points = sum(len(contour.vertices) for contour in contours)
    if points > MOST_POINTS:
        given = f"a shape that takes {points} points"
        right = f"allow more smoothing, so that it takes at most {MOST_POINTS}"
        raise refused(given, right)
    if not outline.polygon(pixel / 20.0).is_valid:
        given = "a shape so thin or frayed that its smooth outline crosses itself"
        raise refused(given, "draw it larger, take it from nearer, or allow less smoothing")
    return outline
