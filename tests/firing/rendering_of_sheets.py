"""Where the ink of PDF pages lies, as poppler renders them."""

from __future__ import annotations

import io
import shutil
import subprocess
from pathlib import Path

import pytest


def inked_pages(data: bytes, folder: Path) -> list[tuple[float, float, float, float]]:
    """Left, top, right and bottom of all ink of each page [mm], through poppler."""
    import numpy as np
    from PIL import Image

    program = shutil.which("pdftoppm")
    if program is None:
        pytest.skip("needs pdftoppm (Debian: poppler-utils)")
    (folder / "in.pdf").write_bytes(data)
    per_mm = 2.0
    resolution = f"{per_mm * 25.4:.3f}"
    subprocess.run(
        [program, "-r", resolution, "-gray", "-png", "in.pdf", "page"], cwd=folder, check=True
    )
    found = []
    for file in sorted(folder.glob("page-*.png")):
        dark = np.asarray(Image.open(io.BytesIO(file.read_bytes())).convert("L")) < 200
        (rows,), (columns,) = np.nonzero(dark.any(axis=1)), np.nonzero(dark.any(axis=0))
        left, right = columns[0] / per_mm, (columns[-1] + 1) / per_mm
        found.append((left, rows[0] / per_mm, right, (rows[-1] + 1) / per_mm))
    return found
