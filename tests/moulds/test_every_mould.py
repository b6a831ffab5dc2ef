"""Every named shape by every kind: proven by reading back, by another library, or refused."""

from __future__ import annotations

from pathlib import Path

import pytest
import trimesh
from every_mould import SEVERAL, outcome
from thorough import every

from wadforms.catalogue import shapes
from wadforms.moulds import kinds
from wadforms.moulds.kinds import suiting


@pytest.mark.slow
@pytest.mark.parametrize("by", kinds())
@pytest.mark.parametrize("name", every(5, shapes()))
def test_one_and_several_at_a_time(name: str, by: str, tmp_path: Path) -> None:
    piece = shapes()[name].piece()
    for pieces in (1, SEVERAL):
        found = outcome(name, piece, by, pieces, tmp_path)
        if found.written is None:
            assert by not in suiting(piece) or "do not fit a barrel" in found.refused
            assert " it " in found.refused or pieces > 1
            continue
        assert by in suiting(piece)
        assert found.made is not None
        assert found.written.cavities == pieces
        for part, told in zip(found.made.parts, found.written.parts, strict=True):
            read = trimesh.load_mesh(told.files[0])
            assert read.is_watertight
            assert read.is_winding_consistent
            # What shapes the clay is small in a large block: its volume sets how much may be off.
            most = 1e-3 * min(part.form.volume, part.volume)
            assert read.volume == pytest.approx(part.volume, abs=most)


def test_each_shape_has_a_kind_and_each_kind_a_shape() -> None:
    able = {name: suiting(shape.piece()) for name, shape in shapes().items()}
    assert all("tray" in names and "master" in names for names in able.values())
    assert set().union(*able.values()) == set(kinds())
