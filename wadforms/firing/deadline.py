"""One time by which all searches of a choice shall end."""

from __future__ import annotations

import time
from typing import Final

_LEAST_TIME: Final = 0.05  # small firings are solved in less [s]


class Deadline:
    """A time by which several searches shall end, each of which gets a share of what is left.

    Parameters
    ----------
    seconds : float
        From now on [s].

    Examples
    --------
    >>> Deadline(0.0).left()
    0.05
    """

    def __init__(self, seconds: float) -> None:
        self._until = time.monotonic() + seconds

    def left(self, share: float = 1.0) -> float:
        """A share of the time left, or the least in which a search is of any use [s]."""
        return max(_LEAST_TIME, share * (self._until - time.monotonic()))
