"""How large things in a picture are: by the shape's own extent, two points, or a sheet of paper."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Final, Literal, NamedTuple, TypeAlias

from wadforms.catalogue.outlines.refusal import Refused, refused
from wadforms.geometry.contour import Point

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Points: TypeAlias = NDArray[np.float64]

_THUMB: Final = 800  # pixels of the longer side of the picture in which a sheet is looked for
_LEAST_SHARE: Final = 0.1  # of the picture that a sheet fills
_SOLID: Final = 0.95  # share of its hull that a sheet fills: it has no bays
_SAME: Final = 1.08  # ratio of sides below which nobody can tell the longer ones
_SAMPLES: Final = 200  # places along a side where its edge is looked for
_KEPT: Final = 0.5  # share of them that must lie on one line
_LENS: Final = (0.5, 2.5)  # distances of a lens from its picture, by the picture's longer side
_SQUARE: Final = 0.02  # cosine of an angle that is still right, about 1°
_UNLIKE: Final = 0.04  # share by which sides do not fit; A4 and Letter are 9 % apart
_ALIKE: Final = 0.025  # share by which they still fit
_BOWED: Final = 0.01  # share of its length by which a side may bow


class Extent(NamedTuple):
    """The shape's own width or height.

    Parameters
    ----------
    along : str
        ``"width"``, along the picture's rows, or ``"height"``, along its columns.
    length : float
        [mm]
    """

    along: Literal["width", "height"]
    length: float


class Between(NamedTuple):
    """The distance of two points of the picture.

    Parameters
    ----------
    start, end : (float, float)
        The points [pixels], x to the right and y down.
    length : float
        From one to the other [mm].
    """

    start: Point
    end: Point
    length: float


class Sheet(NamedTuple):
    """A whole sheet of light paper on a darker ground, on which the shape is.

    Parameters
    ----------
    width, height : float
        Of the sheet, either way round [mm].
    name : str
        What such a sheet is called; empty where it has no name.
    others : tuple of Sheet
        What it might be instead.
    """

    width: float
    height: float
    name: str = ""
    others: tuple[Sheet, ...] = ()

    @property
    def ratio(self) -> float:
        """Its longer side over its shorter one."""
        return max(self.width, self.height) / min(self.width, self.height)


Known: TypeAlias = Extent | Between | Sheet


class Plane(NamedTuple):
    """How pixels of the picture lie in the plane of the drawing.

    Parameters
    ----------
    matrix : tuple of float
        The nine numbers of a homography from pixels to mm with y up, row by row [mm].
    corners : tuple of points
        Of the sheet that tells it [pixels]; empty where none does.
    """

    matrix: tuple[float, ...]
    corners: tuple[Point, ...] = ()

    @classmethod
    def even(cls, scale: float) -> Plane:
        """One scale everywhere; `scale` in mm per pixel.

        Examples
        --------
        >>> import numpy as np
        >>> Plane.even(0.5).to_mm(np.array([[10.0, 20.0]])).tolist()
        [[5.0, -10.0]]
        """
        return cls((scale, 0.0, 0.0, 0.0, -scale, 0.0, 0.0, 0.0, 1.0))

    def to_mm(self, pixels: Points) -> Points:
        """Where pixels lie [mm]."""
        import numpy as np

        return _mapped(np.array(self.matrix).reshape(3, 3), pixels)

    def to_pixels(self, places: Points) -> Points:
        """At which pixels places lie."""
        import numpy as np

        return _mapped(np.linalg.inv(np.array(self.matrix).reshape(3, 3)), places)

    def resolution(self, pixel: Point) -> float:
        """How large a pixel is at a place of the picture [mm], the mean of all directions."""
        import numpy as np

        x, y = pixel
        around = np.array([[x - 1, y], [x + 1, y], [x, y - 1], [x, y + 1]])
        left, right, up, down = self.to_mm(around)
        (a, b), (c, d) = (right - left) / 2, (down - up) / 2
        return float(abs(a * d - b * c) ** 0.5)


def _mapped(matrix: Points, points: Points) -> Points:
    import numpy as np

    whole = np.column_stack([points, np.ones(len(points))]) @ matrix.T
    mapped: Points = whole[:, :2] / whole[:, 2:]
    return mapped


def sheet_plane(grey: NDArray[np.float32], sheet: Sheet) -> Plane:
    """Find a sheet of paper, and by its corners how the plane lies in the picture.

    Parameters
    ----------
    grey : array of float
        How light each pixel is, as a share of white.
    sheet : Sheet
        How large it is [mm].

    Raises
    ------
    Refused
        No sheet with four corners is there, or it cannot be told which sides are the longer ones.
    """
    import cv2
    import numpy as np

    rough = _rough_corners(grey)
    sides = [_edge(grey, rough[k], rough[(k + 1) % 4], _middle(rough)) for k in range(4)]
    corners = np.array([_meeting(sides[k - 1], sides[k]) for k in range(4)])
    height, width = grey.shape
    if corners.min() < 0 or corners[:, 0].max() > width - 1 or corners[:, 1].max() > height - 1:
        raise refused("a sheet whose corners are not all in the picture", "take in the whole sheet")
    spans = np.linalg.norm(np.roll(corners, -1, axis=0) - corners, axis=1)
    across, down = (spans[0] + spans[2]) / 2, (spans[1] + spans[3]) / 2
    long, short = max(sheet.width, sheet.height), min(sheet.width, sheet.height)
    if long / short > _SAME and max(across, down) / min(across, down) < _SAME:
        given = "a sheet seen so much from the side that its longer sides cannot be told"
        raise refused(given, "hold the camera more upright above it")
    w, h = (long, short) if across > down else (short, long)
    true = np.array([[0, h], [w, h], [w, 0], [0, 0]], np.float32)
    matrix = cv2.getPerspectiveTransform(corners.astype(np.float32), true)
    places = tuple((float(x), float(y)) for x, y in corners)
    return Plane(tuple(float(value) for value in matrix.ravel()), places)


def seen_ratio(corners: Sequence[Point], size: tuple[int, int]) -> tuple[float, float] | None:
    """Between which bounds the ratio of a sheet's sides lies, the longer over the shorter one.

    A camera with square pixels that looks along the middle of the picture sees the right angles of
    a sheet as such, and both its sides to one scale, at a single distance of its lens from the
    picture (Zhang and He, Digital Signal Processing 17 (2007) 414).  All distances that cameras
    have are tried, and those kept at which the angles are right as nearly as they get.

    Parameters
    ----------
    corners : sequence of (float, float)
        Of the sheet, in order [pixels].
    size : (int, int)
        Of the whole picture [pixels].

    Returns
    -------
    (float, float) or None
        None where no camera sees a sheet so, as in a part of a picture.

    Examples
    --------
    >>> straight = [(100, 100), (700, 100), (700, 500), (100, 500)]
    >>> low, high = seen_ratio(straight, (800, 600))
    >>> round(low, 3), round(high, 3)
    (1.5, 1.5)
    """
    import cv2
    import numpy as np

    middle = (np.array(size) - 1.0) / 2.0
    seen = ((np.array(corners) - middle) / max(size)).astype(np.float32)
    unit = np.array([[0, 1], [1, 1], [1, 0], [0, 0]], np.float32)
    matrix = cv2.getPerspectiveTransform(unit, seen)
    far = np.geomspace(*_LENS, 60)
    one, two = (
        np.vstack([np.outer(1 / far, column[:2]).T, [column[2]] * len(far)])
        for column in matrix.T[:2]
    )
    a, b = np.linalg.norm(one, axis=0), np.linalg.norm(two, axis=0)
    off = np.abs((one * two).sum(axis=0)) / (a * b)
    if off.min() > _SQUARE:
        return None
    ratios = (a / b)[off <= max(_SQUARE / 2, 2.0 * off.min())]
    ratios = np.maximum(ratios, 1.0 / ratios)
    return float(ratios.min()), float(ratios.max())


def other_sheet(sheet: Sheet, seen: tuple[float, float]) -> Sheet | None:
    """The sheet whose sides fit what is seen, where those of the one that is said do not.

    Parameters
    ----------
    sheet : Sheet
        What it is said to be [mm].
    seen : (float, float)
        The bounds of the ratio of its sides; see `seen_ratio`.

    Examples
    --------
    >>> letter = Sheet(215.9, 279.4, "letter", (Sheet(210.0, 297.0, "a4"),))
    >>> other_sheet(letter, (1.40, 1.42)).name, other_sheet(letter, (1.28, 1.31))
    ('a4', None)
    """
    if _off(sheet, seen) < _UNLIKE:
        return None
    best = min(sheet.others, key=lambda one: _off(one, seen), default=None)
    return best if best is not None and fits(best, seen) else None


def fits(sheet: Sheet, seen: tuple[float, float]) -> bool:
    """Whether the sides of a sheet are as what is seen.

    Parameters
    ----------
    sheet : Sheet
        One that it may be [mm].
    seen : (float, float)
        The bounds of the ratio of its sides; see `seen_ratio`.

    Examples
    --------
    >>> fits(Sheet(210.0, 297.0), (1.40, 1.42)), fits(Sheet(215.9, 279.4), (1.40, 1.42))
    (True, False)
    """
    return _off(sheet, seen) < _ALIKE


def _off(sheet: Sheet, seen: tuple[float, float]) -> float:
    """By what share the sides of a sheet are off what is seen."""
    return max(seen[0] / sheet.ratio, sheet.ratio / seen[1], 1.0) - 1.0


def _rough_corners(grey: NDArray[np.float32]) -> Points:
    """The corners of the largest light area, from the upper left one clockwise as seen."""
    import cv2
    import numpy as np

    where = "lay the whole sheet on a darker ground, with room around it"
    factor = min(1.0, _THUMB / max(grey.shape))
    small = cv2.resize(grey, None, fx=factor, fy=factor, interpolation=cv2.INTER_AREA)
    small = cv2.GaussianBlur(np.clip(small * 255, 0, 255).astype(np.uint8), (0, 0), 1.5)
    _, light = cv2.threshold(small, 0, 255, cv2.THRESH_BINARY | cv2.THRESH_OTSU)
    contours, _ = cv2.findContours(light, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    found = max(contours, key=cv2.contourArea, default=None)
    if found is None or cv2.contourArea(found) < _LEAST_SHARE * small.size:
        raise refused("a picture in which no sheet of paper is found", where)
    x, y, w, h = cv2.boundingRect(found)
    if x < 1 or y < 1 or x + w > small.shape[1] - 1 or y + h > small.shape[0] - 1:
        raise refused("a sheet that reaches the edge of the picture, or a ground as light", where)
    hull = cv2.convexHull(found)
    area, around = cv2.contourArea(hull), cv2.arcLength(hull, True)
    for share in (0.01, 0.02, 0.03, 0.05):
        quad = cv2.approxPolyDP(hull, share * around, True).reshape(-1, 2)
        if len(quad) == 4:
            break
    solid = cv2.contourArea(found) > _SOLID * area
    if len(quad) != 4 or not solid or abs(cv2.contourArea(quad) / area - 1) > 0.06:
        raise refused("a light area that is no sheet with four corners", where)
    # The centre of a pixel of the small picture lies between those that it is made of.
    places = (quad.astype(np.float64) + 0.5) / factor - 0.5
    middle = _middle(places)
    turn = np.arctan2(places[:, 1] - middle[1], places[:, 0] - middle[0])
    places = places[np.argsort(turn)]  # y points down, so this runs clockwise as seen
    ordered: Points = np.roll(places, -int(np.argmin(places.sum(axis=1))), axis=0)
    return ordered


def _middle(points: Points) -> Points:
    middle: Points = points.mean(axis=0)
    return middle


def _edge(grey: NDArray[np.float32], a: Points, b: Points, inside: Points) -> Any:
    """The line along which the paper ends between two rough corners: a point and a direction."""
    import cv2
    import numpy as np

    span = float(np.linalg.norm(b - a))
    along = (b - a) / span
    out = np.array([along[1], -along[0]])
    if out @ (inside - a) > 0:
        out = -out
    reach = max(6.0, 0.015 * span)
    at = np.linspace(0.06, 0.94, _SAMPLES)
    steps = np.arange(-reach, reach + 0.5, 0.5)
    places = (a + np.outer(at, b - a))[:, None, :] + steps[None, :, None] * out
    shape = places.astype(np.float32)
    seen = cv2.remap(
        grey, shape[..., 0], shape[..., 1], cv2.INTER_LINEAR, None, cv2.BORDER_REPLICATE
    )
    seen = cv2.blur(seen, (3, 1))
    drop = seen[:, :-2] - seen[:, 2:]
    k = np.argmax(drop, axis=1)
    # The middle of a fall in brightness is where the paper ends; its centroid keeps a part of it.
    window = np.clip(k[:, None] + np.arange(-3, 4), 0, drop.shape[1] - 1)
    weight = np.clip(np.take_along_axis(drop, window, axis=1), 0, None)
    offset = (weight * steps[window + 1]).sum(axis=1) / np.maximum(weight.sum(axis=1), 1e-9)
    x = at * span
    good = drop.max(axis=1) > 0.3 * np.median(drop.max(axis=1))
    for _ in range(6):
        if good.sum() < _KEPT * _SAMPLES:
            break
        slope, level = np.polyfit(x[good], offset[good], 1)
        miss = np.abs(offset - level - slope * x)
        good = miss <= max(1.0, 3.0 * float(np.median(miss[good])))
    if good.sum() < _KEPT * _SAMPLES or np.median(miss) > _BOWED * span:
        given = "a sheet whose sides are not straight or not clear"
        raise refused(given, "lay it flat, without a fold, on a darker ground")
    return a + level * out, along + slope * out


def _meeting(first: Any, second: Any) -> Points:
    """Where two lines meet."""
    import numpy as np

    (p, u), (q, v) = first, second
    try:
        s, _ = np.linalg.solve(np.column_stack([u, -v]), q - p)
    except np.linalg.LinAlgError:
        raise Refused(("a sheet without corners", "lay the whole sheet flat")) from None
    place: Points = p + s * u
    return place
