"""Files of photos: kinds of pictures, turned ones, large ones, and the outline that is written."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from drawn_photos import SCALE, SHAPES, SIZE, photo, placed
from PIL import Image, ImageDraw, ImageOps
from taken_photos import TEN_MM, agrees, take

from wadforms.catalogue.outlines import read_outline
from wadforms.catalogue.photo import Between, Wanted, read_photo, traced
from wadforms.templates.kept_outline import kept_outline
from wadforms.templates.svg import svg


def test_what_is_written_is_read_again_as_a_custom_outline(tmp_path: Path) -> None:
    picture = photo([(SHAPES["star"], 0.2)], size=SIZE, place=placed(scale=SCALE, size=SIZE))
    found = take(tmp_path, picture, TEN_MM)
    path = tmp_path / "star.svg"
    path.write_bytes(svg(kept_outline(found.outline, "star")))
    assert read_outline(path).area == pytest.approx(found.outline.area, rel=1e-5)


def test_a_large_picture_is_averaged_and_places_still_count_its_own_pixels(tmp_path: Path) -> None:
    picture = Image.new("L", (6000, 4000), 230)
    ImageDraw.Draw(picture).ellipse((2000, 1000, 3999, 2999), fill=40)
    found = take(tmp_path, picture, Between((0.0, 0.0), (2000.0, 0.0), 50.0))
    assert found.outline.area == pytest.approx(math.pi * 25**2, rel=0.005)
    assert found.place == pytest.approx((3000, 2000), abs=3)
    assert found.resolution == pytest.approx(0.025)


@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_photo_is_turned_as_its_camera_says(orientation: int, tmp_path: Path) -> None:
    # Exif 2.3, tag 0x0112: what the rows and columns of the file are as seen.
    place = placed(scale=SCALE, size=SIZE)
    upright = photo([(SHAPES["ell"], 0.2)], size=SIZE, place=place)
    ways = {
        2: Image.Transpose.FLIP_LEFT_RIGHT,
        3: Image.Transpose.ROTATE_180,
        4: Image.Transpose.FLIP_TOP_BOTTOM,
        5: Image.Transpose.TRANSPOSE,
        6: Image.Transpose.ROTATE_90,
        7: Image.Transpose.TRANSVERSE,
        8: Image.Transpose.ROTATE_270,
    }
    stored = upright.transpose(ways[orientation]) if orientation > 1 else upright
    exif = Image.Exif()
    exif[0x0112] = orientation
    path = tmp_path / "turned.jpg"
    stored.save(path, exif=exif, quality=95)
    agrees(traced(read_photo(path), TEN_MM, Wanted()), SHAPES["ell"])


def test_every_kind_of_picture_gives_the_same_outline(tmp_path: Path) -> None:
    grey = photo([(SHAPES["leaf"], 0.2)], size=SIZE, place=placed(scale=SCALE, size=SIZE))
    clear = Image.new("RGBA", SIZE, (60, 20, 20, 0))
    clear.putalpha(ImageOps.invert(grey))
    deep = Image.fromarray(np.asarray(grey).astype(np.uint16) * 257)
    kinds = {
        "rgb.png": grey.convert("RGB"),
        "palette.png": grey.convert("P"),
        "deep.png": deep,
        "clear.png": clear,
        "grey_alpha.png": grey.convert("LA"),
        "photo.jpg": grey.convert("RGB"),
        "grey.jpeg": grey,
    }
    for name, picture in kinds.items():
        path = tmp_path / name
        picture.save(path)
        agrees(traced(read_photo(path), TEN_MM, Wanted()), SHAPES["leaf"])
