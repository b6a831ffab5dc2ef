"""Which of two blocks of the same count is the better one."""

from __future__ import annotations

import math
from typing import Final

LENGTH_COUNTS: Final[float] = 1 / 6
"""Power of a block's length over its width: one twice as long as wide counts as 12 % larger than
a square one, since a long board warps more and fits fewer beds (our own weight)."""


def spread(width: float, height: float) -> float:
    """How large a block is for its use [mm²]: its area, more so the longer it is.

    Examples
    --------
    >>> spread(10.0, 10.0), round(spread(20.0, 5.0), 1)
    (100.0, 126.0)
    """
    if width <= 0.0 or height <= 0.0:
        return math.inf
    longer: float = max(width / height, height / width) ** LENGTH_COUNTS
    return width * height * longer
