"""Reads SVG files with a library that is not ours, and measures them in mm."""

from __future__ import annotations

import io
import math
from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

MM = 25.4 / 96
"""One CSS pixel [mm]: 1 in = 25.4 mm = 96 px (CSS Values and Units Module Level 3, 6.2)."""


def paths(data: bytes) -> list[Any]:
    """All paths of a file, in CSS pixels."""
    import svgelements

    found = svgelements.SVG.parse(io.StringIO(data.decode()), ppi=96.0).elements()
    return [element for element in found if isinstance(element, svgelements.Path)]


def size(path: Any) -> tuple[float, float]:
    """Width and height of a path [mm], without its stroke."""
    x0, y0, x1, y1 = path.bbox(with_stroke=False)
    return (x1 - x0) * MM, (y1 - y0) * MM


def area(path: Any) -> float:
    """Area of a path [mm²], its holes taken out: chords, and the circular segments of arcs.

    Centre and sweep of each arc are those that the reading library found.
    """
    import svgelements

    total = 0.0
    for segment in path:
        if isinstance(segment, svgelements.Move):
            continue
        a, b = segment.start, segment.end
        total += (a.x * b.y - b.x * a.y) / 2
        if isinstance(segment, svgelements.Arc):
            total += segment.rx**2 * (segment.sweep - math.sin(segment.sweep)) / 2
    return abs(total) * MM**2


def pixels(data: bytes, per_mm: float) -> NDArray[np.uint8]:
    """The file as grey pixels, through cairo; skips where its library is missing."""
    import numpy as np

    try:
        from cairosvg.parser import Tree
        from cairosvg.surface import PNGSurface
    except OSError:  # the Python package is there, the system's libcairo is not
        pytest.skip("needs the system's cairo library (Debian: libcairo2)")
    from PIL import Image

    # What it draws is taken as it is: to pack a page as PNG takes many times longer.
    drawn = PNGSurface(Tree(bytestring=data), None, 96.0, scale=per_mm * MM).cairo
    drawn.flush()
    size = (drawn.get_width(), drawn.get_height())
    whole = Image.frombytes(
        "RGBA", size, bytes(drawn.get_data()), "raw", "BGRa", drawn.get_stride(), 1
    )
    return np.asarray(whole.convert("L"))


def strokes(line: NDArray[np.uint8], per_mm: float) -> list[float]:
    """Middles of the dark strokes that a row or column of pixels crosses [mm]."""
    import numpy as np

    dark = 255.0 - line.astype(float)
    inked = np.flatnonzero(dark > 8)
    runs = np.split(inked, np.flatnonzero(np.diff(inked) > 1) + 1)
    return [float(np.average(run + 0.5, weights=dark[run])) / per_mm for run in runs if len(run)]
