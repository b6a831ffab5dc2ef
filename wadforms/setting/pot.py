"""A pot on its wads: what is asked about."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from wadforms import units
from wadforms.errors import BadInput, Fault
from wadforms.families.base import SOLID, WET
from wadforms.geometry.contour import Point
from wadforms.setting.arrangement import Arrangement
from wadforms.setting.feet import Foot, PlaneFoot
from wadforms.setting.limits import PLACES, SHEAR, Limit, Place
from wadforms.setting.mixes import Mix

HOLLOWWARE: Final = "hollow"
FLATWARE: Final = "flat"
_LARGEST: Final = {"g": 5e6, "mm": 2000.0}  # beyond these no potter's kiln is meant
_FLAT_RATIO: Final = 0.25  # height over foot below which ware is taken for flatware


@dataclass(frozen=True, slots=True, kw_only=True)
class Pot:
    """What stands on the wads.

    Parameters
    ----------
    mass : float
        All that this touch carries: pot, lid and what is stacked on it [g].
    foot : Foot
        What it bears on.
    height : float or None
        Of the pot [mm].
    centre_height : float or None
        Of the centre of gravity above the foot [mm]; half the height where not given.
    centre : (float, float)
        Of gravity, in plan from the middle of the foot [mm].
    ware : str or None
        ``"hollow"`` or ``"flat"``; told from height and foot where not given.
    base_thickness, pyroplastic_index : float or None
        Of the base [mm], and of its clay [1/mm], for a sag figure.
    share : float
        Part of the mass that this touch carries, for a pot on its side held in two places.
    held : bool
        Whether something else keeps it from tipping, as a shelf's other posts do.
    index_source : str
        Where the pyroplastic index comes from; nothing where nobody says.
    """

    mass: float
    foot: Foot
    height: float | None = None
    centre_height: float | None = None
    centre: Point = (0.0, 0.0)
    ware: str | None = None
    base_thickness: float | None = None
    pyroplastic_index: float | None = None
    share: float = 1.0
    held: bool = False
    index_source: str = ""

    def __post_init__(self) -> None:
        """Refuse what cannot be."""
        sizes = {
            "weight": (self.mass, "g"),
            "height": (self.height, "mm"),
            "centre of gravity": (self.centre_height, "mm"),
            "base thickness": (self.base_thickness, "mm"),
            "share": (self.share, "share"),
            "pyroplastic index": (self.pyroplastic_index, ""),
        }
        faults = []
        for name, (value, unit) in sizes.items():
            if value is None:
                continue
            if not (math.isfinite(value) and value > 0):
                given = units.show(value, unit) if math.isfinite(value) else str(value)
                faults.append(Fault(name, given, "give more than 0"))
            elif value > _LARGEST.get(unit, math.inf):
                right = f"give at most {units.show(_LARGEST[unit], unit)}"
                faults.append(Fault(name, f"{value:g} {unit}", right))
        for name in ("diameter", "width"):
            across = getattr(self.foot, name, 0.0)
            if across > _LARGEST["mm"]:
                right = f"give at most {units.show(_LARGEST['mm'], 'mm')}"
                faults.append(Fault(f"foot {name}", f"{across:g} mm", right))
        if not all(map(math.isfinite, self.centre)):
            given = f"({self.centre[0]:g}, {self.centre[1]:g}) mm"
            faults.append(Fault("centre of gravity", given, "give two lengths"))
        if self.ware not in (None, HOLLOWWARE, FLATWARE):
            right = f"give {HOLLOWWARE!r} or {FLATWARE!r}, or leave it out"
            faults.append(Fault("ware", repr(self.ware), right))
        if self.held and not isinstance(self.foot, PlaneFoot):
            right = "say so for a flat foot only: a round pot rolls on its wads"
            faults.append(Fault("held from tipping", f"a {self.foot.kind} foot", right))
        if self.share > 1:
            faults.append(Fault("share", units.show(self.share, "share"), "give at most 100 %"))
        if self.height and self.centre_height and self.centre_height > self.height:
            right = f"give at most the height of {self.height:g} mm"
            faults.append(Fault("centre of gravity", f"{self.centre_height:g} mm", right))
        if faults:
            raise BadInput(*faults)

    @property
    def gravity_height(self) -> float | None:
        """Height of the centre of gravity above the foot [mm]; None where nothing tells it."""
        if self.centre_height is not None:
            return self.centre_height
        return None if self.height is None else self.height / 2

    @property
    def is_flatware(self) -> bool:
        """Whether it is wide and low, so that it warps between wads."""
        if self.ware is not None:
            return self.ware == FLATWARE
        if self.height is None or not isinstance(self.foot, PlaneFoot):
            return False
        return self.height <= _FLAT_RATIO * 2 * self.foot.reach

    @property
    def assumed(self) -> list[str]:
        """What was assumed about the pot, in words."""
        found = []
        if self.centre_height is None and self.height is not None:
            found.append(f"centre of gravity at half the height, {self.height / 2:g} mm up")
        if self.ware is None and isinstance(self.foot, PlaneFoot):
            kind = "flatware, wide and low" if self.is_flatware else "hollowware, not flatware"
            found.append(f"{kind} (say --ware if not)")
        return found


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """A pot, the wads placed under it, and the conditions they meet.

    Parameters
    ----------
    pot : Pot
        What stands on the wads.
    arrangement : Arrangement
        The wads.
    body : str
        ``"wet"``, ``"dry"`` or ``"solid"``.
    mix : Mix
        What the wads are made of.
    place : Place
        Where in the kiln.
    shear : Limit
        Undrained shear strength of the mix when wet [kPa].
    """

    pot: Pot
    arrangement: Arrangement
    body: str
    mix: Mix
    place: Place = PLACES["sheltered"]
    shear: Limit = SHEAR["firm"]

    def __post_init__(self) -> None:
        """Refuse what cannot be."""
        faults = []
        if self.body not in self.mix.bodies:
            right = f"the mix {self.mix.name!r} is for {' or '.join(self.mix.bodies)} wads"
            faults.append(Fault("body", repr(self.body), right))
        if self.arrangement.piece.tips and self.body != SOLID:
            faults.append(Fault("body", repr(self.body), "fine tips need the body 'solid'"))
        if not self.arrangement.piece.faces:
            right = "choose a shape that bears a pot; a cone seat holds pyrometric cones"
            faults.append(Fault("shape", "a piece with no bearing top", right))
        if not self.arrangement.spots:
            faults.append(Fault("wads", "0", "give one or more"))
        pair = None if faults else self.arrangement.overlapping
        if pair:
            right = "give fewer wads, smaller ones, or a larger radius"
            given = (
                f"{len(self.arrangement.spots)}, of which {pair[0] + 1} and {pair[1] + 1} overlap"
            )
            faults.append(Fault("wads", given, right))
        if faults:
            raise BadInput(*faults)

    @property
    def is_wet(self) -> bool:
        """Whether the wads bed to the pot."""
        return self.body == WET
