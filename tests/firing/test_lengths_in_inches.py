"""Lists of potters who measure in inches (1 in = 25.4 mm, yard and pound agreement of 1959)."""

from __future__ import annotations

import pytest

from wadforms.errors import BadInput
from wadforms.firing.list_columns import COLUMNS
from wadforms.firing.list_file import parse_list
from wadforms.firing.tables import read_table
from wadforms.setting.feet import FlatFoot


@pytest.mark.parametrize(
    ("table", "where", "asked"),
    [
        (
            "name,count,weight,foot,foot width,height\nBowl,1,1 lb,2 3/4 in,3/8,3 in\n",
            "list.csv, row 2, foot width",
            "write 3/8 mm or 3/8 in",
        ),
        (
            'name,count,weight,foot,height\nBowl,1,1 lb,"2 3/4""",90\nMug,1,1 lb,70 mm,4 in\n',
            "list.csv, row 2, height",
            "write 90 mm or 90 in",
        ),
        (
            "name,count,weight,foot (in),height\nBowl,1,1 lb,2 3/4,90\n",
            "list.csv, row 2, height",
            "write 90 mm or 90 in",
        ),
    ],
)
def test_a_bare_length_beside_inches_is_asked_about(table: str, where: str, asked: str) -> None:
    with pytest.raises(BadInput) as told:
        parse_list(table.encode(), "list.csv")
    (fault,) = told.value.faults
    assert fault.where == where
    assert fault.right == f"{asked}: beside inches it could be either"


def test_a_point_of_a_shelf_is_asked_about_too() -> None:
    table = (
        "name;count;kind;weight;length;width;stands on;load at\n"
        "Shelf;1;shelf;20 lb;24 in;18 in;floor;12 9\n"
    )
    with pytest.raises(BadInput) as told:
        parse_list(table.encode(), "list.csv")
    assert [fault.where for fault in told.value.faults] == ["list.csv, row 2, load at"] * 2


def test_a_unit_in_the_heading_serves_the_bare_ones_beside_inches() -> None:
    table = "name,count,weight,foot (mm),centre off,height\nBowl,1,1 lb,70,0,3 in\n"
    (bowl,) = parse_list(table.encode(), "list.csv").wares
    assert bowl.foot == FlatFoot(70.0)
    assert bowl.centre == (0.0, 0.0)  # nothing is as much in any unit
    assert bowl.height == pytest.approx(76.2)


def test_without_inches_a_bare_length_is_in_mm() -> None:
    (bowl,) = parse_list(b"name,count,weight,foot\nBowl in,1,1 lb,70\n", "list.csv").wares
    assert bowl.foot == FlatFoot(70.0)


def shelf(posts: str) -> str:
    head = "name;count;kind;weight;length;width;stands on;posts at;load at\n"
    posted = f'Shelf;1;shelf;20 lb;24 in;18 in;Post;"{posts}";12 in 8 1/2 in\n'
    return f"{head}{posted}Post;3;post;5 lb;;;floor;;\n"


@pytest.mark.parametrize(
    "posts",
    [
        "1 1/2 in 1 1/2 in; 22 1/2 in 1 1/2 in; 12 in 16 1/2 in",
        "1 1/2 1 1/2 in; 22 1/2 1 1/2 in; 12 16 1/2 in",
        "1½ in x 1 ½ in; 22½in × 1½in; 12 16½ in",
        "1.5 in 1.5 in; 22.5 in 1.5 in; 12 in 16.5 in",
        "3/2 in 3/2 in; 45/2 in 3/2 in; 12 in 33/2 in",
    ],
)
def test_points_with_fractions(posts: str) -> None:
    line = read_table(shelf(posts).encode(), COLUMNS, "list.csv").lines[0]
    found = line.points("posts at")
    assert found is not None
    assert [x / 25.4 for point in found for x in point] == pytest.approx(
        [1.5, 1.5, 22.5, 1.5, 12.0, 16.5], rel=1e-12
    )
    assert line.point("load at") == pytest.approx((12 * 25.4, 8.5 * 25.4), rel=1e-12)


@pytest.mark.parametrize("posts", ["1 1/2 in", "1½", "1 1/2 in; 3 in 4 in", "1/2 in", "1/0 in"])
def test_one_length_is_no_point_and_the_message_shows_inches(posts: str) -> None:
    line = read_table(shelf(posts).encode(), COLUMNS, "list.csv").lines[0]
    assert line.points("posts at") is None
    (fault,) = line.faults
    assert "or '1 1/2 in 1 1/2 in; 22 1/2 in 1 1/2 in'" in fault.right
