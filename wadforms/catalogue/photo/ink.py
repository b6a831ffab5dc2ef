"""Parts what is drawn from the paper, under light that is not even."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from wadforms.catalogue.outlines.refusal import Refused, refused
from wadforms.geometry.contour import Point

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Grey = NDArray[np.float32]

SPECK: Final = 400
"""What encloses less is a speck [pixels²], about 20 × 20."""

BLUR: Final = 1.0
"""Standard deviation of the blur that takes the grain out of a picture [pixels]."""

_THUMB: Final = 160  # pixels of the longer side of the picture to which the light is fitted
_FAINT: Final = 0.12  # share of the paper's light by which ink is darker at least
_GRAIN: Final = 6.0  # standard deviations of the grain by which it is darker at least
_PAPER: Final = 0.9  # share of the light at a place above which a pixel is paper
_DARKEST: Final = 0.02  # share of white below which no light is told
_WIDE: Final = 13  # parts in 320 of the picture's longer side that no line is wide
_DIM: Final = 0.05  # share of white that the paper has at least
_CORE: Final = 25  # percentile of what is dark that stands for ink: its edges are half paper
_EQUAL: Final = 0.5  # share of the largest shape's area from which another is its equal
_LINE: Final = 0.12  # line width over the root of the area enclosed, up to which it is a line
_TRIED: Final = 40  # widths of a gap, up to two thirds of the line's extent
_HOLLOW: Final = 0.5  # of the step from ink to paper outside that is also seen inside of a line
_OPEN: Final = 0.02  # squared width over the area of the ink, below which it is an open line


class Blot(NamedTuple):
    """One connected dark thing.

    Parameters
    ----------
    outside : array of int
        Its pixels on the outside, in order.
    holes : list of arrays of int
        The same around each hole that is no speck, the largest first.
    enclosed : float
        Area within its outside [pixels²].
    inked : float
        Area of itself [pixels²].
    touches : bool
        Whether it reaches the border of what is looked at.
    """

    outside: NDArray[np.int32]
    holes: list[NDArray[np.int32]]
    enclosed: float
    inked: float
    touches: bool

    @property
    def middle(self) -> Point:
        """The middle of its box [pixels]."""
        low, high = self.outside.min(axis=0), self.outside.max(axis=0)
        return float(low[0] + high[0]) / 2, float(low[1] + high[1]) / 2


class Chosen(NamedTuple):
    """The thing that was taken.

    Parameters
    ----------
    blot : Blot
        It.
    equals : int
        How many of about its size there are, itself included.
    among : int
        How many there are that are no specks.
    """

    blot: Blot
    equals: int
    among: int


def evened(grey: Grey, seen: NDArray[np.uint8] | None, *, light: bool, line: bool = False) -> Grey:
    """How dark each pixel is against the paper around it: paper is 1 wherever the light falls.

    The light on the paper is a surface of the third degree, fitted to what is lightest and then
    to all that is about as light; what is drawn is darker and has no say in it.

    Parameters
    ----------
    grey : array of float
        How light each pixel is, as a share of white.
    seen : array of bytes or None
        Where to look: the rest is taken for paper.
    light : bool
        Whether the drawing is lighter than its ground.
    line : bool
        Whether only lines are looked for: then the light may change quickly, as at the edge of a
        shadow, for all that is wider than a line is the light.

    Raises
    ------
    Refused
        All is dark.

    Examples
    --------
    >>> import numpy as np
    >>> ramp = np.tile(np.linspace(0.4, 0.9, 200, dtype=np.float32), (100, 1))
    >>> bool(abs(evened(ramp, None, light=False) - 1.0).max() < 0.02)
    True
    """
    import cv2
    import numpy as np

    if light:
        grey = 1.0 - grey
    factor = min(1.0, _THUMB / max(grey.shape))
    small = cv2.resize(grey, None, fx=factor, fy=factor, interpolation=cv2.INTER_AREA)
    rows, columns = small.shape
    y, x = np.mgrid[-1 : 1 : rows * 1j, -1 : 1 : columns * 1j]
    terms = np.stack([x**i * y**j for i in range(4) for j in range(4 - i)], axis=-1)
    use = np.ones(small.shape, bool)
    if seen is not None:
        use = cv2.resize(seen, (columns, rows), interpolation=cv2.INTER_AREA) == 255
    basis, value = terms[use], small[use].astype(np.float64)
    weight = np.ones(len(value))
    for _ in range(12):  # what is above the surface weighs fifty times what is below
        root = np.sqrt(weight)[:, None]
        fit = np.linalg.lstsq(basis * root, value * root[:, 0], rcond=None)[0]
        weight = np.where(value > basis @ fit, 0.98, 0.02)
    for _ in range(3):
        paper = value > _PAPER * (basis @ fit)
        if paper.sum() < 2 * basis.shape[1]:
            break
        fit = np.linalg.lstsq(basis[paper], value[paper], rcond=None)[0]
    if float(np.median(basis @ fit)) < _DIM:
        raise _nothing()
    surface = np.maximum(terms @ fit, _DARKEST).astype(np.float32)
    even = grey / cv2.resize(surface, grey.shape[::-1], interpolation=cv2.INTER_LINEAR)
    if line:
        coarse = cv2.resize(even, (2 * columns, 2 * rows), interpolation=cv2.INTER_AREA)
        wide = cv2.morphologyEx(coarse, cv2.MORPH_CLOSE, np.ones((_WIDE, _WIDE), np.uint8))
        wide = np.maximum(cv2.GaussianBlur(wide, (0, 0), 2.0), _DARKEST)
        even = even / cv2.resize(wide, grey.shape[::-1], interpolation=cv2.INTER_LINEAR)
    even = cv2.GaussianBlur(even, (0, 0), BLUR)
    if seen is not None:
        even = np.where(seen == 255, even, 1.0)
    result: Grey = np.ascontiguousarray(even, np.float32)
    return result


def first_level(even: Grey) -> float:
    """Half way from the paper to what is darkest on it, as a share of the paper's light.

    Raises
    ------
    Refused
        Nothing is dark enough, or the grain of the picture is as dark.
    """
    import numpy as np

    grain = 1.4826 * float(np.median(np.abs(even[:, 8:] - even[:, :-8]))) / math.sqrt(2.0)
    limit = 1.0 - max(_FAINT, _GRAIN * grain)
    dark = even[even < limit]
    if limit <= 0.0 or len(dark) < SPECK // 4:
        raise _nothing()
    return (1.0 + float(np.percentile(dark, _CORE))) / 2.0


def _nothing() -> Refused:
    given = "a picture in which nothing stands out from the paper"
    return refused(given, "give a dark shape on light paper, or say that it is light on dark")


def own_level(even: Grey, blot: Blot) -> float:
    """Half way from the paper to the ink of one blot, as a share of the paper's light."""
    import numpy as np

    low, inside = _cut_out(blot)
    h, w = inside.shape
    part = even[low[1] : low[1] + h, low[0] : low[0] + w]
    return (1.0 + float(np.percentile(part[inside > 0], _CORE))) / 2.0


def blots(even: Grey, level: float, seen: NDArray[np.uint8] | None) -> list[Blot]:
    """All dark things that are no specks, the largest first.

    Parameters
    ----------
    even : array of float
        See `evened`.
    level : float
        What is darker is ink, as a share of the paper's light.
    seen : array of bytes or None
        Where to look.
    """
    import cv2
    import numpy as np

    dark = (even < level).astype(np.uint8)
    contours, tree = cv2.findContours(dark, cv2.RETR_CCOMP, cv2.CHAIN_APPROX_NONE)
    if tree is None:
        return []
    edge = None if seen is None else cv2.erode(seen, np.ones((5, 5), np.uint8))
    rings = [contour.reshape(-1, 2).astype(np.int32, copy=False) for contour in contours]
    holes: dict[int, list[int]] = {}
    for k, link in enumerate(tree[0]):
        if link[3] >= 0:
            holes.setdefault(int(link[3]), []).append(k)
    found = []
    for k, link in enumerate(tree[0]):
        enclosed = float(cv2.contourArea(contours[k])) if link[3] < 0 else 0.0
        if enclosed < SPECK:
            continue
        ring, inner = rings[k], holes.get(k, [])
        empty = sum(float(cv2.contourArea(contours[i])) for i in inner)
        large = [i for i in inner if cv2.contourArea(contours[i]) >= SPECK]
        large.sort(key=lambda i: -cv2.contourArea(contours[i]))
        found.append(
            Blot(
                ring,
                [rings[i] for i in large],
                enclosed,
                max(enclosed - empty, 0.0),
                _touches(ring, even.shape, edge),
            )
        )
    return sorted(found, key=lambda blot: -blot.enclosed)


def _touches(ring: Any, shape: tuple[int, ...], edge: Any) -> bool:
    x, y = ring[:, 0], ring[:, 1]
    if x.min() < 2 or y.min() < 2 or x.max() > shape[1] - 3 or y.max() > shape[0] - 3:
        return True
    return edge is not None and bool((edge[y, x] < 255).any())


def choose(found: Sequence[Blot], near: Point | None, shown: Any) -> Chosen:
    """The largest blot, or the one at a place.

    Parameters
    ----------
    found : sequence of Blot
        The largest first.
    near : (float, float) or None
        A place in or beside it [pixels]: the smallest around it is taken, else the nearest.
    shown : callable
        Tells a place for a message.

    Raises
    ------
    Refused
        There is none, or it reaches the border.
    """
    import cv2

    if not found:
        right = f"give a shape that encloses more than {SPECK} pixels"
        raise refused("a picture with nothing but specks", right)
    blot = found[0]
    if near is not None:
        far = [cv2.pointPolygonTest(b.outside.reshape(-1, 1, 2), near, True) for b in found]
        around = [b for b, distance in zip(found, far, strict=True) if distance >= 0.0]
        blot = around[-1] if around else found[far.index(max(far))]
    if blot.touches:
        given = f"a shape around {shown(blot.middle)} that reaches the border"
        right = "cut the picture to the paper, tell which sheet it is, or name a place in another"
        raise refused(given, right)
    whole = [b for b in found if not b.touches]
    equals = sum(_EQUAL <= b.enclosed / blot.enclosed <= 1 / _EQUAL for b in whole)
    return Chosen(blot, equals, len(whole))


def width_of(blot: Blot) -> float:
    """How thick the ink is at its thickest [pixels]."""
    import cv2

    _, inside = _cut_out(blot)
    return 2.0 * float(cv2.distanceTransform(inside, cv2.DIST_L2, 5).max())


def is_line(blot: Blot, width: float) -> bool:
    """Whether it is a closed line around something; `width` of the ink [pixels]."""
    return bool(blot.holes) and width <= _LINE * math.sqrt(blot.enclosed)


def is_hollow(grey: Grey, blot: Blot, width: float) -> bool:
    """Whether there is paper again within it, and not more of its ink; `width` of it [pixels].

    Where all that is wide was taken for light, a filled shape leaves a band along its edge that
    looks like a line.  What is close by on both sides of it in the picture itself tells them apart.
    """
    import cv2
    import numpy as np

    low, high = blot.outside.min(axis=0) - 2, blot.outside.max(axis=0) + 3
    (left, top), inside = _cut_out(blot)
    reach = math.ceil(max(width, 4.0))
    pad = min(reach, left, top, grey.shape[1] - int(high[0]), grey.shape[0] - int(high[1]))
    pad = max(pad, 0)
    inside = np.pad(inside, pad)
    part = grey[int(low[1]) - pad : int(high[1]) + pad, int(low[0]) - pad : int(high[0]) + pad]
    away = cv2.distanceTransform(1 - inside, cv2.DIST_L2, 5)
    beside = (away > min(reach / 2, pad + 1)) & (away <= reach)
    full = np.zeros_like(inside)
    ring = (blot.outside - low + pad).reshape(-1, 1, 2)
    cv2.drawContours(full, [ring], -1, 1, -1)
    within, outside = beside & (full > 0), beside & (full == 0)
    if not (within.any() and outside.any()):
        return bool(blot.holes)
    own = float(np.median(part[inside > 0]))
    inner, outer = float(np.median(part[within])), float(np.median(part[outside]))
    return abs(inner - own) >= _HOLLOW * abs(outer - own)


def is_open(blot: Blot, width: float) -> bool:
    """Whether it is a line that encloses nothing; `width` of the ink [pixels]."""
    return not blot.holes and width**2 <= _OPEN * blot.inked


def gap(blot: Blot) -> tuple[Point, float] | None:
    """Where an open line comes nearest to closing [pixels], and how wide that gap is [pixels].

    Ink grown by half the gap's width closes it.  That width is found by halving, and the place is
    where what is then enclosed lies nearest to what is outside.
    """
    import cv2
    import numpy as np

    low, inside = _cut_out(blot)
    pad = max(inside.shape) // 3
    inside = np.pad(inside, pad)
    away = cv2.distanceTransform(1 - inside, cv2.DIST_L2, 5)
    # Ink grown too far fills up what it should enclose, so the first that closes is looked for.
    tried = [pad * k / _TRIED for k in range(1, _TRIED + 1)]
    large = next((reach for reach in tried if _enclosed(away, reach) is not None), None)
    if large is None:
        return None
    small = large - pad / _TRIED
    while large - small > 0.25:
        half = (small + large) / 2
        small, large = (half, large) if _enclosed(away, half) is None else (small, half)
    hole = _enclosed(away, large)
    assert hole is not None  # noqa: S101 - large always encloses
    outside, within = hole
    reach = np.ones((3, 3), np.uint8)
    for _ in range(pad):
        both = (outside > 0) & (within > 0)
        if both.any():
            break
        outside, within = cv2.dilate(outside, reach), cv2.dilate(within, reach)
    ys, xs = np.nonzero(both)
    place = float(xs.mean()) - pad + low[0], float(ys.mean()) - pad + low[1]
    return place, 2.0 * large


def _enclosed(away: Any, reach: float) -> tuple[Any, Any] | None:
    """What is outside of grown ink, and what it encloses; None where that is nothing."""
    import cv2
    import numpy as np

    count, labels, stats, _ = cv2.connectedComponentsWithStats(
        (away > reach).astype(np.uint8), connectivity=4
    )
    outer = labels[0, 0]
    inner = [k for k in range(1, count) if k != outer and stats[k, cv2.CC_STAT_AREA] >= 9]
    if not inner:
        return None
    return (labels == outer).astype(np.uint8), np.isin(labels, inner).astype(np.uint8)


def _cut_out(blot: Blot) -> tuple[tuple[int, int], NDArray[np.uint8]]:
    """A blot alone, 1 where it is, and where the corner of that piece lies in the picture."""
    import cv2
    import numpy as np

    low, high = blot.outside.min(axis=0) - 2, blot.outside.max(axis=0) + 3
    inside = np.zeros((high[1] - low[1], high[0] - low[0]), np.uint8)
    cv2.drawContours(inside, [(blot.outside - low).reshape(-1, 1, 2)], -1, 1, -1)
    for hole in blot.holes:
        # A hole's ring runs on the ink around it, which stays.
        ring = (hole - low).reshape(-1, 1, 2)
        cv2.drawContours(inside, [ring], -1, 0, -1)
        cv2.drawContours(inside, [ring], -1, 1, 1)
    return (int(low[0]), int(low[1])), inside
