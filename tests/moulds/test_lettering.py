"""Words as outlines: where they lie, how large they are, and that they are the font's own."""

from __future__ import annotations

import importlib.util
import string
import sys
import time

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry.base import BaseGeometry

from wadforms.errors import KernelMissing
from wadforms.geometry.outline import Outline
from wadforms.moulds import lettering as module
from wadforms.moulds.lettering import STROKE, lettering

ALONE = {"width": 1e4, "depth": 1e4, "least": 0.1}
SIGNS = "×Ø%·−≤≥°²½äöüßéèêñçåŠ"


def _region(words: str, height: float) -> BaseGeometry:
    parts = lettering([words], letters=height, **ALONE)
    return shapely.union_all([part.polygon() for part in parts])


def _bounds(parts: tuple[Outline, ...]) -> tuple[float, float, float, float]:
    boxes = [part.bounds for part in parts]
    low, high = zip(*((b[:2], b[2:]) for b in boxes), strict=True)
    return (*map(min, zip(*low, strict=True)), *map(max, zip(*high, strict=True)))


@given(
    st.lists(st.text(string.printable + SIGNS + "Ж\u0301", max_size=12), max_size=4),
    st.floats(5, 80),
    st.floats(3, 30),
)
def test_what_fits_is_valid_apart_centred_and_in_the_field(
    lines: list[str], width: float, depth: float
) -> None:
    parts = lettering(lines, width=width, depth=depth, letters=6.0, least=2.0)
    if not parts:
        return
    shapes = [part.polygon() for part in parts]
    assert all(shape.is_valid for shape in shapes)
    assert all(contour.area > 0 for part in parts for contour in part.contours)
    assert shapely.union_all(shapes).area == pytest.approx(sum(s.area for s in shapes), rel=1e-9)
    assert not any(a.touches(b) for a in shapes for b in shapes if a is not b)
    x0, y0, x1, y1 = _bounds(parts)
    assert (x0 + x1, y0 + y1) == pytest.approx((0, 0), abs=1e-9)
    assert x1 - x0 <= width * (1 + 1e-12)
    assert y1 - y0 <= depth * (1 + 1e-12)


def test_letters_are_as_high_as_asked_where_there_is_room() -> None:
    _, y0, _, y1 = _bounds(lettering(["H"], letters=6.0, **ALONE))
    assert y1 - y0 == pytest.approx(6.0)


def test_words_shrink_to_the_field_and_no_further_than_allowed() -> None:
    wide = lettering(["disk-20"], width=1e3, depth=10, letters=5, least=5)
    x0, _, x1, _ = _bounds(wide)
    narrow = lettering(["disk-20"], width=(x1 - x0) / 2, depth=10, letters=5, least=2.49)
    assert _bounds(narrow)[2] == pytest.approx(x1 / 2)
    assert lettering(["disk-20"], width=(x1 - x0) / 2, depth=10, letters=5, least=2.51) == ()


def test_the_last_lines_go_first() -> None:
    asked = {"width": 60.0, "depth": 11.0, "letters": 4.0, "least": 3.5}
    one, two = (lettering(lines, **asked) for lines in (["ab", "cd"], ["ab", "cd", "ef"]))
    assert lettering(["ab"], **asked) != one
    assert two == one
    assert lettering(["", "ab", " \t", "cd"], **asked) == one
    assert lettering([], **asked) == () == lettering(["  "], **asked)
    assert lettering(["ab"], width=60, depth=0, letters=4, least=3.5) == ()


def test_what_the_font_lacks_and_what_is_written_in_two_ways() -> None:
    assert lettering(["Ж"], letters=5, **ALONE) == lettering(["?"], letters=5, **ALONE)
    joined, apart = (lettering([word], letters=5, **ALONE) for word in ("é", "e\u0301"))
    assert joined == apart != lettering(["e"], letters=5, **ALONE)
    assert lettering(["a\u202fb"], letters=5, **ALONE) == lettering(["a b"], letters=5, **ALONE)


@pytest.mark.parametrize("sign", SIGNS)
def test_signs_of_the_trade_are_in_the_font(sign: str) -> None:
    assert _region(sign, 10.0).symmetric_difference(_region("?", 10.0)).area > 1.0


@pytest.mark.parametrize("letter", "B8%ØßgÅ×®")
def test_a_letter_is_the_one_that_another_library_draws(letter: str) -> None:
    """Area and box by fontTools' own pens, which integrate the curves exactly."""
    from fontTools.pens.areaPen import AreaPen
    from fontTools.pens.boundsPen import BoundsPen

    glyphs, names = module._font()
    drawn = glyphs[names[ord(letter)]]
    area, box = AreaPen(glyphs), BoundsPen(glyphs)
    drawn.draw(area)
    drawn.draw(box)
    scale = 20.0 / module._capital_height()
    region = _region(letter, 20.0)
    # A contour of length l, flattened to e, is off by ⅔ l e at most.
    assert region.area == pytest.approx(
        abs(area.value) * scale**2, abs=region.length * module.CURVE_ERROR * 2 / 3
    )
    x0, y0, x1, y1 = (scale * v for v in box.bounds)
    width, height = region.bounds[2] - region.bounds[0], region.bounds[3] - region.bounds[1]
    assert (width, height) == pytest.approx((x1 - x0, y1 - y0), abs=2 * module.CURVE_ERROR)


def _neck(letter: str) -> float:
    """Least width of a letter over the height of the capitals, by wearing it away."""
    whole = _region(letter, 100.0)
    count, low, high = len(shapely.get_parts(whole)), 0.0, 30.0
    while high - low > 0.01:
        middle = (low + high) / 2
        left = whole.buffer(-middle / 2)
        holds = not left.is_empty and len(shapely.get_parts(left)) == count
        low, high = (middle, high) if holds else (low, middle)
    return low / 100.0


def test_strokes_are_as_wide_as_told() -> None:
    least = min(map(_neck, string.ascii_uppercase + string.digits))
    assert STROKE <= least < STROKE + 0.01
    assert min(map(_neck, string.ascii_lowercase)) >= 0.10
    assert _neck("I") == pytest.approx(0.258, abs=0.002)  # its stem


def test_forty_letters_take_less_than_a_blink() -> None:
    lettering(["?"], letters=5, **ALONE)
    module._glyph.cache_clear()
    start = time.perf_counter()
    lettering(["pebble-35 14 × 8 mm", "Ø 20.5, S 6.5 %, MXV"], letters=5, **ALONE)
    assert time.perf_counter() - start < 0.2  # 0.02 s on a quiet machine


def test_the_font_is_found_without_loading_what_ships_it(monkeypatch: pytest.MonkeyPatch) -> None:
    module._font.cache_clear()
    before = "reportlab" in sys.modules  # another test may have drawn a PDF
    module._font()
    assert ("reportlab" in sys.modules) == before
    module._font.cache_clear()
    monkeypatch.setattr(importlib.util, "find_spec", lambda name: None)
    with pytest.raises(KernelMissing, match="pip install reportlab"):
        module._font()
