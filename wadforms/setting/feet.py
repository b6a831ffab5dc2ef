"""What a pot bears on: ring, flat, outline, gallery, round bottom or side."""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from dataclasses import dataclass, fields
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING, ClassVar

from wadforms.errors import BadInput, Fault
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline

if TYPE_CHECKING:
    from shapely import Geometry


@dataclass(frozen=True, slots=True)
class Foot(ABC):
    """The part of a pot that bears."""

    kind: ClassVar[str]

    def __post_init__(self) -> None:
        """Refuse a foot that has no width to bear on."""
        sizes = [(field.name, getattr(self, field.name)) for field in fields(self)]
        faults = [
            Fault(f"foot {name}", f"{value:g} mm", "give a length above 0")
            for name, value in sizes
            if isinstance(value, float | int) and not (math.isfinite(value) and value > 0)
        ]
        if faults := faults or self._faults():
            raise BadInput(*faults)

    def _faults(self) -> list[Fault]:
        return []


@dataclass(frozen=True, slots=True)
class PlaneFoot(Foot):
    """A foot that lies in a plane: its bearing zone meets the tops of the wads."""

    @property
    @abstractmethod
    def outlines(self) -> tuple[Outline, ...]:
        """The bearing zone, as separate outlines [mm]."""

    @property
    @abstractmethod
    def bearing_radius(self) -> float:
        """Radius of the circle on which wads bear best [mm]."""

    @property
    def zone(self) -> Geometry:
        """The bearing zone as one shapely region [mm]."""
        return _zone(self.outlines)

    @property
    def reach(self) -> float:
        """From the middle to the farthest point of the foot [mm]."""
        corners = [
            (x, y)
            for o in self.outlines
            for x in (o.bounds[0], o.bounds[2])
            for y in (o.bounds[1], o.bounds[3])
        ]
        return max(max(abs(x), abs(y)) for x, y in corners)


@dataclass(frozen=True, slots=True)
class RingFoot(PlaneFoot):
    """One or more concentric rings.

    Parameters
    ----------
    diameter : float
        Outside of the largest ring [mm].
    width : float
        Of each ring [mm].
    inner_diameters : tuple of float
        Outside of further rings within it [mm].

    Examples
    --------
    >>> tea_bowl = RingFoot(diameter=50.0, width=5.0)
    >>> tea_bowl.bearing_radius
    22.5
    """

    kind = "ring"
    diameter: float
    width: float
    inner_diameters: tuple[float, ...] = ()

    def _faults(self) -> list[Fault]:
        faults = []
        for d in (self.diameter, *self.inner_diameters):
            if not (math.isfinite(d) and d > 2 * self.width):
                wide = f"twice the ring's width of {self.width:g} mm"
                right = f"give more than {wide}, or a smaller foot width"
                faults.append(Fault("foot diameter", f"{d:g} mm", right))
        rings = sorted((self.diameter, *self.inner_diameters), reverse=True)
        for outer, inner in pairwise(rings):
            if inner >= outer - 2 * self.width:
                right = f"give less than {outer - 2 * self.width:g} mm, so that the rings are apart"
                faults.append(Fault("inner ring", f"{inner:g} mm", right))
        if rings[0] > self.diameter:
            right = f"give less than the largest ring's {self.diameter:g} mm"
            faults.append(Fault("inner ring", f"{rings[0]:g} mm", right))
        return faults

    @property
    def outlines(self) -> tuple[Outline, ...]:
        """The rings."""
        return tuple(
            Outline(Contour.circle(d / 2), (Contour.circle(d / 2 - self.width),))
            for d in (self.diameter, *self.inner_diameters)
        )

    @property
    def bearing_radius(self) -> float:
        """Middle of the largest ring."""
        return (self.diameter - self.width) / 2


@dataclass(frozen=True, slots=True)
class GalleryFoot(PlaneFoot):
    """The ledge in a pot's mouth that a lid sits on, with the wall around it.

    Parameters
    ----------
    diameter : float
        Of the wall, the outside of the ledge [mm].
    width : float
        Of the ledge [mm].
    """

    kind = "gallery"
    diameter: float
    width: float

    def _faults(self) -> list[Fault]:
        if self.diameter > 2 * self.width:
            return []
        right = f"give less than half the gallery's diameter of {self.diameter:g} mm"
        return [Fault("foot width", f"{self.width:g} mm", right)]

    @property
    def outlines(self) -> tuple[Outline, ...]:
        """The ledge."""
        outer = self.diameter / 2
        return (Outline(Contour.circle(outer), (Contour.circle(outer - self.width),)),)

    @property
    def bearing_radius(self) -> float:
        """Middle of the ledge."""
        return (self.diameter - self.width) / 2


@dataclass(frozen=True, slots=True)
class FlatFoot(PlaneFoot):
    """A flat round base of the given diameter [mm]."""

    kind = "flat"
    diameter: float

    @property
    def outlines(self) -> tuple[Outline, ...]:
        """The disk."""
        return (Outline.circle(self.diameter / 2),)

    @property
    def bearing_radius(self) -> float:
        """Where three points hold a plain disc with the least sag: 0.645 of its radius.

        Source
        ------
        Nelson, Lubliner & Mast, Proc. SPIE 332 (1982), as quoted by later authors.
        """
        return BEST_THREE_POINTS * self.diameter / 2


BEST_THREE_POINTS = 0.645
"""Radius over radius at which three points hold a plain disc with the least sag."""


@dataclass(frozen=True, slots=True)
class OutlineFoot(PlaneFoot):
    """A base of any outline, about the pot's middle [mm]."""

    kind = "outline"
    outline: Outline

    def _faults(self) -> list[Fault]:
        from shapely import is_valid_reason

        polygon = self.outline.polygon()
        if polygon.is_valid and polygon.area > 0:
            return []
        what = str(is_valid_reason(polygon))
        given = "an outline without area" if polygon.is_valid else f"an outline at fault: {what}"
        return [Fault("foot outline", given, "give one closed outline that does not cross itself")]

    @property
    def outlines(self) -> tuple[Outline, ...]:
        """The outline."""
        return (self.outline,)

    @property
    def bearing_radius(self) -> float:
        """0.645 of the largest circle inside."""
        return BEST_THREE_POINTS * self.outline.inscribed_width / 2


@dataclass(frozen=True, slots=True)
class CurvedFoot(Foot):
    """A foot that curves up from where it bears; `diameter` of the curve [mm]."""

    diameter: float


@dataclass(frozen=True, slots=True)
class RoundFoot(CurvedFoot):
    """A round bottom, a sphere near where it bears; `diameter` of the sphere [mm]."""

    kind = "round"


@dataclass(frozen=True, slots=True)
class SideFoot(CurvedFoot):
    """A pot on its side, a cylinder where it bears; `diameter` of the belly [mm].

    `length` is how far it bears along its axis [mm]; None where nobody told.
    """

    kind = "side"
    length: float | None = None


@lru_cache(maxsize=64)
def _zone(outlines: tuple[Outline, ...]) -> Geometry:
    import shapely

    polygons = [outline.polygon() for outline in outlines]
    zone = polygons[0] if len(polygons) == 1 else shapely.MultiPolygon(polygons)
    shapely.prepare(zone)
    return zone
