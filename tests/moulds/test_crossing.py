"""Facets that run through each other are found, and only those; manifold3d is the judge."""

from __future__ import annotations

import math

import numpy as np
import pytest
from every_piece import pieces
from hypothesis import assume, given
from hypothesis import strategies as st
from manifold3d import Manifold, Mesh64
from numpy.typing import NDArray
from shells import merged

from wadforms.families import family
from wadforms.geometry.body import Body, Loft
from wadforms.geometry.outline import Outline
from wadforms.moulds import Board, Order
from wadforms.moulds.kinds.tray import Tray
from wadforms.moulds.meshes.assembly import meshed
from wadforms.moulds.meshes.mesh import Mesh
from wadforms.moulds.meshes.sinking import sunk
from wadforms.moulds.proofs import near as module
from wadforms.moulds.proofs.crossing import crossing
from wadforms.moulds.proofs.rings import rings_of

NAMED = [name for name in pieces() if name.startswith("shape ")]

# Corners of a box, and its facets counter-clockwise seen from outside.
_CORNERS = np.array([(x, y, z) for x in (0, 1) for y in (0, 1) for z in (0, 1)], dtype=float)
_FACETS = np.array(
    [
        [0, 1, 3], [0, 3, 2], [4, 6, 7], [4, 7, 5], [0, 4, 5], [0, 5, 1],
        [2, 3, 7], [2, 7, 6], [0, 2, 6], [0, 6, 4], [1, 5, 7], [1, 7, 3],
    ]
)  # fmt: skip


def _box(low: tuple[float, ...], high: tuple[float, ...]) -> Mesh:
    return Mesh(np.array(low) + _CORNERS * (np.array(high) - np.array(low)), _FACETS)


def _turned(mesh: Mesh, matrix: NDArray[np.float64]) -> Mesh:
    return Mesh(mesh.points @ matrix.T, mesh.facets)


def _about_z(degrees: float) -> NDArray[np.float64]:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return np.array([[c, -s, 0], [s, c, 0], [0, 0, 1]])


def _manifold(mesh: Mesh) -> Manifold:
    return Manifold(Mesh64(mesh.points, mesh.facets.astype(np.uint64)))


def _found(*meshes: Mesh) -> bool:
    whole = merged(meshes)
    return crossing(whole.points, whole.facets) is not None


@pytest.fixture
def wall() -> Mesh:
    return _box((0, 0, 0), (30, 2, 20))


def test_the_box_is_a_box() -> None:
    assert _manifold(_box((0, 0, 0), (2, 3, 4))).volume() == pytest.approx(24.0)


@pytest.mark.parametrize("turn", [0.0, 17.0, 45.0, 90.0])
def test_a_blade_through_a_wall(wall: Mesh, turn: float) -> None:
    blade = _turned(_box((-0.2, -9, 3), (0.2, 9, 5)), _about_z(turn / 3))
    blade = Mesh(blade.points + np.array([11.3, 1.0, 0.0]), blade.facets)
    both = [_turned(mesh, _about_z(turn)) for mesh in (wall, blade)]
    whole = merged(both)
    place = crossing(whole.points, whole.facets)
    assert place is not None
    assert 3.0 - 1e-9 <= place[2] <= 5.0 + 1e-9
    back = place @ _about_z(turn)
    assert np.abs(back[:2] - [11.3, 1.0]).max() < 1.6
    assert not _found(wall)
    assert not _found(blade)


def test_level_faces_that_lie_on_each_other(wall: Mesh) -> None:
    """Two feet at one level that overlap by a strip, and two that touch along a side."""
    assert _found(wall, _box((29, 0.5, 0), (40, 1.5, 20)))
    assert not _found(wall, _box((30.5, 0, 0), (40, 2, 20)))


def test_bodies_that_only_touch(wall: Mesh) -> None:
    assert not _found(wall, _box((0, 2, 0), (30, 4, 20)))  # side by side
    assert not _found(wall, _box((0, 0, 20), (30, 2, 22)))  # one upon the other


def _concatenated(cuts: tuple[tuple[float, float], ...]) -> Mesh:
    """A block of 60 × 40 × 12 mm with cavities set in without cutting: shells turned inside out."""
    block = _box((0, 0, 0), (60, 40, 12))
    cavity = meshed(Body((Loft.drafted(Outline.circle(6), ((0, 0), (8, 1))),)))
    shells = [Mesh(cavity.points + np.array([x, y, 3.0]), cavity.facets[:, ::-1]) for x, y in cuts]
    return merged([block, *shells])


def test_cavities_in_the_wrong_place() -> None:
    good = _concatenated(((15, 20), (40, 20)))
    assert crossing(good.points, good.facets) is None
    touching = _concatenated(((15, 20), (28.9, 20)))  # 7 + 7 mm want 14
    place = crossing(touching.points, touching.facets)
    assert place is not None
    assert place == pytest.approx([21.95, 20.0, 11.0], abs=0.1)
    poking = _concatenated(((15, 20), (54, 20)))
    place = crossing(poking.points, poking.facets)
    assert place is not None
    assert place[0] == pytest.approx(60.0, abs=0.5)


@pytest.mark.parametrize(("dx", "crosses"), [(0.0, False), (1.0, False), (3.5, True), (9.0, True)])
def test_cavities_sunk_in_the_wrong_place(dx: float, crosses: bool) -> None:
    """A tray of two disks, one pushed toward the other; its wall is 3 mm."""
    disk = family("disk").sized({"diameter": 20, "height": 8}).piece()
    part = Tray(ledge=0.0).make(Order(disk, 0.05, board=Board(pieces=2))).parts[0]
    first, second = sorted(part.cuts, key=lambda cut: (cut.x, cut.y))
    along = np.array([second.x - first.x, second.y - first.y])
    along = along / np.hypot(*along) * dx
    moved = first._replace(x=first.x + along[0], y=first.y + along[1])
    wrong = type(part)(
        name="tray", solids=part.solids, cuts=(moved, second), form=part.form,
        wall=part.wall, floor=part.floor, relief=part.relief,
    )  # fmt: skip
    from wadforms.moulds.meshes.assembly import _cut

    mesh = sunk(wrong, _cut, meshed)
    assert mesh is not None
    assert (crossing(mesh.points, mesh.facets) is not None) == crosses


def test_a_mesh_folded_back_on_itself() -> None:
    """A box whose top is pushed down through its foot, and one with a corner pulled through it."""
    box = _box((0, 0, 0), (10, 10, 10))
    low = Mesh(np.where(box.points == 10, [[10, 10, -3]], box.points), box.facets)
    assert crossing(low.points, low.facets) is None  # inside out, but clear of itself
    pulled = box.points.copy()
    pulled[7] = (-4.0, -4.0, 5.0)
    place = crossing(pulled, box.facets)
    assert place is not None
    assert 0 - 1e-6 <= place.min() <= place.max() <= 10 + 1e-6


def test_a_flap_folded_upon_its_side() -> None:
    """A wall's middle pulled beyond its end: two facets with a side in common in one plane."""
    box = _box((0, 0, 0), (10, 10, 10))
    # A corner between two of the side y = 0, first within it, then below the foot.
    points = np.concatenate([box.points, [[5.0, 0.0, 5.0]]])
    kept = [f for f in box.facets.tolist() if f not in ([0, 4, 5], [0, 5, 1])]
    fan = [[0, 4, 8], [4, 5, 8], [5, 1, 8], [1, 0, 8]]
    facets = np.array([*kept, *fan])
    assert crossing(points, facets) is None
    points[8] = (5.0, 0.0, -2.0)
    place = crossing(points, facets)
    assert place is not None
    assert place[1] == pytest.approx(0.0, abs=1e-9)


def test_walls_of_one_plane_that_overlap() -> None:
    """Two posts of the same ground, one pushed into the other from above."""
    low, high = _box((0, 0, 0), (4, 4, 9)), _box((0, 0, 7), (4, 4, 20))
    assert _found(low, high)
    assert _found(*(_turned(mesh, _about_z(31.0)) for mesh in (low, high)))
    assert not _found(low, _box((0, 0, 9), (4, 4, 20)))


@pytest.mark.parametrize("name", NAMED)
def test_nothing_in_a_sound_mesh(name: str) -> None:
    chance = np.random.default_rng(sum(name.encode()))
    mesh = meshed(pieces()[name].body)
    for turn, scale in ((0.0, 1.0), (chance.uniform(0, 360), chance.uniform(0.5, 3.0))):
        points = mesh.points @ _about_z(turn).T * scale
        assert crossing(points, mesh.facets) is None
        rounded = points.astype(np.float32).astype(np.float64)  # as a file has them
        assert crossing(rounded, mesh.facets) is None


_SIZES = st.tuples(*[st.floats(0.5, 8.0)] * 3)
_PLACES = st.tuples(*[st.floats(-6.0, 6.0)] * 3)
_TURNS = st.tuples(*[st.floats(-180.0, 180.0)] * 3)


def _turn(degrees: tuple[float, float, float]) -> NDArray[np.float64]:
    """Turned about z, then about x, then about z."""
    a, b, c = degrees
    about_x = _about_z(b)[[2, 0, 1]][:, [2, 0, 1]]
    return np.asarray(_about_z(c) @ about_x @ _about_z(a))


@given(_SIZES, _SIZES, _PLACES, _TURNS, st.booleans())
def test_two_boxes(
    one: tuple[float, float, float],
    other: tuple[float, float, float],
    place: tuple[float, float, float],
    turns: tuple[float, float, float],
    upright: bool,
) -> None:
    """They cross where manifold3d finds a common volume, unless one lies within the other.

    Pairs whose common part comes and goes with a hair's breadth more or less are left out.
    """
    if upright:
        turns = (0.0, 0.0, turns[2])
    first = _box((0, 0, 0), one)
    second = _turned(_box((0, 0, 0), other), _turn(turns))
    second = Mesh(second.points + np.array(place), second.facets)
    assert _manifold(second).volume() == pytest.approx(math.prod(other))
    whole = _manifold(first)
    judged: list[str] = []
    for grown in (-0.01, 0.0, 0.01):
        size = np.array(other) + 2 * grown
        near = _turned(_box(tuple([-grown] * 3), tuple(size - grown)), _turn(turns))
        box = _manifold(Mesh(near.points + np.array(place), near.facets))
        common = (whole ^ box).volume()
        if common < 1e-9:
            judged.append("apart")
        elif common > 0.999999 * box.volume():
            judged.append("the second within the first")
        elif common > 0.999999 * whole.volume():
            judged.append("the first within the second")
        else:
            judged.append("through each other")
    assume(len(set(judged)) == 1)
    assert _found(first, second) == (judged[1] == "through each other")


# Uneven steps, so that no edge passes just through the diagonal of a face.
_STEPS = ((0.0, 1.0, 2.0, 3.0, 4.0), (0.0, 1.1, 2.5, 3.2, 4.7), (0.0, 0.7, 1.9, 3.6, 4.4))
_SPANS = st.tuples(*[st.sampled_from([(i, j) for j in range(5) for i in range(j)])] * 3)


@given(_SPANS, _SPANS)
def test_boxes_with_faces_in_one_plane(
    one: tuple[tuple[int, int], ...], other: tuple[tuple[int, int], ...]
) -> None:
    """What a drawing is full of: they cross where they have a common part and none holds both."""
    boxes = []
    for spans in (one, other):
        ends = [(axis[i], axis[j]) for axis, (i, j) in zip(_STEPS, spans, strict=True)]
        boxes.append((np.array([low for low, _ in ends]), np.array([high for _, high in ends])))
    (a, b), (c, d) = boxes
    assume(not ((a <= c) & (d <= b)).all() and not ((c <= a) & (b <= d)).all())
    common = np.minimum(b, d) - np.maximum(a, c)
    assume(common.min() != 0.0)  # they touch
    assert _found(_box(tuple(a), tuple(b)), _box(tuple(c), tuple(d))) == bool(common.min() > 0)


@pytest.mark.parametrize(("swept", "at_once"), [(1, 1), (7, 3), (100, 1000)])
def test_sweeps_in_portions_find_the_same(
    swept: int, at_once: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    good, bad = _concatenated(((15, 20), (40, 20))), _concatenated(((15, 20), (28.9, 20)))
    wall, blade = _box((0, 0, 0), (30, 2, 20)), _box((8, -5, 3), (9, 5, 5))
    few = merged([wall, blade])
    before = _pairs(bad)
    monkeypatch.setattr(module, "_SWEPT", swept)
    monkeypatch.setattr(module, "_AT_ONCE", at_once)
    assert crossing(few.points, few.facets) is not None
    if swept > 1:
        assert crossing(bad.points, bad.facets) is not None
        assert crossing(good.points, good.facets) is None
        assert _pairs(bad) == before


def _pairs(mesh: Mesh) -> set[tuple[int, int]]:
    low, high = mesh.triangles.min(axis=1), mesh.triangles.max(axis=1)
    portions = list(module.near(low.T, high.T))
    found = [(min(p), max(p)) for pairs in portions for p in np.stack(pairs, axis=1).tolist()]
    assert len(found) == len(set(found))  # none is looked at twice
    return set(found)


def test_pairs_by_brute_force() -> None:
    """Every pair whose boxes overlap is looked at, but for two level ones and for mere touch."""
    mesh = _concatenated(((15, 20), (28.9, 20)))
    low, high = mesh.triangles.min(axis=1), mesh.triangles.max(axis=1)
    deep = 1e-3
    meet = ((low[:, None] < high[None] - deep) & (low[None] < high[:, None] - deep)).all(axis=2)
    expected = {(i, j) for i, j in zip(*np.nonzero(meet), strict=True) if i < j}
    assert expected
    assert expected <= _pairs(mesh)


@pytest.mark.parametrize("wide", [0.05, 1.0, 1e6])
def test_pairs_do_not_hang_on_the_width_of_strips(
    wide: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """From many strips a facet to one strip for all; the mesh lies askew."""
    mesh = _turned(_concatenated(((15, 20), (28.9, 20))), _about_z(33))
    before = _pairs(mesh)
    monkeypatch.setattr(module, "_WIDE", wide)
    assert _pairs(mesh) == before
    low, high = mesh.triangles.min(axis=1), mesh.triangles.max(axis=1)
    meet = ((low[:, None] < high[None] - 1e-3) & (low[None] < high[:, None] - 1e-3)).all(axis=2)
    expected = {(i, j) for i, j in zip(*np.nonzero(meet), strict=True) if i < j}
    assert expected
    assert expected <= before


def test_rings_enclose_what_the_facets_cover() -> None:
    """A square ring of facets: its edges are two rings, the areas' difference is its own."""
    piece = pieces()["ring: default"]
    mesh = meshed(piece.body)
    level = (abs(mesh.points[:, 2]) < 1e-9)[mesh.facets].all(axis=1)
    rings = [mesh.points[ring, :2] for ring in rings_of(mesh.facets[level])]
    assert len(rings) == 2
    area = sum(
        0.5 * float(np.sum(r[:, 0] * np.roll(r[:, 1], -1) - r[:, 1] * np.roll(r[:, 0], -1)))
        for r in rings
    )
    assert -area == pytest.approx(piece.body.base.area, rel=1e-6)  # it faces down
