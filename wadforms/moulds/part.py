"""A printed part: bodies that stand together, less bodies that are cut out of them.

A kind of mould is said in these words alone.  `assembly` makes triangles of them, `solid` makes
a solid of the kernel, and the part itself knows its volume exactly, so there are three answers
to compare.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple, TypeAlias

from wadforms.geometry.body import Body

Size: TypeAlias = tuple[float, float, float]


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
    """

    name: str
    solids: tuple[Placed, ...]
    cuts: tuple[Placed, ...]
    form: Body
    wall: float
    floor: float
    relief: float

    @property
    def volume(self) -> float:
        """What the printer lays down, were the part printed solid [mm³]; exact."""
        solids = math.fsum(placed.body.volume for placed in self.solids)
        return solids - math.fsum(placed.body.volume for placed in self.cuts)


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
        end: ``("plaster_mass_g", 1250.0)``.
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
