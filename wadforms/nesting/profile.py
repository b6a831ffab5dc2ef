"""How near two copies of an outline may come: what each shows to the other.

Everything is found on the *grown* outline: all within half a gap of it.  Two copies keep
their gap where their grown outlines do not overlap.  The grown outline is a polygon that
lies outside the exact one, by `TOLERANCE` at most where corners are few.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, Final, TypeAlias

from wadforms.geometry.outline import Outline

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from shapely import Polygon

    Array: TypeAlias = NDArray[np.float64]

TOLERANCE: Final = 0.02
"""How far the grown polygon may lie outside the exact grown outline, on each side [mm]."""

COARSEST: Final = 0.3
"""The same for an outline of so many corners that it would be slow otherwise [mm]."""

CORNERS: Final = 72
"""More corners than these make the tolerance wider, up to `COARSEST`."""

_NODES: Final = 161  # of a table; whatever is read from it is found exactly before it counts


def grown(outline: Outline, gap: float) -> Polygon:
    """A polygon that holds all within `gap`/2 [mm] of the outline's outside; holes are filled.

    Examples
    --------
    >>> polygon = grown(Outline.circle(20), 3.0)
    >>> 0 < polygon.area / math.pi - 21.5**2 < 2 * 21.5 * 0.05
    True
    """
    from shapely import Polygon

    chord = TOLERANCE / 4
    exact = Polygon(Outline(outline.outer).polygon(chord).exterior)
    sharp = not any(outline.outer.bulges) and gap == 0.0
    if sharp and len(exact.exterior.coords) <= CORNERS:
        return exact
    # The corners of a flattened arc lie outside it or inside by the chord error, those of a
    # rounded corner inside by the sag of its quarter's steps: all of it is added beforehand.
    tolerance = TOLERANCE
    while True:
        quarter = max(2, math.ceil(math.pi / 4 / math.sqrt(max(tolerance / max(gap, 0.01), 0.003))))
        sag = gap / 2 * (1.0 - math.cos(math.pi / 4 / quarter)) if gap else 0.0
        base = exact.buffer(gap / 2 + chord + sag + tolerance, quad_segs=quarter)
        rough = Polygon(base.exterior).simplify(tolerance)
        if len(rough.exterior.coords) <= CORNERS or tolerance >= COARSEST:
            return rough
        tolerance *= 1.6


class Way:
    """An outline at one turn, as its copies meet others above and below it.

    `A` is the outline at this turn, `B` the same turned by a half; both are held by the middle
    of their box.

    Parameters
    ----------
    polygon : Polygon
        Grown, at turn 0 [mm].
    outline : Outline
        Itself [mm].
    gap : float
        Between two copies [mm].
    turn : float
        Counter-clockwise [deg].
    """

    def __init__(self, polygon: Polygon, outline: Outline, gap: float, turn: float) -> None:
        import numpy as np

        self.turn, self.gap = turn, gap
        x0, y0, x1, y1 = outline.outer.mapped(_turning(turn)).bounds
        self.width, self.height = x1 - x0, y1 - y0
        self.middle = ((x0 + x1) / 2, (y0 + y1) / 2)
        c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
        points = np.asarray(polygon.exterior.coords)[::-1] @ np.array([[c, s], [-s, c]])
        points = points - self.middle
        self.reach = self.width + gap
        top, low = _crest(points), _crest(points * [1.0, -1.0])
        # The crest of B is the foot of A seen the other way round.
        self._tops = {"A": top, "B": (-low[0][::-1], low[1][::-1])}
        self._feet = {"A": (low[0], -low[1]), "B": (-top[0][::-1], -top[1][::-1])}
        self._nodes = np.linspace(-self.reach, self.reach, _NODES)
        self._tables: dict[str, Array] = {}

    def lift(self, pair: str, dx: Any) -> Array:
        """How much higher the second of a `pair` must lie than the first [mm], exactly.

        Parameters
        ----------
        pair : str
            ``"AA"``, ``"AB"`` or ``"BA"``: the lower and the upper.
        dx : array or float
            How far the upper one lies to the right [mm]; −inf comes back where they pass.
        """
        import numpy as np

        dx = np.asarray(dx, dtype=float)
        shift = dx.reshape(-1, 1)
        (tx, ty), (fx, fy) = self._tops[pair[0]], self._feet[pair[1]]
        low = ty - np.interp(tx - shift, fx, fy, left=np.inf, right=np.inf)
        high = np.interp(fx + shift, tx, ty, left=-np.inf, right=-np.inf) - fy
        needed = np.maximum(low.max(axis=1), high.max(axis=1)).reshape(dx.shape)
        # Boxes a gap apart are far enough, and exactly known.
        needed = np.minimum(needed, self.height + self.gap)
        return np.where(np.abs(dx) < self.reach - 1e-9, needed, -np.inf)

    def about(self, pair: str, dx: Array) -> Array:
        """`lift` [mm] read from a table: fast, near, and not to be relied on; `dx` in mm."""
        import numpy as np

        if pair not in self._tables:
            inner = self._nodes * (1.0 - 1e-7)
            self._tables[pair] = self.lift(pair, inner)
        table = self._tables[pair]
        found = np.interp(dx, self._nodes, table)
        return np.where(np.abs(dx) < self.reach - 1e-9, found, -np.inf)


def _turning(degrees: float) -> Callable[[tuple[float, float]], tuple[float, float]]:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return lambda p: (c * p[0] - s * p[1], s * p[0] + c * p[1])


def _crest(points: Array) -> tuple[Array, Array]:
    """The upper edge of a polygon seen from above, as a line of rising x.

    Where the edge jumps (an overhang, an upright side) the higher side is kept a hair wider.
    """
    import numpy as np

    a, b = points[:-1], points[1:]
    swapped = (a[:, 0] > b[:, 0])[:, None]
    a, b = np.where(swapped, b, a), np.where(swapped, a, b)
    xs = np.unique(points[:, 0])
    keep = np.concatenate([[True], np.diff(xs) > 1e-6])
    xs = xs[keep]
    left, right = xs[:-1], xs[1:]
    middle = (left + right) / 2
    run = np.where(b[:, 0] - a[:, 0] > 1e-6, b[:, 0] - a[:, 0], np.inf)[:, None]
    slope = (b[:, 1] - a[:, 1])[:, None] / run
    start, end = a[:, 0][:, None], b[:, 0][:, None]
    height = a[:, 1][:, None] + slope * (middle - start)
    height = np.where((start <= middle) & (end >= middle) & np.isfinite(run), height, -np.inf)
    on = height.argmax(axis=0)
    at = np.arange(len(middle))
    half = (right - left) / 2
    low = height[on, at] - slope[on, 0] * half
    high = height[on, at] + slope[on, 0] * half
    # At each x the higher of what comes from the left and from the right; the lower one is
    # moved aside by a hair, so that no reading between two x misses the step.
    hair = 1e-7
    x = np.column_stack([left, right]).ravel()
    y = np.column_stack([low, high]).ravel()
    step = np.zeros_like(x)
    down = high[:-1] > low[1:] + 1e-12
    up = high[:-1] < low[1:] - 1e-12
    step[2::2][down] = hair
    step[1:-1:2][up] = -hair
    return x + step, y
