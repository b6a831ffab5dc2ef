"""Where the numbers of wads stand on a drawing: clear of lines, of wads and of each other."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any, Final

from wadforms.geometry.contour import Point
from wadforms.templates import look
from wadforms.templates.drawing import Text
from wadforms.templates.placing import Box

if TYPE_CHECKING:
    from shapely import Geometry

_CLEAR: Final = 0.4  # between a number and all lines [mm]
_STEP: Final = 1.0  # between places that are tried inside a wad [mm]
_LEAST: Final = 4.0  # times a number's own area, from which a part of a wad has one
_FURTHER: Final = (0.0, 2.0, 4.0, 7.0, 10.0)  # how far numbers are led off their wads [mm]
_TURNS: Final = (0.0, 30.0, -30.0, 60.0, -60.0, 90.0, -90.0, 180.0, 150.0, -150.0, 120.0, -120.0)
"""From the direction away from the pot's middle, the best first [deg]."""


def numbers(
    forms: Sequence[Geometry],
    middle: Point,
    lines: Geometry,
    *,
    crosses: Sequence[Point] = (),
    cross: float = 0.0,
    within: Box | None = None,
) -> Iterator[Text]:
    """Yield the number of each wad: inside it and clear of all lines, or else outside it.

    Parameters
    ----------
    forms : sequence of shapely geometry
        The wads, or where they touch, on the sheet [mm].
    middle : (float, float)
        Of the pot, from which what stands outside is led away [mm].
    lines : shapely geometry
        What a number keeps off where it can [mm].
    crosses : sequence of (float, float)
        Centres of their crosses, which a number stands beside; none where there are none [mm].
    cross : float
        Length of the lines of those crosses [mm].
    within : tuple of float or None
        Smallest x, smallest y, largest x, largest y of where numbers may stand [mm].

    Examples
    --------
    >>> import shapely
    >>> wads = [shapely.Point(x, 0).buffer(10) for x in (-20, 20)]
    >>> across = shapely.LineString([(-40, 0), (40, 0)])
    >>> at = [(-20, 0), (20, 0)]
    >>> found = numbers(wads, (0, 0), across, crosses=at, cross=6)
    >>> [text.text for text in found]
    ['1', '2']
    """
    import numpy as np
    import shapely

    whole = shapely.box(*within) if within else None
    tree = shapely.STRtree(list(forms))
    # Each of these is asked thousands of times.
    shapely.prepare(lines)
    shapely.prepare(whole)
    taken = np.empty((0, 4))
    rise = look.STRONG.rise
    for k, form in enumerate(forms):
        word = str(k + 1)
        width = look.STRONG.width(word)
        point = form.representative_point()
        centre = crosses[k] if crosses else (float(point.x), float(point.y))
        inside = _beside(centre, width, rise) if crosses else [_on(centre, width, rise)]
        if crosses:  # well off the cross where a wad is large enough for that
            inside = [*_farther_in(form, centre, width, rise, cross), *inside]
        found = _clear_inside(form, inside, width, rise, lines if crosses else None)
        if found is None:
            crossing = None
            for ring in _outside(form, centre, middle, width, rise, cross):
                boxes = _boxes(ring, width, rise, clear=True)
                free = np.ones(len(ring), dtype=bool)
                free[tree.query(boxes, predicate="intersects")[0]] = False
                free &= ~_meets(boxes, taken)
                if whole is not None:
                    free &= shapely.contains(whole, boxes)
                on_line = shapely.intersects(lines, boxes)
                # The first that is clear of lines; else the first of all that are free.
                if (free & ~on_line).any():
                    found = ring[int(np.argmax(free & ~on_line))]
                    break
                if crossing is None and free.any():
                    crossing = ring[int(np.argmax(free))]
            if found is None:
                found = crossing or centre
        x, y = found
        taken = np.vstack([taken, [x, y, x + width, y + rise]])
        yield Text((x + width / 2, y), word, look.STRONG, "middle")


def _boxes(corners: Sequence[Point], width: float, rise: float, *, clear: bool = False) -> Any:
    """What numbers cover whose lower left corners these are, or what shall be clear of lines."""
    import numpy as np
    import shapely

    x, y = np.array(corners, dtype=float).T
    boxes = shapely.box(x, y, x + width, y + rise)
    return shapely.buffer(boxes, _CLEAR, quad_segs=16) if clear else boxes


def _clear_inside(
    form: Geometry, corners: Sequence[Point], width: float, rise: float, lines: Geometry | None
) -> Point | None:
    """The first corner of those whose number lies well inside and, if they are told, off lines."""
    import numpy as np
    import shapely

    good = shapely.contains(form.buffer(-0.5), _boxes(corners, width, rise))
    if lines is not None and good.any():
        good &= ~shapely.intersects(lines, _boxes(corners, width, rise, clear=True))
    return corners[int(np.argmax(good))] if good.any() else None


def _meets(boxes: Any, taken: Any) -> Any:
    """Which of some forms lie over any of the upright boxes that are taken."""
    import numpy as np
    import shapely

    x0, y0, x1, y1 = shapely.bounds(boxes).T[:, :, None]
    a0, b0, a1, b1 = taken.T[:, None, :]
    near = (x0 <= a1) & (a0 <= x1) & (y0 <= b1) & (b0 <= y1)
    first, second = np.nonzero(near)
    found = np.zeros(len(boxes), dtype=bool)
    met = shapely.intersects(boxes[first], shapely.box(*taken[second].T))
    found[first[met]] = True
    return found


def _on(centre: Point, width: float, rise: float) -> Point:
    """The lower left corner of what stands in the middle."""
    return centre[0] - width / 2, centre[1] - rise / 2


def _beside(centre: Point, width: float, rise: float) -> list[Point]:
    """Lower left corners in the four quarters of a cross."""
    x, y = centre
    return [
        (x + 0.8 if right else x - 0.8 - width, y + 0.8 if above else y - 0.8 - rise)
        for right in (True, False)
        for above in (True, False)
    ]


def _farther_in(
    form: Geometry, centre: Point, width: float, rise: float, cross: float
) -> list[Point]:
    """Lower left corners all over a form but for its cross, the nearest to that first."""
    x0, y0, x1, y1 = form.bounds
    away = cross / 2 + _CLEAR
    places = []
    for i in range(int((x1 - x0) / _STEP) + 1):
        for j in range(int((y1 - y0) / _STEP) + 1):
            dx, dy = x0 + i * _STEP - centre[0], y0 + j * _STEP - centre[1]
            if max(abs(dx) - width / 2, abs(dy) - rise / 2) > away:
                places.append((math.hypot(dx, dy), dx, dy))
    places.sort()
    x, y = centre[0] - width / 2, centre[1] - rise / 2
    return [(x + dx, y + dy) for _, dx, dy in places]


def again(
    forms: Sequence[Geometry], told: Sequence[Text], boxes: Sequence[Box], lines: Geometry
) -> Iterator[Text]:
    """Yield numbers once more, on the part of a wad that a sheet shows without its number.

    Parameters
    ----------
    forms : sequence of shapely geometry
        The wads [mm].
    told : sequence of Text
        Their numbers.
    boxes : sequence of tuple of float
        What each sheet shows: smallest x, smallest y, largest x, largest y [mm].
    lines : shapely geometry
        What a number keeps off [mm].

    Examples
    --------
    >>> import shapely
    >>> wad = shapely.box(0, 0, 40, 20)
    >>> number = Text((30, 5), "1", look.STRONG, "middle")
    >>> [round(text.at[0]) for text in
    ...  again([wad], [number], [(0, 0, 20, 20), (15, 0, 40, 20)], shapely.Point(90, 0))]
    [10]
    """
    import shapely

    more: list[Text] = []
    for x0, y0, x1, y1 in boxes:
        sheet = shapely.box(x0 + _CLEAR, y0 + _CLEAR, x1 - _CLEAR, y1 - _CLEAR)
        for form, text in zip(forms, told, strict=True):
            width, rise = look.STRONG.width(text.text), look.STRONG.rise
            part = form.intersection(sheet)
            if part.area < _LEAST * width * rise or sheet.contains(shapely.box(*text.box)):
                continue
            point = part.representative_point()
            centre = (float(point.x), float(point.y))
            places = _farther_in(part, centre, width, rise, -width)
            taken = [shapely.box(*other.box) for other in (text, *more)]
            ink = shapely.union_all([shapely.clip_by_rect(lines, *part.bounds), *taken])
            found = _clear_inside(part, places, width, rise, ink) if places else None
            if found is not None:
                more.append(
                    Text((found[0] + width / 2, found[1]), text.text, look.STRONG, "middle")
                )
                yield more[-1]


def _outside(
    form: Geometry, centre: Point, middle: Point, width: float, rise: float, cross: float
) -> Iterator[list[Point]]:
    """Yield rings of lower left corners round a wad, the one away from the pot's middle first."""
    import numpy as np
    import shapely

    x, y = centre
    away = math.atan2(y - middle[1], x - middle[0]) if math.dist(centre, middle) > 1.0 else 0.8
    angles = [away + math.radians(turn) for turn in _TURNS]
    ways = [(math.cos(angle), math.sin(angle)) for angle in angles]
    rays = shapely.linestrings([[centre, (x + 1e4 * ux, y + 1e4 * uy)] for ux, uy in ways])
    cuts = shapely.intersection(rays, form)
    lengths = shapely.hausdorff_distance(cuts, shapely.Point(centre))
    # A ray that misses the form has no length.
    reaches = [float(r) for r in np.maximum(np.nan_to_num(lengths, nan=0.0), cross / 2)]
    for further in _FURTHER:
        ring = []
        for (ux, uy), far in zip(ways, reaches, strict=True):
            reach = far + 1.0 + further + abs(ux) * width / 2 + abs(uy) * rise / 2
            ring.append((x + reach * ux - width / 2, y + reach * uy - rise / 2))
        yield ring
