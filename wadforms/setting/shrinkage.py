"""Shrinkage of clay, after ASTM C326, and the sizes that follow from it."""

from __future__ import annotations


def total_shrinkage(drying: float, firing: float) -> float:
    """Total linear shrinkage 1 − (1 − S_d)(1 − S_f), as a share of the wet length.

    Parameters
    ----------
    drying : float
        (wet length − dry length)/wet length.
    firing : float
        (dry length − fired length)/dry length.

    Source
    ------
    ASTM C326, definitions.

    Examples
    --------
    >>> round(total_shrinkage(0.065, 0.08), 4)
    0.1398
    """
    return 1.0 - (1.0 - drying) * (1.0 - firing)


def volume_shrinkage(linear: float) -> float:
    """Volume shrinkage 1 − (1 − S)³ of a body that shrinks evenly.

    Source
    ------
    ASTM C326.

    Examples
    --------
    >>> round(volume_shrinkage(total_shrinkage(0.065, 0.08)), 4)
    0.3635
    """
    return 1.0 - (1.0 - linear) ** 3


def mould_factor(linear: float) -> float:
    """How much larger the mould is than what comes out of it in the end, 1/(1 − S).

    Examples
    --------
    >>> round(mould_factor(total_shrinkage(0.065, 0.08)), 5)
    1.16252
    """
    return 1.0 / (1.0 - linear)
