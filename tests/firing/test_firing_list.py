"""Firing lists: what a row becomes, and every kind of fault with its place and remedy."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from wadforms.errors import BadInput, quoted
from wadforms.firing.list_columns import COLUMNS, USED
from wadforms.firing.list_file import example, parse_list, read_list
from wadforms.firing.rows import KINDS, FiringList
from wadforms.setting.feet import FlatFoot, GalleryFoot, OutlineFoot, RingFoot, RoundFoot, SideFoot

MASS = "give a mass with its unit, such as '2.4 kg', '850 g' or '5 lb 4 oz'"
LENGTH = "give a length such as '24 mm', '2.4 cm' or '1 in'"
WHOLE = "give a whole number, 1 to 999999"
LID = (
    "a lid fired on its pot needs lid weight, gallery diameter and gallery width; give all or none"
)
POINTS = "give points such as '40 40; 560 40; 300 410', or '1 1/2 in 1 1/2 in; 22 1/2 in 1 1/2 in'"

POT = {"name": "Pot", "count": "6", "weight": "1 kg", "foot": "80"}
SHELF = {
    **{"name": "Shelf", "count": "2", "kind": "shelf", "weight": "11 kg", "level": "1"},
    **{"length": "600", "width": "450"},
}
POST = {"name": "Post", "count": "6", "kind": "post", "weight": "2 kg", "foot": "60"} | {
    "height": "230"
}
CONES = {"name": "Cones", "count": "2", "kind": "cones"}


def saved(*rows: dict[str, str]) -> bytes:
    """A list with the columns that its rows fill in."""
    heads = [c.name for c in COLUMNS if any(c.name in row for row in rows)]
    lines = ["\t".join(heads), *("\t".join(row.get(h, "") for h in heads) for row in rows)]
    return "\n".join(lines).encode()


def read(*rows: dict[str, str]) -> FiringList:
    return parse_list(saved(*rows), "l.csv")


def test_a_row_becomes_a_pot_with_its_lid() -> None:
    jar = {
        **{"name": "Jar", "count": "8", "weight": "2.4 kg", "foot": "120 mm", "height": "21 cm"},
        **{"centre height": "95", "centre off": "4", "lid weight": "600 g", "stack": "2"},
        **{"gallery diameter": "117 mm", "gallery width": "7 mm", "stands on": "FLOOR"},
        **{"place": "Firebox", "body": "DRY", "shape": "disk-20"},
    }
    (found,) = read(jar).wares
    assert (found.row, found.name, found.count, found.kind) == (2, "Jar", 8, "pot")
    assert (found.place.name, found.body, found.bare) == ("firebox", "dry", False)
    assert found.shape is not None
    assert found.shape.name == "disk-20"
    assert (found.foot, found.mass, found.stack) == (FlatFoot(120.0), 2400.0, 2)
    assert (found.height, found.centre_height, found.centre) == (210.0, 95.0, (4.0, 0.0))
    assert found.lid is not None
    assert (found.lid.mass, found.lid.gallery) == (600.0, GalleryFoot(117.0, 7.0))
    assert found.stands_on == "floor"


def test_few_columns_are_enough() -> None:
    text = b"Foot_Width;NAME;foot [cm];Weight in lb;count\n1/4 in;Bowl;5,2;0,5;40\n"
    (bowl,) = parse_list(text, "l.csv").wares
    assert bowl.foot == RingFoot(52.0, 6.35)
    assert bowl.mass == 453.59237 / 2
    assert bowl.place.name == "sheltered"
    assert (bowl.lid, bowl.body, bowl.shape, bowl.stands_on) == (None, None, None, None)
    assert (bowl.stack, bowl.centre, bowl.height) == (1, (0.0, 0.0), None)


def test_feet_of_every_kind(tmp_path: Path) -> None:
    (tmp_path / "feet").mkdir()
    (tmp_path / "feet" / "slab.csv").write_text("0,0\n90,0\n90,60\n0,60\n", encoding="utf-8")
    rows = [
        POT,
        POT | {"foot width": "6"},
        POT | {"foot kind": "round"},
        POT | {"foot kind": "Side"},
        POT | {"foot kind": "square"},
        POT | {"foot": "", "foot outline": r"feet\slab.csv"},
    ]
    (tmp_path / "list.csv").write_bytes(saved(*rows))
    feet = [ware.foot for ware in read_list(tmp_path / "list.csv").wares]
    assert feet[:4] == [FlatFoot(80.0), RingFoot(80.0, 6.0), RoundFoot(80.0), SideFoot(80.0)]
    square, slab = feet[4:]
    assert isinstance(square, OutlineFoot)
    assert (square.outline.size, square.outline.area) == ((80.0, 80.0), 6400.0)
    assert isinstance(slab, OutlineFoot)
    assert slab.outline.size == (90.0, 60.0)


def test_shelves_posts_cones_and_draw_rings() -> None:
    ring = {"name": "Ring", "count": "4", "kind": "Draw_Ring", "weight": "50 g", "foot": "50"}
    listed = read(
        SHELF | {"stands on": "POST", "posts at": "4 cm 4 cm; 560 × 40; 30 41 cm;"},
        POST | {"foot kind": "square", "stands on": "floor"},
        CONES | {"level": "1", "shape": "cone-seat-3"},
        ring | {"stands on": "shelf", "body": "none"},
        {"name": "Ledge", "count": "1", "kind": "shelf", "weight": "4 kg", "length": "200"}
        | {"width": "300", "load at": "90 100"},
    )
    shelf, ledge = listed.shelves
    assert (shelf.mass, shelf.length, shelf.width, shelf.level) == (11000.0, 600.0, 450.0, 1)
    assert shelf.posts_at == ((40.0, 40.0), (560.0, 40.0), (300.0, 410.0))
    assert shelf.load_at == (300.0, 225.0)
    assert shelf.assumed == ("its load acts in its middle",)
    assert shelf.stands_on == "Post"  # as that row writes it
    assert ledge.posts_at == ((40.0, 40.0), (40.0, 260.0), (160.0, 150.0))
    assert ledge.load_at == (90.0, 100.0)
    assert ledge.assumed == (
        "it stands on three posts, 40 mm in from its edges: 40 40; 40 260; 160 150",
    )
    (post,) = listed.posts
    assert (post.mass, post.height, post.foot.kind) == (2000.0, 230.0, "outline")
    (cones,) = listed.cones
    assert cones.stands_on == "Shelf"  # by its level
    assert cones.shape is not None
    (draw,) = listed.wares
    assert (draw.kind, draw.stands_on, draw.bare, draw.body) == ("draw ring", "Shelf", True, None)
    assert [row.row for row in listed.rows] == [2, 3, 4, 5, 6]


def test_a_shelf_on_the_floor_needs_no_posts() -> None:
    (shelf,) = read(SHELF | {"stands on": "Floor"}).shelves
    assert (shelf.posts_at, shelf.stands_on) == ((), "floor")


@pytest.mark.parametrize(
    ("mark", "body", "shape"),
    [
        ("pale", "wet", None),
        ("Coloured", "dry", None),
        ("colored", "dry", None),
        ("leaf-55", None, "leaf-55"),
    ],
)
def test_a_mark_that_is_wanted(mark: str, body: str | None, shape: str | None) -> None:
    (ware,) = read(POT | {"mark": mark}).wares
    assert ware.body == body
    assert (ware.shape and ware.shape.name) == shape


def test_the_example_is_a_whole_firing() -> None:
    listed = parse_list(example(), "example.csv")
    pots = [ware for ware in listed.wares if ware.kind == "pot"]
    assert (len(pots), sum(ware.count for ware in pots)) == (10, 200)
    assert {ware.place.name for ware in pots} == {"sheltered", "firebox", "stoking"}
    assert any(ware.lid for ware in pots)
    assert any(ware.stack > 1 for ware in pots)
    assert {"side", "ring", "flat", "outline"} <= {ware.foot.kind for ware in pots}
    assert {shelf.level for shelf in listed.shelves} == {1, 2, 3}
    assert listed.posts
    assert listed.cones
    assert any(ware.kind == "draw ring" for ware in listed.wares)
    assert listed.notes == ()


def test_the_example_has_every_column() -> None:
    heads = next(line for line in example().decode().splitlines() if not line.startswith("#"))
    assert [head.partition(" (")[0] for head in heads.split(",")] == [c.name for c in COLUMNS]


def test_every_column_is_of_use_to_some_kind() -> None:
    assert set(USED) == set(KINDS)
    assert {name for names in USED.values() for name in names} == {c.name for c in COLUMNS}


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ([POT | {"name": ""}], ["row 2, name: nothing was given; fill it in"]),
        ([POT | {"name": "Floor"}],
         ["row 2, name: 'Floor' was given; give another name: 'floor' is the kiln's floor"]),
        ([POT | {"foot kind": "side", "foot width": "", "lid weight": "200 g", "gallery diameter":
                 "60", "gallery width": "6"}],
         ["row 2, lid weight: '200 g' was given; leave the lid out: a pot on its side drops it"]),
        ([POT | {"name": "x" * 121}],
         [f"row 2, name: {quoted('x' * 121)} was given; give at most 120 letters"]),
        ([POT | {"count": ""}], [f"row 2, count: nothing was given; {WHOLE}"]),
        ([POT | {"count": "1.5"}], [f"row 2, count: '1.5' was given; {WHOLE}"]),
        ([POT | {"count": "-2"}], [f"row 2, count: '-2' was given; {WHOLE}"]),
        ([POT | {"kind": "shelv"}],
         ["row 2, kind: 'shelv' was given; did you mean 'shelf'?"]),
        ([POT | {"weight": ""}, POT],
         ["row 2, weight: nothing was given; give a mass, such as '2.4 kg'"]),
        ([POT | {"weight": "2"}], [f"row 2, weight: '2' was given; {MASS}"]),
        ([POT | {"weight": "1,234 kg"}],
         ["row 2, weight: '1,234 kg' was given; write 1.234 or 1234: it could be either"]),
        ([POT | {"weight": "1.234 kg", "height": "9,5"}],
         ["row 2, weight: '1.234 kg' was given; write 1,234 or 1234: beside decimal commas it "
          "could be either"]),
        ([POT | {"weight": "-1 kg"}], ["row 2, weight: '-1 kg' was given; give more than 0"]),
        ([POT | {"weight": "9 t"}], ["row 2, weight: '9 t' was given; give at most 5000 kg"]),
        ([POT | {"foot": "5 kg"}], [f"row 2, foot: '5 kg' was given; {LENGTH}"]),
        ([POT | {"foot": "3 m"}], ["row 2, foot: '3 m' was given; give at most 2000 mm"]),
        ([POT | {"foot": ""}, POT],
         ["row 2, foot: nothing was given; give a length, such as '24 mm'"]),
        ([POT | {"foot": "50", "foot width": "30"}],
         ["row 2, foot: '50' was given; give more than twice the ring's width of 30 mm, "
          "or a smaller foot width"]),
        ([POT | {"foot kind": "oval"}],
         ["row 2, foot kind: 'oval' was given; one of flat, outline, ring, round, side, square"]),
        ([POT | {"foot kind": "ring"}, POT | {"foot width": "5"}],
         ["row 2, foot width: nothing was given; give a length, such as '24 mm'"]),
        ([POT | {"foot kind": "side", "foot width": "5"}],
         ["row 2, foot width: '5' was given; leave it empty: a side foot has no use for it"]),
        ([POT | {"foot outline": "foot.svg"}],
         ["row 2, foot: '80' was given; leave it empty: an outline foot has no use for it",
          "row 2, foot outline: 'foot.svg' was given; give the name of a drawing in the list's "
          "own folder"]),
        ([POT | {"height": "60", "centre height": "61"}],
         ["row 2, centre height: '61' was given; give at most the height of 60 mm"]),
        ([POT | {"centre off": "-4"}], ["row 2, centre off: '-4' was given; give 0 or more"]),
        ([POT | {"lid weight": "1 kg", "gallery diameter": "", "gallery width": ""}],
         [f"row 2, gallery diameter: nothing was given; {LID}",
          f"row 2, gallery width: nothing was given; {LID}"]),
        ([POT | {"lid weight": "1 kg", "gallery diameter": "20", "gallery width": "10"}],
         ["row 2, gallery width: '10' was given; give less than half the gallery's diameter of "
          "20 mm"]),
        ([POT | {"stack": "4"}],
         ["row 2, stack: '4' was given; give a number that divides the count of 6"]),
        ([POT | {"stands on": "Shelv"}, SHELF],
         ["row 2, stands on: 'Shelv' was given; did you mean 'Shelf'?"]),
        ([POT | {"stands on": "Shelf"}, SHELF, SHELF],
         ["row 2, stands on: 'Shelf' was given; rows 3 and 4 have that name; give each its own"]),
        ([POT | {"level": "2"}, SHELF],
         ["row 2, level: '2' was given; give a level that a shelf has: 1"]),
        ([POT | {"level": "1"}, SHELF, SHELF | {"name": "Other"}],
         ["row 2, level: '1' was given; say in 'stands on' which: the shelves of rows 3 and 4 "
          "have that level"]),
        ([POT | {"level": "1"}],
         ["row 2, level: '1' was given; add a row of kind 'shelf' with that level, or say what it "
          "stands on"]),
        ([POT | {"level": "3", "stands on": "shelf"}, SHELF],
         ["row 2, level: '3' was given; 'Shelf' is on level 1; leave one of the two empty"]),
        ([POT | {"place": "firebx"}],
         ["row 2, place: 'firebx' was given; did you mean 'firebox'?"]),
        ([POT | {"mark": "pael"}], ["row 2, mark: 'pael' was given; did you mean 'pale'?"]),
        ([POT | {"mark": "leaf-5"}],
         ["row 2, mark: 'leaf-5' was given; give pale, coloured, or the name of a shape; did you "
          "mean 'leaf-55' or 'pebble-35' or 'tee-50'?"]),
        ([POT | {"mark": "pale", "body": "dry"}],
         ["row 2, body: 'dry' was given; a pale mark is left by wet wads; leave one of the two "
          "empty"]),
        ([POT | {"mark": "leaf-55", "shape": "disk-20"}],
         ["row 2, mark: 'leaf-55' was given; leave it empty, or give the same shape as in "
          "'shape'"]),
        ([POT | {"body": "moist"}],
         ["row 2, body: 'moist' was given; one of dry, none, solid, wet"]),
        ([POT | {"body": "none", "mark": "pale"}],
         ["row 2, mark: 'pale' was given; leave it empty: body is 'none', so nothing leaves a "
          "mark"]),
        ([POT | {"body": "none", "shape": "disk-20"}],
         ["row 2, shape: 'disk-20' was given; leave it empty: body is 'none', so no shape goes "
          "under it"]),
        ([POT | {"body": "wet", "shape": "pointed-tripod-63"}],
         ["row 2, body: 'wet' was given; pointed-tripod-63 can be set solid"]),
        ([POT | {"shape": "disk-21"}],
         ["row 2, shape: 'disk-21' was given; did you mean 'disk-31' or 'disk-25' or 'disk-20'?"]),
        ([POT | {"shape": "cone-seat-3"}],
         ["row 2, shape: 'cone-seat-3' was given; choose a shape that bears a pot; a cone seat "
          "holds pyrometric cones"]),
        ([POT | {"shape": "custom"}],
         ["row 2, shape, outline: none was given; give an outline file"]),
        ([CONES | {"shape": "disk-20"}],
         ["row 2, shape: 'disk-20' was given; choose a cone seat: it holds pyrometric cones"]),
        ([POT | {"stands on": "floor", "level": "9"}],
         ["row 2, level: '9' was given; it stands on the floor; leave one of the two empty"]),
        ([POT | {"foot": "80", "lid weight": "200 g", "gallery diameter": "241",
                 "gallery width": "8"}],
         ["row 2, gallery diameter: '241' was given; check it and the foot: no pot that stands has "
          "a mouth more than 3 times as wide as its foot, here 240 mm"]),
        ([CONES | {"body": "wet"}],
         ["row 2, body: 'wet' was given; cone-seat-3, which holds them, can be set dry or solid"]),
        ([CONES | {"weight": "1 kg"}],
         ["row 2, weight: '1 kg' was given; leave it empty: a row of kind 'cones' has no use for "
          "it"]),
        ([SHELF | {"foot": "60"}],
         ["row 2, foot: '60' was given; leave it empty: a row of kind 'shelf' has no use for it"]),
        ([SHELF | {"length": ""}, SHELF | {"name": "B"}],
         ["row 2, length: nothing was given; give a length, such as '24 mm'"]),
        ([SHELF | {"length": "3 m"}],
         ["row 2, length: '3 m' was given; give at most 2000 mm"]),
        ([SHELF | {"width": "80"}],
         ["row 2, posts at: nothing was given; say where posts hold a shelf that is no wider than "
          "80 mm"]),
        ([SHELF | {"posts at": "40; 40"}], [f"row 2, posts at: '40; 40' was given; {POINTS}"]),
        ([SHELF | {"posts at": "40 40; 560 40"}],
         ["row 2, posts at: '40 40; 560 40' was given; give 3 to 12 points: on fewer a shelf "
          "tips"]),
        ([SHELF | {"posts at": "40 40; 560 40; 40 40"}],
         ["row 2, posts at: '40 40; 560 40; 40 40' was given; give each point once"]),
        ([SHELF | {"posts at": "40 40; 560 40; 300 460"}],
         ["row 2, posts at: '40 40; 560 40; 300 460' was given; give points on the shelf of "
          "600 × 450 mm; these are beside it: 300 460"]),
        ([SHELF | {"posts at": "40 40; 560 40; 300 410", "stands on": "floor"}],
         ["row 2, posts at: '40 40; 560 40; 300 410' was given; leave it empty: the shelf lies on "
          "the floor"]),
        ([SHELF | {"load at": "1 2; 3 4"}],
         ["row 2, load at: '1 2; 3 4' was given; give one point, such as '300 225' or '12 in "
          "8 1/2 in'"]),
        ([SHELF | {"load at": "-1 20"}],
         ["row 2, load at: '-1 20' was given; give points on the shelf of 600 × 450 mm; these are "
          "beside it: -1 20"]),
        ([POST | {"foot kind": "round"}],
         ["row 2, foot kind: 'round' was given; give flat, ring, square or outline: a post stands "
          "on its end"]),
        ([POST | {"height": ""}, POST],
         ["row 2, height: nothing was given; give a length, such as '24 mm'"]),
        ([POST | {"level": "1"}],
         ["row 2, level: '1' was given; leave it empty: a row of kind 'post' has no use for it"]),
    ],
)  # fmt: skip
def test_each_fault_of_a_row(rows: list[dict[str, str]], said: list[str]) -> None:
    with pytest.raises(BadInput) as caught:
        read(*rows)
    assert str(caught.value).split("\n") == [f"l.csv, {line}" for line in said]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "l.csv: an empty table was given; begin with the headings name, count"),
        ("# only a remark\n;;\n",
         "l.csv: an empty table was given; begin with the headings name, count"),
        ("name,count\n", "l.csv: a list without rows was given; give a row for each kind of ware"),
        (
            "name,wieght,foot,name,\nA,1 kg,80,,\n",
            "l.csv, row 1, heading: 'wieght' was given; did you mean 'weight' or "
            "'height' or 'lid weight'?\n"
            "l.csv, row 1, heading: 'name' twice was given; give it once\n"
            "l.csv, row 1, headings: no 'count' was given; add the column 'count': how many of it\n"
            "l.csv, headings: no 'weight' was given; add the column 'weight': of one, without its "
            "lid, with its unit (row 2 needs it)",
        ),
        (
            "name,count,weight (mm),foot\nA,1,1,80\n",
            "l.csv, row 1, heading: 'weight (mm)' was given; write 'weight (g)'; the units are g, "
            "gram, grams, kg, kgs, oz, ounce, ounces, lb, lbs, pound, pounds, t",
        ),
        (
            "name,count (kg),weight,foot (across)\nA,1,1 kg,80\n",
            "l.csv, row 1, heading: 'count (kg)' was given; write 'count': it has no unit\n"
            "l.csv, row 1, heading: 'foot (across)' was given; write 'foot (mm)'; the units are "
            "mm, cm, m, in, inch, inches, \", ft",
        ),
        (
            "name,,count,weight,foot\nA,,1,1 kg,50",
            "l.csv, row 1, column 2: no heading was given; give every column a heading",
        ),
        (
            "name,count,weight,foot\nA,0,3,1,234\n\n,x,-1 kg,\n",
            "l.csv, row 2: a row of 5 cells was given; the headings are 4; put a cell that holds "
            "the separator in quotes\n"
            "l.csv, row 4, name: nothing was given; fill it in\n"
            f"l.csv, row 4, count: 'x' was given; {WHOLE}\n"
            "l.csv, row 4, weight: '-1 kg' was given; give more than 0\n"
            "l.csv, row 4, foot: nothing was given; give a length, such as '24 mm'",
        ),
        (
            'name,count,weight,foot\n"Two\nlines",1,2 kg,50\n',
            "l.csv, row 2, name: 'Two\\nlines' was given; leave out line breaks and control "
            "characters",
        ),
        (
            'name,count,weight,foot\nA,1,"2 kg,50\n',
            "l.csv, row 2: a row that cannot be read was given; save it as CSV with plain quotes "
            "(unexpected end of data)",
        ),
        ("sep=|\nname|count\n",
         "l.csv, row 1: '|' was given; separate cells by commas, semicolons or tabs"),
    ],
)  # fmt: skip
def test_each_fault_of_a_table(text: str, said: str) -> None:
    with pytest.raises(BadInput) as caught:
        parse_list(text.encode(), "l.csv")
    assert set(str(caught.value).split("\n")) == set(said.split("\n"))


def test_faults_of_all_rows_stand_in_one_answer() -> None:
    rows = [POT | {"foot": "x", "stands on": "nowhere", "body": "moist"}, SHELF | {"level": "0"}]
    with pytest.raises(BadInput) as caught:
        read(*rows)
    assert [fault.where for fault in caught.value.faults] == [
        *("l.csv, row 2, body", "l.csv, row 2, foot", "l.csv, row 2, stands on"),
        "l.csv, row 3, level",
    ]


def test_thousands_of_unknown_names_are_told_in_little_time() -> None:
    rows = [POT | {"name": f"Pot {n}", "stands on": f"Shelf {n}"} for n in range(4000)]
    with pytest.raises(BadInput) as caught:
        read(*rows)
    assert len(caught.value.faults) == 4000
    assert max(len(str(fault)) for fault in caught.value.faults) < 120


@pytest.mark.parametrize(
    "name", ["../foot.csv", "/etc/hosts", r"..\foot.csv", r"C:\foot.csv", "C:foot.csv", "link.csv",
             "a/../../foot.csv", "loop.csv", "out/foot.csv", ".", "\\\\host\\share\\foot.csv"]
)  # fmt: skip
def test_a_list_reads_no_drawing_outside_of_its_folder(tmp_path: Path, name: str) -> None:
    folder = tmp_path / "lists"
    (folder / "a").mkdir(parents=True)
    (tmp_path / "foot.csv").write_text("0,0\n90,0\n90,60\n", encoding="utf-8")
    (folder / "link.csv").symlink_to(tmp_path / "foot.csv")
    (folder / "out").symlink_to(tmp_path)
    (folder / "loop.csv").symlink_to("loop.csv")
    (folder / "list.csv").write_bytes(saved(POT | {"foot": "", "foot outline": name}))
    with pytest.raises(BadInput, match=r"row 2, foot outline: .* the list's own folder"):
        read_list(folder / "list.csv")


def test_the_faults_of_a_drawing_are_told_in_its_row(tmp_path: Path) -> None:
    (tmp_path / "line.csv").write_text("0,0\n90,0\n", encoding="utf-8")
    rows = [POT | {"foot": "", "foot outline": name} for name in ("line.csv", "none.csv")]
    (tmp_path / "list.csv").write_bytes(saved(*rows))
    with pytest.raises(BadInput) as caught:
        read_list(tmp_path / "list.csv")
    first, second = caught.value.faults
    assert first.where.startswith(f"{tmp_path / 'list.csv'}, row 2, foot outline, ")
    assert "line.csv" in first.where
    assert (second.given, second.right) == (
        "a file that is not there",
        "give a drawing that can be read",
    )


def test_a_file_that_is_no_list(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="give a table that can be read"):
        read_list(tmp_path / "none.csv")
    with pytest.raises(BadInput, match="give a table that can be read"):
        read_list(tmp_path)
    os.mkfifo(tmp_path / "pipe.csv")
    with pytest.raises(BadInput, match="a device or a pipe"):
        read_list(tmp_path / "pipe.csv")
    with pytest.raises(BadInput, match="give a table of less than 8 MB"):
        parse_list(b"x" * 8_000_001, "l.csv")
