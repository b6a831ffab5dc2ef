"""Allowable values, each with its source, and what scales them.

Nearly all are assumed: nobody has published the strength of a potter's wad.  Each says so
wherever it is printed, and the user's own test replaces it (see `mixes`).
"""

from __future__ import annotations

import math
from typing import Final, NamedTuple

from wadforms.setting.readings import Readings


class Limit(NamedTuple):
    """An allowable value.

    Parameters
    ----------
    value : float
        In `unit`.
    unit : str
        ``"kPa"``, ``"deg"`` or ``"mm"``.
    source : str
        Where the value comes from, in words.
    assumed : bool
        False only where somebody measured it for this mix.
    readings : Readings or None
        What it rests on, where it was measured and they were kept.
    """

    value: float
    unit: str
    source: str
    assumed: bool = True
    readings: Readings | None = None

    @property
    def origin(self) -> str:
        """Where it comes from in a few words; nothing where that needs no saying.

        Examples
        --------
        >>> Limit(41.0, "kPa", "by test", False, Readings(5, 52.0, 4.0)).origin
        'measured, 5 readings 52 ± 4 kPa'
        """
        if self.readings is not None:
            return self.readings.words(self.unit)
        return "assumed" if self.assumed else ""


TIGHT: Final = 0.8
"""Part of a limit from which a check is called tight instead of sound (common practice for a
quarter in hand, no source)."""

SPACING: Final = Limit(76.2, "mm", "common practice: a wad every 2 to 3 in under flatware")
"""Along a circle of wads under flatware, and from any part of its base to the nearest wad."""

LIFTED: Final = Limit(0.5, "share", "common practice: at least half of the contact bears")
"""Part of the contact that may carry nothing."""

WALL_CLEARANCE: Final = Limit(0.5, "mm", "common practice: a lid wad must not touch the wall")
"""Between a wad on a gallery and the wall that rises beside it."""

HOLLOW_FIT: Final = Limit(1.25, "", "assumed: a belly beds to a hollow that is little wider")
"""Radius of a cradle's hollow over that of the belly in it."""

SINKING: Final = {
    "wet": Limit(0.25, "share", "assumed: soft wads bed a quarter of their height, no deeper"),
    "dry": Limit(1.0, "mm", "assumed: a rigid wad crumbles and creeps 1 mm deep, no deeper"),
    "solid": Limit(1.0, "mm", "assumed: a rigid wad crumbles and creeps 1 mm deep, no deeper"),
}
"""How deep a curved pot can sink into a flat top: for wet wads a share of their height."""

SHELF_CLEARANCE: Final = Limit(2.0, "mm", "common practice: room for ash below a round bottom")
"""Between a round bottom and the shelf below it."""

SHEAR: Final[dict[str, Limit]] = {
    "soft": Limit(20.0, "kPa", "soft clay by the finger test, old British soil bands"),
    "firm": Limit(40.0, "kPa", "firm clay by the finger test, old British soil bands"),
    "stiff": Limit(75.0, "kPa", "stiff clay by the finger test, old British soil bands"),
}
"""Undrained shear strength of the wet mix, by how it feels to the thumb."""


class Place(NamedTuple):
    """Where in the kiln a pot stands, and what that asks for.

    Parameters
    ----------
    name, summary : str
        As it is chosen, and what it means.
    strength : float
        Part of the limits at heat that is left there.
    tipping_sound, tipping_least : Limit
        Tipping angles below which a setting is tight, and below which it is unsafe.
    """

    name: str
    summary: str
    strength: float
    tipping_sound: Limit
    tipping_least: Limit


_PRACTICE: Final = "common practice, no source"
PLACES: Final[dict[str, Place]] = {
    place.name: place
    for place in (
        Place(
            "sheltered",
            "away from fire and flying wood",
            1.0,
            Limit(12.0, "deg", _PRACTICE),
            Limit(8.0, "deg", _PRACTICE),
        ),
        Place(
            "firebox",
            "beside the firebox: hottest, most ash; limits at heat are halved",
            0.5,
            Limit(12.0, "deg", _PRACTICE),
            Limit(8.0, "deg", _PRACTICE),
        ),
        Place(
            "stoking",
            "where wood is thrown past the pot: it must stand a knock",
            1.0,
            Limit(15.0, "deg", _PRACTICE),
            Limit(12.0, "deg", _PRACTICE),
        ),
    )
}


def squat_factor(inscribed_width: float, height: float) -> float:
    """How much more a squat piece bears than a tall one, held by friction on both faces.

    1 + D/(3√3 h), the mean pressure on a disc between rough plates over its yield stress
    (friction hill), here at most 4.

    Parameters
    ----------
    inscribed_width, height : float
        Width D of the largest circle in the outline, and height h [mm].

    Source
    ------
    Upper-bound solution for the compression of a disc between rough platens, e.g. Johnson &
    Mellor, Engineering Plasticity (1973); the cap is assumed.

    Examples
    --------
    >>> round(squat_factor(12, 8), 3), squat_factor(64, 3)
    (1.289, 4.0)
    """
    return min(4.0, 1.0 + inscribed_width / (3.0 * math.sqrt(3.0) * height))


def squash_pressure(shear_strength: float, inscribed_width: float, height: float) -> float:
    """Pressure [kPa] at which a soft wad flows out from under the pot when it is set.

    q = 2 c_u (1 + D/(3√3 h)); no cap, since the thinner it gets the more it bears.

    Parameters
    ----------
    shear_strength : float
        Undrained shear strength c_u of the mix [kPa].
    inscribed_width, height : float
        D and h [mm].

    Source
    ------
    As `squat_factor`, with yield stress 2 c_u of a soft clay.

    Examples
    --------
    >>> round(squash_pressure(20, 45, 18), 1), round(squash_pressure(40, 45, 18), 1)
    (59.2, 118.5)
    """
    return 2.0 * shear_strength * (1.0 + inscribed_width / (3.0 * math.sqrt(3.0) * height))
