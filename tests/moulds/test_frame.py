"""The frame and its pusher: the piece comes out, dried, at its set size, and the pusher passes."""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path

import numpy as np
import pytest
import shapely
import trimesh
from level_slices import rings
from shapely import Polygon, affinity

from wadforms.catalogue import find
from wadforms.errors import BadInput, NotMakeable
from wadforms.families import family
from wadforms.families.base import Piece
from wadforms.geometry.body import Body, Loft
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.moulds.base import Order
from wadforms.moulds.board import Board
from wadforms.moulds.kinds.frame import Frame
from wadforms.moulds.kinds.parallel import exactly_moved, moved, neck
from wadforms.moulds.part import Mould, Placed
from wadforms.moulds.write import write_mould

NAMES = ("disk-20", "tee-50", "leaf-55", "wave-72", "angle-40", "gingko-50", "stand-4-100")
DRYING = 0.065  # of a ball clay; a published data sheet

# An arc becomes lines that stray by 0.005 mm, in two outlines that are compared, and a slice
# lies 0.002 mm from the face that it stands for.
FINE = 0.012
BESIDE = 0.002


@cache
def shape(name: str) -> Piece:
    if name == "rounded":
        sizes = {"diameter": 30, "height": 10, "draft": 5, "rounding": 2}
        return family("disk").sized(sizes).piece()
    return find(name).sized({}).piece()


def files(made: Mould, folder: Path) -> dict[str, trimesh.Trimesh]:
    """The parts as an independent library reads them back."""
    written = write_mould(made, folder / "frame.stl")
    found = {}
    for part in written.parts:
        read = trimesh.load_mesh(part.files[0])
        assert isinstance(read, trimesh.Trimesh)
        assert read.is_watertight
        assert read.body_count == 1
        found[part.part] = read
    return found


def seen_from_below(region: Polygon, cut: Placed) -> Polygon:
    """A slice of a cavity, moved back and turned over: the piece as it is set."""
    back = affinity.translate(region, -cut.x, -cut.y)
    return affinity.scale(affinity.rotate(back, -cut.turn, origin=(0, 0)), -1, 1, origin=(0, 0))


def nearest_ring(mesh: trimesh.Trimesh, z: float, cut: Placed) -> Polygon:
    """The cavity of a slice that lies in a place: the outside of the block aside."""
    return min(rings(mesh, z)[1:], key=lambda r: r.hausdorff_distance(shapely.Point(cut.x, cut.y)))


def same(region: Polygon, outline: Polygon, spread: float = 0.0) -> bool:
    """Whether two regions have the same area, extent and course."""
    fine = FINE + spread
    assert region.area == pytest.approx(outline.area, abs=fine * outline.length)
    assert region.bounds == pytest.approx(outline.bounds, abs=fine)
    return bool(outline.buffer(fine).covers(region) and region.buffer(fine).covers(outline))


@pytest.mark.parametrize("shrinkage", [0.0, DRYING, 0.121])
@pytest.mark.parametrize("name", [*NAMES, "rounded"])
def test_what_comes_out_has_the_set_size(name: str, shrinkage: float, tmp_path: Path) -> None:
    piece = shape(name)
    made = Frame().make(Order(piece, shrinkage))
    frame = files(made, tmp_path)["frame"]
    (cut,) = made.parts[0].cuts
    height = float(frame.extents[2])
    assert height * (1 - shrinkage) == pytest.approx(piece.height, abs=1e-5)
    sections = piece.body.lofts[0].sections
    for z, outline in (sections[0], sections[-1]):
        level = height - z / (1 - shrinkage) + (BESIDE if z else -BESIDE)
        region = seen_from_below(nearest_ring(frame, level, cut), cut)
        dried = affinity.scale(region, 1 - shrinkage, 1 - shrinkage, origin=(0, 0))
        # The last flat of a rounding leans over so far that a slice beside it is 0.01 mm off.
        spread = BESIDE * 6 if name == "rounded" and z else 0.0
        assert same(dried, outline.polygon(), spread)
    assert made.set_volume == piece.volume
    assert made.wet.volume * (1 - shrinkage) ** 3 == pytest.approx(piece.volume, rel=1e-9)


def test_a_ring_comes_out_between_frame_and_core(tmp_path: Path) -> None:
    piece = shape("ring-63")
    made = Frame().make(Order(piece, DRYING))
    found = files(made, tmp_path)
    assert list(found) == ["frame", "pusher", "cores"]
    (cut,) = made.parts[0].cuts
    plate = Frame().plate
    height = float(found["frame"].extents[2])
    for z, outline in piece.body.lofts[0].sections:
        level = height - z / (1 - DRYING) + (BESIDE if z else -BESIDE)
        outside = nearest_ring(found["frame"], level, cut)
        (core,) = [r for r in rings(found["cores"], level + plate) if r.area < outside.area]
        region = seen_from_below(outside.difference(core), cut)
        dried = affinity.scale(region, 1 - DRYING, 1 - DRYING, origin=(0, 0))
        assert same(dried, outline.polygon())
    # The frame sits in the rim of the plate with the clearance around it, and cannot be lifted
    # by the rim: its lower edge is what the rim holds.
    block = rings(found["frame"], 1.0)[0]
    rim = rings(found["cores"], plate + 1.0)[1]
    assert rim.buffer(1e-6).covers(block)
    assert rim.exterior.distance(block) == pytest.approx(Frame().clearance, abs=FINE)
    # Cores and rim are drawn out of the clay upward and downward: both stand free.
    assert found["cores"].extents[2] == pytest.approx(plate + height, abs=1e-5)


@pytest.mark.parametrize("name", [*NAMES, "rounded", "ring-63"])
@pytest.mark.parametrize("clearance", [0.25, 0.4])
def test_the_pusher_passes_with_its_clearance(name: str, clearance: float, tmp_path: Path) -> None:
    """Measured in both files: along the whole way, and nowhere looser than asked at the end."""
    made = Frame(clearance=clearance).make(Order(shape(name), DRYING))
    found = files(made, tmp_path)
    frame, pusher = found["frame"], found["pusher"]
    height, grip = float(frame.extents[2]), Frame().grip
    (cut,) = made.parts[0].cuts
    at_end = rings(pusher, grip + 0.5)
    plunger = at_end[0].difference(shapely.union_all(at_end[1:]))
    narrow = float("inf")
    for level in np.linspace(BESIDE, height - BESIDE, 7):
        cavity = nearest_ring(frame, level, cut)
        if "cores" in found:
            cores = rings(found["cores"], level + Frame().plate)
            cavity = cavity.difference(min(cores, key=lambda r: r.area))
        # In the frame's place, seen from above as the plunger is printed.
        back = affinity.rotate(affinity.translate(cavity, -cut.x, -cut.y), -cut.turn, (0, 0))
        assert back.covers(plunger)
        narrow = min(narrow, back.boundary.distance(plunger))
        if level == BESIDE:
            loosest = back.difference(plunger.buffer(clearance + 2 * FINE, join_style="mitre"))
            assert loosest.area < 0.02 * loosest.length + 1e-9
    assert narrow == pytest.approx(clearance, abs=2 * FINE)
    # It is alike all along, and longer than the way through.
    assert rings(pusher, grip + height)[0].symmetric_difference(at_end[0]).area < 1e-4
    assert pusher.extents[2] == pytest.approx(grip + height + Frame().travel, abs=1e-5)


@pytest.mark.parametrize("name", [*NAMES, "disk-5", "rail-160", "ring-63"])
def test_the_grip_is_broad_and_stops_the_pusher(name: str, tmp_path: Path) -> None:
    made = Frame().make(Order(shape(name), DRYING))
    pusher = files(made, tmp_path)["pusher"]
    grip = Frame().grip
    widest, shoulder = rings(pusher, grip / 2)[0], rings(pusher, grip - BESIDE)[0]
    plunger = rings(pusher, grip + 0.5)[0]
    corners = list(widest.minimum_rotated_rectangle.exterior.coords)
    assert min(math.dist(corners[k], corners[k + 1]) for k in (0, 1)) >= 32.0
    # Level ground all around the plunger, wider than the clearance: it cannot slip through.
    assert shoulder.exterior.distance(plunger) > 2.5
    # Where it looks down above the bed it leans over by 45° at most, which prints unsupported.
    normals = pusher.face_normals
    above = pusher.triangles[:, :, 2].max(axis=1) > 1e-6
    assert normals[above, 2].min() >= -math.sqrt(0.5) - 1e-3
    assert pusher.euler_number == 2  # a ring's hole is blind


@pytest.mark.parametrize("pieces", [1, 6])
@pytest.mark.parametrize("name", ["disk-20", "wave-72", "ring-63"])
def test_a_frame_has_a_way_through_for_each_piece(name: str, pieces: int, tmp_path: Path) -> None:
    words = (name, "8 mm")  # the recesses of letters are no ways through
    made = Frame().make(Order(shape(name), DRYING, words, Board(pieces=pieces)))
    found = files(made, tmp_path)
    assert made.cavities == pieces
    assert found["frame"].euler_number == 2 - 2 * pieces
    for part in made.parts:
        assert found[part.name].volume == pytest.approx(part.volume, rel=1e-4)
    if "cores" in found:
        assert found["cores"].euler_number == 2
        assert len(rings(found["cores"], Frame().plate + 3.0)) == pieces


def test_volume_by_the_formula_of_a_frustum(tmp_path: Path) -> None:
    """V = π h (R² + R r + r²)/3: any handbook of geometry."""
    piece = family("disk").sized({"diameter": 20, "height": 8, "draft": 5}).piece()
    frame = Frame(ledge=0.0, relief=0.0)
    made = frame.make(Order(piece, 0.0, (), Board(pieces=4)))
    read = files(made, tmp_path)["frame"]
    wide = 10 + 8 * math.tan(math.radians(5))
    cavity = math.pi * 8 * (wide**2 + wide * 10 + 10**2) / 3
    block = Polygon(read.vertices[read.vertices[:, 2] > 8 - 1e-4][:, :2]).convex_hull.area
    assert read.volume == pytest.approx(8 * block - 4 * cavity, rel=1e-4)
    assert made.parts[0].size == pytest.approx((4 * wide + 9, 4 * wide + 9, 8))


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("pointed-tripod-63", "it has 3 points on its top"),
        ("stone-seat-63", "it has 3 hollows in its top"),
        ("cone-seat-3", "it has 3 pockets in its top"),
        ("cradle-80", "it has a round channel across its top"),
    ],
)
def test_what_needs_a_floor_is_refused(name: str, why: str) -> None:
    with pytest.raises(
        NotMakeable, match=f"a frame cannot make this piece: {why}.*; tray or .*can$"
    ):
        Frame().make(Order(shape(name), DRYING))


def upright(outline: Outline, height: float = 8.0) -> Piece:
    return Piece(outline, Body((Loft(((0.0, outline), (height, outline))),)), (outline,))


def dumbbell(width: float) -> Outline:
    """Two squares of 12 mm and a neck between them, its middle at (10, 0)."""
    half = width / 2
    right = [(-6, -6), (6, -6), (6, -half), (14, -half), (14, -6), (26, -6)]
    return Outline(Contour.polygon(right + [(x, -y) for x, y in reversed(right)]))


def test_a_neck_too_narrow_for_a_pusher_is_told_with_its_place() -> None:
    """At 0.4 mm a side and two lines of 0.4 mm a neck must be 1.6 mm wide."""
    assert Frame().refusal(upright(dumbbell(1.65))) is None
    reason = Frame().refusal(upright(dumbbell(1.5)))
    assert reason is not None
    assert "is 1.5 mm wide near (10.0, 0.0) mm" in reason
    assert "0.7 mm there, and needs two printed lines, 0.8 mm" in reason
    assert Frame(clearance=0.3).refusal(upright(dumbbell(1.5))) is None
    thin = Outline(Contour.polygon([(0, 0), (30, 0), (30, 1.4), (0, 1.4)]))
    assert "is 1.4 mm wide all along" in str(Frame().refusal(upright(thin)))
    with pytest.raises(NotMakeable, match=r"would have 0\.6 mm there"):
        Frame().make(Order(upright(thin), 0.0))


def test_a_thin_wall_beside_a_hole_is_told() -> None:
    ring = Outline(Contour.circle(15), (Contour.circle(12.5, (1.3, 0.0)),))
    assert "is 1.2 mm wide" in str(Frame().refusal(upright(ring)))


def test_a_core_too_thin_is_refused() -> None:
    small = Outline(Contour.circle(15), (Contour.circle(1.2),))
    assert "has a hole 2.4 mm wide at its base" in str(Frame().refusal(upright(small)))


def test_what_is_held_is_refused() -> None:
    mushroom = Loft(((0, Outline.circle(8)), (8, Outline.circle(11))))
    piece = Piece(Outline.circle(11), Body((mushroom,)), (Outline.circle(11),))
    assert "grows wider 0.0 mm above its base" in str(Frame().refusal(piece))


def test_a_bed_too_small_for_the_grip_is_told() -> None:
    """The block of a disk of 30 mm fits 40 mm; the grip, 29.2 + 2 × 6.1 mm, does not."""
    frame = Frame(ledge=0.0, wall=2.4)
    board = Board(pieces=1, bed=(41.0, 41.0), margin=0.0)
    with pytest.raises(NotMakeable, match=r"the grip of the pusher measures 41\.4 mm"):
        frame.make(Order(upright(Outline.circle(15)), 0.0, (), board))
    made = frame.make(Order(upright(Outline.circle(15)), 0.0, (), board._replace(bed=(43.0, 43.0))))
    assert made.parts[1].size[0] <= 43.0


def test_a_long_pusher_is_turned_on_the_bed(tmp_path: Path) -> None:
    board = Board(pieces=1, bed=(100.0, 220.0), margin=5.0)
    made = Frame().make(Order(shape("rail-160"), 0.0, (), board))
    assert made.parts[1].size[1] > 160.0
    write_mould(made, tmp_path / "frame.stl", board=board)  # which proves it against the bed


@pytest.mark.parametrize(
    ("values", "told"),
    [
        ({"clearance": "0 mm"}, r"clearance: 0 mm was given; give 0\.1 mm to 1\.5 mm"),
        ({"grip": "5 mm"}, r"grip: 5 mm was given; give 12 mm to 60 mm"),
        ({"wall": "1 mm"}, r"wall: 1 mm was given; give 2\.4 mm to 20 mm"),
        ({"plate": "1.6 mm", "relief": "1 mm"}, None),
        ({"layer": "0.5 mm"}, "give no more than the nozzle's width"),
    ],
)
def test_parameters_out_of_bounds(values: dict[str, object], told: str | None) -> None:
    if told is None:
        assert Frame.sized(values).plate == 1.6
        return
    with pytest.raises(BadInput, match=told):
        Frame.sized(values)


def test_each_parameter_tells_its_source() -> None:
    assert all(p.help and p.source for p in Frame.parameters())


def test_offsets_agree_with_the_mean_formula_of_a_parallel_region() -> None:
    """Steiner: a convex region grown by d has A + L d + π d², mitred A + L d + 4 d² if square.

    Any handbook of convex geometry.
    """
    square = Outline(Contour.polygon([(0, 0), (20, 0), (20, 20), (0, 20)]))
    (grown,) = moved(square, 2.0)
    assert grown.area == pytest.approx(400 + 80 * 2 + 4 * 4, rel=1e-12)
    disk = exactly_moved(Outline.circle(9), 1.0)
    assert disk is not None
    assert disk.area == pytest.approx(math.pi * 81 + math.tau * 9 + math.pi, rel=1e-12)
    # Two squares come apart where their neck is gone.
    assert len(moved(dumbbell(1.5), -0.8)) == 2
    assert exactly_moved(dumbbell(1.5), -0.8) is None
    found = neck(dumbbell(1.5), 1.6)
    assert found is not None
    assert found.width == pytest.approx(1.5, abs=0.01)


@pytest.mark.parametrize("name", ["disk-20", "ring-63"])
def test_the_frame_is_turned_over_before_the_pusher_goes_in(name: str) -> None:
    told = " ".join(Frame().make(Order(shape(name), 0.0)).advice)
    assert 0 < told.index("over") < told.index("press the pusher in")
    assert ("cores with it" in told) == (name == "ring-63")
