"""What is wrong with how a firing is stacked, in words: each problem, and what is none."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from kiln_rows import THREE, cones, firing, lid, posts, shelf, three_levels, ware

from wadforms.errors import BadInput
from wadforms.firing.furniture import CLOSEST
from wadforms.firing.list_file import parse_list
from wadforms.firing.rows import FLOOR, Posts, Row, Shelf
from wadforms.firing.touches import UNDER_POST, audit
from wadforms.geometry.contour import Contour, Point
from wadforms.geometry.outline import Outline
from wadforms.setting.feet import FlatFoot, OutlineFoot, RingFoot, RoundFoot, SideFoot

MIDDLE = (300.0, 500.0 / 3)


def said_of(*rows: Row) -> list[str]:
    """Problems of a list, without the row that they begin with."""
    return [problem.split(": ", 1)[1] for problem in audit(firing(*rows)).problems]


def one_shelf(**more: object) -> list[Row]:
    """A shelf of 600 by 450 mm on three posts on the floor, loaded at a third each."""
    usual = {"load_at": MIDDLE} | more
    top = shelf("Shelf", 1, "Post", 4000.0, **usual)
    return [top, posts("Post", len(top.posts_at), FLOOR, 500.0)]


def over(*more: Row, **changed: object) -> list[Row]:
    """A second shelf, on posts that stand on the first."""
    usual = {"load_at": MIDDLE} | changed
    return [
        *one_shelf(),
        posts("High post", 3, "Shelf", 500.0),
        shelf("High shelf", 1, "High post", 4000.0, **usual),
        *more,
    ]


def moved(x: float, y: float) -> tuple[Point, ...]:
    """The usual places with the last one moved."""
    return (*THREE[:2], (THREE[2][0] + x, THREE[2][1] + y))


@pytest.mark.parametrize(
    ("count", "words"),
    [
        (8, ["the shelves need 9 posts, the list has 8"]),
        (9, []),
        (10, ["the shelves need 9 posts, the list has 10"]),
    ],
)
def test_posts_are_counted(count: int, words: list[str]) -> None:
    rows = shelf("Shelf", 3, "Post", 4000.0), posts("Post", count, FLOOR, 500.0)
    assert said_of(*rows) == words


def test_posts_of_two_rows_of_shelves_are_counted_together() -> None:
    rows = [
        shelf("Wide", 2, "Post", 4000.0),
        shelf("Narrow", 1, "Post", 3000.0),
        posts("Post", 8, FLOOR, 500.0),
    ]
    assert said_of(*rows) == ["the shelves need 9 posts, the list has 8"]


def test_posts_without_a_shelf() -> None:
    spare = posts("Spare", 4, FLOOR, 700.0)
    assert said_of(spare) == ["no shelf stands on them, by this list"]
    (touch,) = audit(firing(spare)).touches
    assert touch.pot is not None
    assert (touch.kind, touch.count, touch.pot.mass, touch.pot.held) == (UNDER_POST, 4, 700, False)


def test_a_shelf_without_posts() -> None:
    assert said_of(shelf("Shelf", 1, None, 4000.0)) == [
        "no posts hold it in this list; add a row of posts and name it in stands on"
    ]


@pytest.mark.parametrize(
    ("moves", "words"),
    [
        ((0.0, 10.0), []),
        (
            (0.0, -25.0),
            [
                "its post at (300, 375) mm stands 25 mm out of line with the nearest post under "
                "'Shelf'; at most 10 mm (assumed)"
            ],
        ),
    ],
)
def test_posts_stand_in_line(moves: Point, words: list[str]) -> None:
    assert said_of(*over(posts_at=moved(*moves))) == words


def test_a_post_out_of_line_still_presses_on_the_posts_below() -> None:
    rows = over(posts_at=moved(0.0, -50.0))
    answer = audit(firing(*rows))
    ground = [t for t in answer.touches if t.row.name == "Post" and t.pot]
    assert sum(t.count * t.pot.mass for t in ground if t.pot) == pytest.approx(11000.0)
    assert len(answer.problems) == 1


def test_posts_that_share_places_by_level_only() -> None:
    """One row of posts for all levels: where they stand follows from the shelves' levels."""
    kiln = three_levels()
    lonely = replace(kiln, shelves=tuple(s for s in kiln.shelves if s.level != 1))
    with pytest.raises(BadInput, match="'Low shelf' was given"):
        audit(lonely)
    answer = audit(kiln)
    assert {t.lower for t in answer.touches if t.row.name == "Long post"} == {
        "Low shelf",
        "Middle shelf",
    }


def test_two_shelves_cannot_stand_in_one_place() -> None:
    rows = over()
    rows[3] = replace(rows[3], count=2)
    rows[2] = replace(rows[2], count=6)
    assert said_of(*rows) == [
        "2 shelves stand in the same place over 1 of 'Shelf'; give those beside each other rows "
        "of their own"
    ]


def test_a_load_beside_the_posts_tips_the_shelf() -> None:
    assert said_of(*one_shelf(load_at=(500.0, 400.0))) == [
        "its load, which acts at (500, 400) mm, lies outside its posts at (50, 50), (550, 50) and "
        "(300, 400) mm: it tips off them"
    ]
    assert said_of(*one_shelf(load_at=(300.0, 50.0))) == [
        "its post at (300, 400) mm carries nothing, since the load acts in line with the others: "
        "the shelf tips at a touch"
    ]
    assert said_of(*one_shelf(load_at=(300.0, 460.0)))[0] == (
        "its load acts at (300, 460) mm, beside the shelf"
    )


def test_posts_out_of_place() -> None:
    assert said_of(*one_shelf(posts_at=moved(0.0, 100.0)))[0] == (
        "no post at (300, 500) mm is under a shelf of 600 mm by 450 mm"
    )
    assert said_of(*one_shelf(posts_at=THREE[:2])) == ["it stands on 2 posts; give three or more"]


def test_a_foot_wider_than_the_shelf() -> None:
    platter = ware("Platter", 1, "Shelf", 2000.0, foot=RingFoot(460.0, 10.0))
    assert "its foot is 460 mm wide and 'Shelf' 450 mm" in said_of(*one_shelf(), platter)
    tray = Outline(Contour.polygon([(-280, -100), (280, -100), (280, 100), (-280, 100)]))
    assert said_of(*one_shelf(), ware("Tray", 1, "Shelf", 2000.0, foot=OutlineFoot(tray))) == []


@pytest.mark.parametrize("count", [31, 32])
def test_more_feet_than_there_is_room_for(count: int) -> None:
    """600 by 450 mm hold 31.2 circles of 100 mm at closest packing, a hexagon of 0.866 d² each.

    Source
    ------
    A. Thue, "Über die dichteste Zusammenstellung von kongruenten Kreisen in einer Ebene" (1910):
    π/√12 of the plane; quoted from memory.
    """
    hexagon = 3**0.5 / 2 * 100.0**2
    assert math.pi / 4 * 100.0**2 / hexagon == pytest.approx(CLOSEST)
    assert round(CLOSEST, 4) == 0.9069
    found = said_of(*one_shelf(), ware("Tile", count, "Shelf", 100.0))
    share = count * hexagon / (600.0 * 450.0)
    words = f"the feet of {count} × Tile take {share:.0%} of its area"
    assert found == ([f"{words}, as close as equal circles can stand"] if count == 32 else [])


def test_feet_of_other_kinds_take_room_too() -> None:
    """A bottle on its side takes belly by height, a round bottom half its sphere across."""
    lying = ware("Bottle", 1, "Shelf", 900.0, foot=SideFoot(300.0), height=449.0)
    flask = ware("Flask", 1, "Shelf", 900.0, foot=RoundFoot(800.0))
    assert said_of(*one_shelf(), lying) == []
    assert said_of(*one_shelf(), replace(lying, count=3))[0].startswith("the feet of 3 × Bottle")
    assert said_of(*one_shelf(), flask) == []
    assert said_of(*one_shelf(), replace(flask, foot=RoundFoot(920.0)))[0] == (
        "its foot is 460 mm wide and 'Shelf' 450 mm"
    )


def test_a_pot_that_reaches_the_shelf_above() -> None:
    """Posts of 200 mm; 25 mm more where wads raise the shelf by a layer."""
    fits = ware("Jar", 1, "Shelf", 900.0, height=225.0)
    high = replace(fits, height=230.0)
    assert said_of(*over(fits)) == []
    assert said_of(*over(high)) == [
        "it is 230 mm high, and the posts of 'High shelf' above it 200 mm: it would touch the "
        "shelf, also where wads on the posts raise that by 25 mm (assumed)"
    ]
    assert said_of(*over(replace(high, count=2, stack=2))) == []  # nested ware is less high


def test_pots_that_cannot_stand_on_others() -> None:
    jar = ware("Jar", 1, FLOOR, 2000.0, lid=lid(500.0, 110.0))
    wide = ware("Dish", 1, "Jar", 900.0, foot=RingFoot(160.0, 8.0))
    assert said_of(jar, wide) == [
        "its foot ring is 144 mm wide inside, and the lid of 'Jar' under it 110 mm at most"
    ]
    assert said_of(jar, replace(wide, foot=RingFoot(100.0, 6.0))) == []
    lying = ware("Bottle", 1, FLOOR, 900.0, foot=SideFoot(90.0))
    assert said_of(lying, ware("Cup", 1, "Bottle", 200.0)) == [
        "it stands on 'Bottle', which lies on its side"
    ]
    plate = ware("Plate", 1, FLOOR, 900.0, foot=RingFoot(200.0, 8.0), height=25.0)
    cup = ware("Cup", 1, "Plate", 200.0, foot=RingFoot(60.0, 5.0))
    assert said_of(plate, cup) == [
        "its wads stand 62 mm out of line with those under 'Plate', which is flatware and bends; "
        "at most 10 mm (assumed)"
    ]
    assert said_of(replace(plate, height=150.0), cup) == []


def test_two_on_one_are_told() -> None:
    jar = ware("Jar", 2, FLOOR, 2000.0, lid=lid(500.0))
    answer = audit(firing(jar, ware("Cup", 4, "Jar", 200.0, foot=FlatFoot(40.0))))
    assert f"row {jar.row}, Jar: 2 × Cup stand on each, evenly about its middle (assumed)" in (
        answer.notes
    )


def test_a_heavy_pot_set_first_at_a_corner_is_told() -> None:
    """Moments about the line from (50, 50) to (300, 400), by hand.

    The shelf's 4000 g at (300, 225) lie 350 × 250 - 250 × 175 = 43750 inside it, a foot of 100 mm
    at (50, 400) lies 350 × 0 - 250 × 350 = 87500 outside it: half of 4000 g tips the shelf.
    """
    heavy = ware("Jar", 1, "Shelf", 2010.0, foot=FlatFoot(100.0))
    rows = one_shelf()
    assert said_of(*rows, heavy) == []
    assert audit(firing(*rows, heavy)).notes == (
        f"row {rows[0].row}, Shelf: Jar of 2.01 kg set at a corner tips the empty shelf, which "
        "holds 2 kg there: set it between the posts",
    )
    assert audit(firing(*rows, replace(heavy, mass=1990.0))).notes == ()


def test_every_wrong_name_is_told_at_once() -> None:
    rows = [
        ware("Cup", 1, "Shelv", 200.0),
        ware("Mug", 1, "Cones", 200.0),
        ware("Bowl", 1, "Post", 200.0),
        ware("Vase", 4, FLOOR, 200.0, stack=3),
        ware("Jug", 101, FLOOR, 200.0, stack=101),
        shelf("Shelf", 1, "Cup", 4000.0),
        posts("Post", 3, "Cup", 500.0),
        cones("Cones", 2, "Shelf"),
    ]
    with pytest.raises(BadInput) as caught:
        audit(firing(*rows))
    numbers = [row.row for row in rows]
    assert {(f.where, f.given, f.right) for f in caught.value.faults} == {
        (f"kiln.csv, row {numbers[3]}, stack", "3", "give a number that divides the count of 4"),
        (f"kiln.csv, row {numbers[4]}, stack", "101", "give at most 100"),
        (f"kiln.csv, row {numbers[0]}, stands on", "'Shelv'", "did you mean 'Shelf'?"),
        *(
            (
                f"kiln.csv, row {numbers[n]}, stands on",
                given,
                f"{right}; give the name of such a row",
            )
            for n, given, right in (
                (1, "'Cones'", "it stands on a shelf, on another pot, or on the floor"),
                (2, "'Post'", "it stands on a shelf, on another pot, or on the floor"),
                (5, "'Cup'", "a shelf stands on posts, or on the floor"),
                (6, "'Cup'", "posts stand on a shelf, on other posts, or on the floor"),
            )
        ),
    }


def test_a_name_that_two_rows_have() -> None:
    twice = [ware("Cup", 1, FLOOR, 200.0), ware("Cup", 1, FLOOR, 300.0)]
    assert len(audit(firing(*twice)).touches) == 2
    with pytest.raises(BadInput, match=r"rows \d+ and \d+ have that name; give each its own"):
        audit(firing(*twice, ware("Bowl", 1, "Cup", 200.0)))


def circles() -> list[list[Row]]:
    """Things that stand on each other in a circle."""
    plain: list[Row] = [ware("A", 1, "B", 200.0), ware("B", 1, "A", 200.0)]
    itself: list[Row] = [ware("A", 1, "A", 200.0)]
    on_posts: list[Row] = [
        shelf("Shelf", 1, "Post", 4000.0),
        posts("Post", 3, "Shelf", 500.0),
    ]
    piled: list[Row] = [posts("A", 3, "B", 500.0), posts("B", 3, "A", 500.0)]
    return [plain, itself, on_posts, piled]


@pytest.mark.parametrize("rows", circles(), ids=["pots", "itself", "shelves", "posts"])
def test_a_circle_is_told(rows: list[Row]) -> None:
    with pytest.raises(BadInput, match="which stands on") as caught:
        audit(firing(*rows))
    (fault,) = caught.value.faults
    assert fault.where == f"kiln.csv, row {rows[0].row}, stands on"
    assert fault.right == "let one of them stand on a shelf or on the floor"


def test_a_load_beyond_any_kiln_is_a_fault_with_its_row() -> None:
    many = [ware("Block", 1, "Slab", 4e6), ware("Slab", 1, FLOOR, 4e6)]
    with pytest.raises(BadInput, match="with all that it carries, weight: 8e") as caught:
        audit(firing(*many))
    assert [f.where for f in caught.value.faults] == [
        f"kiln.csv, row {many[1].row}, with all that it carries, weight"
    ]


def test_long_chains_and_many_rows_are_no_trouble() -> None:
    chain: list[Row] = [ware("Pot 0", 1, FLOOR, 1.0)]
    chain += [ware(f"Pot {n}", 1, f"Pot {n - 1}", 1.0) for n in range(1, 3000)]
    first = audit(firing(*chain)).touches[0]
    assert first.pot is not None
    assert first.pot.mass == pytest.approx(3000.0)


def test_shelves_and_posts_are_what_the_helpers_say() -> None:
    """The helpers above build what they are meant to."""
    top, below = one_shelf()
    assert isinstance(top, Shelf)
    assert isinstance(below, Posts)
    assert top.stands_on == below.name


@pytest.mark.parametrize("level", [2, 3])
def test_posts_of_which_nobody_knows_what_they_stand_on(level: int) -> None:
    """Two shelves are on the level below, or none: neither is then reckoned to carry them."""
    rows = [
        shelf("Left", 1, "Post", 4000.0, level=1, load_at=MIDDLE),
        shelf("Right", 1, "Post", 4000.0, level=1, load_at=MIDDLE),
        posts("Post", 6, FLOOR, 500.0),
        shelf("High", 1, "High post", 4000.0, level=level, load_at=MIDDLE),
        posts("High post", 3, None, 500.0),
    ]
    assert said_of(*rows) == [
        "the list does not tell what its posts 'High post' stand on, so nothing below is reckoned "
        "to carry it; give those under each shelf a row of their own, and say there what they "
        "stand on"
    ]
    rows[4] = replace(rows[4], stands_on="Left")
    assert said_of(*rows) == []


def test_ware_of_which_nobody_knows_which_shelf_carries_it() -> None:
    mug = ware("Mug", 4, None, 400.0)
    assert said_of(*one_shelf(), mug) == [
        "the list does not tell what it stands on, so no shelf is reckoned to carry it; give its "
        "level, or say what it stands on"
    ]
    assert said_of(*one_shelf(), replace(mug, stands_on="Shelf")) == []
    assert said_of(mug) == []  # a list of ware alone


@pytest.mark.parametrize(
    ("foot", "why"),
    [(RoundFoot(90.0), "its bottom is round"), (SideFoot(90.0), "it lies on its side")],
)
def test_what_rolls_stands_on_no_other_pot(foot: RoundFoot | SideFoot, why: str) -> None:
    stack = ware("Flask", 2, FLOOR, 400.0, foot=foot, stack=2)
    assert said_of(stack) == [f"{why}: it cannot stand in a stack"]
    assert said_of(replace(stack, stack=1)) == []
    jar = ware("Jar", 2, FLOOR, 2000.0, lid=lid(500.0))
    assert said_of(jar, replace(stack, stack=1, stands_on="Jar")) == [
        f"{why}: 'Jar' gives it no level place to be wadded on"
    ]


def test_ware_that_stands_in_open_ware_is_told() -> None:
    """Nobody knows a mug's rim: wads under a wide plate may hang in the air."""
    mug = ware("Mug", 2, FLOOR, 400.0, height=90.0)
    plate = ware("Plate", 1, "Mug", 900.0, foot=RingFoot(160.0, 8.0), height=28.0)
    look = "look that all its wads rest on something"
    assert next(note for note in audit(firing(mug, plate)).notes if look in note).startswith(
        f"row {plate.row}, Plate: it stands on Mug: "
    )
    assert any(look in note for note in audit(firing(replace(mug, stack=2))).notes)
    flat = replace(plate, count=2, stack=2, stands_on=FLOOR)
    assert not any(look in note for note in audit(firing(flat)).notes)


def test_posts_that_the_list_does_not_place_are_told_with_their_places() -> None:
    table = (
        "name;count;kind;weight;length;width;height;foot;stands on;posts at;load at\n"
        "Shelf;1;shelf;9 kg;600;450;;;Post;;300 200\n"
        "Low shelf;1;shelf;9 kg;600;450;;;Low post;40 40; 560 40; 300 410;300 200\n"
        "Post;3;post;1 kg;;;200;60;floor;;\n"
        "Low post;3;post;1 kg;;;200;60;floor;;\n"
    ).replace("40 40; 560 40; 300 410", '"40 40; 560 40; 300 410"')
    notes = audit(parse_list(table.encode(), "list.csv")).notes
    assert [note for note in notes if "assumed, since" in note] == [
        "row 2, Shelf: assumed, since the list does not tell: it stands on three posts, 40 mm in "
        "from its edges: 40 40; 560 40; 300 410"
    ]


def test_a_stack_whose_heights_reach_the_shelf_above_is_told() -> None:
    def told(height: float, stack: int) -> list[str]:
        plate = ware("Plate", 12, "Shelf", 900.0, height=height, stack=stack)
        return [note for note in audit(firing(*over(plate))).notes if "add up to" in note]

    room = over()[2]
    assert isinstance(room, Posts)
    (note,) = told(room.height / 4, 4)
    assert f"add up to {room.height:g} mm, and the posts of 'High shelf' above it are" in note
    assert told(room.height / 4 - 1.0, 4) == []
    assert told(room.height, 1) == []  # a pot that is no stack is held against the shelf itself
