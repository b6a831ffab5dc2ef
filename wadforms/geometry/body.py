"""A body: the solid of a piece, said in a few exact words that any kernel can build.

A body is made of lofts that stand on each other, less pockets sunk into its top.  It computes
its own volume and coated area from the outlines' lines and arcs; the kernel's solids then check
them, as a second and independent answer.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple, TypeAlias

from wadforms.geometry.contour import Segment
from wadforms.geometry.outline import Outline

ROUNDING_FLATS = 4
"""How many flats make a rounded edge; at 3 mm radius they stray 0.06 mm from the arc."""

Section: TypeAlias = tuple[float, Outline]


class Loft(NamedTuple):
    """Straight walls between outlines of the same segments, one above the other.

    Parameters
    ----------
    sections : tuple of (float, Outline)
        Levels z [mm], rising, each with its outline; two may share a level (a flat step).
    """

    sections: tuple[Section, ...]

    @classmethod
    def drafted(cls, outline: Outline, profile: tuple[tuple[float, float], ...]) -> Loft:
        """An outline carried upward along a profile of (z, offset) [mm].

        Raises
        ------
        NotMakeable
            The outline cannot be offset so far.

        Examples
        --------
        >>> frustum = Loft.drafted(Outline.circle(8), ((0, 2), (12, 0)))
        >>> round(frustum.volume, 5), round(frustum.side_area, 5)
        (3066.19443, 687.94423)
        """
        return cls(tuple((z, outline.offset(d)) for z, d in profile))

    @property
    def volume(self) -> float:
        """Volume [mm³] by the prismatoid formula h (A₀ + 4 Aₘ + A₁)/6 for each pair of levels."""
        return math.fsum(
            (z1 - z0) * (a.area + 4.0 * a.mean_area(b) + b.area) / 6.0
            for (z0, a), (z1, b) in self._pairs
        )

    @property
    def side_area(self) -> float:
        """Area of the walls [mm²]: for each segment mean length × slant."""
        total = 0.0
        for (z0, a), (z1, b) in self._pairs:
            for low, high in zip(a.contours, b.contours, strict=True):
                for s, t in zip(low.segments, high.segments, strict=True):
                    total += (s.length + t.length) / 2 * math.hypot(z1 - z0, _shift(s, t))
        return total

    @property
    def bottom(self) -> Section:
        """The lowest section."""
        return self.sections[0]

    @property
    def top(self) -> Section:
        """The highest section."""
        return self.sections[-1]

    def scaled(self, factor: float) -> Loft:
        """The loft scaled about the origin."""
        return Loft(tuple((factor * z, outline.scaled(factor)) for z, outline in self.sections))

    @property
    def _pairs(self) -> tuple[tuple[Section, Section], ...]:
        return tuple(zip(self.sections, self.sections[1:], strict=False))


class Bowl(NamedTuple):
    """A pocket that is a cap of a sphere, sunk from the level `z`.

    Parameters
    ----------
    x, y, z : float
        Middle of its opening [mm].
    opening_radius, depth : float
        Of the cap [mm].
    """

    x: float
    y: float
    z: float
    opening_radius: float
    depth: float

    @property
    def radius(self) -> float:
        """Radius of the sphere [mm]: (a² + d²)/(2 d)."""
        return (self.opening_radius**2 + self.depth**2) / (2 * self.depth)

    @property
    def volume(self) -> float:
        """Volume of the cap [mm³]: π d (3 a² + d²)/6.

        Examples
        --------
        >>> half_sphere = Bowl(0, 0, 10, 3, 3)
        >>> round(half_sphere.volume - 2 / 3 * math.pi * 27, 9)
        0.0
        """
        return math.pi * self.depth * (3 * self.opening_radius**2 + self.depth**2) / 6

    def scaled(self, k: float) -> Bowl:
        """The pocket scaled by the factor `k` about the origin."""
        return Bowl(self.x * k, self.y * k, self.z * k, self.opening_radius * k, self.depth * k)


class Trough(NamedTuple):
    """A round channel along y through the whole piece, sunk from the level `z`.

    Parameters
    ----------
    z : float
        Level of its lips [mm].
    radius, half_width : float
        Of the circle, and of the opening at the lips [mm].
    length : float
        Of the piece along y at the lips [mm].
    spread : float
        By how much each end wall moves out per mm of depth (tan of the draft).
    """

    z: float
    radius: float
    half_width: float
    length: float
    spread: float

    @property
    def half_angle(self) -> float:
        """Half the angle of the arc [rad]."""
        return math.asin(self.half_width / self.radius)

    @property
    def depth(self) -> float:
        """Depth below the lips at the middle [mm]."""
        return self.radius * (1 - math.cos(self.half_angle))

    @property
    def section_area(self) -> float:
        """Area of the circular segment [mm²]: r² (φ − sin φ)/2 with φ twice the half angle."""
        phi = 2 * self.half_angle
        return self.radius**2 * (phi - math.sin(phi)) / 2

    @property
    def volume(self) -> float:
        """What it takes out of the piece [mm³].

        The ends lean out by `spread`, so below the lips the channel is longer:
        ∫ chord(t) (length + 2 spread t) dt = S length + 2 spread ∫ t chord(t) dt, where the
        segment's first moment about the lips is r³ (⅔ sin³ α) − S r cos α with half angle α.
        """
        r, alpha = self.radius, self.half_angle
        moment = 2 / 3 * r**3 * math.sin(alpha) ** 3 - self.section_area * r * math.cos(alpha)
        return self.section_area * self.length + 2 * self.spread * moment

    @property
    def surface(self) -> float:
        """Area of the channel's floor [mm²], the longer part below the lips included."""
        r, alpha = self.radius, self.half_angle
        arc = 2 * r * alpha
        below = r * (2 * r * math.sin(alpha) - arc * math.cos(alpha))  # ∫ depth along the arc
        return arc * self.length + 2 * self.spread * below

    def scaled(self, k: float) -> Trough:
        """The channel scaled by the factor `k` about the origin."""
        return self._replace(
            z=self.z * k,
            radius=self.radius * k,
            half_width=self.half_width * k,
            length=self.length * k,
        )


Pocket: TypeAlias = Loft | Bowl | Trough


@dataclass(frozen=True, slots=True)
class Body:
    """Lofts that stand on each other, less pockets sunk into the top.

    Parameters
    ----------
    lofts : tuple of Loft
        The first is the widest and stands on z = 0; each further one stands on its top face.
    pockets : tuple of Loft, Bowl or Trough
        Apart from each other; a `Loft` pocket opens at its highest section.
    """

    lofts: tuple[Loft, ...]
    pockets: tuple[Pocket, ...] = ()

    @property
    def volume(self) -> float:
        """Volume of the piece [mm³]."""
        solid = math.fsum(loft.volume for loft in self.lofts)
        return solid - math.fsum(pocket.volume for pocket in self.pockets)

    @property
    def height(self) -> float:
        """From the base to the highest point [mm]."""
        return max(loft.top[0] for loft in self.lofts)

    @property
    def base(self) -> Outline:
        """What stands on the shelf."""
        return self.lofts[0].bottom[1]

    @property
    def coated_area(self) -> float:
        """Top and sides [mm²], which kiln wash is brushed on; slots and pockets stay bare.

        A trough is coated: it bears the pot.
        """
        first, *others = self.lofts
        area = first.side_area + first.top[1].area
        for loft in others:
            area += loft.side_area + loft.top[1].area - loft.bottom[1].area
        for pocket in self.pockets:
            match pocket:
                case Loft():
                    area -= pocket.top[1].area
                case Bowl():
                    area -= math.pi * pocket.opening_radius**2
                case Trough():
                    slant = math.hypot(1.0, pocket.spread)
                    opening = 2 * pocket.half_width * pocket.length
                    area += pocket.surface - opening - 2 * pocket.section_area * slant
        return area

    def scaled(self, factor: float) -> Body:
        """The body scaled about the origin: what shrinkage does, evenly."""
        return Body(
            tuple(loft.scaled(factor) for loft in self.lofts),
            tuple(pocket.scaled(factor) for pocket in self.pockets),
        )


def rounded_profile(
    height: float, draft: float, rounding: float
) -> tuple[tuple[float, float], ...]:
    """Profile (z, offset) of a wall that leans out below and is rounded at its upper edge.

    Parameters
    ----------
    height : float
        Of the piece [mm].
    draft : float
        Angle of the wall from the vertical [deg]; the base stands out beyond the outline.
    rounding : float
        Radius of the upper edge [mm]; the edge is made of `ROUNDING_FLATS` flats with their
        corners on the quarter circle.

    Returns
    -------
    tuple of (float, float)
        From the base up; the last offset is −`rounding`.

    Examples
    --------
    >>> rounded_profile(10.0, 0.0, 0.0)
    ((0.0, 0.0), (10.0, 0.0))
    """
    spread = (height - rounding) * math.tan(math.radians(draft))
    if rounding == 0.0:
        return (0.0, spread), (height, 0.0)
    flats = [math.pi / 2 * k / ROUNDING_FLATS for k in range(ROUNDING_FLATS + 1)]
    edge = tuple(
        (height - rounding + rounding * math.sin(a), -rounding * (1 - math.cos(a))) for a in flats
    )
    return (0.0, spread), *edge


def _shift(s: Segment, t: Segment) -> float:
    """How far apart in plan a segment and its offset run [mm]."""
    if s.bulge and t.bulge:
        return abs(s.radius - t.radius)
    heading = s.heading(at_end=False)
    dx, dy = t.start[0] - s.start[0], t.start[1] - s.start[1]
    return abs(dx * math.sin(heading) - dy * math.cos(heading))
