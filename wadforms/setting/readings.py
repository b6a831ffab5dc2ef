"""What is remembered of the readings behind a measured value, and what they let one count on.

The scatter of a few readings says how far the next piece may lie from their middle.  So a value
that a verdict rests on is no mean, but what the worst in twenty pieces still keeps to.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date
from typing import Final, NamedTuple

from wadforms import units
from wadforms.errors import BadInput, Fault

FEWEST: Final = 3
"""Readings from which their scatter is used; fewer say too little of it."""

RESERVE: Final = 0.25
"""Part that is taken off the lowest reading, or put on the highest, where their scatter cannot be
used (assumed)."""

MOST: Final = 1000
"""More readings than anybody takes; beyond it is a slip (assumed)."""


class Readings(NamedTuple):
    """What a measured value rests on.

    Parameters
    ----------
    n : int
        How many readings.
    mean : float
        Their mean, in the value's unit.
    spread : float or None
        Their standard deviation, in the value's unit; None of a single reading.
    on : date or None
        The day they were taken, where it is known.
    squat : float
        `limits.squat_factor` of the pieces that were loaded, a factor of at least 1, where
        friction on their faces helped them; 1 where it did not, or nobody knows.
    """

    n: int
    mean: float
    spread: float | None = None
    on: date | None = None
    squat: float = 1.0

    def words(self, unit: str) -> str:
        """When, how many and how far apart, for people.

        Parameters
        ----------
        unit : str
            The value's unit, as in `units.show`; ``"/mm"`` for a pyroplastic index.

        Examples
        --------
        >>> Readings(5, 52.0, 4.0, date(2026, 11, 1)).words("kPa")
        'measured 2026-11-01, 5 readings 52 ± 4 kPa'
        >>> Readings(1, 0.075).words("share")
        'measured, 1 reading 7.5 %'
        """
        day = "" if self.on is None else f" {self.on.isoformat()}"
        several = "reading" if self.n == 1 else "readings"
        return f"measured{day}, {self.n} {several} {self.about(unit)}"

    def about(self, unit: str) -> str:
        """Mean and standard deviation for people, in `unit`.

        Examples
        --------
        >>> Readings(5, 3.1e-7, 4e-8).about("/mm")
        '3.1e-07 ± 4e-08 /mm'
        """
        mean = shown(self.mean, unit)
        if self.spread is None:
            return mean
        number, space, after = mean.partition(" ")
        return f"{number} ± {shown(self.spread, unit).partition(' ')[0]}{space}{after}"


def shown(value: float, unit: str) -> str:
    """A value in `unit` for people; a pyroplastic index, in ``"/mm"``, is far too small for more.

    Examples
    --------
    >>> shown(0.000000312, "/mm"), shown(41.3, "kPa")
    ('3.12e-07 /mm', '41.3 kPa')
    """
    return f"{value:.3g} /mm" if unit == "/mm" else units.show(value, unit)


class Judged(NamedTuple):
    """What a verdict may count on, and how it follows from the readings.

    Parameters
    ----------
    value : float
        In the value's unit.
    rule : str
        How it was found, in words.
    """

    value: float
    rule: str


def summed_up(values: Sequence[float], on: date | None = None, *, squat: float = 1.0) -> Readings:
    """Number, mean and standard deviation of readings, these with n − 1.

    Parameters
    ----------
    values : sequence of float
        The readings, in the value's unit.
    on : date, optional
        The day they were taken.
    squat : float
        A factor, see `Readings`.

    Raises
    ------
    BadInput
        There are none, far too many, or one is no number.

    Examples
    --------
    >>> found = summed_up([48.0, 52.0, 56.0])
    >>> found.n, found.mean, found.spread
    (3, 52.0, 4.0)
    """
    import statistics  # slow to load, and needed for what is measured only

    if not 1 <= len(values) <= MOST:
        raise BadInput(Fault("readings", str(len(values)), f"give 1 to {MOST}"))
    if not all(map(math.isfinite, values)):
        raise BadInput(Fault("readings", "one that is no number", "leave it out"))
    spread = statistics.stdev(values) if len(values) > 1 else None
    return Readings(len(values), statistics.fmean(values), spread, on, squat)


def fractile_factor(count: int) -> float:
    """How many standard deviations from the mean the 5 % fractile lies: k_n, spread not known.

    Parameters
    ----------
    count : int
        Readings n, 2 or more.

    Source
    ------
    EN 1990:2002, Annex D, table D1, row "V_X unknown": k_n = t · √(1 + 1/n), where t is passed by
    5 % of Student's distribution with n − 1 degrees of freedom (table from memory, and computed).

    Examples
    --------
    >>> [round(fractile_factor(n), 2) for n in (3, 5, 10)]
    [3.37, 2.34, 1.92]
    """
    from scipy.special import stdtrit

    return float(stdtrit(count - 1, 0.95)) * math.sqrt(1.0 + 1.0 / count)


def at_least(values: Sequence[float], *, proofs: int = 0) -> Judged:
    """What strengths can be counted on: their 5 % fractile, taken as log-normal.

    Fewer than three readings give the lowest less a quarter.  So do readings that are all alike,
    and those some of which are proofs, of pieces that would have borne more: their scatter says
    nothing; where the fractile is lower still, it holds.

    Parameters
    ----------
    values : sequence of float
        The readings, in the value's unit, all above 0.
    proofs : int
        How many of them are loads that did no harm.

    Source
    ------
    EN 1990:2002, Annex D, D7.2 with the log-normal distribution, which has no value below 0.

    Examples
    --------
    >>> round(at_least([48.0, 50.0, 52.0, 54.0, 56.0]).value, 1)
    45.0
    >>> at_least([48.0, 56.0])
    Judged(value=36.0, rule='the lowest reading less 25 %, of so few')
    """
    reserved = min(values) * (1.0 - RESERVE)
    less = f"the lowest reading less {units.show(RESERVE, 'share')}"
    if len(values) < FEWEST:
        return Judged(reserved, f"{less}, of so few")
    if not proofs and min(values) == max(values):
        # Loads are added brick by brick: a scatter finer than a brick does not show.
        return Judged(reserved, f"{less}, since all are alike and tell no scatter")
    logs = summed_up([math.log(value) for value in values])
    low = math.exp(logs.mean - fractile_factor(logs.n) * (logs.spread or 0.0))
    if proofs and reserved <= low:
        return Judged(reserved, f"{less}, since {proofs} of {len(values)} would have borne more")
    return Judged(low, "their 5 % fractile, EN 1990 Annex D, log-normal")


def highest_harmless(values: Sequence[float], loads: int) -> Judged:
    """What can be counted on of a series of rising loads: the highest that did no harm, less some.

    How far its loads lie apart is what the tester chose, no scatter of the wads: they have no
    fractile.

    Parameters
    ----------
    values : sequence of float
        The highest load that did no harm, once for each piece that bore it, in the value's unit.
    loads : int
        How many were tested in all.

    Examples
    --------
    >>> highest_harmless([56.0], 3).value
    42.0
    """
    less = units.show(RESERVE, "share")
    rule = f"a series of {loads} loads: the highest that did no harm, less {less} of so few"
    return Judged(max(values) * (1.0 - RESERVE), rule)


def at_most(values: Sequence[float]) -> Judged:
    """What harmful values may come to: their 95 % fractile, taken as normal.

    Fewer than three readings give the highest and a quarter more.

    Parameters
    ----------
    values : sequence of float
        The readings, in the value's unit.

    Source
    ------
    EN 1990:2002, Annex D, D7.2 with the normal distribution.

    Examples
    --------
    >>> round(at_most([0.050, 0.052, 0.054]).value, 4)
    0.0587
    """
    if len(values) < FEWEST:
        more = f"the highest reading and {units.show(RESERVE, 'share')} more, of so few"
        return Judged(max(values) * (1.0 + RESERVE), more)
    found = summed_up(values)
    high = found.mean + fractile_factor(found.n) * (found.spread or 0.0)
    return Judged(high, "their 95 % fractile, EN 1990 Annex D, normal")
