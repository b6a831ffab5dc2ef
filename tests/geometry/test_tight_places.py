"""What is too tight for a leaning wall, where that is, and what filling it does."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wadforms.errors import NotMakeable
from wadforms.families.custom import Custom
from wadforms.families.relations import LEAST_BEND
from wadforms.geometry.blunting import blunted
from wadforms.geometry.construct import regular, rounded
from wadforms.geometry.contour import CHORD_ERROR, Contour, Point
from wadforms.geometry.easing import eased
from wadforms.geometry.outline import Outline
from wadforms.geometry.tightness import room, tight_places, with_room
from wadforms.geometry.weakness import CORNER, weak_places

TAN_5 = 0.08748866
"""Tangent of 5°, from a table of tangents."""

SPREAD = 8 * TAN_5


def slotted(width: float, depth: float = 12.0) -> Outline:
    """A plate of 40 × 30 mm with a slot from above, its middle at x = 6 mm."""
    x0, x1, y = 6 - width / 2, 6 + width / 2, 15 - depth
    points = [(-20, -15), (20, -15), (20, 15), (x1, 15), (x1, y), (x0, y), (x0, 15), (-20, 15)]
    return Outline(Contour.polygon(points))


def hollow(radius: float, lines: int = 0) -> Outline:
    """An L of 40 mm whose hollow corner at (0, 0) has a radius, as an arc or as lines."""
    points: list[Point] = [(-20, -20), (20, -20), (20, 0)]
    if lines:
        turns = [math.pi / 2 * k / lines for k in range(lines + 1)]
        bend = [(radius * (1 - math.sin(t)), radius * (1 - math.cos(t))) for t in turns]
        return Outline(Contour.polygon([*points, *bend, (0, 20), (-20, 20)]))
    bend = [(radius, 0.0), (0.0, radius)]
    outside = [*points, *bend, (0.0, 20.0), (-20.0, 20.0)]
    bulges = [0.0, 0.0, 0.0, -math.tan(math.pi / 8), 0.0, 0.0, 0.0]
    return Outline(Contour(tuple(outside), tuple(bulges)))


@pytest.mark.parametrize("width", [0.2, 0.9, 1.39])
def test_a_slot_narrower_than_twice_the_spread_is_told_with_place_and_width(width: float) -> None:
    (place,) = tight_places(slotted(width), SPREAD)
    assert place.kind == "gap"
    assert place.width == pytest.approx(width, abs=0.01)
    assert place.at[0] == pytest.approx(6.0, abs=0.05)
    assert 3.0 < place.at[1] < 15.0
    assert room(slotted(width), SPREAD) == pytest.approx(width / 2, abs=0.005)


def test_a_slot_that_is_wider_has_room() -> None:
    assert tight_places(slotted(1.42), SPREAD) == ()


@pytest.mark.parametrize("lines", [0, 9, 40])
@pytest.mark.parametrize("radius", [0.1, 0.3, 0.65])
def test_a_hollow_bend_tighter_than_the_spread_is_told_with_its_radius(
    radius: float, lines: int
) -> None:
    (place,) = tight_places(hollow(radius, lines), SPREAD)
    assert place.kind == "bend"
    assert place.width == pytest.approx(radius, rel=0.15)  # the end of an arc's lines turns less
    assert math.dist(place.at, (0.3 * radius, 0.3 * radius)) < 0.5 * radius


@pytest.mark.parametrize("lines", [1, 2, 9, 40])
def test_a_bend_finer_than_the_chord_error_is_noise(lines: int) -> None:
    # From a sharp corner of 90°, a fillet strays by r (√2 − 1), a chamfer by r/√2 at most.
    assert with_room(hollow(0.006, lines), SPREAD) is not None
    found = with_room(hollow(0.006, lines), SPREAD)
    assert found is not None
    away = found.polygon().boundary.hausdorff_distance(hollow(0.006, lines).polygon().boundary)
    assert away <= CHORD_ERROR


def test_sharp_hollow_corners_have_room_and_larger_bends_too() -> None:
    sharp = Outline(Contour.polygon([(-20, -20), (20, -20), (20, 0), (0, 0), (0, 20), (-20, 20)]))
    assert with_room(sharp, 3.0) is sharp
    assert with_room(hollow(0.8), SPREAD) is not None


def test_points_twice_and_on_one_line_stop_nobody() -> None:
    points = [(0, 0), (10, 0), (10, 0), (20, 0), (30, 0), (30, 20), (30, 20.00001), (0, 20)]
    plate = Custom(outline=Outline(Contour.polygon(points)))
    plain = Custom(outline=Outline(Contour.polygon([(0, 0), (30, 0), (30, 20), (0, 20)])))
    assert plate.piece().volume == pytest.approx(plain.piece().volume, rel=1e-5)


def test_a_needle_does_not_run_out_at_the_base() -> None:
    half = math.radians(5.0)
    needle = Outline(
        Contour.polygon([(0, 0), (40, -40 * math.tan(half)), (40, 40 * math.tan(half))])
    )
    piece = Custom(outline=needle).piece()
    plain_mitre = SPREAD / math.sin(half)  # 8 mm
    assert plain_mitre > 8.0
    assert -piece.body.base.bounds[0] < 1.01 * SPREAD
    assert piece.outline.polygon().boundary.hausdorff_distance(needle.polygon().boundary) < (
        CHORD_ERROR
    )
    assert blunted(slotted(2.0)) == slotted(2.0)


def test_a_tip_that_points_at_a_wall_beyond_a_wide_gap_is_blunted() -> None:
    # A square tip reaches out by √2 × 0.7 = 0.99 mm and the wall by 0.7: more than the gap of
    # 1.6 mm; a blunt tip reaches 0.7 mm, and twice that is less.
    points = [(-20, -20), (9, -20), (9, 20), (0, 20), (0, -10), (-11.6, -10), (-1.6, 0)]
    points += [(-11.6, 10), (-20, 10)]
    bracket = Outline(Contour.polygon(points))
    assert tight_places(bracket, SPREAD) == ()
    assert tight_places(bracket, 0.81) != ()


def advice(error: NotMakeable, parameter: str) -> float:
    found = re.search(rf"--with {parameter}=([\d.]+) at most", str(error))
    assert found is not None, error
    return float(found[1])


def test_what_a_message_advises_does_and_little_more_does_not() -> None:
    shape = {"outline": slotted(1.0), "height": 12.0}
    with pytest.raises(NotMakeable, match=r"at one place: at \(6\.0, .*only 1\.00 mm") as caught:
        Custom(**shape).piece()  # type: ignore[arg-type]
    draft, height = advice(caught.value, "draft"), advice(caught.value, "height")
    # 0.5 mm on each side: atan(0.5/12) = 2.39°, 0.5/tan 5° = 5.7 mm.
    assert (draft, height) == (2.3, 5.7)
    for good in ({"draft": draft}, {"height": height}):
        assert Custom(**{**shape, **good}).piece()  # type: ignore[arg-type]
    for bad in ({"draft": draft + 0.1}, {"height": height + 0.1}):
        with pytest.raises(NotMakeable):
            Custom(**{**shape, **bad}).piece()  # type: ignore[arg-type]
    (wide,) = re.findall(r"widen it to ([\d.]+) mm", str(caught.value))
    assert Custom(outline=slotted(float(wide)), height=12.0).piece()


def beside_a_corner(straight: float) -> Outline:
    """A block with a sharp hollow corner at (0, 0); one line beside it bends away so near."""
    away = (-20.0 * math.cos(0.4), straight + 20.0 * math.sin(0.4))
    points = [(20.0, -20.0), (20.0, 30.0), (0.0, 30.0), (0.0, 0.0)]
    turned = [(-straight, 0.0), (-straight + away[0], away[1] - straight), (-22.0, -20.0)]
    return Outline(Contour.polygon([*points, *turned]))


def test_a_sharp_hollow_corner_is_told_as_one_with_what_mends_it() -> None:
    """No bend was drawn there, so none is told; lines as long as told have room, shorter none."""
    outline = beside_a_corner(0.2)
    with pytest.raises(NotMakeable) as caught:
        Custom(outline=outline).piece()
    said = str(caught.value)
    assert "a sharp hollow corner" in said
    assert "a bend of radius" not in said
    (needed,) = re.findall(r"run straight for ([0-9.]+) mm", said)
    # Of a right angle a wall takes as much as it leans out, of the 0.4 rad beyond tan(0.2) of that.
    assert float(needed) == pytest.approx(1.2027 * SPREAD, abs=0.15)
    assert Custom(outline=beside_a_corner(float(needed))).piece().volume > 0
    with pytest.raises(NotMakeable):
        Custom(outline=beside_a_corner(float(needed) - 0.15)).piece()


def test_the_floor_of_a_slot_is_a_gap_and_no_bend() -> None:
    (place,) = tight_places(slotted(1.0), SPREAD)
    assert (place.kind, place.straight, place.width) == ("gap", 0.0, pytest.approx(1.0, abs=0.01))  # type: ignore[comparison-overlap]
    tapered = [(-20, -15), (20, -15), (20, 15), (1, 15), (0.5, -5), (-0.5, -5), (-1, 15), (-20, 15)]
    (place,) = tight_places(Outline(Contour.polygon(tapered)), 0.6)
    assert (place.kind, place.at, place.width) == ("gap", (0.0, -5.0), pytest.approx(1.0))  # type: ignore[comparison-overlap]


def test_many_places_are_counted_and_three_are_named() -> None:
    holes = tuple(Contour.circle(0.4 + k / 50, (6 * k - 15.0, 0.0)) for k in range(6))
    plate = Outline(rounded([(-20, -10), (20, -10), (20, 10), (-20, 10)], 4.0), holes)
    with pytest.raises(NotMakeable, match=r"at 6 places: .*; and at 3 more") as caught:
        Custom(outline=plate).piece()
    assert str(caught.value).count("mm wide") == 3
    assert "(-15.0, 0.0) mm, a gap or hole only 0.80 mm wide" in str(caught.value)


def test_the_largest_rounding_that_works_is_told() -> None:
    bar = Outline(Contour.polygon([(-20, -2), (20, -2), (20, 2), (-20, 2)]))
    with pytest.raises(NotMakeable, match="rounding of the upper edge") as caught:
        Custom(outline=bar, rounding=3.0).piece()
    most = advice(caught.value, "rounding")
    assert 1.98 <= most < 2.0
    assert Custom(outline=bar, rounding=most).piece()


def test_arcs_that_no_filling_meets_stay_arcs() -> None:
    plate = Outline(
        rounded([(-20, -10), (20, -10), (20, 10), (-20, 10)], 4.0),
        (Contour.circle(0.5, (5.0, 0.0)), Contour.circle(3.0, (-8.0, 0.0))),
    )
    change = eased(plate, SPREAD, LEAST_BEND)
    assert change.outline.outer == plate.outer
    (hole,) = change.outline.holes
    assert hole.bulges == (1.0, 1.0)
    assert set(hole.vertices) == set(plate.holes[1].vertices)
    assert change.area_added == pytest.approx(math.pi / 4, rel=1e-9)


@st.composite
def ragged(draw: st.DrawFn) -> Outline:
    """A plate with slots and holes of any width, some wider inside.

    No slot undercuts a flap of clay that tapers to less than 11°: such a skin is not always eased.
    """
    points: list[Point] = [(-30.0, -20.0), (30.0, -20.0), (30.0, 20.0)]
    x = 26.0
    while x > -20.0 and draw(st.booleans()):
        wide, narrow = draw(st.floats(0.1, 4.0)), draw(st.floats(0.1, 4.0))
        depth, lean = draw(st.floats(0.5, 20.0)), draw(st.floats(-0.5, 0.5))
        inner = x - wide / 2 + lean
        points += [(x, 20.0), (inner + narrow / 2, 20 - depth), (inner - narrow / 2, 20 - depth)]
        points.append((x - wide, 20.0))
        x -= 9.0
    points.append((-30.0, 20.0))
    holes = [
        Contour.circle(draw(st.floats(0.1, 2.5)), (9.0 * k - 24.0, -8.0))
        for k in range(draw(st.integers(0, 5)))
    ]
    if draw(st.booleans()):
        star = Contour.polygon(regular(draw(st.integers(3, 9)), draw(st.floats(0.3, 3.0))))
        holes.append(star.mapped(lambda p: (p[0] + 24.0, p[1] - 12.0)))
    return Outline(Contour.polygon(points), tuple(holes))


spreads = st.floats(0.05, 1.5)


@settings(max_examples=30)
@given(ragged(), spreads)
def test_easing_fills_and_takes_nothing_away(outline: Outline, spread: float) -> None:
    change = eased(outline, spread, LEAST_BEND)
    before, after = outline.polygon(), change.outline.polygon()
    assert before.difference(after).area < 1e-6
    assert change.area_before == outline.area
    assert change.area_after == change.outline.area
    assert change.area_added == pytest.approx(after.difference(before).area, abs=1e-6)


@settings(max_examples=30)
@given(ragged(), spreads)
def test_what_was_eased_has_room_and_is_not_eased_again(outline: Outline, spread: float) -> None:
    change = eased(outline, spread, LEAST_BEND)
    assert with_room(change.outline, spread) is not None
    again = eased(change.outline, spread, LEAST_BEND)
    assert again.outline == change.outline
    assert (again.places, again.area_added) == ((), 0.0)


@settings(max_examples=30)
@given(ragged(), spreads)
def test_nothing_changes_where_nothing_is_tight(outline: Outline, spread: float) -> None:
    tight = tight_places(outline, spread)
    assert bool(tight) == (with_room(outline, spread) is None)
    change = eased(outline, spread, LEAST_BEND)
    assert (change.outline == outline) == (not tight)
    assert bool(change.places) == bool(tight)


@settings(max_examples=30)
@given(ragged(), spreads)
def test_the_room_told_is_room(outline: Outline, spread: float) -> None:
    most = room(outline, spread)
    assert 0.0 <= most <= spread
    assert with_room(outline, most) is not None
    assert all(place.width >= 0.0 for place in tight_places(outline, spread))


def test_a_stem_that_meets_a_round_is_a_bend_and_no_gap() -> None:
    """The hollow there ends at no second side: its width would be that of a sliver."""
    lobes = [(2 + 10 * math.cos(a / 40), 10 * math.sin(a / 40)) for a in range(-100, 101)]
    stem = [(-30.0, lobes[-1][1]), (-30.0, lobes[0][1])]
    outline = Outline(Contour.polygon([*lobes, *stem]))
    places = tight_places(outline, 5.0)
    assert places
    assert {place.kind for place in places} == {"bend"}
    assert places[0].room == pytest.approx(room(outline, 5.0), rel=0.2)


def leaf_with_stalk() -> Outline:
    """A round of 24 mm radius, its last side 0.3 mm long before it meets a stalk 12 mm wide."""
    lobes = [(24 * math.cos(a / 60), 24 * math.sin(a / 60)) for a in range(-173, 174)]
    end = (lobes[-1][0] - 0.12, lobes[-1][1] - 0.5)
    stalk = [(-44.0, end[1]), (-44.0, -end[1])]
    return Outline(Contour.polygon([(end[0], -end[1]), *lobes, end, *stalk]))


@pytest.mark.parametrize("outline", [leaf_with_stalk(), slotted(1.0), slotted(0.3)])
def test_fillings_leave_no_narrow_clay_and_no_new_corner(outline: Outline) -> None:
    """What is filled is a rounded hollow of a wide piece: no clay is narrow there."""
    change = eased(outline, SPREAD, LEAST_BEND)
    assert change.places
    assert weak_places(outline, neck=4.0, bend=0.0) == ()
    assert weak_places(change.outline, neck=4.0, bend=0.0) == ()
    before = {place.at for place in weak_places(outline, neck=0.0, bend=0.5)}
    after = weak_places(change.outline, neck=0.0, bend=0.5)
    assert [place for place in after if place.kind == CORNER and place.at not in before] == []
