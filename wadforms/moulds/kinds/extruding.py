"""What is told with a die: its barrel, how it is printed and held, and how clay is pressed."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from wadforms import units

RUN: Final = 100.0
"""Of the plunger's travel [mm], and of pieces, that figures are given for."""

SCREWING: Final = (
    "Screws that hold against the press go right through and end in nuts, with a wide washer each, "
    "or better a metal ring over the plate, so that no head sinks into the print; tighten them "
    "crosswise."
)
"""Common practice, no source."""

_PRESSURE: Final = 0.1  # that the push on the plate is given for [MPa]: 100 kPa, 1 bar

_INCH: Final = 25.4


def barrel(inner: float, clearance: float, how: str) -> str:
    """Which barrel a plate is for, and how it is held.

    Parameters
    ----------
    inner, clearance : float
        Diameter of the barrel's bore, and room between it and the plate all around [mm].
    how : str
        What holds the plate.

    Examples
    --------
    >>> barrel(101.6, 0.3, "its rim is held").partition(";")[0]
    'For a barrel of 101.6 mm (4 in), slip-in: the plate goes into it with 0.3 mm free all around'
    """
    inches = f"{inner / _INCH:.2f}".rstrip("0").rstrip(".")
    return (
        f"For a barrel of {math.floor(inner * 10 + 0.5) / 10:g} mm ({inches} in), slip-in: the "
        f"plate goes into it with {units.show(clearance, 'mm')} free all around; {how}. "
        "Measure your barrel inside, and give --making barrel=90mm, say, if it differs."
    )


def printing(thickness: float, words: Sequence[str]) -> tuple[str, ...]:
    """How a plate is printed, and what its face says.

    Parameters
    ----------
    thickness : float
        Of the plate [mm].
    words : sequence of str
        The label sunk into it; empty where it has none.

    Examples
    --------
    >>> len(printing(11.6, ())), len(printing(11.6, ("tee-50",)))
    (1, 2)
    """
    told = (
        f"Print the plate solid, 100 % infill or walls alone, as it lies in the file: it is "
        f"{units.show(thickness, 'mm')} thick and bears the whole push of the press.",
    )
    if not words:
        return told
    said = " / ".join(words)
    return (
        *told,
        f"The face that the clay leaves by lay on the bed and is marked: {said!r}, as far as there "
        "was room; the funnel is on the other side, toward the clay.",
    )


def push(bore: float) -> float:
    """What 100 kPa in the clay pushes on the plate [N].

    Parameters
    ----------
    bore : float
        Area of the barrel's bore [mm²].

    Examples
    --------
    >>> push(5000.0)
    500.0
    """
    return bore * _PRESSURE


def using(cut: float, run: float, bore: float, *, bars: bool) -> tuple[str, ...]:
    """How bars or slices are cut, and what to mind.

    Parameters
    ----------
    cut : float
        Length of a bar, or thickness of a slice [mm].
    run : float
        How many 100 mm of the barrel give.
    bore : float
        Area of the barrel's bore [mm²].
    bars : bool
        Whether bars are cut to length; slices otherwise.

    Examples
    --------
    >>> "bars of 20.0 mm" in using(20, 30, 5000, bars=True)[0]
    True
    """
    what = f"bars of {cut:.1f} mm" if bars else f"slices {cut:.1f} mm thick"
    ends = (
        "Ends come square: round them by hand where the shape has round ones."
        if bars
        else "Walls come upright; a slice may lie on either face."
    )
    return (
        f"Cut {what} while the clay is wet: 100 pieces want {RUN * cut / 1000:.2f} m, and "
        f"100 mm of the barrel give {run:.1f}.",
        ends,
        "Clay swells a little as it leaves the land, more or less with the mix, and nothing is "
        "allowed for that: cut a test length, measure it wet, and make the plate anew for a "
        "size that is smaller by as much where it matters.",
        f"Each 100 kPa (1 bar) of pressure pushes on the plate like "
        f"{push(bore) / units.GRAVITY:.0f} kg. Press slowly, keep hands and face away from the "
        "opening, and look for cracks before each use: a printed plate can break. Open the "
        "barrel only when no pressure is left in it.",
    )


def at_least(length: float) -> float:
    """A length [mm] brought up to the digits that people read, so that the number told will do.

    Examples
    --------
    >>> at_least(97.37), at_least(132.02), at_least(86.5)
    (97.4, 133.0, 86.5)
    """
    told = 10.0 if length < 100.0 else 1.0
    return math.ceil(round(length * told, 6)) / told


def at_most(length: float) -> float:
    """A length [mm] brought down to the digits that people read.

    Examples
    --------
    >>> at_most(8.758), at_most(10.39), at_most(9.6)
    (8.75, 10.3, 9.6)
    """
    told = 100.0 if length < 10.0 else 10.0 if length < 100.0 else 1.0
    return math.floor(round(length * told, 6)) / told
