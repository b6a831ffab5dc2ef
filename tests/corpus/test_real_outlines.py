"""Glyphs as pieces: whatever has room by an independent rule is made, the rest is told or eased.

The rule is shapely's alone: mitred out by as much as the walls lean, and back, an outline with
room is the same again.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterator

import pytest
from glyphs import SIZES, Curve, Glyph, fonts, glyphs
from shapely import Polygon
from thorough import every

from wadforms.errors import NotMakeable
from wadforms.families.custom import Custom
from wadforms.families.relations import LEAST_BEND, LEAST_RIDGE
from wadforms.geometry.contour import CHORD_ERROR
from wadforms.geometry.easing import eased
from wadforms.geometry.outline import Outline
from wadforms.geometry.tightness import with_room

HEIGHT = 8.0

PLACE = re.compile(
    r"at \(-?\d+\.\d, -?\d+\.\d\) mm, "
    r"(a sharp hollow corner|(a bend of radius|a gap or hole only|clay only) \d+\.\d\d mm)"
)

VOLUME = 1e-3
"""Relative; the estimate knows nothing of blunted tips, which take a little off the base."""


def test_there_are_enough_and_none_is_there_twice() -> None:
    found = glyphs()
    assert len(found) >= 300
    assert len({g.name for g in found}) == len({g.contours for g in found}) == len(found)
    assert sum(len(g.contours) > 1 for g in found) > 50  # with holes
    assert "Permission is hereby granted, free of charge" in (
        fonts() / "bitstream-vera-license.txt"
    ).read_text("utf-8", errors="replace")


@pytest.mark.parametrize("size", SIZES)
def test_lines_stray_from_their_curves_by_the_chord_error_only(size: float) -> None:
    for glyph in glyphs()[::20]:
        fine = Glyph(glyph.name, tuple(tuple(halves(c)) for c in glyph.contours))
        outline, finer = glyph.outline(size), fine.outline(size)
        assert max(outline.size) == pytest.approx(size, abs=0.02)
        away = outline.polygon().boundary.hausdorff_distance(finer.polygon().boundary)
        assert away <= 2 * CHORD_ERROR


def halves(contour: tuple[Curve, ...]) -> Iterator[Curve]:
    """Each curve cut in two by de Casteljau's rule."""
    for a, b, c in contour:
        p = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
        q = (b[0] + c[0]) / 2, (b[1] + c[1]) / 2
        m = (p[0] + q[0]) / 2, (p[1] + q[1]) / 2
        yield a, p, m
        yield m, q, c


def grown(polygon: Polygon, distance: float) -> Polygon:
    return polygon.buffer(distance, join_style="mitre", mitre_limit=1e6)


def necks_allow(outline: Outline, spread: float) -> bool:
    polygon = outline.polygon()
    back = grown(grown(polygon, spread), -spread)
    return bool(
        back.geom_type == "Polygon"
        and len(back.interiors) == len(polygon.interiors)
        # A hundredth of the offset is what the buffer itself may smooth away.
        and back.boundary.hausdorff_distance(polygon.boundary) <= CHORD_ERROR + spread / 100
    )


def estimate(outline: Outline, spread: float) -> float:
    """Volume by the prismatoid formula, the areas by mitred buffers [mm³]."""
    polygon = outline.polygon()
    base, middle, top = (grown(polygon, spread * k).area for k in (1.0, 0.5, 0.0))
    return float(HEIGHT / 6 * (base + 4 * middle + top))


@pytest.mark.slow
@pytest.mark.parametrize("draft", [2.0, 5.0])
@pytest.mark.parametrize("size", SIZES)
def test_what_has_room_is_made_and_the_rest_is_told_and_eased(
    size: float, draft: float, capsys: pytest.CaptureFixture[str]
) -> None:
    spread = HEIGHT * math.tan(math.radians(draft))
    seen: Counter[str] = Counter()
    silent, uneased, off = [], [], 0.0
    some = every(20, glyphs())
    for glyph in some:
        outline = glyph.outline(size)
        shape = Custom(outline=outline, height=HEIGHT, draft=draft)
        allowed = necks_allow(outline, spread)
        seen["have room"] += allowed
        try:
            piece = shape.piece()
        except NotMakeable as error:
            seen["have room, but are refused"] += allowed
            seen["told"] += 1
            if not PLACE.search(str(error)):
                silent.append((glyph.name, str(error)))
            change = eased(outline, spread, LEAST_BEND, LEAST_RIDGE)
            try:
                piece = Custom(outline=outline, height=HEIGHT, draft=draft, ease="yes").piece()
            except NotMakeable as still:
                uneased.append((glyph.name, str(still)))
                continue
            seen["eased"] += 1
            assert outline.polygon().difference(change.outline.polygon()).area < 1e-6
            assert change.places
            assert change.area_added > 0.0
            outline = change.outline
        else:
            seen["made"] += 1
        rough = estimate(outline, spread)
        off = max(off, abs(piece.volume / rough - 1))
    with capsys.disabled():
        print(f"\n{len(some)} glyphs of {size:g} mm, {draft:g}°: {dict(seen)}, off {off:.1e}")
    assert not silent
    assert not uneased
    assert seen["have room, but are refused"] <= 0.01 * seen["have room"]
    assert seen["have room"] >= 0.5 * len(some)
    assert off < VOLUME


def test_an_outline_of_300_points_is_checked_in_milliseconds() -> None:
    """Loose on purpose, for slow machines: 10 times what it takes on a common one."""
    import time

    long = [g.outline(50.0) for g in glyphs()]
    long = [o for o in long if 250 < sum(len(c.vertices) for c in o.contours) < 350]
    assert long
    start = time.process_time()
    for outline in long:
        with_room(outline, 0.711)
    assert (time.process_time() - start) / len(long) < 0.1
