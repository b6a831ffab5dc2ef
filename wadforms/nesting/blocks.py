"""As many copies of an outline as a rectangle takes, or so many as compactly as may be."""

from __future__ import annotations

import math
from typing import Final

from wadforms.errors import BadInput, Fault
from wadforms.geometry.outline import Outline
from wadforms.nesting import discs, search
from wadforms.nesting.fitting import fit_turn
from wadforms.nesting.layout import Layout
from wadforms.nesting.spots import Nest, Spot, settled

_SIDES: Final = ("width", "height")


def nest(
    outline: Outline,
    *,
    gap: float,
    width: float,
    height: float,
    count: int | None = None,
    seconds: float = 0.0,
    seed: int = 0,
) -> Nest:
    """As many copies as a rectangle takes, or `count` of them as compactly as may be.

    Parameters
    ----------
    outline : Outline
        What is laid out [mm]; its holes stay empty.
    gap : float
        The least distance between two copies [mm]; none is kept from the rectangle's edge.
    width, height : float
        Of the rectangle, along x and y [mm].
    count : int, optional
        How many are wanted.  Where the rectangle does not take so many, the nest has fewer.
    seconds : float
        How long to search for more than rows give [s], in whole seconds; it may take a fifth
        longer.  0 for rows alone, which are the same in every run.
    seed : int
        Of that search.  It stops by the clock, so a second run may lay copies otherwise, or
        find one more or less, also with the same seed.

    Raises
    ------
    BadInput
        A size, the gap, the count or the time is out of bounds.

    Examples
    --------
    >>> from wadforms.geometry.contour import Contour
    >>> tile = Outline(Contour.polygon([(0, 0), (30, 0), (30, 10), (0, 10)]))
    >>> found = nest(tile, gap=2, width=62, height=46)
    >>> len(found.spots), found.how, found.width, found.height
    (8, 'rows', 62.0, 46.0)
    >>> len(nest(tile, gap=2, width=62, height=9).spots)
    0
    """
    _check(gap=gap, width=width, height=height, count=count, seconds=seconds)
    round_ones = discs.fill(outline, gap=gap, width=width, height=height, count=count)
    if round_ones is not None:
        return round_ones
    made = Layout.of(outline, gap)
    # Whether so many fit is only tried where their area does.
    if count is not None and count * outline.outer.area <= width * height * (1.0 + 1e-6):
        within = made.compact(count, width, height)
        if within is not None:
            return within
    best = made.filled(width, height)
    if not best.spots:
        turn = fit_turn(outline, width=width, height=height)
        if turn is not None:
            best = settled(outline, [Spot(0.0, 0.0, turn)], "rows")
    if seconds > 0.0 and best.spots and (count is None or len(best.spots) < count):
        best = search.beyond(
            outline,
            made.polygon,
            best,
            gap=gap,
            width=width,
            height=height,
            turns=sorted({lay.way.turn + half for lay in made.lays for half in (0.0, 180.0)}),
            count=count,
            seconds=seconds,
            seed=seed,
        )
    return best if count is None else settled(outline, best.spots[:count], best.how)


def compact(outline: Outline, *, gap: float, count: int, around: float = 0.0) -> Nest:
    """A block of `count` copies, small and near a square; the same in every run.

    Parameters
    ----------
    outline : Outline
        What is laid out [mm]; its holes stay empty.
    gap : float
        The least distance between two copies [mm].
    count : int
        How many.
    around : float
        A rim that belongs to the block too when its shape is judged [mm].

    Raises
    ------
    BadInput
        The gap or the count is out of bounds.

    Examples
    --------
    >>> block = compact(Outline.circle(10), gap=3, count=6)
    >>> len(block.spots), block.how, block.width, block.height
    (6, 'square rows', 66.0, 43.0)
    """
    _check(gap=gap, count=count)
    found = discs.block(outline, gap=gap, count=count)
    if found is None:
        found = Layout.of(outline, gap).compact(count, math.inf, math.inf, around=around)
    if found is None:  # rows without end always hold enough
        raise AssertionError("no rows")
    return found


def _check(**given: float | None) -> None:
    """Whether sizes are lengths and counts are counts.

    Raises
    ------
    BadInput
        With all that is wrong.
    """
    faults = []
    for where, value in given.items():
        if value is None:
            continue
        if where == "count":
            if value < 1 or value != int(value):
                faults.append(Fault(where, f"{value:g}", "give a whole number from 1"))
        elif not math.isfinite(value) or value < 0.0 or (value == 0.0 and where in _SIDES):
            unit = "s" if where == "seconds" else "mm"
            least = "more than 0" if where in _SIDES else "0 or more"
            faults.append(Fault(where, f"{value:g} {unit}", f"give {least}"))
    if faults:
        raise BadInput(*faults)
