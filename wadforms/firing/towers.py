"""What stands as one on a touch: a pot with its lid, a stack, and all that stands on them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from wadforms.firing.rows import Ware
from wadforms.geometry.contour import Point
from wadforms.setting.pot import FLATWARE, HOLLOWWARE, Pot


class Tower(NamedTuple):
    """Things that stand on each other, seen as one.

    Parameters
    ----------
    mass : float
        Of all of it [g].
    height : float or None
        The sum of the heights [mm]; None where one is not known.
    centre_height : float or None
        Of the common centre of gravity above the lowest foot [mm].
    centre : (float, float)
        Of gravity, in plan from the middle of the lowest foot [mm].
    """

    mass: float
    height: float | None
    centre_height: float | None
    centre: Point = (0.0, 0.0)


def one(ware: Ware) -> Tower:
    """One of a ware, its lid on it.

    The lid counts at the height of the pot, or where that is not known at the pot's own centre.

    Examples
    --------
    >>> from wadforms.setting.feet import FlatFoot, GalleryFoot
    >>> from wadforms.setting.limits import PLACES
    >>> from wadforms.firing.rows import Lid
    >>> jar = Ware(
    ...     row=2, name="Jar", count=1, place=PLACES["sheltered"], mass=3000.0,
    ...     foot=FlatFoot(120.0), height=200.0,
    ...     lid=Lid(mass=1000.0, gallery=GalleryFoot(110.0, 7.0)),
    ... )
    >>> one(jar)
    Tower(mass=4000.0, height=200.0, centre_height=125.0, centre=(0.0, 0.0))
    """
    middle = ware.centre_height
    if middle is None and ware.height is not None:
        middle = ware.height / 2
    pot = Tower(ware.mass, ware.height, middle, ware.centre)
    if ware.lid is None:
        return pot
    lid = Tower(ware.lid.mass, 0.0, 0.0)
    if ware.height is not None:
        return upon(pot, lid)
    centre = _weighed([(pot.mass, pot.centre), (lid.mass, lid.centre)])
    return Tower(pot.mass + lid.mass, None, middle, centre)


def upon(lower: Tower, upper: Tower) -> Tower:
    """One tower standing on another.

    Examples
    --------
    >>> upon(Tower(1000.0, 30.0, 15.0), Tower(500.0, 60.0, 30.0))
    Tower(mass=1500.0, height=90.0, centre_height=30.0, centre=(0.0, 0.0))
    """
    height = middle = None
    if lower.height is not None:
        height = None if upper.height is None else lower.height + upper.height
        if lower.centre_height is not None and upper.centre_height is not None:
            moment = lower.mass * lower.centre_height
            moment += upper.mass * (lower.height + upper.centre_height)
            middle = moment / (lower.mass + upper.mass)
    centre = _weighed([(t.mass, t.centre) for t in (lower, upper)])
    return Tower(lower.mass + upper.mass, height, middle, centre)


def beside(towers: Sequence[Tower]) -> Tower:
    """Several towers on the same thing: as high as the highest, with one centre of gravity.

    Examples
    --------
    >>> beside([Tower(100.0, 50.0, 25.0), Tower(300.0, 90.0, 45.0)])
    Tower(mass=400.0, height=90.0, centre_height=40.0, centre=(0.0, 0.0))
    """
    mass = math.fsum(t.mass for t in towers)
    heights = [t.height for t in towers]
    middles = [t.centre_height for t in towers]
    height = None if None in heights else max(h for h in heights if h is not None)
    middle = None
    if None not in middles:
        middle = math.fsum(t.mass * t.centre_height for t in towers if t.centre_height) / mass
    return Tower(mass, height, middle, _weighed([(t.mass, t.centre) for t in towers]))


def levels(ware: Ware, above: Tower | None) -> list[Tower]:
    """What each touch of a stack carries, from its foot up.

    Parameters
    ----------
    ware : Ware
        Whose stack.
    above : Tower or None
        What stands on its topmost piece.
    """
    piece, standing, found = one(ware), above, []
    for _ in range(ware.stack):
        standing = piece if standing is None else upon(piece, standing)
        found.append(standing)
    return found[::-1]


def as_pot(tower: Tower, ware: Ware) -> Pot:
    """A tower as one pot on the foot of a ware; flatware where the piece that bears on it is.

    Raises
    ------
    BadInput
        It is heavier or taller than any kiln's ware.
    """
    single = ware.lid is None and tower.mass == ware.mass
    if single:
        return Pot(
            mass=tower.mass,
            foot=ware.foot,
            height=ware.height,
            centre_height=ware.centre_height,
            centre=ware.centre,
        )
    kind = None
    if ware.height is not None:
        flat = Pot(mass=ware.mass, foot=ware.foot, height=ware.height).is_flatware
        kind = FLATWARE if flat else HOLLOWWARE
    return Pot(
        mass=tower.mass,
        foot=ware.foot,
        height=tower.height,
        centre_height=tower.centre_height,
        centre=tower.centre,
        ware=kind,
    )


def _weighed(parts: Sequence[tuple[float, Point]]) -> Point:
    mass = math.fsum(m for m, _ in parts)
    x, y = (math.fsum(m * at[k] for m, at in parts) / mass for k in (0, 1))
    return (x, y)
