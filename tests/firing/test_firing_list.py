"""Firing lists: every fault with its place, and the same list however it was saved."""

from __future__ import annotations

import contextlib
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wadforms.errors import BadInput
from wadforms.firing.list_file import COLUMNS, Ware, example, parse_list, read_list
from wadforms.setting.feet import FlatFoot, GalleryFoot, RingFoot

HEAD = ",".join(column.name for column in COLUMNS)
MASS = "give a mass with its unit, such as '2.4 kg', '850 g' or '5 lb 4 oz'"
LENGTH = "give a length such as '24 mm', '2.4 cm' or '1 in'"
LID = (
    "a lid fired on its pot needs lid weight, gallery diameter and gallery width; give all or none"
)


def test_a_row_becomes_a_pot_with_its_lid() -> None:
    text = f"{HEAD}\nJar,8,2.4 kg,120 mm,,21 cm,,600 g,117 mm,7 mm,Firebox,DRY,disk-20\n"
    (jar,) = parse_list(text.encode(), "list.csv")
    assert (jar.row, jar.name, jar.count, jar.place.name, jar.body) == (
        2,
        "Jar",
        8,
        "firebox",
        "dry",
    )
    assert jar.shape is not None
    assert jar.shape.name == "disk-20"
    assert jar.pot.foot == FlatFoot(120.0)
    assert jar.pot.mass == 3000.0  # the foot carries the lid too
    assert (jar.pot.height, jar.pot.centre_height) == (210.0, None)
    assert jar.lid is not None
    assert (jar.lid.mass, jar.lid.foot) == (600.0, GalleryFoot(117.0, 7.0))


def test_few_columns_are_enough() -> None:
    (bowl,) = parse_list(b"Foot_Width;NAME;foot;Weight;count\n1/4 in;Bowl;50;380 g;40\n", "l.csv")
    assert bowl.pot.foot == RingFoot(50.0, 6.35)
    assert bowl.place.name == "sheltered"
    assert (bowl.lid, bowl.body, bowl.shape) == (None, None, None)


def test_the_example_can_be_read() -> None:
    wares = parse_list(example(), "example.csv")
    assert len(wares) >= 6
    assert {ware.place.name for ware in wares} == {"sheltered", "firebox", "stoking"}
    assert any(ware.lid for ware in wares)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "l.csv: an empty table was given; begin with the headings name, count, weight, foot"),
        (
            "# only a remark\n;;\n",
            "l.csv: an empty table was given; begin with the headings name, count, weight, foot",
        ),
        ("name,count,weight,foot\n",
         "l.csv: a list without rows was given; give a row for each kind of ware"),
        (
            "name,wieght,count,name,\n\n",
            "l.csv, row 1, heading: 'wieght' was given; did you mean 'weight' or "
            "'height' or 'lid weight'?\n"
            "l.csv, row 1, heading: 'name' twice was given; give it once\n"
            "l.csv, row 1, headings: no 'weight' was given; add the column 'weight': of one, "
            "without its lid, with its unit\n"
            "l.csv, row 1, headings: no 'foot' was given; add the column 'foot': diameter of the "
            "foot",
        ),
        (
            "name,,count,weight,foot\nA,,1,1 kg,50",
            "l.csv, row 1, column 2: no heading was given; give every column a heading",
        ),
        (
            "name,count,weight,foot\nA,0,3,1,234\nB,1.5,\"1,234 kg\",5 kg\n\n,x,-1 kg,\n",
            "l.csv, row 2: a row of 5 cells was given; the headings are 4; put a cell that holds "
            "the separator in quotes\n"
            "l.csv, row 3, count: '1.5' was given; give a whole number, 1 to 999999\n"
            "l.csv, row 3, weight: '1,234 kg' was given; write 1.234 or 1234: it could be either\n"
            f"l.csv, row 3, foot: '5 kg' was given; {LENGTH}\n"
            "l.csv, row 5, name: nothing was given; fill it in\n"
            "l.csv, row 5, count: 'x' was given; give a whole number, 1 to 999999\n"
            "l.csv, row 5, weight: '-1 kg' was given; give more than 0\n"
            "l.csv, row 5, foot: nothing was given; give a length, such as '24 mm'",
        ),
        (
            "name,count,weight,foot,place,body,shape\nA,1,2,50,firebx,moist,disk-21\n",
            f"l.csv, row 2, weight: '2' was given; {MASS}\n"
            "l.csv, row 2, place: 'firebx' was given; did you mean 'firebox'?\n"
            "l.csv, row 2, body: 'moist' was given; one of dry, solid, wet\n"
            "l.csv, row 2, shape: 'disk-21' was given; did you mean 'disk-31' or 'disk-25' or "
            "'disk-20'?",
        ),
        (
            "name,count,weight,foot,body,shape\nA,1,2 kg,50,wet,pointed-tripod-63\n"
            "B,1,2 kg,50,,cone-seat-3\nC,1,2 kg,50,,custom\n",
            "l.csv, row 2, body: 'wet' was given; pointed-tripod-63 can be set solid\n"
            "l.csv, row 3, shape: 'cone-seat-3' was given; choose a shape that bears a pot; a cone "
            "seat holds pyrometric cones\n"
            "l.csv, row 4, shape, outline: none was given; give an outline file",
        ),
        (
            "name,count,weight,foot,foot width,height,centre height\n"
            "A,1,2 kg,50,30,,\nB,1,2 kg,50,5,60,61\nC,no,2 kg,50,30,,\n",
            "l.csv, row 2, foot: '50' was given; give more than twice the ring's width of 30 mm\n"
            "l.csv, row 3, centre height: '61' was given; give at most the height of 60 mm\n"
            "l.csv, row 4, count: 'no' was given; give a whole number, 1 to 999999\n"
            "l.csv, row 4, foot: '50' was given; give more than twice the ring's width of 30 mm",
        ),
        (
            "name,count,weight,foot,lid weight,gallery diameter,gallery width\n"
            "A,1,2 kg,50,1 kg,,\nB,1,2 kg,50,,,7\nC,1,2 kg,50,1 kg,20,10\nD,1,2 kg,50,1 kg,x,10\n",
            f"l.csv, row 2, gallery diameter: nothing was given; {LID}\n"
            f"l.csv, row 2, gallery width: nothing was given; {LID}\n"
            f"l.csv, row 3, lid weight: nothing was given; {LID}\n"
            f"l.csv, row 3, gallery diameter: nothing was given; {LID}\n"
            "l.csv, row 4, gallery width: '10' was given; give less than half the gallery's "
            "diameter of 20 mm\n"
            f"l.csv, row 5, gallery diameter: 'x' was given; {LENGTH}",
        ),
        (
            'name,count,weight,foot\n"Two\nlines",1,2 kg,50\n',
            "l.csv, row 2, name: 'Two\\nlines' was given; leave out line breaks and control "
            "characters",
        ),
        (
            'name,count,weight,foot\nA,1,"2 kg,50\n',
            "l.csv: a table that cannot be read was given; save it as CSV with plain quotes "
            "(unexpected end of data)",
        ),
    ],
)  # fmt: skip
def test_every_fault_of_a_list_is_told_with_its_place(text: str, said: str) -> None:
    with pytest.raises(BadInput) as caught:
        parse_list(text.encode(), "l.csv")
    assert str(caught.value) == said


@pytest.mark.parametrize("encoding", ["utf-16", "latin-1"])
def test_other_encodings_are_refused(encoding: str) -> None:
    with pytest.raises(BadInput, match="text that is not UTF-8 was given; save it as CSV in UTF-8"):
        parse_list("name,count,weight,foot\nSchüssel,1,1 kg,50\n".encode(encoding), "l.csv")


def test_a_file_that_is_no_list(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="give a table that can be read"):
        read_list(tmp_path / "none.csv")
    with pytest.raises(BadInput, match="give a table that can be read"):
        read_list(tmp_path)
    with pytest.raises(BadInput, match="give a table of less than 8 MB"):
        parse_list(b"x" * 8_000_001, "l.csv")


@given(st.binary(max_size=200))
def test_any_bytes_are_read_or_refused(data: bytes) -> None:
    for text in (data, b"name,count,weight,foot\n" + data):
        with contextlib.suppress(BadInput):
            assert parse_list(text, "l.csv")


@dataclass(frozen=True)
class Saved:
    """How a spreadsheet saves a table."""

    separator: str
    comma: bool  # decimal
    bom: bool
    end: str
    quoted: bool
    padded: bool  # with blank rows, and empty cells at the right

    def save(self, rows: list[list[str | Decimal]]) -> bytes:
        lines = [self.line(row) for row in rows]
        if self.padded:
            lines = [self.separator * 5, *(line + self.separator * 2 for line in lines), "", ""]
        return self.end.join([*lines, ""]).encode("utf-8-sig" if self.bom else "utf-8")

    def line(self, row: list[str | Decimal]) -> str:
        cells = [str(v).replace(".", ",") if self.comma and isinstance(v, Decimal) else str(v)
                 for v in row]  # fmt: skip
        return self.separator.join(
            '"' + cell.replace('"', '""') + '"'
            if self.quoted or self.separator in cell or '"' in cell
            else cell
            for cell in cells
        )


saved = st.builds(
    Saved,
    separator=st.sampled_from([",", ";", "\t"]),
    comma=st.booleans(),
    bom=st.booleans(),
    end=st.sampled_from(["\n", "\r\n", "\r"]),
    quoted=st.booleans(),
    padded=st.booleans(),
)
names = st.text("abcäöÜ茶 ',;.&\"<-", min_size=1, max_size=12).map(lambda s: f"A{s}".strip())
tenths = st.integers(101, 9999).map(lambda n: Decimal(n) / 10)
rows = st.lists(st.tuples(names, st.integers(1, 99), tenths, tenths), min_size=1, max_size=4)


@given(rows, saved, st.permutations(["name", "count", "weight", "foot"]))
def test_the_same_list_however_it_was_saved(
    rows: list[tuple[str, int, Decimal, Decimal]], how: Saved, order: list[str]
) -> None:
    table: list[list[str | Decimal]] = [list(order)]
    for name, count, weight, foot in rows:
        # A bare length is in mm, so that cells of pure numbers are met too.
        cells: dict[str, str | Decimal] = {
            "name": name,
            "count": str(count),
            "weight": f"{weight} oz",
            "foot": foot,
        }
        if how.comma:
            cells["weight"] = f"{weight} oz".replace(".", ",")
        table.append([cells[column] for column in order])
    found = parse_list(how.save(table), "l.csv")
    assert [(ware.name, ware.count) for ware in found] == [(row[0], row[1]) for row in rows]
    for ware, (_, _, weight, foot) in zip(found, rows, strict=True):
        assert ware.pot.mass == pytest.approx(float(weight) * 28.349523125)
        assert ware.pot.foot == FlatFoot(float(foot))
    assert [ware.row for ware in found] == [k + 2 + how.padded for k in range(len(rows))]


def test_eight_ways_to_save_the_example() -> None:
    lines = [line.split(",") for line in example().decode().splitlines()]
    table: list[list[str | Decimal]] = []
    for cells in lines:
        if not cells[0].startswith("#"):
            table.append([*cells])
    asked = [replace(ware, row=0) for ware in parse_list(example(), "example.csv")]
    for separator in (",", ";", "\t"):
        for bom in (True, False):
            for quoted in (True, False):
                how = Saved(separator, False, bom, "\r\n", quoted, padded=True)
                found: tuple[Ware, ...] = parse_list(how.save(table), "l.csv")
                assert [replace(ware, row=0) for ware in found] == asked
