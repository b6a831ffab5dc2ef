"""Templates and trays say what size they are, in what state, and what they leave out."""

from __future__ import annotations

from pathlib import Path

import pytest
from asked import answer, told

from wadforms.cli import call

SQUARE_WITH_NOTCH = "M0 0 H20 V12 H11 V9 H9 V12 H0 Z"
"""A notch 2 mm wide: too narrow for walls that lean in from both of its sides [mm]."""


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def drawing(path: Path, d: str) -> None:
    path.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="12mm" '
        f'viewBox="0 0 20 12"><path d="{d}"/></svg>',
        encoding="utf-8",
    )


def test_template_tells_size_and_state(capsys: pytest.CaptureFixture[str]) -> None:
    plain = told(capsys, "template", "disk-20", "--dry-run")
    assert "20 × 20 mm" in plain
    assert "as set, nothing added for shrinkage" in plain
    wet = told(capsys, "template", "disk-20", "--wet", "--body", "dry", "--dry-run")
    assert "× 1.0526 for the drying of mix 'open'" in wet
    assert "21.1 × 21.1 mm" in wet


def test_template_enlarges_by_the_shrinkage(capsys: pytest.CaptureFixture[str]) -> None:
    # ASTM C326 gives shrinkage as a share of the wet length: wet = set/(1 − S); S = 5 %.
    found = answer(capsys, "template", "disk-20", "--wet", "--body", "dry", "--dry-run")
    assert found["factor"] == pytest.approx(1 / 0.95, abs=1e-6)
    assert found["size_mm"] == pytest.approx([20 / 0.95] * 2, abs=1e-5)
    as_set = answer(capsys, "template", "disk-20", "--dry-run")
    assert (as_set["factor"], as_set["size_mm"]) == (1.0, [20.0, 20.0])


def test_sheet_tells_mix_and_setting(here: Path) -> None:
    assert call(["template", "disk-20", "--wet", "--body", "dry", "--out", "disk.svg"]) == 0
    assert "To be set dry, of mix 'open'" in (here / "disk.svg").read_text("utf-8")
    assert call(["template", "disk-20", "--out", "plain.svg"]) == 0
    assert "To be set" not in (here / "plain.svg").read_text("utf-8")


@pytest.mark.parametrize(
    ("shape", "what"),
    [
        ("pointed-tripod", "points are"),
        ("cone-seat-3", "slots are"),
        ("cradle-130", "hollow is"),
        ("stone-seat-63", "pockets are"),
    ],
)
def test_what_no_outline_can_cut_is_said(
    here: Path, capsys: pytest.CaptureFixture[str], shape: str, what: str
) -> None:
    sentence = f"The outline only: the {what} not cut this way"
    assert sentence in told(capsys, "template", shape, "--out", "out.svg")
    assert "The outline only" in (here / "out.svg").read_text("utf-8")


def test_own_outline_is_called_by_its_file(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    drawing(here / "our-fish.svg", "M0 0 H20 V12 H0 Z")
    out = told(capsys, "template", "custom", "--with", "outline=our-fish.svg")
    assert "1 × our-fish, 20 × 12 mm" in out
    assert "our-fish" in (here / "our-fish-outline.svg").read_text("utf-8")


def test_outline_too_tight_is_told_what_to_do(here: Path) -> None:
    from wadforms.errors import NotMakeable

    drawing(here / "notched.svg", SQUARE_WITH_NOTCH)
    arguments = ["mould", "custom", "--with", "outline=notched.svg", "--with", "height=20mm"]
    with pytest.raises(NotMakeable) as caught:
        call(arguments)
    message = str(caught.value)
    assert "height × tan(draft) = 1.75 mm" in message  # 20 mm × tan 5°
    assert "--with draft=0" in message
    assert "counted from the middle of the outline" in message
    assert call([*arguments, "--with", "draft=0"]) == 0  # the advice holds


def test_tray_tells_the_cavity_at_floor_and_mouth(capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, "mould", "disk-20", "--body", "dry", "--dry-run")
    template = answer(capsys, "template", "disk-20", "--body", "dry", "--wet", "--dry-run")
    assert found["wet_outline_size_mm"] == template["size_mm"]
    height, mouth = found["wet_size_mm"][2], found["wet_size_mm"][0]
    lean = 0.08748866  # tan 5°, from a table of tangents
    assert mouth == pytest.approx(found["wet_outline_size_mm"][0] + 2 * height * lean, abs=1e-4)
    out = told(capsys, "mould", "disk-20", "--body", "dry", "--dry-run")
    assert "wet 21.1 × 21.1 mm over its bearing face" in out
    assert "at its base" in out


def test_tray_must_be_called_stl(here: Path) -> None:
    from wadforms.errors import BadInput

    with pytest.raises(BadInput, match=r"\.stl"):
        call(["mould", "disk-20", "--out", "tray.svg"])
    assert not list(here.iterdir())


@pytest.mark.parametrize("command", ["template", "mould"])
@pytest.mark.parametrize("option", ["--place", "--feel", "--measured"])
def test_what_has_no_bearing_cannot_be_given(command: str, option: str) -> None:
    # The parser's own error, whose class is typer's affair.
    with pytest.raises(Exception, match=f"No such option: {option}"):
        call([command, "disk-20", option, "firm", "--dry-run"])


def test_dry_demo_answers_in_json_alone(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(capsys, "demo", "--dry-run")
    assert found["files"] == []
    assert all(step["command"].startswith("wadforms ") for step in found["steps"])
    assert not list(here.iterdir())


def test_one_circle_is_told_once(capsys: pytest.CaptureFixture[str]) -> None:
    spots = ["--at", "40mm;0", "--at", "-20mm;34.64mm", "--at", "-19.9mm;-34.6mm"]
    out = told(capsys, "contact", "-w", "400g", "-f", "100mm", "--wad", "disk-12", *spots)
    assert "on radius 40 mm" in out
    assert "of mix 'open'" in out


def test_solid_wads_are_fired_first(capsys: pytest.CaptureFixture[str]) -> None:
    out = told(capsys, "contact", "-w", "400g", "-f", "100mm", "--wad", "disk-12", "-b", "solid")
    assert "solid, biscuit-fired before it is set, of mix 'fireclay'" in out


def test_a_firing_draws_several_outlines_to_a_sheet(here: Path) -> None:
    table = "name,count,weight,foot,height,shape\nMug,12,450 g,80,95,disk-16\n"
    (here / "list.csv").write_text(table, encoding="utf-8")
    assert call(["firing", "list.csv", "--out", "out", "--shape", "disk-16"]) == 0
    (sheet,) = (here / "out" / "outlines").iterdir()
    text = sheet.read_text("utf-8")
    assert "12 on this sheet" in text
    assert "To be set " in text
