"""Every touch of a firing with its load: totals reckoned by hand, and laws that hold for any."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from kiln_rows import FOUR, THREE, cones, firing, lid, posts, shelf, three_levels, ware

from wadforms.firing.rows import FLOOR, FiringList, Posts, Row, Shelf, Ware
from wadforms.firing.touches import (
    FOOT,
    LID,
    ON_POST,
    SEAT,
    STACKED,
    UNDER_POST,
    Audit,
    Touch,
    audit,
)
from wadforms.setting.feet import FlatFoot, GalleryFoot, OutlineFoot, RingFoot


def told(answer: Audit, kind: str, name: str) -> list[tuple[str, int, float]]:
    """Name, count and load [g] of the touches of a row that are of one kind."""
    return [
        (touch.name, touch.count, round(touch.pot.mass, 6))
        for touch in answer.touches
        if touch.kind == kind and touch.row.name == name and touch.pot
    ]


def on_floor(answer: Audit) -> float:
    """Weight on all touches with the floor [g]."""
    return math.fsum(t.count * t.pot.mass for t in answer.touches if t.lower == FLOOR and t.pot)


def weight_of(rows: Iterable[Row]) -> float:
    """Of everything in a list [g]."""
    every = (r for r in rows if isinstance(r, Ware | Shelf | Posts))
    return math.fsum(
        r.count * (r.mass + (r.lid.mass if isinstance(r, Ware) and r.lid else 0.0)) for r in every
    )


def test_three_levels_by_hand() -> None:
    """Reckoned on paper.

    Shares of three posts at (50, 50), (550, 50), (300, 400): the third takes (y - 50)/350, the
    second ((x - 50) - 250 × third)/500, the first the rest.
    """
    kiln = three_levels()
    answer = audit(kiln)
    assert answer.problems == ()
    # 7000 + 6 × 450 = 9700 g in the middle of the top shelf: a quarter, a quarter, a half.
    long = "Long post at"
    assert told(answer, ON_POST, "Top shelf") == [
        (f"Top shelf on {long} (50, 50) and (550, 50) mm", 4, 2425.0),
        (f"Top shelf on {long} (300, 400) mm", 2, 4850.0),
    ]
    # 8000 + 2 × (2400 + 600 + 700) = 15400 g as 0.3, 0.3, 0.4; a post of 2100 g comes from above.
    assert told(answer, ON_POST, "Middle shelf") == [
        (f"Middle shelf on {long} (50, 50) and (550, 50) mm", 4, 2425.0 + 2100.0 + 4620.0),
        (f"Middle shelf on {long} (300, 400) mm", 2, 4850.0 + 2100.0 + 6160.0),
    ]
    # 9500 + 2 × 5 × 900 = 18500 g as 0.55, 0.15, 0.3.
    assert told(answer, ON_POST, "Low shelf") == [
        ("Low shelf on Short post at (50, 50) mm", 2, 9145.0 + 2100.0 + 10175.0),
        ("Low shelf on Short post at (550, 50) mm", 2, 9145.0 + 2100.0 + 2775.0),
        ("Low shelf on Short post at (300, 400) mm", 2, 13110.0 + 2100.0 + 5550.0),
    ]
    assert told(answer, UNDER_POST, "Long post") == [
        (f"{long[:-3]} under Middle shelf at (50, 50) and (550, 50) mm on Low shelf", 4, 11245.0),
        (f"{long[:-3]} under Middle shelf at (300, 400) mm on Low shelf", 2, 15210.0),
        (f"{long[:-3]} under Top shelf at (50, 50) and (550, 50) mm on Middle shelf", 4, 4525.0),
        (f"{long[:-3]} under Top shelf at (300, 400) mm on Middle shelf", 2, 6950.0),
    ]
    floor = told(answer, UNDER_POST, "Short post")
    assert [(count, load) for _, count, load in floor] == [
        (2, 22620.0),
        (2, 15220.0),
        (2, 21960.0),
    ]
    # A bay: shelves 24500, posts 3 × 1200 + 6 × 2100, ware 2700 + 7400 + 9000.
    assert on_floor(answer) == pytest.approx(2 * 59800.0 + 6 * 60.0 + 1600.0)
    assert on_floor(answer) == pytest.approx(weight_of(kiln.rows))


def test_a_stack_by_hand() -> None:
    answer = audit(three_levels())
    (plate,) = [n for n, t in enumerate(answer.touches) if t.name == "Plate on Low shelf"]
    stack = answer.touches[plate : plate + 5]
    assert [t.kind for t in stack] == [FOOT, STACKED, STACKED, STACKED, STACKED]
    assert [t.count for t in stack] == [4] * 5
    assert [t.pot.mass for t in stack if t.pot] == [4500.0, 3600.0, 2700.0, 1800.0, 900.0]
    assert [t.pot.height for t in stack if t.pot] == [125.0, 100.0, 75.0, 50.0, 25.0]
    assert [t.pot.gravity_height for t in stack if t.pot] == [62.5, 50.0, 37.5, 25.0, 12.5]
    assert [t.aligned_with for t in stack] == [None, *[plate] * 4]
    assert stack[2].name == "Plate, number 3 of 5 from below on number 2"
    # However high the stack, a plate bends like a plate.
    assert all(t.pot.is_flatware for t in stack if t.pot)
    assert stack[0].notes == (
        "carries 4 × Plate on top",
        "height: the sum of the heights, the safe side (assumed)",
    )
    assert stack[4].notes == ()


def test_a_jar_with_its_lid_and_a_bowl_on_it_by_hand() -> None:
    answer = audit(three_levels())
    jar, cover = (t for t in answer.touches if t.row.name == "Jar")
    (bowl,) = [t for t in answer.touches if t.row.name == "Bowl"]
    assert jar.pot is not None
    assert cover.pot is not None
    assert bowl.pot is not None
    assert (jar.name, jar.count, jar.pot.mass) == ("Jar on Middle shelf", 4, 3700.0)
    # 2400 g at 105 mm, a lid of 600 g at 210 mm, a bowl of 700 g at 210 + 42 mm.
    assert jar.pot.gravity_height == pytest.approx((2400 * 105 + 600 * 210 + 700 * 252) / 3700)
    assert jar.pot.height == 290.0
    assert (cover.kind, cover.name, cover.count, cover.pot.mass) == (LID, "lid on Jar", 4, 1300.0)
    assert isinstance(cover.pot.foot, GalleryFoot)
    assert (cover.pot.gravity_height, cover.pot.held) == (42.0, False)
    assert (bowl.name, bowl.pot.mass) == ("Bowl on lid of Jar", 700.0)
    assert bowl.pot.height == 80.0


def test_each_lid_in_a_stack_of_jars_carries_those_above() -> None:
    jars = ware("Jar", 6, FLOOR, 1000.0, lid=lid(200.0), height=100.0, stack=3)
    answer = audit(firing(jars))
    assert [(t.kind, t.name, t.count, t.pot.mass) for t in answer.touches if t.pot] == [
        (FOOT, "Jar on floor", 2, 3600.0),
        (STACKED, "Jar, number 2 of 3 from below on the lid of number 1", 2, 2400.0),
        (STACKED, "Jar, number 3 of 3 from below on the lid of number 2", 2, 1200.0),
        (LID, "lid on Jar, number 1 of 3 from below", 2, 2600.0),
        (LID, "lid on Jar, number 2 of 3 from below", 2, 1400.0),
        (LID, "lid on Jar, number 3 of 3 from below", 2, 200.0),
    ]
    assert [t.pot.held for t in answer.touches if t.pot] == [False] * 5 + [True]


def test_cones_need_a_seat_each_and_nothing_is_reckoned_for_them() -> None:
    (seat,) = [t for t in audit(three_levels()).touches if t.kind == SEAT]
    assert (seat.name, seat.count, seat.pot) == ("Cones on Top shelf", 2, None)


def test_touches_come_in_the_order_of_the_list() -> None:
    kiln = three_levels()
    numbers = [t.row.row for t in audit(kiln).touches]
    assert numbers == sorted(numbers)
    assert set(numbers) == {row.row for row in kiln.rows}


def test_what_a_height_does_not_tell_is_not_made_up() -> None:
    bowl = ware("Bowl", 2, FLOOR, 500.0, stack=2)
    lower, upper = audit(firing(bowl)).touches
    assert lower.pot is not None
    assert upper.pot is not None
    assert (lower.pot.height, lower.pot.gravity_height) == (None, None)
    assert lower.pot.mass == 1000.0


def test_the_fullest_of_uneven_shelves_counts_for_all() -> None:
    kiln = firing(
        shelf("Shelf", 2, "Post", 3000.0, load_at=(300.0, 400.0 / 3 + 100.0 / 3)),
        posts("Post", 6, FLOOR, 500.0),
        ware("Mug", 13, "Shelf", 300.0),
    )
    answer = audit(kiln)
    on_posts = [t for t in answer.touches if t.kind == ON_POST]
    assert math.fsum(t.count * t.pot.mass for t in on_posts if t.pot) == pytest.approx(
        2 * (3000.0 + 7 * 300.0)
    )
    assert any("the fullest of 2 carries 7 of 13 Mug" in note for note in answer.notes)


def test_four_posts_count_by_the_worst_three() -> None:
    """A square shelf loaded in its middle: any diagonal pair may carry all, so each a half."""
    kiln = firing(
        shelf("Shelf", 1, "Post", 8000.0, posts_at=FOUR, load_at=(300.0, 225.0)),
        posts("Post", 4, FLOOR, 500.0),
    )
    on_posts, on_ground = audit(kiln).touches
    assert on_posts.pot is not None
    assert on_ground.pot is not None
    assert on_posts.count == 4
    assert on_posts.pot.mass == pytest.approx(4000.0)
    assert on_ground.pot.mass == pytest.approx(4500.0)
    assert "a stiff shelf: any three of its posts may carry everything" in on_posts.notes


def test_posts_that_stand_on_posts_carry_each_other() -> None:
    kiln = firing(
        shelf("Shelf", 1, "Thin post", 3000.0, load_at=(300.0, 500.0 / 3)),
        posts("Thin post", 3, "Thick post", 400.0),
        posts("Thick post", 3, FLOOR, 900.0, foot=RingFoot(90.0, 20.0)),
    )
    answer = audit(kiln)
    assert answer.problems == ()
    assert [(t.lower, t.count, round(t.pot.mass)) for t in answer.touches if t.pot] == [
        ("Thin post at (50, 50), (550, 50) and (300, 400) mm", 3, 1000),
        ("Thick post", 3, 1400),
        (FLOOR, 3, 2300),
    ]
    between = answer.touches[1].pot
    assert between is not None
    assert between.foot == kiln.posts[0].foot  # the narrower of the two


def test_a_shelf_on_the_floor_bears_by_its_outline() -> None:
    kiln = firing(
        shelf("Ground shelf", 1, FLOOR, 5000.0),
        posts("Post", 3, "Ground shelf", 500.0),
        shelf("Shelf", 1, "Post", 4500.0, load_at=(300.0, 500.0 / 3)),
    )
    answer = audit(kiln)
    (ground,) = [t for t in answer.touches if t.row.name == "Ground shelf"]
    assert ground.pot is not None
    assert isinstance(ground.pot.foot, OutlineFoot)
    assert ground.pot.foot.outline.area == pytest.approx(600.0 * 450.0)
    assert (ground.kind, ground.pot.mass, ground.pot.held) == (FOOT, 11000.0, True)
    # 5000 g in its middle and 6000 g at a third of the height of the triangle, 58.3 mm lower.
    assert ground.pot.centre == pytest.approx((0.0, -6000.0 * (225.0 - 500.0 / 3) / 11000.0))
    assert answer.problems == ()


def test_a_shelf_on_the_floor_weighs_what_stands_on_it() -> None:
    """Each of four posts may carry a half; the floor carries the whole once."""
    kiln = firing(
        shelf("Ground shelf", 1, FLOOR, 5000.0),
        posts("Post", 4, "Ground shelf", 500.0),
        shelf("Shelf", 1, "Post", 8000.0, posts_at=FOUR),
        ware("Jar", 1, "Shelf", 10000.0),
    )
    answer = audit(kiln)
    (ground,) = [t for t in answer.touches if t.row.name == "Ground shelf"]
    assert ground.pot is not None
    assert ground.pot.mass == pytest.approx(5000.0 + 4 * 500.0 + 8000.0 + 10000.0)
    assert ground.pot.centre == pytest.approx((0.0, 0.0))
    (post,) = [t for t in answer.touches if t.row.name == "Post"]
    assert post.pot is not None
    assert post.pot.mass == pytest.approx(18000.0 / 2 + 500.0)


def test_posts_of_one_shelf_have_the_same_wads() -> None:
    """Wads of other heights at one of three posts would set the shelf askew."""
    answer = audit(three_levels())
    touches = answer.touches
    for kind in (ON_POST, UNDER_POST):
        for touch in (t for t in touches if t.kind == kind):
            root = touches[touch.aligned_with] if touch.aligned_with is not None else touch
            assert (root.row, root.kind, root.aligned_with) == (touch.row, kind, None)
            assert root.keeps_level == touch.keeps_level is not None
    shelves = [t for t in touches if t.kind == ON_POST and t.row.name == "Low shelf"]
    assert [t.aligned_with for t in shelves] == [None] + [touches.index(shelves[0])] * 2
    long_posts = [t for t in touches if t.row.name == "Long post"]
    assert len({t.keeps_level for t in long_posts}) == 2  # two shelves, each level by itself


def test_plates_of_one_foot_in_two_rows_stand_in_line() -> None:
    foot = RingFoot(160.0, 8.0)
    upper = ware("Pale plate", 4, "Plate", 800.0, foot=foot, height=25.0, stack=2)
    lower = ware("Plate", 4, FLOOR, 900.0, foot=foot, height=25.0, stack=2)
    answer = audit(firing(upper, lower))
    names = [t.name for t in answer.touches]
    root = names.index("Plate on floor")
    assert [t.aligned_with for t in answer.touches] == [
        None if n == root else root for n in range(4)
    ]
    assert [t.pot.mass for t in answer.touches if t.pot] == [1600.0, 800.0, 3400.0, 2500.0]


def test_other_feet_on_plates_have_their_own_wads() -> None:
    plate = ware("Plate", 1, FLOOR, 900.0, foot=RingFoot(160.0, 8.0), height=25.0)
    dish = ware("Dish", 1, "Plate", 800.0, foot=RingFoot(150.0, 8.0), height=25.0)
    jar = ware("Jar", 1, FLOOR, 900.0, foot=RingFoot(160.0, 8.0), height=200.0)
    bowl = ware("Bowl", 1, "Jar", 800.0, foot=RingFoot(160.0, 8.0), height=60.0)
    assert {t.aligned_with for t in audit(firing(plate, dish, jar, bowl)).touches} == {None}


def test_a_lid_on_a_pot_of_unknown_height_counts_at_its_centre() -> None:
    """400 g and 100 g 30 mm up; the pot's centre 10 mm aside, which the lid draws in to 8 mm."""
    pot = ware("Pot", 1, FLOOR, 400.0, centre_height=30.0, centre=(10.0, 0.0), lid=lid(100.0))
    foot, _ = audit(firing(pot)).touches
    assert foot.pot is not None
    assert (foot.pot.height, foot.pot.gravity_height) == (None, 30.0)
    assert foot.pot.centre == pytest.approx((8.0, 0.0))
    assert foot.notes == ("the lid counts at the pot's centre of gravity (assumed)",)


def test_two_on_one_lid_stand_side_by_side() -> None:
    """Two cups of 100 g, 50 mm high, on a pot of 600 g with a lid of 200 g, 80 mm high."""
    pot = ware("Pot", 2, FLOOR, 600.0, height=80.0, lid=lid(200.0))
    cups = ware("Cup", 4, "Pot", 100.0, height=50.0, foot=RingFoot(40.0, 4.0))
    foot, cover, cup = audit(firing(pot, cups)).touches
    assert foot.pot is not None
    assert cover.pot is not None
    assert (foot.count, foot.pot.mass, foot.pot.height) == (2, 1000.0, 130.0)
    middle = (600 * 40 + 200 * 80 + 200 * (80 + 25)) / 1000
    assert foot.pot.gravity_height == pytest.approx(middle)
    assert (cover.count, cover.pot.mass, cover.pot.gravity_height) == (2, 400.0, 25.0)
    assert cup.count == 4


def test_what_stands_bare_is_told() -> None:
    bare = replace(posts("Brick", 3, FLOOR, 900.0), bare=True)
    kiln = firing(bare, shelf("Shelf", 1, "Brick", 3000.0))
    assert f"row {bare.row}, Brick: stands bare on floor, as the list says" in audit(kiln).notes


def test_a_lid_keeps_its_wads_where_its_pot_stands_bare() -> None:
    jar = replace(ware("Jar", 1, FLOOR, 900.0, lid=lid(200.0)), bare=True)
    assert [(t.kind, t.bare) for t in audit(firing(jar)).touches] == [(FOOT, True), (LID, False)]


def test_where_wads_have_little_room_is_told() -> None:
    """They must not reach over the end of a post, or over the edge of a lid."""
    room = {t.name: t.room for t in audit(three_levels()).touches}
    assert room["Bowl on lid of Jar"] == FlatFoot(117.0)
    assert room["Top shelf on Long post at (300, 400) mm"] == FlatFoot(60.0)
    assert room["Long post under Top shelf at (300, 400) mm on Middle shelf"] is None
    assert room["Jar on Middle shelf"] is room["lid on Jar"] is None
    assert room["Plate, number 2 of 5 from below on number 1"] is None
    piled = audit(
        firing(
            shelf("Shelf", 1, "Thin", 3000.0),
            posts("Thin", 3, "Thick", 400.0),
            posts("Thick", 3, FLOOR, 900.0, foot=FlatFoot(90.0)),
            ware("Jar", 2, FLOOR, 900.0, lid=lid(200.0), stack=2),
        )
    )
    assert [t.room for t in piled.touches if t.kind == UNDER_POST and t.row.name == "Thin"] == [
        FlatFoot(90.0)
    ] * 2
    (upper,) = [t for t in piled.touches if t.kind == STACKED]
    assert upper.room == FlatFoot(117.0)


@st.composite
def bays(draw: st.DrawFn) -> tuple[FiringList, bool]:
    """Any symmetric kiln of one to four levels, and whether three posts hold every shelf."""
    count = draw(st.integers(1, 3))
    places = draw(st.sampled_from([THREE, FOUR]))
    mass = st.floats(50.0, 9000.0)
    rows: list[Row] = []
    for level in range(1, draw(st.integers(1, 4)) + 1):
        below = f"Shelf {level - 1}" if level > 1 else FLOOR
        rows.append(posts(f"Post {level}", count * len(places), below, draw(mass)))
        load_at = (draw(st.floats(200.0, 400.0)), draw(st.floats(60.0, 180.0)))
        upper: dict[str, Any] = {"posts_at": places, "load_at": load_at, "level": level}
        rows.append(shelf(f"Shelf {level}", count, f"Post {level}", draw(mass), **upper))
        below = f"Shelf {level}"
        for k in range(draw(st.integers(0, 2))):
            stack, stacks = draw(st.integers(1, 4)), count * draw(st.integers(1, 3))
            cover = lid(draw(mass)) if draw(st.booleans()) else None
            name, on = f"Ware {level}.{k}", below
            more = {
                "lid": cover,
                "stack": stack,
                "height": draw(st.none() | st.floats(20.0, 150.0)),
            }
            rows.append(ware(name, stack * stacks, on, draw(mass), **more))
            if draw(st.booleans()):
                rows.append(ware(f"On {name}", stacks * draw(st.integers(1, 2)), name, draw(mass)))
    rows.append(ware("Pot", draw(st.integers(1, 5)), FLOOR, draw(mass)))
    rows.append(cones("Cones", 2, FLOOR))
    return firing(*draw(st.permutations(rows))), places == THREE


@settings(deadline=None)
@given(bays())
def test_the_floor_carries_everything(drawn: tuple[FiringList, bool]) -> None:
    kiln, is_three = drawn
    answer, every = audit(kiln), weight_of(kiln.rows)
    if is_three:
        assert on_floor(answer) == pytest.approx(every)
    else:  # by the worst three, posts carry more in sum than there is
        assert on_floor(answer) >= every * (1 - 1e-12)


@settings(deadline=None)
@given(bays(), st.floats(1.0, 3000.0))
def test_more_weight_is_never_less_load(drawn: tuple[FiringList, bool], more: float) -> None:
    kiln, _ = drawn
    first = kiln.shelves[0]
    heavier = replace(kiln, shelves=(replace(first, mass=first.mass + more), *kiln.shelves[1:]))

    def loads(touches: Iterable[Touch]) -> dict[int, float]:
        sums: dict[int, float] = {}
        for t in touches:
            if t.pot:
                sums[t.row.row] = sums.get(t.row.row, 0.0) + t.count * t.pot.mass
        return sums

    before, after = loads(audit(kiln).touches), loads(audit(heavier).touches)
    assert before.keys() == after.keys()
    assert all(after[n] >= load * (1 - 1e-9) for n, load in before.items())
    assert sum(after.values()) > sum(before.values())
