"""How far ware may span between its wads."""

from __future__ import annotations

import math
from typing import Final

LEAST_SAG: Final = 0.22315
"""Overhang over length at which a uniform bar on two supports sags least, middle against ends."""


def least_wads(radius: float, spacing: float) -> int:
    """How many wads a circle needs so that neighbours are at most `spacing` apart along it [mm].

    Examples
    --------
    >>> least_wads(180, 76.2), least_wads(90, 76.2)
    (15, 8)
    """
    return max(1, math.ceil(math.tau * radius / spacing - 1e-9))


def least_sag_overhang(length: float) -> float:
    """Overhang [mm] beyond each of two rails under a bar or tray of this length [mm].

    0.22315 of it, where the middle sags as far as the ends.

    Source
    ------
    Beam theory, as for the Airy and Bessel points (0.5774 and 0.5594 of the length between the
    supports, published values); here it is 0.5537.

    Examples
    --------
    >>> round(least_sag_overhang(400.0), 1)
    89.3
    """
    return LEAST_SAG * length


def pyroplastic_sag(index: float, span: float, thickness: float) -> float:
    """How far a slab sags in firing between supports [mm]: s = PI L⁴/t².

    Parameters
    ----------
    index : float
        Pyroplastic index of the clay [1/mm], from a bar of span L and thickness t that sagged
        by s: PI = s t²/L⁴.
    span, thickness : float
        Between neighbouring supports, and of the base [mm].

    Source
    ------
    Pyroplastic index as used in ceramic testing (bar on two supports); from memory.

    Examples
    --------
    >>> index = 2.0 * 5.0**2 / 100.0**4  # a bar 5 mm thick over 100 mm sagged by 2 mm
    >>> round(pyroplastic_sag(index, 100.0, 5.0), 6)
    2.0
    """
    return index * span**4 / thickness**2
