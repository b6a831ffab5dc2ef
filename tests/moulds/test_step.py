"""STEP files, read back by the kernel's own reader, and as ISO 10303-21 text."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from wadforms.families import family
from wadforms.moulds.solids import kernel
from wadforms.moulds.solids.solid import solid
from wadforms.moulds.solids.step import step_bytes


def _solid(name: str) -> Any:
    return solid(family(name)().piece().body)


@pytest.mark.parametrize("name", ["disk", "stand", "pointed-tripod", "cradle", "crescent"])
def test_it_reads_back_as_the_same_solid(name: str, tmp_path: Path) -> None:
    made = _solid(name)
    path = tmp_path / "piece.step"
    path.write_bytes(step_bytes(made, name=name))
    kernel.cadquery()
    from cadquery import importers

    read: Any = importers.importStep(str(path)).val()
    assert read.isValid()
    assert read.Volume() == pytest.approx(made.Volume(), rel=1e-6)
    ours, theirs = made.BoundingBox(), read.BoundingBox()
    lengths = [(b.xlen, b.ylen, b.zlen) for b in (ours, theirs)]
    assert lengths[0] == pytest.approx(lengths[1], abs=1e-5)


def test_header_unit_and_name() -> None:
    """ISO 10303-21: exchange structure §5, header §8; AP214 gives the length unit."""
    text = step_bytes(_solid("disk"), name="disk-20 'Ø 20'").decode("ascii")
    assert text.startswith("ISO-10303-21;\nHEADER;\n")
    assert text.rstrip().endswith("END-ISO-10303-21;")
    header, _, data = text.partition("DATA;")
    for entity in ("FILE_DESCRIPTION", "FILE_NAME", "FILE_SCHEMA"):
        assert entity in header
    assert "AUTOMOTIVE_DESIGN" in header
    units = re.findall(r"LENGTH_UNIT\(\)\s*NAMED_UNIT\(\*\)\s*SI_UNIT\(([^)]*)\)", data)
    assert units == [".MILLI.,.METRE."]
    # §6.4.3: an apostrophe is doubled, what is not ASCII is told in hexadecimal.
    coded = r"'disk-20 ''\X2\00D8\X0\ 20'''"
    assert f"PRODUCT({coded},{coded}," in re.sub(r"\n\s*", "", data)


def test_name_is_read_as_it_was_given(tmp_path: Path) -> None:
    name = "Größe Ø 20 × 8 − ½ \\ 'a' 龍"
    path = tmp_path / "piece.step"
    path.write_bytes(step_bytes(_solid("disk"), name=name))
    reader = kernel.ocp("STEPControl").STEPControl_Reader()
    reader.ReadFile(str(path))
    model, product = reader.WS().Model(), kernel.ocp("StepBasic").StepBasic_Product
    entities = (model.Value(i) for i in range(1, model.NbEntities() + 1))
    raw = [e.Name().ToCString() for e in entities if isinstance(e, product)]
    assert raw == [name]


def test_same_solid_same_bytes_and_no_path() -> None:
    made = [step_bytes(_solid("ring"), name="ring") for _ in range(2)]
    assert made[0] == made[1]
    header = made[0].partition(b"DATA;")[0].decode()
    assert not re.search(r"[/\\]\w", header)
    assert "1970-01-01T00:00:00" in header
