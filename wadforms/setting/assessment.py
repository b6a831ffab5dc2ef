"""What a check says: values beside their limits, a plain verdict, and what would mend it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import TYPE_CHECKING, Final, NamedTuple

from wadforms import units
from wadforms.geometry.contour import Point
from wadforms.setting.limits import TIGHT, Limit

if TYPE_CHECKING:
    from shapely import Geometry

SOUND: Final = "sound"
TIGHT_WORD: Final = "tight"
UNSAFE: Final = "unsafe"
VERDICTS: Final = (SOUND, TIGHT_WORD, UNSAFE)
"""From good to bad."""


class Check(NamedTuple):
    """One value beside its limit.

    Parameters
    ----------
    name : str
        What is checked, in a few words.
    value : float
        What it came to, in the limit's unit.
    limit : Limit
        What is allowed, with its source.
    used : float
        Part of the limit that is used; above 1 it is exceeded.
    mend : str
        What would help, where something should.
    is_least : bool
        Whether the limit is the least that is wanted, not the most that is allowed.
    sound_from : float or None
        The value from which it is sound rather than tight, where that is another, in the
        limit's unit.
    """

    name: str
    value: float
    limit: Limit
    used: float
    mend: str = ""
    is_least: bool = False
    sound_from: float | None = None

    @property
    def verdict(self) -> str:
        """Sound, tight or unsafe."""
        return UNSAFE if not self.used <= 1.0 else TIGHT_WORD if self.used > TIGHT else SOUND

    @property
    def bound(self) -> str:
        """The limit in words: ``"at most 60 kPa"``."""
        shown = units.show(self.limit.value, self.limit.unit)
        if self.limit.unit == "yes":
            return "must be yes"
        more = ""
        if self.sound_from is not None:
            more = f", sound from {units.show(self.sound_from, self.limit.unit)}"
        return f"{'at least' if self.is_least else 'at most'} {shown}{more}"

    @property
    def reason(self) -> str:
        """The check as a sentence."""
        return f"{self.name} {units.show(self.value, self.limit.unit)}, {self.bound}"


def most(name: str, value: float, limit: Limit, mend: str = "", *, margin: bool = True) -> Check:
    """A check of a value, in the limit's unit, that may not exceed its limit.

    Without `margin` every value up to the limit is sound: a rule of practice, not a strength.

    Examples
    --------
    >>> ash_side = Limit(50.0, "kPa", "assumed here")
    >>> most("pressure", 45.0, ash_side).verdict, most("pressure", 51.0, ash_side).verdict
    ('tight', 'unsafe')
    """
    used = value / limit.value
    return Check(name, value, limit, used if margin or used > 1.0 else TIGHT * used, mend)


def least(
    name: str, value: float, limit: Limit, mend: str = "", sound: float | None = None
) -> Check:
    """A check of a value, in the limit's unit, that may not fall below its limit.

    `sound`, in the limit's unit too, is the value from which it is sound rather than tight;
    without it every value at or above the limit is sound.
    """
    if value < limit.value:
        # Falls below 1 no more: 1 is just allowed, 2 is nothing left.
        used = 2.0 - value / limit.value
    elif sound is None or value >= sound:
        used = TIGHT * ((sound or limit.value) / value)  # exactly TIGHT where they are equal
    else:
        used = TIGHT + (1.0 - TIGHT) * (sound - value) / (sound - limit.value)
    return Check(name, value, limit, used, mend, is_least=True, sound_from=sound)


class WadLoad(NamedTuple):
    """What one wad carries.

    Parameters
    ----------
    x, y, turn : float
        Its place [mm, deg].
    area, fired_area : float
        That touches the pot, as set and at top heat [mm²].
    used : float
        Part of its own top that touches.
    load : float
        Its share of the weight, square to the pot [N].
    pressure, fired_pressure : float
        On the area as set and at top heat [kPa].
    worst_load, worst_pressure : float
        The most it can come to carry while cold [N, kPa].
    """

    x: float
    y: float
    turn: float
    area: float
    fired_area: float
    used: float
    load: float
    pressure: float
    fired_pressure: float
    worst_load: float
    worst_pressure: float


class Assessment(NamedTuple):
    """The whole answer for one pot on its wads.

    Parameters
    ----------
    load : float
        Weight carried [N].
    wads : tuple of WadLoad
        What each carries.
    limit, cold_limit : Limit
        For the even share at top heat, and for the worst that can happen cold [kPa].
    tipping_angle : float or None
        [deg]; None where the height of the pot is not known.
    spacing : float or None
        Widest distance between neighbours along a circle [mm].
    checks : tuple of Check
        Every value that was judged.
    notes, assumed : tuple of str
        What the user should know, and what was assumed.
    extra : mapping
        Values that only this kind of foot has [N, mm, deg, as each key says].
    patches : tuple of shapely geometry
        Where wads and foot meet, for the picture.
    support : tuple of (float, float)
        The support polygon [mm].
    centre_height : float or None
        Of the centre of gravity above the shelf [mm].
    unchecked : tuple of str
        What could not be checked, and why; nothing is sound while something is here.
    """

    load: float
    wads: tuple[WadLoad, ...]
    limit: Limit
    cold_limit: Limit
    tipping_angle: float | None
    spacing: float | None
    checks: tuple[Check, ...]
    notes: tuple[str, ...]
    assumed: tuple[str, ...]
    extra: Mapping[str, float] = MappingProxyType({})
    patches: tuple[Geometry, ...] = ()
    support: tuple[Point, ...] = ()
    centre_height: float | None = None
    unchecked: tuple[str, ...] = ()

    @property
    def contact_area(self) -> float:
        """Area that touches as set [mm²]."""
        return sum(w.area for w in self.wads)

    @property
    def fired_contact_area(self) -> float:
        """Area that touches at top heat [mm²]."""
        return sum(w.fired_area for w in self.wads)

    @property
    def pressure(self) -> float:
        """Highest pressure of the even share on the area as set [kPa]."""
        return max((w.pressure for w in self.wads), default=0.0)

    @property
    def fired_pressure(self) -> float:
        """Highest pressure of the even share at top heat, which is judged [kPa]."""
        return max((w.fired_pressure for w in self.wads), default=0.0)

    @property
    def worst_pressure(self) -> float:
        """Highest pressure that can come about while cold [kPa]."""
        return max((w.worst_pressure for w in self.wads), default=0.0)

    @property
    def governing(self) -> Check:
        """The check that uses most of its limit."""
        return max(self.checks, key=lambda check: check.used)

    @property
    def mends(self) -> list[str]:
        """What would help, for every check that is not sound."""
        return [check.mend for check in self.checks if check.verdict != SOUND and check.mend]

    @property
    def verdict(self) -> str:
        """The worst verdict of all checks; at best tight where something was not checked."""
        found = self.governing.verdict
        return worst_verdict([found, TIGHT_WORD]) if self.unchecked else found

    @property
    def reason(self) -> str:
        """What the verdict rests on, in words."""
        if self.unchecked and self.governing.verdict == SOUND:
            return f"not checked: {'; '.join(self.unchecked)}"
        return self.governing.reason


def worst_verdict(verdicts: Sequence[str]) -> str:
    """The worst of several verdicts.

    Examples
    --------
    >>> worst_verdict(["sound", "unsafe", "tight"])
    'unsafe'
    """
    return max(verdicts, key=VERDICTS.index)
