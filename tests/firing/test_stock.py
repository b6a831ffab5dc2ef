"""A stock of shapes is read from a spreadsheet, or refused with every fault."""

from __future__ import annotations

import io
from pathlib import Path

import pytest

from wadforms.errors import BadInput
from wadforms.firing.make_list import Box, boxes_csv
from wadforms.firing.stock import parse_stock, read_stock

BOXES = {("disk-16", "dry"): 42, ("pointed-tripod-63", "solid"): 6}


@pytest.mark.parametrize(
    "text",
    [
        "shape,body,count\ndisk-16,dry,42\npointed-tripod-63,solid,6\n",
        "Count;Body;Shape\r\n40;Dry;disk-16\r\n6;solid;pointed-tripod-63\r\n2;dry;disk-16\r\n",
        "shape\tbody\tcount\n\n# top shelf\ndisk-16\tdry\t42\npointed-tripod-63\tsolid\t6\n",
    ],
)
def test_boxes_add_up_whatever_the_spreadsheet(text: str) -> None:
    assert parse_stock(text.encode(), "boxes.csv") == BOXES


def test_a_workbook_gives_the_same(tmp_path: Path) -> None:
    from openpyxl import Workbook  # the library that writes such files, read back by ours

    book = Workbook()
    assert book.active is not None
    rows: list[list[str | int]] = [["shape", "body", "count"]]
    rows += [[*mould, number] for mould, number in BOXES.items()]
    for row in rows:
        book.active.append(row)
    data = io.BytesIO()
    book.save(data)
    file = tmp_path / "boxes.xlsx"
    file.write_bytes(data.getvalue())
    assert read_stock(file) == BOXES


def test_what_is_written_after_a_firing_is_read_before_the_next() -> None:
    written = boxes_csv([Box(shape, body, number) for (shape, body), number in BOXES.items()])
    assert parse_stock(written, "boxes.csv") == BOXES


def test_all_faults_come_at_once_each_with_its_place() -> None:
    text = "shape,body,count\ndisc-16,wet,4\ndisk-16,damp,4\npointed-tripod-63,wet,1.5\n,dry,3\n"
    with pytest.raises(BadInput) as caught:
        parse_stock(text.encode(), "boxes.csv")
    places = [fault.where for fault in caught.value.faults]
    assert places == [
        "boxes.csv, row 2, shape",
        "boxes.csv, row 2, body",
        "boxes.csv, row 3, body",
        "boxes.csv, row 4, count",
        "boxes.csv, row 4, body",
        "boxes.csv, row 5, shape",
    ]
    assert "disk-16" in str(caught.value)
    assert "give solid: pointed-tripod-63 is set no other way" in str(caught.value)


def test_soft_wads_are_no_stock() -> None:
    with pytest.raises(BadInput) as caught:
        parse_stock(b"shape,body,count\ndisk-16,wet,4\ndisk-16,dry,4\n", "boxes.csv")
    (fault,) = caught.value.faults
    assert fault.where == "boxes.csv, row 2, body"
    assert "soft wads do not keep, and dried they are smaller than their set size" in fault.right
