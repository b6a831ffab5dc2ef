"""`wadforms template`: sheets, stencils and the square, as files and as answers."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from asked import answer, told

from wadforms.cli import call
from wadforms.errors import BadInput, NotMakeable, WouldOverwrite


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_a_sheet_as_svg_and_as_pdf(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert answer(capsys, "template", "leaf-55")["files"] == ["leaf-55-outline.svg"]
    found = answer(capsys, "template", "leaf-55", "--out", "leaf.pdf", "--paper", "a4")
    assert (found["files"], found["kind"], found["paper"]) == (["leaf.pdf"], "sheet", "a4")
    assert found["area_mm2"] == pytest.approx(1078.07, abs=0.01)
    assert (here / "leaf.pdf").read_bytes().startswith(b"%PDF-")


def test_a_large_outline_takes_several_files(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    arguments = ["template", "ring", "--with", "diameter=300mm", "--out", "ring.svg"]
    found = answer(capsys, *arguments)
    assert (found["columns"], found["rows"], found["pages"]) == (2, 2, 4)
    assert names(here) == found["files"] == [f"ring-{k}.svg" for k in (1, 2, 3, 4)]
    with pytest.raises(WouldOverwrite):
        call(arguments)
    out = told(capsys, *arguments, "--force")
    assert "2 columns × 2 rows" in out


def test_a_dry_run_writes_nothing(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for more in ([], ["--kind", "stencil"], ["--paper", "letter"]):
        assert answer(capsys, "template", "disk-20", *more, "--dry-run")["files"] == []
    assert answer(capsys, "template", "--square-only", "--dry-run")["files"] == []
    assert not names(here)


def test_the_square_alone(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, "template", "--square-only", "--out", "square.pdf", "--paper", "letter")
    assert (found["kind"], found["files"], found["pages"]) == ("square", ["square.pdf"], 1)
    assert "Print at 100 %" in told(capsys, "template", "--square-only")
    assert names(here) == ["square-100mm.svg", "square.pdf"]


def test_a_square_that_was_measured(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, "template", "disk-40", "--square-measured", "97mm", "--out", "d.svg")
    assert found["square_measured_mm"] == 97.0
    assert found["correction_factor"] == pytest.approx(100 / 97, abs=1e-6)
    assert "fit to page" in found["likely_cause"]
    assert found["size_mm"] == [40.0, 40.0]
    assert "the square measured 97 mm" in (here / "d.svg").read_text("utf-8")
    out = told(capsys, "template", "disk-40", "--square-measured", "9.375 cm", "--dry-run")
    assert "90 units to the inch for 96" in out
    assert "print just as before" in out
    true = told(capsys, "template", "disk-40", "--square-measured", "100mm", "--out", "t.svg")
    assert "the printer is true" in true
    assert "Print at 100 %, no scaling" in (here / "t.svg").read_text("utf-8")


def test_a_stencil(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    arguments = ["template", "ring-63", "--kind", "stencil", "--copies", "4", "--kerf", "0.15mm"]
    arguments += ["--stroke", "#f00", "--hole-stroke", "blue", "--stroke-width", "0.05mm"]
    found = answer(capsys, *arguments)
    assert found["files"] == ["ring-63-stencil.svg"]
    assert (found["copies"], found["paths"], found["kerf_mm"]) == (4, 8, 0.15)
    assert found["drawn_area_mm2"] > found["area_mm2"]
    root = ET.fromstring((here / "ring-63-stencil.svg").read_text("utf-8"))  # noqa: S314 - ours
    drawn = [e for e in root if e.get("d")]
    assert [e.get("stroke") for e in drawn] == ["#0000ff", "#ff0000"] * 4
    assert {e.get("stroke-width") for e in drawn} == {"0.05"}
    out = told(capsys, *arguments, "--out", "again.dxf")
    assert "0.075 mm further out" in out
    assert (here / "again.dxf").read_bytes().startswith(b"  0\nSECTION")


def test_a_stencil_is_cut_wet(capsys: pytest.CaptureFixture[str]) -> None:
    # ASTM C326: wet = set/(1 − S); S = 5 % of the mix 'open'.
    found = answer(
        capsys, "template", "disk-20", "-k", "stencil", "--wet", "--body", "dry", "--dry-run"
    )
    assert found["size_mm"] == pytest.approx([20 / 0.95] * 2, abs=1e-5)
    assert found["kerf_mm"] == 0.0


def test_a_board_that_is_too_small(here: Path) -> None:
    arguments = ["template", "disk-40", "-k", "stencil", "--board", "100x100", "--copies", "5"]
    with pytest.raises(NotMakeable, match=r"; 4 do"):
        call(arguments)
    assert not names(here)


@pytest.mark.parametrize(
    ("arguments", "messages"),
    [
        ([], ["SHAPE: nothing was given"]),
        (["disk-20", "--square-only"], ["SHAPE: something without effect"]),
        (["--square-only", "--wet", "--copies", "3"], ["--wet", "--copies"]),
        (["--square-only", "--kind", "stencil"], ["--kind: something without effect"]),
        (["disk-20", "--kerf", "0.1mm"], ["--kerf", "with --kind stencil alone"]),
        (["disk-20", "-k", "stencil", "--paper", "a4"], ["--paper", "not for paper"]),
        (["disk-20", "-k", "stencil", "--square-measured", "97"], ["--square-measured"]),
        (["disk-20", "-k", "stencil", "--out", "a.pdf"], [r"a.pdf", ".dxf"]),
        (["disk-20", "--out", "a.dxf"], ["a.dxf", ".pdf"]),
        (["disk-20", "--square-measured", "20mm"], ["give 50 mm to 200 mm"]),
        (["disk-20", "--square-measured", "soon"], ["--square-measured: 'soon'"]),
        (
            ["disk-21", "-k", "plan", "--copies", "0", "--paper", "a9", "--out", "x.stl"],
            ["--kind: 'plan'", "--copies: 0", "'a9'", "x.stl", "'disk-21'"],
        ),
        (
            [
                "disk-21",
                "-k",
                "stencil",
                "--kerf",
                "much",
                "--gap",
                "0mm",
                "--board",
                "5",
                "--stroke",
                "rust",
            ],
            ["--kerf: 'much'", "gap: 0 mm", "--board: '5'", "stroke: 'rust'", "'disk-21'"],
        ),
    ],
)
def test_all_faults_in_one_answer(here: Path, arguments: list[str], messages: list[str]) -> None:
    with pytest.raises(BadInput) as caught:
        call(["template", *arguments])
    for message in messages:
        assert message in str(caught.value)
    assert not names(here)


def test_a_letter_that_paper_cannot_show_is_told(here: Path) -> None:
    (here / "魚.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="12mm" '
        'viewBox="0 0 20 12"><path d="M0 0 H20 V12 H0 Z"/></svg>',
        encoding="utf-8",
    )
    arguments = ["template", "custom", "--with", "outline=魚.svg"]
    with pytest.raises(BadInput, match="or write SVG"):
        call([*arguments, "--out", "fish.pdf"])
    assert call([*arguments, "--out", "fish.svg"]) == 0
    assert names(here) == ["fish.svg", "魚.svg"]
