"""Outlines that run beside another one: plungers, blades, grips.

Where each segment can be moved by itself, lines stay lines and arcs stay arcs; elsewhere the
outline is grown or shrunk as a polygon, which every outline allows.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from wadforms.errors import NotMakeable
from wadforms.geometry.body import Loft
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline

if TYPE_CHECKING:
    from shapely import Polygon

SPIKE: Final = 1.5
"""How far the corner of a grown outline may reach, over the distance it is grown by."""

_SAME: Final = 0.012  # two ways to the same outline may differ so much [mm]: twice the chord error

_TIDY: Final = 1e-3  # what may be straightened in a polygon [mm]

_STEPS: Final = 6  # of a slope that cannot be a straight wall

_SLIT: Final = 0.2  # between walls that nearly meet [mm]; a printer would close a narrower one

_FINE: Final = 0.01  # widths are told so fine [mm]


def exactly_moved(outline: Outline, distance: float) -> Outline | None:
    """The outline moved segment by segment, where that is what growing it means; else None.

    Parameters
    ----------
    outline : Outline
        Any, sound in itself.
    distance : float
        Outward; inward where negative [mm].

    Examples
    --------
    >>> exactly_moved(Outline.circle(10), -2) == Outline.circle(10).offset(-2)
    True
    >>> leaf = Outline(Contour(((20.0, 0.0), (-20.0, 0.0)), (0.3, 0.3)))
    >>> exactly_moved(leaf, 2) is None  # its tips would be spikes
    True
    """
    try:
        made = outline.offset(distance)
    except NotMakeable:
        return None
    ours, theirs = made.polygon(), _buffered(outline, distance)
    if not ours.is_valid or not ours.buffer(_SAME).covers(theirs):
        return None
    return made if theirs.buffer(_SAME).covers(ours) else None


def moved(outline: Outline, distance: float) -> tuple[Outline, ...]:
    """The outline grown, or shrunk where negative: one outline, several, or none.

    Parameters
    ----------
    outline : Outline
        Any, sound in itself.
    distance : float
        Outward; inward where negative [mm].

    Examples
    --------
    >>> leaf = Outline(Contour(((20.0, 0.0), (-20.0, 0.0)), (0.3, 0.3)))
    >>> [round(side) for side in moved(leaf, 2)[0].size]
    [46, 16]
    >>> moved(leaf, -7)
    ()
    """
    exact = exactly_moved(outline, distance)
    return (exact,) if exact else outlines(_buffered(outline, distance))


def outlines(region: Any) -> tuple[Outline, ...]:
    """The polygons of a shapely region as outlines of straight lines.

    Examples
    --------
    >>> wedge = Outline(Contour.polygon([(0, 0), (3, 0), (0, 2)]))
    >>> [found.area for found in outlines(wedge.polygon())]
    [3.0]
    """
    from shapely import get_parts, orient_polygons

    found = []
    for part in get_parts(region):
        if part.geom_type != "Polygon" or part.area < _FINE:
            continue
        whole = orient_polygons(part)
        holes = (list(ring.coords)[:0:-1] for ring in whole.interiors)
        kept = tuple(c for ring in holes if (c := Contour.polygon(ring)).area > _FINE)
        found.append(Outline(Contour.polygon(list(whole.exterior.coords)[:-1]), kept))
    return tuple(found)


def _buffered(outline: Outline, distance: float) -> Any:
    """Grown with sharp corners, or shrunk, and nowhere nearer to the outline than asked."""
    region = outline.polygon()
    found = region.buffer(distance, join_style="mitre", mitre_limit=SPIKE)
    # Where sharp corners meet across a notch, what is between them may be lost.
    plain = region.buffer(distance, quad_segs=16)
    if distance > 0.0 and not found.buffer(_TIDY).covers(plain):
        found = found.union(plain)
    elif distance < 0.0 and not plain.buffer(_TIDY).covers(found):
        found = found.intersection(plain)
    return found.simplify(_TIDY)


def room_to_grow(outline: Outline, most: float) -> float:
    """How far an outline can be grown before it meets itself and closes a pocket [mm].

    Parameters
    ----------
    outline : Outline
        Without holes.
    most : float
        As far as is asked for [mm].

    Examples
    --------
    >>> room_to_grow(Outline.circle(10), 4.0)
    4.0
    >>> corners = [(0, 0), (30, 0), (30, 20), (17, 20), (17, 18), (25, 18), (25, 5), (5, 5)]
    >>> jar = Outline(Contour.polygon([*corners, (5, 18), (14, 18), (14, 20), (0, 20)]))
    >>> round(room_to_grow(jar, 4.0), 1)  # its mouth is 3 mm wide
    1.4
    """

    def clear(distance: float) -> bool:
        return all(not found.holes for found in moved(outline, distance))

    if clear(most):
        return most
    low, high = 0.0, most
    while high - low > _FINE:
        half = (low + high) / 2
        low, high = (half, high) if clear(half) else (low, half)
    # Two walls that all but meet would leave a slit.
    return max(low - _SLIT / 2, 0.0)


def sloped(outline: Outline, profile: tuple[tuple[float, float], ...]) -> tuple[Loft, ...]:
    """Walls beside an outline that lean or, where it does not allow that, go in small steps.

    Parameters
    ----------
    outline : Outline
        What the walls run beside.
    profile : tuple of (float, float)
        Levels, rising, each with the distance from the outline [mm], outward or, where negative,
        inward; the steps take for each slope the distance at its lower end first.

    Examples
    --------
    >>> [round(loft.volume) for loft in sloped(Outline.circle(10), ((0, 2), (4, 2), (10, 1)))]
    [4304]
    """
    exact = [(z, exactly_moved(outline, d)) for z, d in profile]
    sound = [(z, made) for z, made in exact if made is not None]
    if len(sound) == len(profile):
        return (Loft(tuple(sound)),)
    lofts = []
    for (z0, d0), (z1, d1) in pairwise(profile):
        steps = 1 if d0 == d1 else _STEPS
        for k in range(steps):
            low, high = (z0 + (z1 - z0) * i / steps for i in (k, k + 1))
            there = moved(outline, d0 + (d1 - d0) * k / steps)
            lofts += [Loft(((low, flat), (high, flat))) for flat in there]
    return tuple(lofts)


class Neck(NamedTuple):
    """Where an outline is narrowest between two wider parts, or all of it.

    Parameters
    ----------
    width : float
        There [mm].
    where : str
        The place, in words.
    """

    width: float
    where: str


def neck(outline: Outline, least: float) -> Neck | None:
    """The neck where an outline is narrower than asked; None where it is wide enough.

    Points and corners are no necks: what ends in them is held from one side.

    Parameters
    ----------
    outline : Outline
        Any, sound in itself.
    least : float
        Width asked [mm].

    Examples
    --------
    >>> bar = Outline(Contour.polygon([(0, 0), (30, 0), (30, 2), (0, 2)]))
    >>> neck(bar, 1.9) is None, neck(bar, 2.5)
    (True, Neck(width=2.0, where='all along'))
    """
    region = outline.polygon()
    if _whole(_worn(region, least / 2), outline):
        return None
    low, high = 0.0, least / 2
    while high - low > _FINE / 4:
        half = (low + high) / 2
        low, high = (half, high) if _whole(_worn(region, half), outline) else (low, half)
    return Neck(round(2 * high, 2), _where(_worn(region, high)))


def _worn(region: Polygon, depth: float) -> Any:
    return region.buffer(-depth)


def _whole(region: Any, outline: Outline) -> bool:
    """Whether it is still one piece with its holes."""
    if region.geom_type != "Polygon" or region.is_empty:
        return False
    return len(region.interiors) == len(outline.holes)


def _where(region: Any) -> str:
    """Where it fell apart."""
    from shapely import get_parts, shortest_line

    first, *others = get_parts(region) if not region.is_empty else [None]
    if first is None:
        return "all along"
    if not others:
        return "beside its hole"
    near = min((shortest_line(first, other) for other in others), key=lambda line: line.length)
    x, y = near.interpolate(0.5, normalized=True).coords[0]
    return f"near ({x:.1f}, {y:.1f}) mm"
