"""Press trays of real outlines, written and proven, or refused with the place that is too tight."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from glyphs import SIZES, glyphs
from thorough import every

from wadforms.errors import NotMakeable
from wadforms.families.custom import Custom
from wadforms.moulds import Board, Order, kind, write_mould

GROUPS = 6
PER_GROUP = 50

PLACE = re.compile(r"\(-?\d+\.\d, -?\d+\.\d\) mm")

PROVEN = 0.99
"""Share of the outlines with room for their draft that give a proven tray."""


@pytest.mark.slow
@pytest.mark.parametrize("group", every(GROUPS, range(GROUPS)))
def test_a_tray_is_proven_or_the_place_is_told(group: int, tmp_path: Path) -> None:
    """Every second outline by itself, every other one three times on a board."""
    some = glyphs()[group * PER_GROUP : (group + 1) * PER_GROUP]
    assert len(some) == PER_GROUP
    proven, told = 0, 0
    failed: list[str] = []
    silent: list[str] = []
    for k, glyph in enumerate(some):
        outline = glyph.outline(SIZES[k % len(SIZES)])
        try:
            piece = Custom(outline=outline, height=8.0, draft=5.0).piece()
        except NotMakeable as error:
            told += 1
            if not PLACE.search(str(error)):
                silent.append(f"{glyph.name}: {error}")
            continue
        order = Order(piece, 0.065, (glyph.name,), Board(pieces=3 if k % 2 else 1))
        try:
            made = kind("tray")().make(order)
        except NotMakeable as error:  # a ridge of the tray would be too thin
            told += 1
            if not PLACE.search(str(error)):
                silent.append(f"{glyph.name}: {error}")
            continue
        try:
            written = write_mould(made, tmp_path / "tray.stl", force=True)
        except Exception as error:  # each is counted and shown
            failed.append(f"{glyph.name}: {type(error).__name__}: {error}")
            continue
        assert written.kernel_volume_mm3 == pytest.approx(written.wet_volume_mm3, rel=1e-3)
        proven += 1
    assert not silent
    print(f"group {group}: {proven} proven, {told} told, {len(failed)} failed")
    assert len(failed) <= (1.0 - PROVEN) * (proven + len(failed)), failed
