"""`--ease`: fills what is too tight, and every command about a shape says how much that was."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from wadforms.cli import main
from wadforms.families.relations import LEAST_RIDGE
from wadforms.moulds import kind

PLATE = """<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="30mm" viewBox="0 0 40 30">
<path d="M 0 0 H 25.5 V 10 H 26.5 V 0 H 40 V 30 H 0 Z"/></svg>
"""
"""A plate of 40 × 30 mm with a slot of 1 × 10 mm: 1200 − 10 mm²."""


@pytest.fixture
def run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> Callable[..., tuple[int, str, str]]:
    monkeypatch.chdir(tmp_path)
    Path("plate.svg").write_text(PLATE, "utf-8")

    def call(*arguments: str) -> tuple[int, str, str]:
        monkeypatch.setattr("sys.argv", ["wadforms", *arguments])
        status = 0
        try:
            main()
        except SystemExit as end:
            status = int(end.code or 0)
        told = capsys.readouterr()
        return status, told.out, told.err

    return call


def commands(*, ease: list[str]) -> list[list[str]]:
    custom = ["--with", "outline=plate.svg", *ease]
    pot = ["-w", "380g", "-f", "150mm", "--foot-kind", "flat", "--centre-height", "45mm"]
    return [
        ["template", "custom", *custom, "--dry-run"],
        ["contact", *pot, "--wad", "custom", *custom],
        ["shapes", "custom", *custom],
    ]


@pytest.mark.parametrize("which", range(3))
@pytest.mark.parametrize("ease", [["--ease"], ["--with", "ease=yes"]])
def test_what_was_eased_is_told_with_its_area(run: Any, which: int, ease: list[str]) -> None:
    arguments = commands(ease=ease)[which]
    status, out, err = run(*arguments, "--json")
    assert status == 0, err
    told = json.loads(out)
    (place,) = told["eased_places"]
    assert place["kind"] == "gap"
    assert place["width_mm"] == pytest.approx(1.0, abs=0.01)
    assert told["area_before_easing_mm2"] == pytest.approx(1190.0, abs=0.01)
    # All of the slot but a sliver at its mouth, where a disk of 1.1 mm enters.
    assert 9.8 < told["eased_area_mm2"] < 10.0
    after = told["area_after_easing_mm2"]
    assert after == pytest.approx(told["area_before_easing_mm2"] + told["eased_area_mm2"])
    status, out, _ = run(*arguments)
    assert "Eased, filled where the draft had no room" in out
    assert "1.00 mm wide" in out
    assert "1190 mm²" in out
    assert "0.8" in out.split("mm², ")[1].split("%")[0]


def test_without_it_the_place_is_told_and_the_option(run: Any) -> None:
    for command in commands(ease=[])[1:]:
        status, out, err = run(*command)
        assert (status, out) == (2, "")
        assert "only 1.00 mm wide" in err
        assert "--ease" in err


def test_what_is_cut_along_its_line_needs_no_room_for_draft(run: Any) -> None:
    assert run(*commands(ease=[])[0])[0] == 0
    assert (
        run("mould", "custom", "--with", "outline=plate.svg", "--kind", "cutter", "--dry-run")[0]
        == 0
    )


def tapered(wide: float, narrow: float) -> str:
    """A plate of 50 mm with a notch 35 mm deep that grows narrower downward."""
    (a, b), (c, d) = ((25 - w / 2, 25 + w / 2) for w in (wide, narrow))
    path = f"M 0 0 L 50 0 L 50 50 L {b} 50 L {d} 15 L {c} 15 L {a} 50 L 0 50 Z"
    head = 'width="50mm" height="50mm" viewBox="0 0 50 50"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {head}><path d="{path}"/></svg>'


@pytest.mark.parametrize("narrow", [0.8, 1.6])
def test_what_was_eased_leaves_the_mould_as_much_as_it_needs(run: Any, narrow: float) -> None:
    """Of the narrower notch the walls have no room, of the wider one the mould is too thin."""
    Path("notch.svg").write_text(tapered(3.0, narrow), "utf-8")
    mould = ["mould", "custom", "--with", "outline=notch.svg", "--body", "dry", "--dry-run"]
    status, out, err = run(*mould)
    assert (status, out) == (2, "")
    assert "--ease" in err
    status, out, err = run(*mould, "--ease", "--json")
    assert status == 0, err
    assert 0.0 < json.loads(out)["eased_area_mm2"] < 35 * 3


def test_easing_knows_what_moulds_need() -> None:
    """One truth in two places: shapes know nothing of moulds."""
    assert 2 * kind("tray").sized({}).nozzle == LEAST_RIDGE


def test_nothing_is_eased_that_has_room(run: Any) -> None:
    arguments = [*commands(ease=["--ease"])[0], "--with", "draft=0.5"]
    told = json.loads(run(*arguments, "--json")[1])
    assert (told["eased_places"], told["eased_area_mm2"]) == ([], 0.0)
    assert "Eased: nothing" in run(*arguments)[1]


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["template", "disk-20", "--ease"], "--ease: a disk was given; leave it out"),
        (commands(ease=["--ease", "--with", "ease=no"])[0], "--ease: --with ease too was given"),
        (commands(ease=["--with", "ease=maybe"])[0], "ease: 'maybe' was given; give no or yes"),
    ],
)
def test_what_cannot_be_eased_is_refused(run: Any, arguments: list[str], message: str) -> None:
    status, out, err = run(*arguments)
    assert (status, out) == (2, "")
    assert message in err


def test_weak_places_that_are_not_named_are_counted(run: Any) -> None:
    comb = "".join(f" H {x} V 20 H {x + 2} V 0" for x in range(6, 60, 9))
    text = PLATE.replace("40mm", "70mm").replace("0 0 40 30", "0 0 70 30")
    text = text.replace("M 0 0 H 25.5 V 10 H 26.5 V 0 H 40", f"M 0 0{comb} H 70")
    Path("comb.svg").write_text(text, "utf-8")
    command = ["template", "custom", "--with", "outline=comb.svg", "--with", "draft=1", "--dry-run"]
    count = len(json.loads(run(*command, "--json")[1])["weak_places"])
    out = run(*command)[1]
    assert count > 5
    assert out.count("Weak: ") == 6
    assert f"Weak: and {count - 5} more places like these." in out


def test_what_wants_a_decision_is_told_before_how_a_mould_is_used(run: Any) -> None:
    custom = ["custom", "--with", "outline=plate.svg", "--ease", "--dry-run"]
    status, out, err = run("mould", *custom)
    assert status == 0, err
    assert out.index("Eased, filled") < out.index("Weak: ") < out.index("To use it:")
    assert out.count("To use ") == 1
