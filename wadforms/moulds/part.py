"""A printed part: bodies that stand together, less bodies that are cut out of them.

A kind of mould is said in these words alone.  `assembly` makes triangles of them, `solid` makes
a solid of the kernel, and the part itself knows its volume exactly, so there are three answers
to compare.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple, TypeAlias

from wadforms.geometry.body import Body, Loft
from wadforms.geometry.outline import Outline

Size: TypeAlias = tuple[float, float, float]


def prism(outline: Outline, height: float) -> Body:
    """A body with upright walls on the level z = 0, `height` [mm] high.

    Examples
    --------
    >>> round(prism(Outline.circle(2), 3).volume / math.pi, 9)
    12.0
    """
    return Body((Loft(((0.0, outline), (height, outline))),))


class Placed(NamedTuple):
    """A body somewhere in a part.

    Parameters
    ----------
    body : Body
        As drawn, base at z = 0.
    x, y, z : float
        Where its origin goes [mm].
    turn : float
        By how much it is turned about its z axis first, counter-clockwise [deg].
    over : bool
        Whether it is turned over about its y axis before that, so that it hangs below `z`; it
        is never mirrored.
    """

    body: Body
    x: float = 0.0
    y: float = 0.0
    z: float = 0.0
    turn: float = 0.0
    over: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One thing to print, standing on z = 0 as it is printed.

    Parameters
    ----------
    name : str
        What it is called in file names: ``"tray"``, ``"pusher"``.
    solids : tuple of Placed
        They touch face to face and never overlap.
    cuts : tuple of Placed
        Each lies within the solids, or opens at their surface; apart from each other.
    form : Body
        What shapes the clay: the kernel is asked for its volume too, as a witness.
    wall : float
        The thinnest wall between two hollows, or a hollow and the outside, that was asked [mm].
    floor : float
        The lowest level at which the part may show an upward face [mm]: the thinnest floor.
    relief : float
        Up to which level the outside may lean over, at 45° [mm].
    words : tuple of Placed
        Letters that are cut out too; what stands between their strokes is no wall.
    once : bool
        Whether one of it serves any number of boards, as a pusher does.
    """

    name: str
    solids: tuple[Placed, ...]
    cuts: tuple[Placed, ...]
    form: Body
    wall: float
    floor: float
    relief: float
    words: tuple[Placed, ...] = ()
    once: bool = False

    @property
    def volume(self) -> float:
        """What the printer lays down, were the part printed solid [mm³]; exact."""
        # A board has one cavity many times; its volume is reckoned once.
        known: dict[int, float] = {}

        def volume(placed: Placed) -> float:
            key = id(placed.body)
            if key not in known:
                known[key] = placed.body.volume
            return known[key]

        taken = math.fsum(map(volume, (*self.cuts, *self.words)))
        return math.fsum(map(volume, self.solids)) - taken

    @property
    def size(self) -> Size:
        """Extent along x, y and z [mm], from the bodies' own outlines."""
        x0, y0, z0, x1, y1, z1 = around(self.solids)
        return x1 - x0, y1 - y0, z1 - z0


Box: TypeAlias = tuple[float, float, float, float, float, float]
"""Smallest x, y and z, then largest [mm]."""


def around(bodies: Sequence[Placed]) -> Box:
    """The box around placed bodies [mm].

    Examples
    --------
    >>> from wadforms.geometry.body import Loft
    >>> from wadforms.geometry.outline import Outline
    >>> rod = Body((Loft(((0, Outline.circle(2)), (9, Outline.circle(2)))),))
    >>> around([Placed(rod), Placed(rod, x=5, z=9, over=True)])
    (-2.0, -2.0, 0.0, 7.0, 2.0, 9.0)
    """
    boxes = [_bounds(placed) for placed in bodies]
    x0, y0, z0 = (min(box[k] for box in boxes) for k in range(3))
    x1, y1, z1 = (max(box[k + 3] for box in boxes) for k in range(3))
    return x0, y0, z0, x1, y1, z1


def _bounds(placed: Placed) -> Box:
    """Smallest and largest x, y and z of a placed body [mm]."""
    x0, y0, z0, x1, y1, z1 = _turned_bounds(placed.body, placed.turn, placed.over)
    x, y, z = placed.x, placed.y, placed.z
    return x0 + x, y0 + y, z0 + z, x1 + x, y1 + y, z1 + z


@lru_cache(maxsize=64)  # a board has one body many times, at a few turns
def _turned_bounds(body: Body, turn: float, over: bool) -> Box:
    sections = [section for loft in body.lofts for section in loft.sections]
    outlines = [outline.mirrored() if over else outline for _, outline in sections]
    plan = [outline.turned(turn).bounds for outline in outlines]
    z = [-level if over else level for level, _ in sections]
    x0, y0, x1, y1 = zip(*plan, strict=True)
    return min(x0), min(y0), min(z), max(x1), max(y1), max(z)


@dataclass(frozen=True, slots=True, kw_only=True)
class Mould:
    """What a kind makes of a piece: the parts, and what they give.

    Parameters
    ----------
    kind : str
        The kind's name.
    parts : tuple of Part
        One file each.
    cavities : int
        How many pieces one filling gives.
    wet : Body
        One piece as it leaves the mould [mm].
    wet_outline_size : tuple of float
        Extent along x and y of its bearing face, wet [mm].
    set_volume : float
        Of one piece at its set size, as this kind makes it [mm³].
    contact_top_area : float
        What of the piece can touch the pot, at its set size [mm²].
    facts : tuple of (str, float)
        Figures of this kind alone, named as in the command line's JSON with their unit at the
        end: ``("plaster_mass_g", 1250.0)`` [mm, mm², mm³, g].
    advice : tuple of str
        How it is used, and what to mind, a sentence each.
    """

    kind: str
    parts: tuple[Part, ...]
    cavities: int
    wet: Body
    wet_outline_size: tuple[float, float]
    set_volume: float
    contact_top_area: float
    facts: tuple[tuple[str, float], ...] = ()
    advice: tuple[str, ...] = ()
