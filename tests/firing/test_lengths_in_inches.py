"""Lists of potters who measure in inches (1 in = 25.4 mm, yard and pound agreement of 1959)."""

from __future__ import annotations

import pytest

from wadforms.errors import BadInput
from wadforms.firing.list_file import parse_list
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
