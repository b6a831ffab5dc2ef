"""Photos that hold no outline, or another one than was said: each told in one line."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import shapely
import shapely.affinity
from drawn_photos import SCALE, SHAPES, SIZE, photo, placed
from PIL import Image, ImageOps
from taken_photos import TEN_MM, take

from wadforms.catalogue.photo import Wanted
from wadforms.errors import BadInput


@pytest.mark.parametrize("light", [False, True])
@pytest.mark.parametrize("blur", [1.0, 2.5])
@pytest.mark.parametrize("name", SHAPES)
def test_a_filled_shape_is_not_taken_for_a_line(
    name: str, blur: float, light: bool, tmp_path: Path
) -> None:
    place = placed(scale=SCALE, size=SIZE, turn=10.0)
    picture = photo(
        [(SHAPES[name], 0.25)], size=SIZE, place=place, blur=blur, falloff=0.3, grain=0.02
    )
    if light:
        picture = ImageOps.invert(picture)
    with pytest.raises(BadInput, match=r"a filled shape around .* say --drawn filled"):
        take(tmp_path, picture, TEN_MM, Wanted(kind="line", light=light))


REFUSED: dict[str, tuple[Callable[[], Image.Image], str]] = {
    "nothing on it": (lambda: Image.new("L", SIZE, 255), "nothing stands out"),
    "all dark": (lambda: Image.new("L", SIZE, 0), "nothing stands out"),
    "noise": (
        lambda: Image.fromarray(
            np.random.default_rng(3).integers(0, 256, (600, 800), dtype=np.uint8)
        ),
        "nothing stands out",
    ),
    "at the border": (
        lambda: photo(
            [(SHAPES["circle"] + 30.0, 0.2)], size=SIZE, place=placed(scale=SCALE, size=SIZE)
        ),
        "reaches the border",
    ),
    "specks": (
        lambda: photo(
            [(SHAPES["circle"] * 0.05, 0.2)], size=SIZE, place=placed(scale=SCALE, size=SIZE)
        ),
        "nothing but specks",
    ),
}


@pytest.mark.parametrize("what", REFUSED)
def test_what_is_no_shape_is_refused(what: str, tmp_path: Path) -> None:
    make, message = REFUSED[what]
    with pytest.raises(BadInput, match=message) as told:
        take(tmp_path, make(), TEN_MM)
    assert "\n" not in str(told.value)


@pytest.mark.parametrize("name", SHAPES)
def test_an_open_line_is_refused_with_its_gap(name: str, tmp_path: Path) -> None:
    place = placed(scale=SCALE, size=SIZE)
    picture = photo([(SHAPES[name], 0.2)], size=SIZE, place=place, pen=0.8, gap=1.5)
    with pytest.raises(BadInput, match=r"open by \d+ px near \(\d+, \d+\) px") as told:
        take(tmp_path, picture, TEN_MM)
    words = str(told.value).split("open by ")[1]
    width = float(words.split()[0])
    x, y = (float(part) for part in words.split("(")[1].split(")")[0].split(","))
    # The gap ends at the first point of the ring; its middle lies half of it before that.
    line = shapely.LinearRing(SHAPES[name])
    middle = line.interpolate(line.length - (1.5 + 0.8) / 2)
    expected = place(np.array([[middle.x, middle.y]]))[0]
    assert (x, y) == pytest.approx(expected, abs=12)
    assert 4 <= width <= 17  # across a corner it is shorter than along the line
