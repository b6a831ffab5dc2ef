"""Pairs of facets whose boxes overlap: the only ones that can run through each other.

Boxes are held by axis: their lowest and their highest corners, (3, n) each.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final, TypeAlias

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Numbers = NDArray[np.int64]

Pairs: TypeAlias = "tuple[Numbers, Numbers]"
"""The first and the second facet of each pair."""

LEVEL: Final = 1e-4
"""A facet lower than this [mm] is level."""

_SWEPT: Final = 2_000_000  # pairs of a sweep held at once

_AT_ONCE: Final = 100_000  # pairs handed on in one go; more would only take memory

_STRIPS: Final = 1000  # at most: what is the same along one side needs no more

_WIDE: Final = 2.0  # strips as wide as this many facets: most facets then lie in one or two


def near(low: Floats, high: Floats) -> Iterator[Pairs]:
    """Pairs of facets whose boxes overlap, in portions; two level ones are no pair here.

    Parameters
    ----------
    low, high : array of shape (3, n)
        The box of each facet [mm].

    Examples
    --------
    >>> import numpy as np
    >>> low, high = np.array([[0, 4, 5], [0, 0, 0], [0, 0, 0]]), np.array([[2, 6, 7]] * 3)
    >>> [[ones.tolist(), others.tolist()] for ones, others in near(low, high)]
    [[[1], [2]]]
    """
    import numpy as np

    level = high[2] - low[2] < LEVEL
    steep = np.flatnonzero(~level)
    yield from _overlapping(low, high, steep)
    flats = np.flatnonzero(level)
    # Only what passes through a level can cross it; most walls begin or end there.
    for z in np.unique(np.round(low[2, flats], 4)):
        through = steep[(low[2, steep] < z - LEVEL) & (high[2, steep] > z + LEVEL)]
        if len(through):
            yield from _across(low, high, through, flats[abs(low[2, flats] - z) < LEVEL])


def _overlapping(low: Floats, high: Floats, some: Numbers) -> Iterator[Pairs]:
    """Pairs among some facets whose boxes overlap, by a sweep along strips.

    The strips run along the part's longer side.  A facet lies in each strip that its box
    reaches; two that share several meet in the first of these.
    """
    import numpy as np

    if len(some) == 0:
        return
    along = int(np.ptp(high[1, some]) > np.ptp(high[0, some]))
    across = 1 - along
    left, right = low[across, some], high[across, some]
    start, stop = low[along, some], high[along, some]
    edge, begin = left.min(), start.min()
    wide = max(_WIDE * float((right - left).mean()), float(right.max() - edge) / _STRIPS, LEVEL)
    first = ((left - edge) / wide).astype(np.int64)
    copies = ((right - edge) / wide).astype(np.int64) - first + 1
    which = np.repeat(np.arange(len(some)), copies)
    strip = np.arange(len(which)) - np.repeat(np.cumsum(copies) - copies - first, copies)
    # One number tells strip and place along it.  Rounding keeps the order, so no pair is lost.
    length = float(stop.max() - begin) + 1.0
    places = strip * length + (start - begin)[which]
    order = np.argsort(places)
    which, strip, places = which[order], strip[order], places[order]
    left, right, first = left[which], right[which], first[which]
    ends = np.searchsorted(places, strip * length + (stop - begin)[which], side="right")
    for one, other in _runs(np.arange(1, len(which) + 1), ends):
        meet = (left[other] <= right[one]) & (left[one] <= right[other])
        one, other = one[meet], other[meet]
        once = strip[one] == np.maximum(first[one], first[other])
        yield from _kept(low, high, some[which[one[once]]], some[which[other[once]]])


def _runs(begins: Numbers, ends: Numbers) -> Iterator[Pairs]:
    """Each number k with all from begins[k] up to ends[k], in portions."""
    import numpy as np

    counts = np.maximum(ends - begins, 0)
    done = np.concatenate([[0], np.cumsum(counts)])
    start = 0
    while start < len(counts):
        stop = max(start + 1, int(np.searchsorted(done, done[start] + _SWEPT, side="right")) - 1)
        taken = counts[start:stop]
        ones = np.repeat(np.arange(start, stop), taken)
        shift = begins[start:stop] - (done[start:stop] - done[start])
        yield ones, np.arange(len(ones)) + np.repeat(shift, taken)
        start = stop


def _across(low: Floats, high: Floats, ones: Numbers, others: Numbers) -> Iterator[Pairs]:
    """Pairs of one of these and one of those facets whose boxes overlap."""
    import numpy as np

    # Few of the walls that pass a level pass near what lies at it.
    for axis in (0, 1):
        ones = ones[high[axis, ones] >= low[axis, others].min()]
        ones = ones[low[axis, ones] <= high[axis, others].max()]
    step = max(1, _SWEPT // max(1, len(others)))
    for k in range(0, len(ones), step):
        some = ones[k : k + step]
        yield from _kept(low, high, np.repeat(some, len(others)), np.tile(others, len(some)))


def _kept(low: Floats, high: Floats, first: Numbers, second: Numbers) -> Iterator[Pairs]:
    """Of given pairs those whose boxes overlap, in portions."""
    for axis in (2, 1, 0):
        a, b = low[axis], high[axis]
        meet = (a[first] <= b[second]) & (a[second] <= b[first])
        first, second = first[meet], second[meet]
    for k in range(0, len(first), _AT_ONCE):
        yield first[k : k + _AT_ONCE], second[k : k + _AT_ONCE]
