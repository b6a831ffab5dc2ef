"""What is told when the square of a print was measured, and what of a slab that is too small.

Sources
-------
- 100/97 = 1.0309 by arithmetic.
- What a ruler tells: half a division of a steel ruler with half millimetres, and a little more for
  two readings (common practice, no source).
"""

from __future__ import annotations

from functools import partial
from pathlib import Path

import asked
import pytest
from asked import JUDGED

from wadforms.cli import call
from wadforms.errors import NotMakeable

BOWL = ["-w", "380g", "-f", "50mm", "--foot-width", "5mm", "--height", "60mm"]
COMMANDS = {
    "contact": ["contact", *BOWL, "--wad", "disk-10", "-b", "dry", "--guide"],
    "size": ["size", *BOWL, "--shape", "disk-10", "--guide"],
    "slab": ["slab", "disk-25", "--size", "200x150", "--out"],
    "template": ["template", "leaf-55", "--out"],
}
NOTCHED = """<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">
<path d="M0 0 H29 V12 H31 V0 H60 V40 H0 Z"/></svg>"""
"""A notch 2 mm wide: too narrow for walls that lean in from both of its sides [mm]."""


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


told, answer = partial(asked.told, codes=JUDGED), partial(asked.answer, codes=JUDGED)


KEYS = {"square_measured_mm", "likely_cause", "correction_factor"}


@pytest.mark.parametrize("command", COMMANDS)
def test_a_measured_square_is_told_alike(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    arguments = [*COMMANDS[command], "a.pdf"]
    assert not KEYS & answer(capsys, *arguments).keys()
    arguments += ["--square-measured", "97mm", "--force"]
    found = answer(capsys, *arguments)
    assert found["square_measured_mm"] == 97.0
    assert "fit to page" in found["likely_cause"]
    assert found["correction_factor"] == pytest.approx(100 / 97, abs=1e-6)
    text = told(capsys, *arguments)
    assert "The square measured 97 mm. Likely cause: the printer's 'fit to page'" in text
    assert "Drawn × 1.0309 to make up for it: print just as before" in text


@pytest.mark.parametrize("command", COMMANDS)
def test_a_true_print_is_not_corrected(
    command: str, here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told(capsys, *COMMANDS[command], "plain.pdf")
    measured = ["--square-measured", "99.8mm"]
    text = told(capsys, *COMMANDS[command], "true.pdf", *measured)
    assert "The square measured 99.8 mm: the printer is true. Print just as before." in text
    assert "Likely cause" not in text
    assert (here / "true.pdf").read_bytes() == (here / "plain.pdf").read_bytes()
    found = answer(capsys, *COMMANDS[command], "true.pdf", *measured, "--force")
    assert found["correction_factor"] == 1.0
    # 0.4 mm off is more than a ruler cannot tell.
    off = answer(capsys, *COMMANDS[command], "off.pdf", "--square-measured", "99.6mm")
    assert off["correction_factor"] == pytest.approx(100 / 99.6, abs=1e-6)
    assert (here / "off.pdf").read_bytes() != (here / "plain.pdf").read_bytes()


def test_an_outline_without_room_for_draft_is_laid_on_a_slab(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (here / "notched.svg").write_text(NOTCHED, encoding="utf-8")
    shape = ["slab", "custom", "--with", "outline=notched.svg", "--with", "height=20mm"]
    found = answer(capsys, *shape, "--size", "200x150")
    assert found["area_mm2"] == pytest.approx(found["pieces"] * (60 * 40 - 2 * 12), rel=1e-6)
    assert found["counts"] == {"notched": found["pieces"]}
    with pytest.raises(NotMakeable, match="draft"):  # who asks for draft gets it, or an answer
        call([*shape, "--with", "draft=5", "--size", "200x150", "--force"])


@pytest.mark.parametrize(
    ("size", "hint"),
    [("12x9", "bare numbers are mm: 12x9in?"), ("12x9mm", None), ("120x9", None)],
)
def test_a_slab_in_bare_inches_is_asked_about(size: str, hint: str | None) -> None:
    with pytest.raises(NotMakeable, match="is larger than") as caught:
        call(["slab", "disk-25", "--size", size])
    assert ("bare numbers" in str(caught.value)) == (hint is not None)
    assert hint is None or hint in str(caught.value)


def test_a_search_is_advised_only_where_it_could_help() -> None:
    shapes = ["slab", "leaf-55:6", "tripod-50:6"]
    with pytest.raises(
        NotMakeable, match=r"take \d\d % of it.*or search for .* --search"
    ) as caught:
        call([*shapes, "--size", "130x130"])
    with pytest.raises(NotMakeable, match=r"take \d{3} % of it: take fewer") as caught:
        call([*shapes, "--size", "100x100"])
    assert "--search" not in str(caught.value)


@pytest.mark.parametrize(
    ("shape", "copies", "says"),
    [
        ("disk-25", "1", "\n1 closed path.\n"),
        ("disk-25", "4", "\n4 closed paths.\n"),
        ("ring-63", "2", "\n4 closed paths, of each piece the holes first.\n"),
    ],
)
def test_paths_are_counted(
    shape: str, copies: str, says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    arguments = ["template", shape, "--kind", "stencil", "--copies", copies, "--out", "a.svg"]
    assert says in told(capsys, *arguments)


def test_rows_and_bands_are_the_same_in_every_process(capsys: pytest.CaptureFixture[str]) -> None:
    """Whatever the seed; a search, which stops by the clock, promises no such thing."""
    import subprocess
    import sys

    for shapes in (["leaf-55"], ["disk-25", "tee-50"]):
        arguments = ["slab", *shapes, "--size", "300x200", "--out", "a.svg", "--force"]
        files = []
        for seed in ("0", "7"):
            told(capsys, *arguments, "--seed", seed)
            files.append(Path("a.svg").read_bytes())
        code = f"from wadforms.cli import call; call({arguments!r})"
        subprocess.run([sys.executable, "-c", code], check=True, capture_output=True)
        assert Path("a.svg").read_bytes() == files[0] == files[1]
