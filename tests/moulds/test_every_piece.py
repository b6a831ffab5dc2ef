"""Every family over its declared range, and every named shape: three answers agree.

The volume is computed from the outlines' lines and arcs, asked of the kernel's solid, and summed
over the triangles.  None of the three knows of the others.
"""

from __future__ import annotations

import pytest
from every_piece import ends, pieces

from wadforms.families import families
from wadforms.moulds.meshes.assembly import meshed
from wadforms.moulds.proofs.proof import prove
from wadforms.moulds.solids.solid import face_area_at, solid

WITHIN = 1e-3


@pytest.mark.parametrize("name", pieces())
def test_volume_and_bearing_area_agree(name: str) -> None:
    piece = pieces()[name]
    made = solid(piece.body)
    assert made.isValid()
    assert len(made.Solids()) == 1
    assert made.Volume() == pytest.approx(piece.volume, rel=1e-6)  # both are exact
    proof = prove(meshed(piece.body).triangles, name)
    assert proof.volume == pytest.approx(piece.volume, rel=WITHIN)
    assert proof.low[2] == pytest.approx(0.0, abs=1e-6)
    assert proof.high[2] == pytest.approx(piece.body.height, abs=1e-6)
    # A hollow and a bed of stones bear on no flat face; what bears no pot has no area to check.
    flat = piece.faces and piece.hollow_radius is None and not (piece.tips and piece.tips.rise)
    if flat:
        assert face_area_at(made, piece.body.height) == pytest.approx(piece.top_area, rel=WITHIN)


@pytest.mark.parametrize("family", families())
def test_the_range_is_covered(family: str) -> None:
    reached = {name.removeprefix(f"{family}: ") for name in pieces() if name.startswith(family)}
    wanted = {f"{p.name} {label}" for p in families()[family].parameters() for label, _ in ends(p)}
    # A few ends go with hardly any other values, so that chance does not find them.
    assert len(wanted - reached) <= 2
