"""Rows of copies: how many a width takes, and where they lie.

A row repeats one copy, or a pair of which one is turned by a half, at a constant pitch along
x.  The next row is the same one moved along, or the same turned by a half.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any, Final, NamedTuple

TINY: Final = 1e-9
"""A row that fills its width exactly still counts, whatever the rounding."""


class Place(NamedTuple):
    """Where a copy lies in a block of rows.

    Parameters
    ----------
    x, y : float
        Middle of its box, from the block's lower left [mm].
    half : bool
        Whether it is turned by a half.
    """

    x: float
    y: float
    half: bool


class Rows(NamedTuple):
    """A way of rows: a number or flag each, or an array each of many ways at once.

    Parameters
    ----------
    lay : int
        Which turn of the outline it is made of, by its place in a list.
    wide, high : float
        Box of a copy [mm].
    pair : bool
        Whether each second copy of a row is turned by a half.
    turned : bool
        Whether each second row is turned by a half.
    steady : bool
        Whether each row is moved on against the last; else each second one is, and back.
    pitch : float
        From one copy to the next of the same turn [mm].
    u, v : float
        Where the turned copy of a pair lies, seen from the other [mm].
    shift : float
        By how much the next row is moved along, less than a pitch [mm].
    up, back : float
        Height from a row to the next, and from that to the one after [mm].
    """

    lay: Any
    wide: Any
    high: Any
    pair: Any
    turned: Any
    steady: Any
    pitch: Any
    u: Any
    v: Any
    shift: Any
    up: Any
    back: Any

    @property
    def density(self) -> Any:
        """Area of the plane that a copy takes [mm²]."""
        import numpy as np

        return self.pitch * (self.up + self.back) / np.where(self.pair, 4.0, 2.0)

    @property
    def thick(self) -> Any:
        """Height that one row takes up [mm]."""
        return self.high + abs(self.v)

    def starts(self, row: int) -> tuple[Any, Any]:
        """Where the first copy of each turn lies in a row [mm]; infinitely far where none does."""
        import numpy as np

        moved = np.mod(row * self.shift, self.pitch)
        moved = np.where(moved > self.pitch - 1e-7, 0.0, moved)
        offset = np.where(self.steady, moved, self.shift if row % 2 else 0.0)
        return offset, np.where(self.pair, np.mod(offset + self.u, self.pitch), np.inf)

    def held(self, row: int, width: Any) -> Any:
        """How many copies a row takes on a `width` [mm]."""
        import numpy as np

        first, second = self.starts(row)
        room = width - self.wide
        count = np.maximum(np.floor((room - first) / self.pitch + TINY) + 1, 0)
        return count + np.maximum(np.floor((room - second) / self.pitch + TINY) + 1, 0)

    def level(self, row: int) -> Any:
        """Height of a row above the first [mm]."""
        return (row + 1) // 2 * self.up + row // 2 * self.back

    def chosen(self, index: Any) -> Rows:
        """One or some of many ways."""
        return Rows(*(value[index] for value in self))

    def places(self, rows: int, width: float) -> Iterator[Place]:
        """Where the copies of one way of rows lie on a `width` [mm], row by row."""
        lowest = self.high / 2 + max(0.0, -self.v)
        for j in range(rows):
            y = lowest + self.level(j)
            for second, start in enumerate(map(float, self.starts(j))):
                if not math.isfinite(start):
                    continue
                half = bool(second) or (bool(self.turned) and j % 2 == 1)
                room = width - self.wide - start
                for k in range(math.floor(room / self.pitch + TINY) + 1):
                    x = self.wide / 2 + start + k * self.pitch
                    yield Place(float(x), float(y + self.v if second else y), half)


def joined(many: Sequence[Rows]) -> Rows:
    """All ways of several arrays of ways, one after the other."""
    import numpy as np

    return Rows(*(np.concatenate(column) for column in zip(*many, strict=True)))
