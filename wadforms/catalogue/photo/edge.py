"""Follows an edge in a picture to a part of a pixel, and the middle of a line."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Grey = NDArray[np.float32]
    Points = NDArray[np.float64]

_OUT: Final = 2.5  # how far beyond the outermost dark pixel the edge is looked for [pixels]
_IN: Final = 1.5
_STEP: Final = 0.25
_TIP: Final = 1.25  # times a line's width; where its edges are farther apart is a tip
_MOST: Final = 30_000  # rows of one table of samples: OpenCV's own limit is 32 767


class Edge(NamedTuple):
    """An edge that was followed.

    Parameters
    ----------
    points : array of float
        Along it, in order, closed [pixels].
    width : float
        How far the light takes to go from ink to paper, by its steepest rise [pixels].
    """

    points: Points
    width: float


def follow(even: Grey, ring: NDArray[np.int32], level: float) -> Edge:
    """The curve on which the light is at `level`, beside a ring of dark pixels.

    At each of them the light is sampled along its steepest rise, and the place where it passes
    the level is interpolated.

    Parameters
    ----------
    even : array of float
        How dark each pixel is against the paper; see `ink.evened`.
    ring : array of int
        The dark pixels beside the edge, in order [pixels].
    level : float
        As a share of the paper's light.
    """
    import cv2
    import numpy as np

    low = np.maximum(ring.min(axis=0) - 8, 0)
    high = ring.max(axis=0) + 9
    part = np.ascontiguousarray(even[low[1] : high[1], low[0] : high[0]])
    calm = cv2.GaussianBlur(part, (0, 0), 1.0)
    rise = np.stack([cv2.Sobel(calm, cv2.CV_32F, 1, 0), cv2.Sobel(calm, cv2.CV_32F, 0, 1)], -1)
    start = (ring - low).astype(np.float64)
    way = rise[ring[:, 1] - low[1], ring[:, 0] - low[0]].astype(np.float64)
    steep = np.linalg.norm(way, axis=1)
    start, way = start[steep > 1e-6], way[steep > 1e-6] / steep[steep > 1e-6, None]
    steps = np.arange(-_IN, _OUT + _STEP / 2, _STEP)
    found, slopes = [], []
    for first in range(0, len(start), _MOST):
        p, u = start[first : first + _MOST], way[first : first + _MOST]
        places = (p[:, None, :] + steps[None, :, None] * u[:, None, :]).astype(np.float32)
        light = cv2.remap(part, places[..., 0], places[..., 1], cv2.INTER_LINEAR)
        passes = (light[:, :-1] < level) & (light[:, 1:] >= level)
        # Of several passages the one nearest to the dark pixel's own edge.
        cost = np.where(passes, np.abs(steps[:-1] - 0.5), np.inf)
        k = np.argmin(cost, axis=1)
        row = np.arange(len(k))
        good = passes[row, k]
        row, k = row[good], k[good]
        below, above = light[row, k].astype(np.float64), light[row, k + 1].astype(np.float64)
        at = steps[k] + _STEP * (level - below) / (above - below)
        found.append(p[row] + at[:, None] * u[row])
        slopes.append(np.diff(light[row], axis=1).max(axis=1) / _STEP)
    slope = float(np.median(np.concatenate(slopes))) if len(start) else 0.0
    points = np.concatenate(found) + low if found else start
    return Edge(points, 2.0 * (1.0 - level) / slope if slope > 0.0 else 0.0)


def middle(outer: Points, inner: Points) -> tuple[Points, float]:
    """The middle of a line between its two edges, and how wide the line is [pixels].

    Where it ends in a tip there are no points.

    Parameters
    ----------
    outer, inner : array of float
        The closed edges [pixels].

    Examples
    --------
    >>> import numpy as np
    >>> turn = np.linspace(0, 2 * np.pi, 400, endpoint=False)
    >>> ring = np.column_stack([np.cos(turn), np.sin(turn)])
    >>> points, width = middle(52 * ring, 48 * ring)
    >>> round(float(np.linalg.norm(points, axis=1).mean()), 2), round(width, 2)
    (50.0, 4.0)
    """
    import numpy as np
    import shapely

    other = shapely.LinearRing(inner)
    shapely.prepare(other)
    nearest = shapely.get_coordinates(shapely.shortest_line(shapely.points(outer), other))[1::2]
    across = np.linalg.norm(nearest - outer, axis=1)
    width = float(np.median(across))
    # In a tip the inner edge stays behind; there the middle is left to what carries its sides on.
    level = across <= _TIP * width
    return (outer[level] + nearest[level]) / 2.0, width
