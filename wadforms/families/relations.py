"""Relations between the parameters of a piece, as faults in words.

A family's `faults` is made of these, so that every size that can be declared can be pressed.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Final, Protocol

from wadforms.errors import Fault

LEAST_BEND: Final = 0.2
"""What must be left of a bend's radius once the wall below or the edge above is shaped [mm].

Half a printed line; less is a crease, no bend (assumed).
"""

LEAST_RIDGE: Final = 0.8
"""How thick a printed mould must be between two walls, at its rim, where it is thinnest [mm].

Two lines of a nozzle of 0.4 mm, as moulds have it if not told otherwise (common practice, no
source: a single line does not stand).
"""

_SLACK: Final = 1e-9


def spread(height: float, draft: float, rounding: float = 0.0) -> float:
    """How far the base stands out beyond the outline [mm]: straight wall × tan(draft).

    Parameters
    ----------
    height, rounding : float
        Of the piece and of its upper edge [mm].
    draft : float
        Angle of the wall from the vertical [deg].

    Examples
    --------
    >>> round(spread(10.0, 45.0, 2.0), 9)
    8.0
    """
    return (height - rounding) * math.tan(math.radians(draft))


def room(radius: float, shift: float) -> float:
    """How much of a side a square corner of this radius needs when it is moved by `shift` [mm].

    A bend keeps its place when the outline is offset; a sharp corner runs along the side.

    Examples
    --------
    >>> room(4.0, 1.0), room(0.0, 1.0)
    (4.0, 1.2)
    """
    return radius if radius > 0.0 else shift + LEAST_BEND


def at_least(name: str, value: float, limit: float, why: str) -> Iterator[Fault]:
    """The fault of a length that is shorter than `limit` [mm], if it is.

    Examples
    --------
    >>> print(*at_least("width", 8.0, 9.001, "for its corners"))
    width: 8 mm was given; give at least 9.01 mm for its corners
    """
    if value < limit - _SLACK:
        least = math.ceil(round(limit * 100, 6)) / 100
        yield Fault(name, f"{value:g} mm", f"give at least {least:g} mm {why}")


def at_most(name: str, value: float, limit: float, why: str) -> Iterator[Fault]:
    """The fault of a length that is longer than `limit` [mm], if it is."""
    if value > limit + _SLACK:
        most = max(0.0, math.floor(round(limit * 100, 6)) / 100)
        right = f"give at most {most:g} mm {why}" if most else f"give 0: there is no room {why}"
        yield Fault(name, f"{value:g} mm", right)


def edge_faults(
    *,
    height: float,
    draft: float,
    rounding: float,
    half_width: float,
    bends: Mapping[str, float] | None = None,
    hollows: Mapping[str, float] | None = None,
) -> Iterator[Fault]:
    """Faults between an outline's bends and the walls below and above it.

    Parameters
    ----------
    height, rounding : float
        Of the piece and of its upper edge [mm].
    draft : float
        Angle of the wall from the vertical [deg].
    half_width : float
        Half of the narrowest part [mm]; the edge is rounded from both sides.
    bends, hollows : mapping of str to float
        Radius of corners that bulge out and of corners that bend in [mm], by parameter; the
        rounding takes its radius off the first, the draft its spread off the second.
    """
    if rounding:
        limit = min(half_width, height) - LEAST_BEND
        yield from at_most("rounding", rounding, limit, "so that a face is left to bear on")
        for name, radius in (bends or {}).items():
            if 0.0 < radius < rounding + LEAST_BEND:
                least = rounding + LEAST_BEND
                yield from at_least(name, radius, least, "or 0: the edge is rounded there too")
    out = spread(height, draft, min(rounding, height))
    for name, radius in (bends or {}).items():
        if 0.0 < radius < LEAST_BEND:
            yield from at_least(name, radius, LEAST_BEND, "or 0")
    for name, radius in (hollows or {}).items():
        if radius > 0.0:
            yield from at_least(name, radius, out + LEAST_BEND, "or 0: the walls lean out there")


class Branched(Protocol):
    """A size with straight parts of one width that meet: arms or limbs [mm, deg]."""

    @property
    def width(self) -> float:
        """Of every part [mm]."""

    @property
    def inner(self) -> float:
        """Radius of the bends between parts [mm]."""

    @property
    def height(self) -> float:
        """Of the piece, tips included [mm]."""

    @property
    def draft(self) -> float:
        """Of the walls [deg]."""

    @property
    def rounding(self) -> float:
        """Of the upper edge [mm]."""


class Limbed(Branched, Protocol):
    """A size with limbs that meet at right angles."""

    @property
    def corner(self) -> float:
        """Radius of the outer corners [mm]."""


def limb_faults(size: Limbed, **limbs: tuple[float, int]) -> Iterator[Fault]:
    """Faults of straight limbs of one width that meet at right angles: an angle, a tee.

    Parameters
    ----------
    size : Limbed
        What they are limbs of.
    **limbs : (float, int)
        By parameter, the full length of a limb [mm] and how often it goes on past another one.

    Examples
    --------
    >>> from wadforms.families.angle import Angle
    >>> print(*limb_faults(Angle(width=10, corner=2, inner=3), leg=(14.0, 1)))
    leg: 14 mm was given; give at least 15 mm for its roundings
    """
    outer = room(size.corner, size.rounding)
    out = spread(size.height, size.draft, min(size.rounding, size.height))
    bend = room(size.inner, out)
    yield from at_least("width", size.width, 2 * outer, f"for corner {size.corner:g} mm")
    for name, (length, times) in limbs.items():
        yield from at_least(name, length, size.width + times * (outer + bend), "for its roundings")
    yield from edge_faults(
        height=size.height,
        draft=size.draft,
        rounding=size.rounding,
        half_width=size.width / 2,
        bends={"corner": size.corner},
        hollows={"inner": size.inner},
    )
