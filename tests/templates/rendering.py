"""Turns drawings into pixels through programs that are not ours; skips where one is missing."""

from __future__ import annotations

import io
import shutil
import subprocess
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
import reading

from wadforms.templates.drawing import Drawing
from wadforms.templates.pdf import pdf
from wadforms.templates.svg import svg

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

BROWSERS = ("chromium", "chromium-browser", "google-chrome")
RENDERERS = ("cairo", "poppler", "browser")


def render(drawing: Drawing, renderer: str, per_mm: float, folder: Path) -> NDArray[np.uint8]:
    """A drawing as grey pixels; a browser takes the nearest scale that it can."""
    if renderer == "cairo":
        return reading.pixels(svg(drawing), per_mm)
    if renderer == "poppler":
        return poppler(pdf([drawing]), per_mm, folder)[0]
    return browser(svg(drawing), drawing, per_mm, folder)


def poppler(data: bytes, per_mm: float, folder: Path) -> list[NDArray[np.uint8]]:
    """The pages of a PDF file as grey pixels, through poppler (Debian: poppler-utils)."""
    import numpy as np
    from PIL import Image

    program = shutil.which("pdftoppm")
    if program is None:
        pytest.skip("needs pdftoppm (Debian: poppler-utils)")
    (folder / "in.pdf").write_bytes(data)
    per_inch = f"{per_mm * 25.4:.6f}"
    subprocess.run([program, "-r", per_inch, "-gray", "in.pdf", "page"], cwd=folder, check=True)
    # Not as PNG: to pack and unpack a page takes longer than to draw it.
    found = sorted(folder.glob("page-*.pgm"))
    pages = [np.asarray(Image.open(io.BytesIO(file.read_bytes())).convert("L")) for file in found]
    for file in found:
        file.unlink()
    return pages


def browser(data: bytes, drawing: Drawing, per_mm: float, folder: Path) -> NDArray[np.uint8]:
    """An SVG file as grey pixels, through a browser's screenshot."""
    import numpy as np
    from PIL import Image

    program = next(filter(None, map(shutil.which, BROWSERS)), None)
    if program is None:
        pytest.skip("needs a browser (Debian: chromium)")
    (folder / "in.svg").write_bytes(data)
    wide, high = (round(side / reading.MM) + 2 for side in (drawing.width, drawing.height))
    subprocess.run(
        [
            program,
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--hide-scrollbars",
            f"--user-data-dir={folder / 'profile'}",
            f"--force-device-scale-factor={per_mm * reading.MM:.6f}",
            f"--window-size={wide},{high}",
            f"--screenshot={folder / 'shot.png'}",
            (folder / "in.svg").as_uri(),
        ],
        check=True,
        capture_output=True,
        timeout=120,
    )
    return np.asarray(Image.open(folder / "shot.png").convert("L"))


def inked(pixels: NDArray[np.uint8], per_mm: float) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of all ink [mm], to a part of a pixel by its greys."""
    import numpy as np

    dark = 255.0 - pixels.astype(float)
    found = []
    for axis in (0, 1):
        most = dark.max(axis=axis)
        full = most.max()
        (at,) = np.nonzero(most > 0.02 * full)
        # A pixel that is covered in part is as grey as the part that is covered.
        found.append((at[0] + 1 - most[at[0]] / full, at[-1] + most[at[-1]] / full))
    (left, right), (top, bottom) = found
    return left / per_mm, top / per_mm, right / per_mm, bottom / per_mm
