"""How many pieces of which shape a firing needs, and how much mix."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Sequence
from dataclasses import dataclass

from wadforms import units
from wadforms.errors import BadInput, Fault
from wadforms.families.base import Piece
from wadforms.firing.batch import LARGEST_SPARE
from wadforms.firing.choosing import Touch
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
    needed, to_make : int
        Pieces in the kiln, and pieces to make with the spare ones.
    each_wet_volume, each_wet_mass : float
        Of one piece as it leaves the mould [mm³, g].
    """

    shape: str
    body: str
    piece: Piece
    mix: Mix
    needed: int
    to_make: int
    each_wet_volume: float
    each_wet_mass: float

    @property
    def wet_volume(self) -> float:
        """Of all pieces to make [mm³]."""
        return self.to_make * self.each_wet_volume

    @property
    def wet_mass(self) -> float:
        """Of all pieces to make [g]."""
        return self.to_make * self.each_wet_mass


def make_list(touches: Sequence[Touch], *, spare: float = 0.0) -> tuple[Make, ...]:
    """What to make for the touches of a firing, by shape and body.

    Parameters
    ----------
    touches : sequence of Touch
        Those for which nothing serves are left out.
    spare : float
        Share to make on top; each shape is rounded up to whole pieces.

    Raises
    ------
    BadInput
        The spare makes no sense.
    """
    if not 0 <= spare <= LARGEST_SPARE:
        right = f"give 0 % to {units.show(LARGEST_SPARE, 'share')}"
        raise BadInput(Fault("spare", units.show(spare, "share"), right))
    needed: dict[tuple[str, str], int] = {}
    settings = {}
    for touch in touches:
        if touch.best is None:
            continue
        key = (touch.best.name, touch.best.setting.body)
        needed[key] = needed.get(key, 0) + touch.pots * touch.best.count
        settings[key] = touch.best.setting
    found = []
    for (shape, body), count in needed.items():
        setting = settings[shape, body]
        each = quantities(setting.arrangement.piece, setting.mix, body)
        found.append(
            Make(
                shape=shape,
                body=body,
                piece=setting.arrangement.piece,
                mix=setting.mix,
                needed=count,
                to_make=with_spare(count, spare),
                each_wet_volume=each.wet_volume,
                each_wet_mass=each.wet_mass,
            )
        )
    return tuple(found)


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
    text = io.StringIO()
    out = csv.writer(text, lineterminator="\n")
    out.writerow(
        ["shape", "body", "mix", "needed", "to make", "each wet [cm3]", "wet [cm3]", "wet [g]"]
    )
    for make in makes:
        out.writerow(
            [
                make.shape,
                make.body,
                make.mix.name,
                make.needed,
                make.to_make,
                f"{make.each_wet_volume / 1000:.3f}",
                f"{make.wet_volume / 1000:.1f}",
                f"{make.wet_mass:.1f}",
            ]
        )
    return text.getvalue().encode()
