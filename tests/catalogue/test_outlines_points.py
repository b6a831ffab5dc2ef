"""Tables of points: separators, units, decimal commas, holes."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wadforms.catalogue.outlines import read_outline
from wadforms.errors import BadInput

TABLES = {
    "commas": "0,0\n30,0\n30,20\n0,20\n",
    "closed in the table too": "0,0\n30,0\n30,20\n0,20\n0,0\n",
    "the other way round": "0,0\n0,20\n30,20\n30,0\n",
    "semicolons": "0;0\n30;0\n30;20\n0;20\n",
    "tabs": "0\t0\n30\t0\n30\t20\n0\t20",
    "decimal commas": "0;0\n3,0e1;0\n30,0;20,00\n0;20\n",
    "decimal commas and tabs": "0\t0\n30,0\t0\n30,0\t20,0\n0\t20",
    "headings": "x,y\n0,0\n30,0\n30,20\n0,20\n",
    "millimetres": "x (mm),y (mm)\n0,0\n30,0\n30,20\n0,20\n",
    "centimetres": "x [cm];y [cm]\n0;0\n3;0\n3;2\n0;2\n",
    "inches": "x/in\ty/in\n0\t0\n1.1811023622\t0\n1.1811023622\t0.7874015748\n0\t.7874015748\n",
    "one unit named": "x cm,y\n0,0\n3,0\n3,2\n0,2\n",
    "a spreadsheet's": "\ufeff# exported\r\nX;Y\r\n0;0\r\n30;0\r\n30;20\r\n0;20\r\n;\r\n",
}


@pytest.mark.parametrize("ending", ["csv", "txt", "TSV"])
@pytest.mark.parametrize("case", TABLES)
def test_tables(case: str, ending: str, tmp_path: Path) -> None:
    file = tmp_path / f"points.{ending}"
    file.write_bytes(TABLES[case].encode())
    outline = read_outline(file)
    assert outline.size == pytest.approx((30, 20), abs=1e-6)
    assert outline.area == pytest.approx(600)
    assert len(outline.outer.vertices) == 4


def test_an_empty_row_begins_a_hole_and_y_points_up(tmp_path: Path) -> None:
    file = tmp_path / "points.csv"
    file.write_text("0,0\n30,0\n15,40\n\n10,5\n20,5\n20,10\n10,10\n", encoding="ascii")
    outline = read_outline(file)
    assert outline.area == 600 - 50
    assert max(outline.outer.vertices, key=lambda p: p[1])[1] > 20


@settings(max_examples=200)
@given(text=st.text(alphabet="xy mcin0123456789.,;\t-+e\n", max_size=60))
def test_any_table_is_read_or_refused(text: str, tmp_path_factory: pytest.TempPathFactory) -> None:
    file = tmp_path_factory.getbasetemp() / "any.csv"
    file.write_text(text, encoding="ascii")
    try:
        outline = read_outline(file)
    except BadInput:
        return
    assert outline.area >= 1.0
    assert outline.polygon().is_valid
