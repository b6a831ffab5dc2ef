"""Shows the outline on the picture that it was taken from, for the eye to check."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from wadforms.catalogue.photo.picture import Photo
from wadforms.catalogue.photo.tracing import Traced

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

LARGEST: Final = 2000
"""The longer side of the picture is drawn with as many pixels at most."""

_RED: Final = (138, 58, 34)
_BLUE: Final = (20, 90, 160)
_WHITE: Final = (255, 255, 255)
_BLACK: Final = (20, 20, 20)
_PARTS: Final = 4  # bits of a pixel's parts in OpenCV's coordinates
_BARS: Final = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0)


def overlay(photo: Photo, found: Traced) -> bytes:
    """The picture as PNG, with the outline, its corners, a bar of a stated length and the sheet.

    Examples
    --------
    >>> import numpy as np
    >>> from wadforms.catalogue.photo import Extent, Wanted, traced
    >>> y, x = np.mgrid[0:300, 0:400]
    >>> disk = np.where((x - 200) ** 2 + (y - 150) ** 2 < 100**2, 0.1, 0.9).astype(np.float32)
    >>> photo = Photo(np.zeros((300, 400, 3), np.uint8), disk, 1, "disk.png")
    >>> overlay(photo, traced(photo, Extent("width", 40.0), Wanted()))[1:4]
    b'PNG'
    """
    import cv2
    import numpy as np

    factor = min(1.0, LARGEST / max(photo.size))
    picture: Any = photo.colour
    if factor < 1.0:
        picture = cv2.resize(picture, None, fx=factor, fy=factor, interpolation=cv2.INTER_AREA)
    picture = np.ascontiguousarray(picture).copy()
    thick = max(1, round(max(picture.shape) / 900))

    def placed(mm: Any) -> NDArray[np.float64]:
        return (found.plane.to_pixels(np.asarray(mm, float)) + 0.5) * factor - 0.5

    for contour in found.outline.contours:
        line = placed(np.array(contour.flattened(0.02)) + found.origin)
        _draw(picture, line, _RED, thick, closed=True)
    if found.plane.corners:
        _sheet(picture, (np.array(found.plane.corners) + 0.5) * factor - 0.5, thick)
    _bar(picture, found, placed, thick)
    done, data = cv2.imencode(".png", cv2.cvtColor(picture, cv2.COLOR_RGB2BGR))
    assert done  # noqa: S101 - a picture in memory can always be packed
    return bytes(data)


def _draw(picture: Any, line: Any, ink: tuple[int, ...], thick: int, *, closed: bool) -> None:
    """A line with a white edge, so that it is seen on dark and on light."""
    import cv2
    import numpy as np

    points = [np.rint(line * (1 << _PARTS)).astype(np.int32).reshape(-1, 1, 2)]
    for colour, width in ((_WHITE, thick + 2), (ink, thick)):
        cv2.polylines(picture, points, closed, colour, width, cv2.LINE_AA, _PARTS)


def _sheet(picture: Any, corners: Any, thick: int) -> None:
    """The sheet's edge and a cross on each corner."""
    _draw(picture, corners, _BLUE, thick, closed=True)
    size = 12.0 * thick
    for x, y in corners:
        for dx, dy in ((size, size), (size, -size)):
            _draw(picture, _ends(x - dx, y - dy, x + dx, y + dy), _BLUE, thick, closed=False)


def _ends(x0: float, y0: float, x1: float, y1: float) -> Any:
    """The two ends of a line [pixels]."""
    import numpy as np

    return np.array([[x0, y0], [x1, y1]])


def _bar(picture: Any, found: Traced, placed: Any, thick: int) -> None:
    """A bar of a round length below the shape, lying in the plane of the drawing."""
    import cv2
    import numpy as np

    left, low, right, _ = found.outline.bounds
    fits = [length for length in _BARS if length <= 0.6 * (right - left)]
    length = fits[-1] if fits else _BARS[0]
    height, width = picture.shape[:2]
    scale = max(picture.shape) / 1500
    text = f"{length:g} mm"
    (wide, tall), _ = cv2.getTextSize(text, cv2.FONT_HERSHEY_SIMPLEX, scale, thick)
    middle = np.array([(left + right) / 2, low]) + found.origin
    half = np.array([length / 2, 0.0])
    ends = placed([middle - half, middle + half])
    # Below the shape, but within the picture.
    drop = min(height - 2.2 * tall, ends[:, 1].max() + 2.0 * tall) - ends[:, 1].max()
    ends[:, 1] += drop
    _draw(picture, ends, _BLACK, 2 * thick, closed=False)
    for x, y in ends:
        _draw(picture, _ends(x, y - tall / 2, x, y + tall / 2), _BLACK, thick, closed=False)
    x = int(np.clip(ends[:, 0].mean() - wide / 2, 0, max(width - wide, 0)))
    at = (x, int(min(ends[:, 1].max() + 1.9 * tall, height - 2)))
    for colour, pen in ((_WHITE, 4 * thick), (_BLACK, thick)):
        cv2.putText(picture, text, at, cv2.FONT_HERSHEY_SIMPLEX, scale, colour, pen, cv2.LINE_AA)
