"""The first picture of a fresh process, where nothing has loaded a renderer before."""

from __future__ import annotations

import io
import subprocess
import sys

import numpy as np
from PIL import Image

CODE = """
import sys
from wadforms.families import family
from wadforms.moulds.meshes.assembly import meshed
from wadforms.moulds.picture import picture
sys.stdout.buffer.write(picture([meshed(family("disk")().piece().body)], width=300, height=200))
"""


def test_it_is_drawn() -> None:
    made = subprocess.run([sys.executable, "-c", CODE], check=True, capture_output=True)
    greys = np.asarray(Image.open(io.BytesIO(made.stdout)).convert("L"))
    assert greys.max() == 255  # white paper
    assert greys.min() < 90  # dark edges
    assert len(np.unique(greys[80])) > 4  # walls are shaded
