"""What can be said of a pot, its foot and its wads, and what is refused with which words."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from drawn import ell

from wadforms.catalogue import find
from wadforms.errors import BadInput
from wadforms.families.cone_seat import ConeSeat
from wadforms.families.disk import Disk
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.setting.arrangement import Arrangement, Spot, circle, neighbour_spacing
from wadforms.setting.feet import (
    FlatFoot,
    Foot,
    GalleryFoot,
    OutlineFoot,
    PlaneFoot,
    RingFoot,
    RoundFoot,
    SideFoot,
)
from wadforms.setting.mixes import mix
from wadforms.setting.pot import Pot, Setting

BOW_TIE = Outline(Contour.polygon([(-20, -20), (20, 20), (20, -20), (-20, 20)]))


@pytest.mark.parametrize(
    ("foot", "area", "radius", "reach"),
    [
        (RingFoot(50.0, 5.0), math.pi * (25**2 - 20**2), 22.5, 25.0),
        (GalleryFoot(117.0, 7.0), math.pi * (58.5**2 - 51.5**2), 55.0, 58.5),
        (FlatFoot(200.0), math.pi * 1e4, 64.5, 100.0),
        (OutlineFoot(Outline.circle(100.0)), math.pi * 1e4, 64.5, 100.0),
        (OutlineFoot(ell(40.0)), 120 * 40 + 50 * 40, None, 90.0),
    ],
)
def test_plane_feet(foot: PlaneFoot, area: float, radius: float | None, reach: float) -> None:
    assert foot.zone.area == pytest.approx(area, rel=1e-9)
    assert foot.reach == pytest.approx(reach)
    if radius is not None:
        assert foot.bearing_radius == pytest.approx(radius)


def test_concentric_rings_are_one_zone() -> None:
    foot = RingFoot(100.0, 5.0, (60.0, 30.0))
    expected = sum(math.pi * (r**2 - (r - 5) ** 2) for r in (50.0, 30.0, 15.0))
    assert foot.zone.area == pytest.approx(expected, rel=1e-9)
    assert foot.bearing_radius == 47.5


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: RingFoot(0.0, 5.0), "foot diameter: 0 mm was given; give a length above 0"),
        (lambda: RingFoot(50.0, math.nan), "foot width: nan mm was given"),
        (lambda: RingFoot(10.0, 5.0), "foot diameter: 10 mm was given; give more than twice"),
        (lambda: RingFoot(100.0, 5.0, (95.0,)), "inner ring: 95 mm was given; give less than 90"),
        (lambda: RingFoot(100.0, 5.0, (200.0,)), "inner ring: 200 mm was given"),
        (lambda: GalleryFoot(20.0, 10.0), "foot width: 10 mm was given; give less than half"),
        (lambda: FlatFoot(-3.0), "foot diameter: -3 mm was given"),
        (lambda: RoundFoot(math.inf), "foot diameter: inf mm was given"),
        (lambda: SideFoot(0.0), "foot diameter: 0 mm was given"),
        (lambda: OutlineFoot(BOW_TIE), "does not cross itself"),
    ],
)
def test_feet_that_cannot_be(make: Callable[[], Foot], words: str) -> None:
    with pytest.raises(BadInput) as caught:
        make()
    assert words in str(caught.value)


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"mass": 0.0}, "weight: 0 g was given; give more than 0"),
        ({"mass": math.nan}, "weight"),
        ({"height": -1.0}, "height: -1 mm was given"),
        ({"height": 50.0, "centre_height": 60.0}, "give at most the height of 50 mm"),
        ({"share": 1.2}, "share: 120 % was given; give at most 100 %"),
        ({"share": 0.0}, "share: 0 % was given"),
        ({"ware": "plate"}, "ware: 'plate' was given; give 'hollow' or 'flat'"),
        ({"centre": (math.nan, 0.0)}, "centre of gravity: (nan, 0) mm was given"),
        ({"base_thickness": 0.0}, "base thickness: 0 mm"),
        ({"pyroplastic_index": -1e-6}, "pyroplastic index"),
    ],
)
def test_pots_that_cannot_be(said: dict[str, object], words: str) -> None:
    with pytest.raises(BadInput) as caught:
        Pot(**({"mass": 100.0, "foot": FlatFoot(50.0)} | said))  # type: ignore[arg-type]
    assert words in str(caught.value)


def test_every_fault_of_a_pot_is_told_at_once() -> None:
    with pytest.raises(BadInput) as caught:
        Pot(mass=-1.0, foot=FlatFoot(50.0), height=0.0, ware="plate", share=2.0)
    assert len(caught.value.faults) == 4


def test_what_is_assumed_of_a_pot_is_said() -> None:
    plate = Pot(mass=900.0, foot=FlatFoot(200.0), height=40.0)
    assert plate.is_flatware
    assert plate.gravity_height == 20.0
    assert any("half the height, 20 mm up" in words for words in plate.assumed)
    assert any("flatware" in words for words in plate.assumed)
    jar = Pot(mass=900.0, foot=FlatFoot(200.0), height=51.0, centre_height=30.0, ware="hollow")
    assert not jar.is_flatware
    assert jar.assumed == []
    assert Pot(mass=900.0, foot=FlatFoot(200.0)).gravity_height is None


def setting(*spots: Spot, body: str = "dry", name: str = "open", shape: str = "disk-20") -> Setting:
    pot = Pot(mass=1000.0, foot=FlatFoot(100.0))
    wads = Arrangement(find(shape).piece(), spots)
    return Setting(pot=pot, arrangement=wads, body=body, mix=mix(name))


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: setting(), "wads: 0 was given; give one or more"),
        (lambda: setting(Spot(0, 0), body="solid"), "the mix 'open' is for wet or dry wads"),
        (lambda: setting(Spot(0, 0), body="moist"), "body: 'moist' was given"),
        (lambda: setting(Spot(0, 0), name="fireclay"), "the mix 'fireclay' is for solid wads"),
        (lambda: setting(Spot(0, 0), shape="pointed-tripod-63"), "fine tips need the body 'solid'"),
        (lambda: setting(Spot(0, 0), shape="cone-seat-3"), "a cone seat holds pyrometric cones"),
        (lambda: setting(Spot(0, 0), Spot(9, 0)), "wads: 2, of which 1 and 2 overlap was given"),
        (lambda: setting(Spot(0, 0), Spot(40, 0), Spot(0, 0)), "of which 1 and 3 overlap"),
    ],
)
def test_settings_that_cannot_be(make: Callable[[], Setting], words: str) -> None:
    with pytest.raises(BadInput) as caught:
        make()
    assert words in str(caught.value)


def test_wads_that_touch_at_their_bases_overlap_though_their_tops_do_not() -> None:
    piece = Disk(diameter=20, height=20, draft=5).piece()  # 23.5 mm wide at the base
    apart = [Arrangement(piece, (Spot(0, 0), Spot(d, 0))).overlapping for d in (20.5, 23.4, 23.6)]
    assert apart == [(0, 1), (0, 1), None]
    assert Arrangement(piece, (Spot(0, 0),)).overlapping is None


def test_rails_beside_each_other_do_not_overlap() -> None:
    rail = find("rail-63").piece()
    assert Arrangement(rail, (Spot(0, 0), Spot(0, 20))).overlapping is None
    assert Arrangement(rail, (Spot(0, 0), Spot(0, 20, 90))).overlapping == (0, 1)


def test_a_piece_without_a_bearing_top() -> None:
    assert ConeSeat().piece().faces == ()


@pytest.mark.parametrize(
    ("spots", "expected"),
    [
        (circle(3, 55.75), 116.7625),
        (circle(8, 140.03), 109.9793),
        ([*circle(15, 180.0), *circle(8, 90.0), Spot(0, 0)], 75.3982),
        ([*circle(16, 180.0), *circle(3, 90.0)], 188.4956),
        ([Spot(30, 0), Spot(-30, 0)], 94.2478),
        ([Spot(30, 0), Spot(0, 30)], 141.3717),  # three quarters of the circle lie open
        ([Spot(30, 0), Spot(0, 40)], None),
        ([Spot(0, 0)], None),
        ([], None),
    ],
)
def test_widest_spacing(spots: list[Spot], expected: float | None) -> None:
    found = neighbour_spacing(spots)
    assert found == (None if expected is None else pytest.approx(expected, abs=1e-4))
