"""Small cases of load, stability, span, shelves and curved pots, worked by hand."""

from __future__ import annotations

import math

import pytest
import shapely

from wadforms.families.disk import Disk
from wadforms.geometry.contour import Point
from wadforms.setting.limits import Limit
from wadforms.setting.load import even_share, pressure_plane, weight, worst_three
from wadforms.setting.mixes import mix
from wadforms.setting.quantities import quantities
from wadforms.setting.rounds import bruise_radius, perch
from wadforms.setting.shelves import misalignment, post_loads, stacked_loads
from wadforms.setting.span import least_sag_overhang, least_wads, pyroplastic_sag
from wadforms.setting.stability import overturning_use, support_polygon, tipping_angle

SQUARE: list[Point] = [(50, 50), (-50, 50), (-50, -50), (50, -50)]


def test_weight_of_a_kilogram() -> None:
    assert weight(1000.0) == 9.80665


@pytest.mark.parametrize(
    ("centre", "even", "worst"),
    [
        ((0.0, 0.0), [25, 25, 25, 25], [50, 50, 50, 50]),
        # Half way to an edge: the plane gives 3 : 1; where a far wad is short, the other takes a
        # quarter, and the near one opposite to it a half.
        ((25.0, 0.0), [37.5, 12.5, 12.5, 37.5], [50, 25, 25, 50]),
        # On an edge the far pair carries nothing.
        ((50.0, 0.0), [50, 0, 0, 50], [50, 0, 0, 50]),
        # Over a corner it carries all.
        ((50.0, 50.0), [100, 0, 0, 0], [100, 0, 0, 0]),
    ],
)
def test_a_square_of_supports(centre: Point, even: list[float], worst: list[float]) -> None:
    assert even_share(SQUARE, 100.0, centre) == pytest.approx(even, abs=1e-5)
    found = worst_three(SQUARE, 100.0, centre)
    assert found is not None
    # The lever rule over the four triples.
    assert found == pytest.approx(worst, abs=1e-5)


@pytest.mark.parametrize("points", [[], [(0.0, 0.0)], [(0.0, 0.0), (9.0, 0.0)]])
def test_fewer_than_three_supports_are_no_shelf(points: list[Point]) -> None:
    assert worst_three(points, 100.0) is None
    assert even_share(points, 100.0) is None
    assert post_loads(points, 100.0) is None


@pytest.mark.parametrize("turn", [0.0, 12.0, 37.0, 90.0])
def test_supports_in_a_row_hold_nothing_by_themselves(turn: float) -> None:
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    row = [(x * c, x * s) for x in (-30.0, 0.0, 30.0)]
    assert even_share(row, 100.0) is None
    assert worst_three(row, 100.0) is None
    assert len(support_polygon(row)) == 2


def test_plane_over_one_square() -> None:
    plane = pressure_plane([shapely.box(-10, -10, 10, 10)], 400.0)
    assert plane is not None
    assert plane.peak == pytest.approx(1.0)
    assert plane.forces == pytest.approx((400.0,))
    assert not plane.lifted


def test_plane_over_nothing() -> None:
    assert pressure_plane([], 400.0) is None


def test_polygon_needs_three_corners_to_hold() -> None:
    assert tipping_angle([], (0, 0), 50.0) == 0.0
    assert tipping_angle([(0, 0), (9, 0)], (3, 0), 50.0) == 0.0
    assert tipping_angle(support_polygon(SQUARE), (0, 0), 50.0) == pytest.approx(45.0)
    assert tipping_angle(support_polygon(SQUARE), (100, 0), 50.0) == pytest.approx(-45.0)


def test_polygon_leaves_out_what_is_inside_or_on_an_edge() -> None:
    extra = [(0.0, 0.0), (50.0, 0.0), (-50.0, 10.0), (50.0, 50.0)]
    assert sorted(support_polygon([*extra, *SQUARE])) == sorted(SQUARE)


@pytest.mark.parametrize(
    ("radius", "spacing", "expected"),
    [(180.0, 76.2, 15), (90.0, 76.2, 8), (0.0, 76.2, 1), (10.0, math.tau * 10 / 6, 6)],
)
def test_least_number_on_a_circle(radius: float, spacing: float, expected: int) -> None:
    assert least_wads(radius, spacing) == expected
    if expected > 1:
        assert math.tau * radius / expected <= spacing * (1 + 1e-9)
        assert math.tau * radius / (expected - 1) > spacing


def test_sag_grows_with_the_fourth_power_of_the_span() -> None:
    assert pyroplastic_sag(1e-7, 200.0, 5.0) == pytest.approx(
        16 * pyroplastic_sag(1e-7, 100.0, 5.0)
    )
    assert pyroplastic_sag(1e-7, 100.0, 10.0) == pytest.approx(
        pyroplastic_sag(1e-7, 100.0, 5.0) / 4
    )
    assert least_sag_overhang(1000.0) == pytest.approx(223.15)


def test_posts() -> None:
    three: list[Point] = [(0, 0), (400, 0), (200, 300)]
    assert post_loads(three, 300.0, (200, 100)) == pytest.approx((100, 100, 100))
    assert post_loads(three, 300.0, (200, 310)) is None
    # A third of the load over the middle of four posts is still half by the worst three.
    assert post_loads(SQUARE, 300.0) == pytest.approx((150,) * 4)


def test_levels_add_up_to_the_floor() -> None:
    levels = [(50.0, 60.0, 70.0), (10.0, 10.0, 10.0), (1.0, 2.0, 3.0)]
    assert stacked_loads(levels) == [(50, 60, 70), (60, 70, 80), (61, 72, 83)]
    assert stacked_loads([]) == []


def test_posts_out_of_line() -> None:
    below: list[Point] = [(0, 0), (300, 0), (150, 250)]
    assert misalignment(below, below) == [0.0, 0.0, 0.0]
    assert misalignment([(3, 4), (150, 247)], below) == [5.0, 3.0]


def test_perch_at_the_bottom_pushes_nothing_out() -> None:
    one = perch(30.0, 3, 100.0, 0.0)
    assert (one.normal, one.thrust, one.rise, one.half_spacing) == (10.0, 0.0, 0.0, 0.0)
    at_45 = perch(30.0, 3, 100.0, 45.0)
    assert at_45.thrust == pytest.approx(at_45.vertical)
    assert overturning_use(at_45.thrust, 10.0, at_45.vertical, 20.0) == pytest.approx(1.0)


def test_bruise_bears_what_crushed_it() -> None:
    radius = bruise_radius(30.0, 300.0)
    assert 30.0 / (math.pi * radius**2) * 1000 == pytest.approx(300.0)


@pytest.mark.parametrize(
    ("body", "name", "wet_size"),
    [("wet", "open", 1.0), ("dry", "open", 1 / 0.95), ("solid", "fireclay", 1 / (0.935 * 0.92))],
)
def test_quantities_of_one_piece(body: str, name: str, wet_size: float) -> None:
    clay = mix(name)
    one = quantities(Disk(diameter=20, height=10, draft=0).piece(), clay, body)
    assert one.set_volume == pytest.approx(1000 * math.pi)
    assert one.wet_volume == pytest.approx(one.set_volume * wet_size**3)
    assert one.wet_mass == pytest.approx(one.wet_volume / 1000 * clay.wet_density)
    expected = one.wet_mass * (1.0 if body == "wet" else 1.0 - clay.water.value)
    assert one.set_mass == pytest.approx(expected)
    assert one.coated_area == pytest.approx(math.pi * 100 + math.pi * 20 * 10)


def test_a_dry_piece_is_lighter_than_what_was_pressed() -> None:
    one = quantities(Disk().piece(), mix("open"), "dry")
    assert one.set_mass < one.wet_mass


def test_a_limit_is_assumed_unless_said() -> None:
    assert Limit(1.0, "kPa", "a guess").assumed
