"""What a drawing may be at most, and how it is refused."""

from __future__ import annotations

from typing import Final

from wadforms.geometry.contour import CHORD_ERROR, Point

LARGEST: Final = 2_000_000
"""Largest file of a drawing that is read [bytes]."""

CURVE_ERROR: Final = CHORD_ERROR
"""How far the lines that stand for a curve may stray from it [mm]."""

SAME: Final = 0.001
"""Points closer than this are one point [mm]; drawing programmes round to about as much."""

FARTHEST: Final = 10_000.0
"""How far from its origin a drawing may reach [mm]."""

MOST_LINES: Final = 10_000
"""As many lines and arcs may a drawing have; one beyond that is no shape of clay."""

MOST_ELEMENTS: Final = 10_000
"""As many elements may a drawing have, each repetition counted."""

DEEPEST: Final = 50
"""As deep may groups, blocks and repetitions lie in each other."""

MOST_HOLES: Final = 200
"""As many contours may an outline have; one beyond that is a sieve."""

LEAST_AREA: Final = 1.0
"""Smallest outline that is taken for one [mm²]."""


_LONG: Final = 1e6  # from there on a number is told in powers of ten [mm]


class Refused(Exception):
    """What is wrong with a drawing, before it is known which file it is.

    Parameters
    ----------
    faults : pairs of str
        What was found, and what would be right, each as in `wadforms.errors.Fault`.
    """

    def __init__(self, *faults: tuple[str, str]) -> None:
        super().__init__(*faults)
        self.faults = faults


def refused(given: str, right: str) -> Refused:
    """The refusal of a drawing for one reason.

    Examples
    --------
    >>> refused("an empty path", "draw the outline").faults
    (('an empty path', 'draw the outline'),)
    """
    return Refused((given, right))


def shown(point: Point) -> str:
    """A place [mm], as it is told; one far out by its size alone.

    Examples
    --------
    >>> shown((3.0, -0.0001))
    '(3.00, 0.00) mm'
    >>> shown((1e300, 10.0))
    '(1e+300, 10.00) mm'
    """
    x, y = (round(ordinate, 2) + 0.0 for ordinate in point)
    return f"({_short(x)}, {_short(y)}) mm"


def _short(ordinate: float) -> str:
    return f"{ordinate:.2f}" if abs(ordinate) < _LONG else f"{ordinate:g}"
