"""Necks, hollows and sharp hollow corners: found where they are, with their true measure."""

from __future__ import annotations

import math

import pytest

from wadforms.catalogue import shapes
from wadforms.geometry.construct import arc_band, rounded, star
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.geometry.weakness import BEND, CORNER, NECK, weak_places

SQUARE = [(0.0, 0.0), (40.0, 0.0), (40.0, 30.0), (0.0, 30.0)]


def bone(neck: float) -> Outline:
    """Two blocks of 20 × 20 mm, joined by a bar of 12 mm."""
    low, high = 10 - neck / 2, 10 + neck / 2
    corners = [(0, 0), (20, 0), (20, low), (32, low), (32, 0), (52, 0), (52, 20), (32, 20),
               (32, high), (20, high), (20, 20), (0, 20)]  # fmt: skip
    return Outline(Contour.polygon(corners))


@pytest.mark.parametrize("width", [1.0, 2.5, 3.9])
def test_a_neck_has_its_width_and_its_place(width: float) -> None:
    (place,) = weak_places(bone(width), neck=4.0, bend=0.0)
    assert (place.kind, place.measure) == (NECK, pytest.approx(width))  # type: ignore[comparison-overlap]
    assert 20 <= place.at[0] <= 32
    assert place.at[1] == pytest.approx(10)


@pytest.mark.parametrize("width", [4.0, 4.1, 9.0])
def test_what_is_wide_enough_is_no_neck(width: float) -> None:
    assert weak_places(bone(width), neck=4.0, bend=0.0) == ()


def test_the_limit_can_be_lowered() -> None:
    assert weak_places(bone(3.0), neck=3.0, bend=0.0) == ()
    assert weak_places(bone(3.0), neck=0.0, bend=0.0) == ()


def test_a_hole_near_the_edge_leaves_a_neck() -> None:
    plate = Outline(Contour.polygon(SQUARE), (Contour.circle(8, (20, 10)),))
    (place,) = weak_places(plate, neck=4.0, bend=4.0)
    assert (place.kind, place.measure) == (NECK, pytest.approx(2.0, abs=0.02))  # type: ignore[comparison-overlap]
    assert place.at == (pytest.approx(20, abs=0.5), pytest.approx(1, abs=0.1))  # type: ignore[comparison-overlap]


def test_a_stalk_is_weak_and_a_tip_is_not() -> None:
    stalk = [(0, 0), (20, 0), (20, 9), (35, 9), (35, 11), (20, 11), (20, 20), (0, 20)]
    kinds = [p.kind for p in weak_places(Outline(Contour.polygon(stalk)), neck=4.0, bend=0.0)]
    assert kinds == [NECK]
    tip = Outline(Contour.polygon([(0, 0), (40, 10), (0, 20)]))
    assert weak_places(tip, neck=4.0, bend=4.0) == ()


@pytest.mark.parametrize("radius", [0.5, 2.0, 3.9])
def test_a_hollow_bend_has_its_radius(radius: float) -> None:
    hook = [(0, 0), (40, 0), (40, 40), (28, 40), (28, 12), (0, 12)]
    outline = Outline(rounded(hook, [0, 0, 0, 0, radius, 0]))
    (place,) = weak_places(outline, neck=4.0, bend=4.0)
    assert (place.kind, place.measure) == (BEND, pytest.approx(radius))  # type: ignore[comparison-overlap]
    away = radius * (math.sqrt(2) - 1)
    assert place.at == pytest.approx((28 - away / math.sqrt(2), 12 + away / math.sqrt(2)))
    assert weak_places(outline, neck=4.0, bend=radius) == ()


@pytest.mark.parametrize(("radius", "weak"), [(0.5, True), (2.0, True), (3.6, True), (4.0, False)])
def test_a_hollow_bend_of_lines(radius: float, weak: bool) -> None:
    hook = [(0, 0), (40, 0), (40, 40), (28, 40), (28, 12), (0, 12)]
    lines = rounded(hook, [0, 0, 0, 0, radius, 0]).flattened(0.005)
    found = weak_places(Outline(Contour.polygon(lines)), neck=4.0, bend=4.0)
    assert [place.kind for place in found] == [BEND] * weak
    for place in found:
        assert place.measure == pytest.approx(radius, rel=0.03)
        assert math.dist(place.at, (28, 12)) < radius


def test_a_small_hole_is_a_hollow() -> None:
    plate = Outline(Contour.polygon(SQUARE), (Contour.circle(2.5, (20, 15)),))
    (place,) = weak_places(plate, neck=4.0, bend=4.0)
    assert (place.kind, place.measure) == (BEND, pytest.approx(2.5, abs=0.02))  # type: ignore[comparison-overlap]
    assert place.at == pytest.approx((20, 15), abs=0.1)


def test_sharp_hollow_corners() -> None:
    angle = Outline(Contour.polygon([(0, 0), (40, 0), (40, 12), (12, 12), (12, 40), (0, 40)]))
    (place,) = weak_places(angle, neck=4.0, bend=4.0)
    assert (place.kind, place.at, place.measure) == (CORNER, (12, 12), 0.0)
    hole = Contour.polygon([(10, 8), (30, 8), (30, 22), (10, 22)])
    plate = Outline(Contour.polygon(SQUARE), (hole,))
    assert [place.kind for place in weak_places(plate, neck=4.0, bend=4.0)] == [CORNER] * 4


def test_our_own_shapes_of_custom_outlines_are_sound() -> None:
    found = [shape for shape in shapes().values() if shape.family == "custom"]
    assert len(found) >= 5
    assert [shape.name for shape in found if shape.sized().weak_places()] == []


def test_sound_ones_of_other_kinds() -> None:
    for contour in (arc_band(30, 6, 200), star(5, 30, 10, 4, 5), Contour.circle(9)):
        assert weak_places(Outline(contour), neck=4.0, bend=4.0) == ()


def test_the_radius_told_is_the_same_whatever_is_asked() -> None:
    """A parabola y = x² / 2p bends most at its foot, with the radius p (closed form)."""
    for p in (1.0, 1.6, 2.4):
        bay = [(x / 20, x * x / 800 / p) for x in range(-120, 121)]
        block = [(-30.0, bay[0][1]), (-30.0, -20.0), (30.0, -20.0), (30.0, bay[0][1])]
        outline = Outline(Contour.polygon([*block, *bay[::-1]]))
        told = [weak_places(outline, neck=0.0, bend=bend) for bend in (p + 0.2, 3.0, 4.0)]
        # Over the 30° of the stretch that bends most its radius grows, on the whole by 4 %.
        assert [len(places) for places in told] == [1, 1, 1]
        assert [found.measure for (found,) in told] == pytest.approx([p] * 3, rel=0.06)
        assert len({found for (found,) in told}) == 1
        assert all(math.dist(found.at, (0.0, 0.0)) < p / 2 for (found,) in told)
        assert weak_places(outline, neck=0.0, bend=0.99 * p) == ()


def test_what_a_tracing_jitters_is_no_hollow() -> None:
    """Straight edges whose points are a hundredth of a millimetre off, as scans draw them."""
    edge = [(x / 25, 0.004 * (-1) ** x) for x in range(1000)]
    plate = Outline(Contour.polygon([*edge, (40.0, 30.0), (0.0, 30.0)]))
    assert weak_places(plate, neck=0.0, bend=4.0) == ()
