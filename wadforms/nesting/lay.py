"""How near rows of an outline may lie, at one turn of it.

What is tried is first read from tables, for thousands of rows at once; what comes out best is
found again exactly before it is used.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any, Final

from wadforms.nesting.profile import Way
from wadforms.nesting.rows import TINY, Rows, joined

if TYPE_CHECKING:
    from wadforms.nesting.profile import Array

SHIFTS: Final = 20
"""Ways to move a row against the last."""

LIFTS: Final = 21
"""Ways to hold the turned copy of a pair higher or lower."""

LOOSEST: Final = 1.6
"""How much wider than it need be a pitch is tried, so that rows end at the edge."""

LOOSEST_PAIRS: Final = 1.25
"""The same for rows of pairs, which gain less by it."""


@dataclass(frozen=True)
class Lay:
    """An outline at one turn, and at a quarter more, which tells how copies stand side by side.

    Parameters
    ----------
    index : int
        Its place in a list of them.
    way : Way
        At this turn.
    quarter : Way
        A quarter further, or a quarter back.
    forward : bool
        Whether it is a quarter further.
    symmetric : bool
        Whether a half turn changes nothing.
    """

    index: int
    way: Way
    quarter: Way
    forward: bool
    symmetric: bool

    def beside(self, pair: str, dy: Any, *, exactly: bool = True) -> Array:
        """How far to the right of the first of a `pair` the second must lie [mm].

        Parameters
        ----------
        pair : str
            As for `Way.lift`.
        dy : array or float
            How much higher it lies [mm].
        exactly : bool
            Or read from a table.
        """
        import numpy as np

        if not self.forward:  # a quarter back is a quarter further and a half turn
            pair = {"AA": "AA", "AB": "BA", "BA": "AB"}[pair]
        dy = np.asarray(dy, dtype=float)
        return self.quarter.lift(pair, -dy) if exactly else self.quarter.about(pair, -dy)

    @cached_property
    def pitch(self) -> float:
        """From one copy to the next in the tightest row of copies all alike [mm]."""
        return float(self.beside("AA", 0.0))

    @cached_property
    def tight(self) -> Rows:
        """Many ways of rows whose copies lie as near to each other as they may."""
        found = [self._singles([self.pitch])]
        if not self.symmetric:
            v, u, pitch = self._some_pairs
            found.append(self._spread(v, u, pitch))
        return joined(found)

    def loose(self, width: float) -> Rows | None:
        """Ways of rows whose copies lie just so far apart that they end at a `width` [mm]."""
        import numpy as np

        room = width - self.way.width
        found = []
        if pitches := _loose(self.pitch, room):
            found.append(self._singles(pitches))
        if not self.symmetric:
            v, u, tight = self._some_pairs
            pitch = room / np.maximum(np.floor(room / tight), 1)
            fits = (pitch > tight) & (pitch < LOOSEST_PAIRS * tight)
            if fits.any():
                found.append(self._spread(v[fits], u[fits], pitch[fits]))
        return joined(found) if found else None

    def exact(self, rows: Rows) -> Rows:
        """One way of rows with its distances found exactly, none smaller than they must be."""
        import numpy as np

        pitch, u = float(rows.pitch), 0.0
        least = self.pitch
        if rows.pair:
            us, tight = self._pairs(np.array([float(rows.v)]), exactly=True)
            u, least = float(us[0]), float(tight[0])
        # A table may be off by so much; a row that was meant to be tight stays so.
        if pitch < least + 0.1:
            pitch = least
        shift = float(rows.shift / rows.pitch) * pitch
        one = self._made(
            [np.array([bool(flag)]) for flag in (rows.pair, rows.turned, rows.steady)],
            *(np.array([x]) for x in (pitch, u, float(rows.v), shift)),
        )
        over = self._between(one, exactly=True)
        back = self._between(one._replace(shift=-one.shift), exactly=True, second=True)
        return self._with_heights(one, over, back, exactly=True).chosen(0)

    @cached_property
    def _some_pairs(self) -> tuple[Array, Array, Array]:
        import numpy as np

        v = np.linspace(-1.0, 1.0, LIFTS) * (self.way.height + self.way.gap)
        return v, *self._pairs(v, exactly=False)

    def _pairs(self, v: Array, *, exactly: bool) -> tuple[Array, Array]:
        """Where the turned copy of a pair lies, and the pitch of the pairs [mm]."""
        import numpy as np

        u = self.beside("AB", v, exactly=exactly)
        u = np.where(np.isfinite(u), u, 0.0)
        pitch = u + np.maximum(self.beside("BA", -v, exactly=exactly), -u)
        return u, np.maximum(pitch, self.pitch)

    def _singles(self, pitches: Sequence[float]) -> Rows:
        import numpy as np

        pitch = np.array(pitches)
        none = np.zeros_like(pitch)
        found = [self._spread(none, none, pitch, pair=False)]
        if not self.symmetric:
            found.append(self._spread(none, none, pitch, pair=False, turned=True))
        return joined(found)

    def _spread(
        self, v: Array, u: Array, pitch: Array, *, pair: bool = True, turned: bool = False
    ) -> Rows:
        """Each of these rows with every shift, moved to and fro and, where it makes sense, on."""
        import numpy as np

        step = np.arange(SHIFTS) / SHIFTS
        v, u, pitch = (np.repeat(a, SHIFTS) for a in (v, u, pitch))
        shift = np.tile(step, len(pitch) // SHIFTS) * pitch
        flags = [np.full(len(pitch), flag) for flag in (pair, turned, False)]
        rows = self._made(flags, pitch, u, v, shift)
        over = self._between(rows, exactly=False)
        # The shifts go round: moving back by one is moving on by the rest.
        if turned:
            back = self._between(rows._replace(shift=-shift), exactly=False, second=True)
        else:
            back = over.reshape(-1, SHIFTS)[:, (-np.arange(SHIFTS)) % SHIFTS].ravel()
        found = self._with_heights(rows, over, back, exactly=False)
        if turned:
            return found
        close = pitch <= self.way.reach + u  # loose rows moved on and on may let rows through
        on = rows._replace(steady=np.ones(len(pitch), dtype=bool))
        on = self._with_heights(on, over, over, exactly=False)
        return joined([found, on.chosen(close & (shift > 0.0))])

    def _made(self, flags: Sequence[Any], pitch: Any, u: Any, v: Any, shift: Any) -> Rows:
        import numpy as np

        index, wide, high = (
            np.full(len(pitch), x) for x in (self.index, self.way.width, self.way.height)
        )
        none = np.zeros(len(pitch))
        pair, turned, steady = flags
        return Rows(index, wide, high, pair, turned, steady, pitch, u, v, shift, none, none)

    def _between(self, rows: Rows, *, exactly: bool, second: bool = False) -> Array:
        """Height that the row above needs, moved along by the shift, all rows of one sort.

        It is the row above the first one, or above the `second`.
        """
        import numpy as np

        read = self.way.lift if exactly else self.way.about
        most = math.ceil(self.way.reach / float(rows.pitch.min()))

        def over(pair: str, dx: Array) -> Array:
            """The most that any copy of the lower row asks for."""
            first = np.mod(dx, rows.pitch)[:, None]
            needed = read(pair, first + np.arange(-most, most) * rows.pitch[:, None])
            return np.asarray(needed.max(axis=1))

        shift = rows.shift
        if rows.turned[0]:
            return over("BA" if second else "AB", shift)
        needed = over("AA", shift)
        if rows.pair[0]:
            needed = np.maximum(needed, over("AB", shift + rows.u) - rows.v)
            needed = np.maximum(needed, over("BA", shift - rows.u) + rows.v)
        return needed

    def _with_heights(self, rows: Rows, up: Array, back: Array, *, exactly: bool) -> Rows:
        import numpy as np

        if rows.steady[0]:
            back = up
        up, back = np.maximum(up, 0.0), np.maximum(back, 0.0)
        if (rows.pitch > self.way.reach + rows.u + TINY).any():
            # Rows two apart see each other through a loose one.
            alike = rows._replace(turned=np.zeros_like(rows.turned))
            alike = alike._replace(shift=2 * rows.shift if rows.steady[0] else 0 * rows.shift)
            lacking = np.maximum(self._between(alike, exactly=exactly) - up - back, 0.0)
            up, back = up + lacking / 2, back + lacking / 2
        return rows._replace(up=up, back=back)


def _loose(pitch: float, room: float) -> list[float]:
    """Pitches that let a row, or a row moved by half a pitch, end at the right edge."""
    most = math.floor(room / pitch + TINY)
    parts = (most, most - 0.5, most - 1) if most > 0 else ()
    return [room / n for n in parts if n > 0 and pitch < room / n <= LOOSEST * pitch]
