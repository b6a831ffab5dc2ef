"""A part's file is refused for each fault that it can have, with the place, and nothing is kept."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import trimesh
from numpy.typing import NDArray
from shells import merged

from wadforms.errors import BadInput, ProofFailed, WouldOverwrite
from wadforms.families import family
from wadforms.files import write_whole
from wadforms.geometry.body import Body, Loft
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.moulds import Board, Order, write, write_mould
from wadforms.moulds.kinds.tray import Tray
from wadforms.moulds.meshes.assembly import assembled, meshed
from wadforms.moulds.meshes.mesh import Mesh, stl_bytes
from wadforms.moulds.part import Mould, Part, Placed
from wadforms.moulds.proofs.prove_part import PartProof, prove_part

Floats = NDArray[np.float64]
Broken = Callable[[Mesh], Mesh]


def _made(count: int = 2, **parameters: float) -> Mould:
    disk = family("disk").sized({"diameter": 20, "height": 8}).piece()
    return Tray(**parameters).make(Order(disk, 0.05, board=Board(pieces=count)))


@pytest.fixture
def part() -> Part:
    return _made().parts[0]


def _proven(
    folder: Path, part: Part, mesh: Mesh, printable: tuple[float, float] | None = None
) -> PartProof:
    file = folder / "it.stl"
    file.write_bytes(stl_bytes(mesh, "it"))
    return prove_part(file, part, printable=printable)


def _with(mesh: Mesh, move: Callable[[Floats], Floats]) -> Mesh:
    return Mesh(move(mesh.points.copy()), mesh.facets)


def test_a_sound_part(part: Part, tmp_path: Path) -> None:
    proof = _proven(tmp_path, part, assembled(part), (200, 200))
    read = trimesh.load_mesh(tmp_path / "it.stl")
    assert proof.facets == len(read.faces)
    assert proof.volume == pytest.approx(read.volume, rel=1e-9)
    assert proof.thinnest_wall == pytest.approx(3.0, abs=0.01)
    assert proof.lowest_floor == pytest.approx(3.0, abs=1e-6)


def _gap(mesh: Mesh) -> Mesh:
    return Mesh(mesh.points, mesh.facets[1:])


def _lifted(mesh: Mesh) -> Mesh:
    return Mesh(mesh.points + np.array([0.0, 0.0, 0.5]), mesh.facets)


def _inside_out(mesh: Mesh) -> Mesh:
    return Mesh(mesh.points, mesh.facets[:, ::-1])


def _no_number(mesh: Mesh) -> Mesh:
    points = mesh.points.copy()
    points[7, 1] = math.nan
    return Mesh(points, mesh.facets)


def _second_body(mesh: Mesh) -> Mesh:
    return merged([mesh, Mesh(mesh.points * 0.01 + np.array([0, 0, 1.0]), mesh.facets)])


def _larger(mesh: Mesh) -> Mesh:
    return Mesh(mesh.points * np.array([1.001, 1.0, 1.0]), mesh.facets)


FAULTS: list[tuple[Broken, str]] = [
    (_gap, r"is not closed: 3 edges lack a neighbour, one at \(.+\) mm"),
    (_lifted, r"does not stand on z = 0 but on 0\.5 mm"),
    (_inside_out, "is inside out"),
    (_no_number, "has corners that are no numbers"),
    (_second_body, "is 2 bodies instead of one"),
    (_larger, r"measures .+ × .+ × .+ mm instead of .+ mm"),
]


@pytest.mark.parametrize(("broken", "words"), FAULTS)
def test_a_fault_of_the_file(
    broken: Broken, words: str, part: Part, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Found in the file itself, and by `write_mould`, which then leaves nothing behind."""
    with pytest.raises(ProofFailed, match=rf"it\.stl: {words}"):
        _proven(tmp_path, part, broken(assembled(part)))
    _nothing_is_written(broken, words, tmp_path / "new", monkeypatch)


def _nothing_is_written(
    broken: Broken, words: str, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder.mkdir()
    monkeypatch.setattr(write, "assembled", lambda part: broken(assembled(part)))
    for formats in ((write.STL,), write.FORMATS):
        with pytest.raises(ProofFailed, match=words):
            write_mould(_made(), folder / "tray.stl", formats=formats)
        assert list(folder.iterdir()) == []


def test_a_corner_out_of_place(part: Part, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A corner of a cavity's floor pulled through the block's side."""

    def pull(points: Floats) -> Floats:
        low = np.flatnonzero(abs(points[:, 2] - 3.0) < 1e-6)
        points[low[0], :2] = points[:, :2].max(axis=0) + 5.0
        points[low[0], :2] -= 5.5
        points[low[0], 0] += 3.0
        return points

    def broken(mesh: Mesh) -> Mesh:
        return _with(mesh, pull)

    with pytest.raises(ProofFailed, match=r"facets run through each other at \(.+\) mm|measures"):
        _proven(tmp_path, part, broken(assembled(part)))


def test_cavities_that_run_into_each_other(part: Part, tmp_path: Path) -> None:
    """Two shells in a block, not cut but set in, the one 2 mm within the other."""
    block = meshed(part.solids[-1].body)
    first, second = part.cuts
    shells = []
    for x in (first.x, first.x + 20.0):
        hollow = meshed(first.body)
        points = hollow.points * np.array([-1.0, 1.0, -1.0]) + np.array([x, second.y, 11.0])
        shells.append(Mesh(points, hollow.facets[:, ::-1]))
    with pytest.raises(ProofFailed, match=r"3 bodies|run through each other"):
        _proven(tmp_path, part, merged([block, *shells]))


def test_a_cavity_a_little_too_small(tmp_path: Path) -> None:
    """0.2 % of one cavity is missing, a share of the block far below a thousandth."""
    part = _made(6, ledge=0.0).parts[0]
    last = part.cuts[-1]
    less = last._replace(body=_shallower(last.body, 0.998))
    meant = dataclasses.replace(part, form=last.body)
    wrong = assembled(dataclasses.replace(part, cuts=(*part.cuts[:-1], less)))
    missing = 0.002 * last.body.volume
    assert wrong.volume - part.volume == pytest.approx(missing, rel=0.05)
    assert missing < 1e-3 * part.volume
    with pytest.raises(ProofFailed, match=r"it\.stl: holds [\d.]+ mm³ instead of [\d.]+ mm³"):
        _proven(tmp_path, meant, wrong)


def _shallower(body: Body, share: float) -> Body:
    """The same mouth, less deep."""
    lofts = tuple(Loft(tuple((z * share, o) for z, o in loft.sections)) for loft in body.lofts)
    return Body(lofts, body.pockets)


def test_a_thin_wall(part: Part, tmp_path: Path) -> None:
    """A cavity half a millimetre out of its place leaves 2.5 mm."""
    first, second = part.cuts
    way = np.array([second.x - first.x, second.y - first.y])
    x, y = 0.5 * way / np.hypot(*way)
    wrong = dataclasses.replace(part, cuts=(first._replace(x=first.x + x, y=first.y + y), second))
    expected = r"a wall is 2\.50 mm thick at \(.+, 11\.\d+\) mm, 3 mm were asked"
    with pytest.raises(ProofFailed, match=expected):
        _proven(tmp_path, part, assembled(wrong))


def test_a_thin_floor(part: Part, tmp_path: Path) -> None:
    asked = dataclasses.replace(part, floor=3.02)
    with pytest.raises(ProofFailed, match=r"a floor is 3\.00 mm thick, 3\.02 mm were asked"):
        _proven(tmp_path, asked, assembled(part))


def test_an_overhang(tmp_path: Path) -> None:
    """A cavity wider below than above would hold the clay."""
    square = Outline(Contour.polygon([(-20, -20), (20, -20), (20, 20), (-20, 20)]))
    block = Placed(Body((Loft(((0.0, square), (12.0, square))),)))
    narrow, wide = Outline.circle(8), Outline.circle(8.3)
    hollow = Body((Loft(((0.0, narrow), (8.0, wide))),))
    part = Part(
        name="it", solids=(block,), cuts=(Placed(hollow, 0, 0, 12, over=True),), form=hollow,
        wall=3.0, floor=3.0, relief=0.0,
    )  # fmt: skip
    with pytest.raises(ProofFailed, match=r"a wall leans over at \(.+\) mm and would hold"):
        _proven(tmp_path, part, assembled(part))


def test_the_bed(part: Part, tmp_path: Path) -> None:
    x, y, _ = part.size
    mesh = assembled(part)
    assert _proven(tmp_path, part, mesh, (x, y)).facets == len(mesh.facets)
    for bed in ((x - 0.02, y), (x, y - 0.02)):
        with pytest.raises(ProofFailed, match=r"and does not fit on [\d.]+ × [\d.]+ mm"):
            _proven(tmp_path, part, mesh, bed)


@pytest.mark.parametrize("cut", [1, 25, 49, 50, 5000])
def test_a_file_cut_short(cut: int, part: Part, tmp_path: Path) -> None:
    file = tmp_path / "it.stl"
    file.write_bytes(stl_bytes(assembled(part), "it")[:-cut])
    with pytest.raises(ProofFailed, match=r"it\.stl: "):
        prove_part(file, part)


@pytest.mark.parametrize("content", [b"", b"solid\n", b"\0" * 84, b"PK\3\4" + b"\0" * 200])
def test_no_such_file(content: bytes, part: Part, tmp_path: Path) -> None:
    file = tmp_path / "it.stl"
    file.write_bytes(content)
    with pytest.raises(ProofFailed, match=r"it\.stl: "):
        prove_part(file, part)


# What is written: several files of one mould, or none.


def _two_parts() -> Mould:
    made = _made(2, ledge=0.0)
    other = _made(1, ledge=0.0).parts[0]
    return dataclasses.replace(made, parts=(*made.parts, dataclasses.replace(other, name="lid")))


def test_names_of_files(tmp_path: Path) -> None:
    written = write_mould(_two_parts(), tmp_path / "wad.v2.stl", formats=("3mf",))
    names = ["wad.v2.stl", "wad.v2.3mf", "wad.v2-lid.stl", "wad.v2-lid.3mf"]
    assert [Path(file).name for file in written.files] == names
    assert sorted(f.name for f in tmp_path.iterdir()) == sorted(names)
    assert [part.part for part in written.parts] == ["tray", "lid"]
    assert written.parts[1].files == tuple(str(tmp_path / name) for name in names[2:])
    assert written.material_volume_mm3 == sum(p.material_volume_mm3 for p in written.parts)


def test_all_formats_hold_one_volume(tmp_path: Path) -> None:
    """3MF read by lib3mf, STEP by the kernel, STL by trimesh."""
    import cadquery
    import lib3mf

    made = _made(2)
    write_mould(made, tmp_path / "tray.stl", formats=("step", "3mf"))
    expected = made.parts[0].volume
    assert trimesh.load_mesh(tmp_path / "tray.stl").volume == pytest.approx(expected, rel=1e-5)
    step = cadquery.importers.importStep(str(tmp_path / "tray.step"))
    solid = step.val()
    assert isinstance(solid, cadquery.Shape)
    assert solid.Volume() == pytest.approx(expected, rel=1e-6)
    model = lib3mf.get_wrapper().CreateModel()
    model.QueryReader("3mf").ReadFromFile(str(tmp_path / "tray.3mf"))
    objects = model.GetMeshObjects()
    assert objects.MoveNext()
    found = objects.GetCurrentMeshObject()
    points = np.array([list(v.Coordinates) for v in found.GetVertices()])
    facets = np.array([list(t.Indices) for t in found.GetTriangleIndices()])
    assert trimesh.Trimesh(points, facets).volume == pytest.approx(expected, rel=1e-5)


@pytest.mark.parametrize("taken", ["tray.stl", "tray.3mf", "tray-lid.stl", "tray-lid.step"])
def test_nothing_is_written_where_one_name_is_taken(taken: str, tmp_path: Path) -> None:
    (tmp_path / taken).write_text("mine")
    with pytest.raises(WouldOverwrite):
        write_mould(_two_parts(), tmp_path / "tray.stl", formats=("3mf", "step"))
    assert [file.name for file in tmp_path.iterdir()] == [taken]
    assert (tmp_path / taken).read_text() == "mine"


def test_nothing_is_written_where_the_second_part_fails(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(part: Part) -> Mesh:
        mesh = assembled(part)
        return _gap(mesh) if part.name == "lid" else mesh

    monkeypatch.setattr(write, "assembled", broken)
    with pytest.raises(ProofFailed, match=r"tray-lid\.stl: is not closed"):
        write_mould(_two_parts(), tmp_path / "tray.stl", formats=("3mf",))
    assert list(tmp_path.iterdir()) == []


def test_nothing_is_written_where_another_format_fails(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from wadforms.moulds import three_mf

    def fail(*_: object) -> bytes:
        raise ProofFailed("it.3mf: cannot be")

    monkeypatch.setattr(three_mf, "three_mf_bytes", fail)
    with pytest.raises(ProofFailed, match="cannot be"):
        write_mould(_two_parts(), tmp_path / "tray.stl", formats=("3mf",))
    assert list(tmp_path.iterdir()) == []


def test_a_name_taken_at_the_last_moment(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The second file cannot be written: the first, which is new, is taken back."""

    def late(place: Path, data: bytes, **how: object) -> None:
        if place.name == "tray-lid.stl":
            place.write_text("mine")
        write_whole(place, data, **how)  # type: ignore[arg-type]

    monkeypatch.setattr("wadforms.files.write_whole", late)
    with pytest.raises(WouldOverwrite):
        write_mould(_two_parts(), tmp_path / "tray.stl")
    assert [file.name for file in tmp_path.iterdir()] == ["tray-lid.stl"]
    assert (tmp_path / "tray-lid.stl").read_text() == "mine"


def test_a_format_that_there_is_not(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="obj"):
        write_mould(_made(), tmp_path / "tray.stl", formats=("stl", "obj"))
    assert list(tmp_path.iterdir()) == []
