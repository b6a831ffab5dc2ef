"""Laws that hold for any size of any family."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from strategies import piece_of, sizes

from wadforms.errors import BadInput
from wadforms.families import families
from wadforms.families.base import Family
from wadforms.geometry.body import Bowl, Loft, Trough
from wadforms.geometry.construct import centroid

ROUND_OFF = 1e-9
"""Relative error allowed where both sides are exact but for floating point."""

SKIN = 1e-6
"""How far one polygon may stand out of another that it shares an edge with [mm]."""

Law = Callable[..., None]


def for_every_family(law: Law) -> Any:
    """Run a law for sizes drawn from each family's declared bounds."""
    return for_families(*families())(law)


def for_families(*names: str) -> Callable[[Law], Any]:
    """Run a law for sizes drawn from the declared bounds of some families."""

    def decorate(law: Law) -> Any:
        @pytest.mark.parametrize("name", names)
        @settings(max_examples=15)
        @given(data=st.data())
        def check(name: str, data: st.DataObject) -> None:
            law(data.draw(sizes(families()[name]), label="size"), data)

        check.__name__ = law.__name__
        check.__doc__ = law.__doc__
        return check

    return decorate


def _with(parameter: str) -> list[str]:
    """The families that have a parameter of that name."""
    return [n for n, f in families().items() if any(p.name == parameter for p in f.parameters())]


def close(a: float, b: float, rel: float = ROUND_OFF) -> bool:
    return math.isclose(a, b, rel_tol=rel, abs_tol=1e-9)


@for_every_family
def test_areas_scale_with_the_square_and_volumes_with_the_cube(
    size: Family, data: st.DataObject
) -> None:
    piece, k = piece_of(size), data.draw(st.floats(0.5, 2.0), label="factor")
    other = piece.scaled(k)
    assert close(other.outline.area, piece.outline.area * k**2)
    assert close(other.top_area, piece.top_area * k**2)
    assert close(other.coated_area, piece.coated_area * k**2, rel=1e-7)
    assert close(other.volume, piece.volume * k**3)
    assert close(other.height, piece.height * k)


@for_every_family
def test_turning_changes_nothing(size: Family, data: st.DataObject) -> None:
    outline = piece_of(size).outline
    turned = outline.turned(data.draw(st.floats(-360, 360), label="degrees"))
    assert close(turned.area, outline.area)
    assert close(turned.perimeter, outline.perimeter)
    assert close(turned.polygon().area, outline.polygon().area, rel=1e-7)


@for_every_family
def test_a_mirror_keeps_the_area_and_twice_is_the_same(size: Family, data: st.DataObject) -> None:
    outline = piece_of(size).outline
    mirrored = outline.mirrored()
    assert close(mirrored.area, outline.area)
    assert mirrored.outer.area > 0
    x0, y0, x1, y1 = outline.bounds
    assert mirrored.bounds == pytest.approx((-x1, y0, -x0, y1), abs=1e-9)
    assert mirrored.mirrored().polygon().equals(outline.polygon())


@for_every_family
def test_flattening_keeps_the_area(size: Family, data: st.DataObject) -> None:
    outline = piece_of(size).outline
    error = data.draw(st.sampled_from((0.002, 0.02, 0.2)), label="chord error")
    assert close(outline.polygon(error).area, outline.area, rel=1e-7)


@for_every_family
def test_outward_and_back_again_is_the_same_outline(size: Family, data: st.DataObject) -> None:
    outline = piece_of(size).outline
    out = data.draw(st.floats(0.01, 0.15), label="outward")
    back = outline.offset(out).offset(-out)
    for before, after in zip(outline.contours, back.contours, strict=True):
        for p, q in zip(before.vertices, after.vertices, strict=True):
            # Nearly smooth bends of a drawing with rounded digits meet at a very flat angle,
            # where the place of the corner is known less well than the curve.
            assert math.dist(p, q) < 1e-3


@for_every_family
def test_the_piece_widens_downward_and_every_level_is_simple(
    size: Family, data: st.DataObject
) -> None:
    sections = [outline.polygon() for _, outline in piece_of(size).body.lofts[0].sections]
    assert all(section.is_valid and section.area > 0 for section in sections)
    for below, above in pairwise(sections):
        # Both are flattened within 0.005 mm.
        assert below.buffer(0.011).contains(above)


@for_every_family
def test_what_bears_lies_on_the_top(size: Family, data: st.DataObject) -> None:
    piece = piece_of(size)
    top = piece.body.lofts[0].top[1].polygon().buffer(SKIN)
    for face in piece.faces:
        assert top.contains(face.polygon())
        assert face.area > 0
    assert piece.top_area <= piece.outline.area * (1 + ROUND_OFF)


@for_every_family
def test_the_volume_lies_between_top_and_base(size: Family, data: st.DataObject) -> None:
    piece = piece_of(size)
    block = piece.body.lofts[0]
    high = block.top[0]
    assert block.volume <= piece.body.base.area * high * (1 + ROUND_OFF)
    assert block.volume >= block.top[1].area * high * (1 - ROUND_OFF)
    if piece.tips is None:
        assert 0 < piece.volume <= block.volume * (1 + ROUND_OFF)


@for_every_family
def test_kiln_wash_covers_more_than_what_bears(size: Family, data: st.DataObject) -> None:
    piece = piece_of(size)
    # The pebbles of a stone seat bear above their pockets, which are not coated.
    bearing = 0.0 if piece.tips and piece.tips.base_area == 0 else piece.top_area
    assert piece.coated_area > bearing


@for_every_family
def test_more_draft_is_never_less_clay(size: Family, data: st.DataObject) -> None:
    more = _other(size, draft=data.draw(st.integers(1, 500), label="more") / 100)
    assert piece_of(more).volume >= piece_of(size).volume * (1 - ROUND_OFF)


@for_families(*_with("rounding"))
def test_a_rounder_edge_is_never_more_clay_nor_more_to_bear_on(
    size: Family, data: st.DataObject
) -> None:
    rounder = piece_of(_other(size, rounding=data.draw(st.integers(1, 300), label="more") / 100))
    piece = piece_of(size)
    assert rounder.volume <= piece.volume * (1 + ROUND_OFF)
    assert rounder.top_area <= piece.top_area * (1 + ROUND_OFF)


@for_every_family
def test_tips_and_pockets_stand_inside_the_top(size: Family, data: st.DataObject) -> None:
    body = piece_of(size).body
    level, top = body.lofts[0].top
    region = top.polygon()
    for tip in body.lofts[1:]:
        assert tip.bottom[0] == level
        assert region.contains(tip.bottom[1].polygon())
        assert tip.bottom[1].area > tip.top[1].area
    openings = []
    for pocket in body.pockets:
        match pocket:
            case Loft():
                openings.append(pocket.top[1].polygon())
                assert openings[-1].covers(pocket.bottom[1].polygon())
                assert pocket.bottom[0] > 0
            case Bowl():
                from shapely import Point

                openings.append(Point(pocket.x, pocket.y).buffer(pocket.opening_radius))
                assert pocket.z - pocket.depth > 0
            case Trough():
                assert pocket.half_width < top.size[0] / 2
                assert pocket.length == pytest.approx(top.size[1])
                assert pocket.z - pocket.depth > 0
    for k, opening in enumerate(openings):
        assert region.contains(opening)
        assert all(opening.disjoint(other) for other in openings[:k])


@for_every_family
def test_typed_with_units_it_is_the_same_size(size: Family, data: st.DataObject) -> None:
    written: dict[str, Any] = {}
    for parameter in size.parameters():
        value = getattr(size, parameter.name)
        unit = {"mm": " mm", "deg": " deg"}.get(parameter.unit)
        written[parameter.name] = f"{value!r}{unit}" if unit else value
    assert type(size).sized(written) == size


@for_families(*(name for name in families() if name != "custom"))
def test_the_outline_is_centred_on_its_area(size: Family, data: st.DataObject) -> None:
    # An outline that is handed over keeps its place.
    assert centroid(piece_of(size).outline) == pytest.approx((0.0, 0.0), abs=1e-9)


def _other(size: Family, **more: float) -> Family:
    """The size with some values increased, where that is one."""
    try:
        return replace(size, **{name: getattr(size, name) + m for name, m in more.items()})
    except BadInput:
        assume(False)
        raise
