"""Round bottoms on three or more wads, and pots on their side: normal force, thrust and rise."""

from __future__ import annotations

import math
from typing import NamedTuple


class Perch(NamedTuple):
    """How a curved pot bears on one of its contacts.

    Parameters
    ----------
    angle : float
        Of the contact up the curve, from straight below [deg].
    normal, thrust, vertical : float
        Force square to the pot, its outward part and its upward part, per contact [N].
    rise : float
        How far the contacts lie above the pot's lowest point [mm].
    half_spacing : float
        From the pot's middle line to a contact [mm].
    """

    angle: float
    normal: float
    thrust: float
    vertical: float
    rise: float
    half_spacing: float


def perch(force: float, contacts: int, radius: float, angle: float) -> Perch:
    """A sphere on evenly spread contacts, or a cylinder on two lines of contact.

    Normal N = W/(n cos θ), outward thrust N sin θ, rise R (1 − cos θ), half spacing R sin θ.

    Parameters
    ----------
    force : float
        Load W carried by the contacts [N].
    contacts : int
        How many (n); for a cylinder its two rails.
    radius : float
        Of sphere or cylinder [mm].
    angle : float
        θ from straight below [deg].

    Source
    ------
    Equilibrium of a frictionless sphere or cylinder.

    Examples
    --------
    >>> bottle = perch(0.7 * 1.6 * 9.81, 2, 65.0, 40.0)
    >>> [round(v, 2) for v in (bottle.normal, bottle.thrust, bottle.half_spacing, bottle.rise)]
    [7.17, 4.61, 41.78, 15.21]
    """
    theta = math.radians(angle)
    vertical = force / contacts
    return Perch(
        angle=angle,
        normal=vertical / math.cos(theta),
        thrust=vertical * math.tan(theta),
        vertical=vertical,
        rise=radius * (1.0 - math.cos(theta)),
        half_spacing=radius * math.sin(theta),
    )


def bedded_reach(radius: float, first: float, sinking: float) -> float:
    """How far from the middle a curve touches a flat top that it has sunk into [mm].

    A sphere or cylinder first meets a level top at the edge that is nearest to its middle, at
    `first`; lowered by s it cuts the level of the top at ρ with
    ρ² = R² − (√(R² − first²) − s)².  All of the top between both is in touch.

    Parameters
    ----------
    radius : float
        Of sphere or cylinder, R [mm].
    first : float
        From the middle to the nearest edge of the top [mm].
    sinking : float
        How deep the pot has sunk, s [mm].

    Source
    ------
    Plane geometry of a circle.

    Examples
    --------
    >>> round(bedded_reach(50.0, 30.0, 10.0), 9), bedded_reach(50.0, 30.0, 0.0)
    (40.0, 30.0)
    """
    level = max(0.0, math.sqrt(radius**2 - first**2) - sinking)
    return math.sqrt(radius**2 - level**2)


def bruise_radius(normal: float, crushing: float) -> float:
    """Radius of the spot that a sphere crushes into a rigid wad until it bears [mm].

    A sphere touches a flat at a point; the point crushes until normal/(π a²) equals the
    crushing pressure.

    Parameters
    ----------
    normal : float
        Force [N].
    crushing : float
        Pressure at which the wad crushes when cold [kPa].

    Examples
    --------
    >>> round(bruise_radius(30.0, 300.0), 2)
    5.64
    """
    return math.sqrt(normal / (crushing / 1000.0) / math.pi)


def hertz_radius(normal: float, radius: float, modulus: float, poisson: float) -> float:
    """Contact radius of an elastic sphere on a rigid flat [mm]: (3 F R (1 − ν²)/(4 E))^(1/3).

    The smallest touch that a dry or solid wad can make on a round bottom, before anything
    crushes.

    Parameters
    ----------
    normal : float
        Force [N].
    radius : float
        Of the sphere [mm].
    modulus, poisson : float
        Elastic modulus [MPa] and Poisson's ratio of what gives.

    Source
    ------
    Hertz (1881); Johnson, Contact Mechanics (1985).

    Examples
    --------
    >>> import math
    >>> round(hertz_radius(60 * math.pi, 8.0, 1000.0, 0.3), 3)
    1.01
    """
    return math.cbrt(3.0 * normal * radius * (1.0 - poisson**2) / (4.0 * modulus))
