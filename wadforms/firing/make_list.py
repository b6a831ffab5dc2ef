"""How many pieces of which shape a firing needs, how much mix, and what is left in the boxes."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from wadforms import units
from wadforms.errors import BadInput, Fault
from wadforms.families.base import WET, Piece
from wadforms.firing.batch import LARGEST_SPARE
from wadforms.firing.plan import Plan, Wads
from wadforms.firing.tables.csv_written import csv_bytes
from wadforms.setting.mixes import Mix
from wadforms.setting.quantities import quantities


@dataclass(frozen=True, slots=True, kw_only=True)
class Make:
    """One line of the make list: a shape, set in one way.

    Parameters
    ----------
    shape, body : str
        Which, and how it is set.
    piece : Piece
        One of them, at its set size.
    mix : Mix
        What it is made of.
    needed, from_stock, to_make : int
        Pieces in the kiln, those of them that are in the boxes already, and pieces to make with
        the spare ones.
    each_wet_volume, each_wet_mass : float
        Of one piece as it leaves the mould [mm³, g].
    each_coated_area : float
        Top and sides of one piece at its set size [mm²].
    minutes : float or None
        Of pressing, where a rate is known [min].
    """

    shape: str
    body: str
    piece: Piece
    mix: Mix
    needed: int
    from_stock: int
    to_make: int
    each_wet_volume: float
    each_wet_mass: float
    each_coated_area: float
    minutes: float | None = None

    @property
    def wet_volume(self) -> float:
        """Of all pieces to make [mm³]."""
        return self.to_make * self.each_wet_volume

    @property
    def wet_mass(self) -> float:
        """Of all pieces to make [g]."""
        return self.to_make * self.each_wet_mass

    @property
    def coated_area(self) -> float:
        """Top and sides of all pieces that go into the kiln [mm²]."""
        return self.needed * self.each_coated_area


def make_list(plan: Plan, *, spare: float = 0.0, an_hour: float | None = None) -> tuple[Make, ...]:
    """What to make for a firing, by shape and body.

    Parameters
    ----------
    plan : Plan
        Touches for which nothing serves are left out.
    spare : float
        Share to make on top of what is not in the boxes; rounded up to whole pieces.
    an_hour : float or None
        How many pieces are pressed in an hour [1/h].

    Raises
    ------
    BadInput
        The spare or the rate makes no sense.
    """
    refuse_senseless(spare, an_hour)
    needed: dict[tuple[str, str], int] = {}
    kinds: dict[tuple[str, str], Wads] = {}
    for chosen in plan.chosen:
        if chosen.wads is None:
            continue
        key = (chosen.wads.shape, chosen.wads.body)
        needed[key] = needed.get(key, 0) + chosen.touch.count * chosen.wads.number
        kinds[key] = chosen.wads
    found = []
    for key, count in needed.items():
        wads = kinds[key]
        each = quantities(wads.piece, wads.mix, wads.body)
        from_stock = plan.from_stock.get(key, 0)
        to_make = with_spare(count - from_stock, spare)
        found.append(
            Make(
                shape=wads.shape,
                body=wads.body,
                piece=wads.piece,
                mix=wads.mix,
                needed=count,
                from_stock=from_stock,
                to_make=to_make,
                each_wet_volume=each.wet_volume,
                each_wet_mass=each.wet_mass,
                each_coated_area=each.coated_area,
                minutes=None if an_hour is None else 60.0 * to_make / an_hour,
            )
        )
    return tuple(found)


def refuse_senseless(spare: float, an_hour: float | None) -> None:
    """Refuse a share of spare pieces, or a number pressed in an hour, that makes no sense.

    Raises
    ------
    BadInput
        With what is wrong.
    """
    faults = []
    if not 0 <= spare <= LARGEST_SPARE:
        right = f"give 0 % to {units.show(LARGEST_SPARE, 'share')}"
        faults.append(Fault("spare", units.show(spare, "share"), right))
    if an_hour is not None and not (math.isfinite(an_hour) and an_hour > 0.0):
        faults.append(Fault("pieces an hour", f"{an_hour:g}", "give more than 0"))
    if faults:
        raise BadInput(*faults)


class Box(NamedTuple):
    """Pieces of one shape that are left, unfired, when the kiln is packed."""

    shape: str
    body: str
    number: int


def boxes_after(
    makes: Sequence[Make], stock: Mapping[tuple[str, str], int] | None = None
) -> tuple[Box, ...]:
    """What the boxes hold when the kiln is packed: what was there and is not used, and the spares.

    Soft pieces are not kept: those that are left go back into the mix.

    Parameters
    ----------
    makes : sequence of Make
        The make list.
    stock : mapping of (str, str) to int, optional
        Pieces that were there before, by shape and body.

    Examples
    --------
    >>> boxes_after((), {("disk-16", "dry"): 40})
    (Box(shape='disk-16', body='dry', number=40),)
    """
    left = dict(stock or {})
    for make in makes:
        key = (make.shape, make.body)
        left[key] = left.get(key, 0) + make.to_make - make.needed
    kept = ((key, number) for key, number in sorted(left.items()) if number and key[1] != WET)
    return tuple(Box(*key, number) for key, number in kept)


def with_spare(count: int, spare: float) -> int:
    """A number of pieces with a share on top, rounded up to whole ones.

    Examples
    --------
    >>> with_spare(10, 0.1), with_spare(12, 0.1), with_spare(3, 0.0)
    (11, 14, 3)
    """
    # 10 × 1.1 is a hair above 11 in floating point; that hair is no piece.
    return math.ceil(round(count * (1.0 + spare), 6))


def mix_volumes(makes: Sequence[Make]) -> dict[str, float]:
    """Wet volume [mm³] that each mix is needed in, by its name."""
    volumes: dict[str, float] = {}
    for make in makes:
        volumes[make.mix.name] = volumes.get(make.mix.name, 0.0) + make.wet_volume
    return volumes


def make_list_csv(makes: Sequence[Make]) -> bytes:
    """The make list as a table for a spreadsheet."""
    heads = ["shape", "body", "mix", "needed", "in stock", "to make", "each wet [cm3]"]
    heads += ["wet [cm3]", "wet [g]", "pressing [min]"]
    rows = [
        [
            make.shape,
            make.body,
            make.mix.name,
            make.needed,
            make.from_stock,
            make.to_make,
            f"{make.each_wet_volume / 1000:.3f}",
            f"{make.wet_volume / 1000:.1f}",
            f"{make.wet_mass:.1f}",
            "" if make.minutes is None else f"{make.minutes:.0f}",
        ]
        for make in makes
    ]
    return csv_bytes(heads, rows)


def boxes_csv(boxes: Sequence[Box]) -> bytes:
    """Boxes as a table, in the form that a stock of shapes is read from."""
    return csv_bytes(["shape", "body", "count"], boxes)
