"""The slab cutter: what it cuts, dried, has the set outline, and its blades print and hold."""

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
from wadforms.families.base import Piece
from wadforms.geometry.body import Body, Loft
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.moulds.base import Order
from wadforms.moulds.board import Board
from wadforms.moulds.kinds.cutter import Cutter
from wadforms.moulds.part import Mould
from wadforms.moulds.write import write_mould

# Blades that lean, and blades that go in steps: at points, at hollow corners sharper than a blade.
NAMES = ("disk-20", "tee-50", "wave-72", "angle-40", "leaf-55", "crescent-40", "gingko-50")
DRYING = 0.065  # of a ball clay; a published data sheet

FINE = 0.012  # two outlines of which each strays by 0.005 mm from its arcs, and file rounding


@cache
def shape(name: str) -> Piece:
    return find(name).sized({}).piece()


def upright(outline: Outline, height: float = 8.0) -> Piece:
    return Piece(outline, Body((Loft(((0.0, outline), (height, outline))),)), (outline,))


def file(made: Mould, folder: Path) -> trimesh.Trimesh:
    """The cutter as an independent library reads it back."""
    written = write_mould(made, folder / "cutter.stl")
    read = trimesh.load_mesh(written.files[0])
    assert isinstance(read, trimesh.Trimesh)
    assert read.is_watertight
    assert read.body_count == 1
    return read


def material(mesh: trimesh.Trimesh, z: float) -> Polygon:
    """What a level slice holds: inside an odd number of lines."""
    found = shapely.Polygon()
    for ring in rings(mesh, z):
        found = found.symmetric_difference(ring)
    return found


def opening(mesh: trimesh.Trimesh, z: float) -> Polygon:
    """What a blade cuts at a level: inside its outer ring, and outside a hole's blade."""
    outer, inner, *holes = rings(mesh, z)
    assert outer.contains(inner)
    return inner.difference(holes[0]) if holes else inner


def levels(mesh: trimesh.Trimesh) -> tuple[float, float]:
    """The plate's upper face and the blades' edge."""
    return 3.0, float(mesh.extents[2])


@pytest.mark.parametrize("shrinkage", [0.0, DRYING, 0.121])
@pytest.mark.parametrize("name", [*NAMES, "ring-63"])
def test_what_is_cut_has_the_set_size(name: str, shrinkage: float, tmp_path: Path) -> None:
    piece = shape(name)
    made = Cutter().make(Order(piece, shrinkage))
    mesh = file(made, tmp_path)
    plate, edge = levels(mesh)
    blade = next(p for p in made.parts[0].cuts if p.body.height > 4)
    outline = piece.outline.polygon()
    for z in np.linspace(plate + 0.1, edge - 0.001, 5):  # upright: the same at every level
        region = affinity.translate(opening(mesh, z), -blade.x, -blade.y)
        # Turned back, then over, as the cutter is before it cuts.
        region = affinity.rotate(region, -blade.turn, origin=(0, 0))
        dried = affinity.scale(region, shrinkage - 1, 1 - shrinkage, origin=(0, 0))
        assert dried.area == pytest.approx(outline.area, abs=FINE * outline.length)
        assert dried.bounds == pytest.approx(outline.bounds, abs=FINE)
        assert outline.buffer(FINE).covers(dried)
        assert dried.buffer(FINE).covers(outline)
    # The slab: what the blade has below the room that is kept free.
    slab = edge - plate - Cutter().free
    assert slab * (1 - shrinkage) == pytest.approx(piece.height, abs=1e-5)
    assert dict(made.facts)["slab_thickness_mm"] == pytest.approx(slab, abs=1e-5)
    volume = outline.area * piece.height
    # The outline's polygon has its area.
    assert made.set_volume == pytest.approx(volume, rel=1e-9)
    assert made.wet.volume * (1 - shrinkage) ** 3 == pytest.approx(volume, rel=1e-9)
    assert made.contact_top_area == pytest.approx(outline.area, rel=1e-9)


@pytest.mark.parametrize("name", [*NAMES, "ring-63"])
@pytest.mark.parametrize("edge", [0.8, 1.2])
def test_blades_are_thin_at_the_edge_and_thick_above(
    name: str, edge: float, tmp_path: Path
) -> None:
    cutter = Cutter(edge=edge, wall=2.4)
    mesh = file(cutter.make(Order(shape(name), DRYING)), tmp_path)
    plate, top = levels(mesh)

    def blade(z: float) -> list[float]:
        """Least thickness of each blade, from the clay to its other side."""
        outer, inner, *inside = rings(mesh, z)
        pairs = [(outer, inner), *zip(inside[::2], inside[1::2], strict=True)]
        assert len(pairs) == (2 if name == "ring-63" else 1)
        return [a.exterior.distance(b.exterior) for a, b in pairs]

    assert blade(top - 0.001) == pytest.approx([edge] * len(blade(top - 0.001)), abs=FINE)
    assert blade(top - 0.9) == pytest.approx([edge] * len(blade(top - 0.9)), abs=FINE)
    # In the slab it grows, above it it is as thick as the wall.
    middle = blade((plate + cutter.free + top) / 2)
    assert all(edge < width < 2.4 for width in middle)
    assert blade(plate + 0.5) == pytest.approx([2.4] * len(middle), abs=FINE)
    # Nothing looks down above the first layer's bevel: it prints as it stands.
    normals = mesh.face_normals
    above = mesh.triangles[:, :, 2].max(axis=1) > cutter.relief + 1e-4
    assert normals[above, 2].min() > -1e-3


@pytest.mark.parametrize("pieces", [1, 6])
@pytest.mark.parametrize("name", ["disk-20", "leaf-55"])
def test_a_gang_has_an_opening_for_each_piece(name: str, pieces: int, tmp_path: Path) -> None:
    made = Cutter().make(Order(shape(name), DRYING, (name,), Board(pieces=pieces)))
    mesh = file(made, tmp_path)
    plate, _ = levels(mesh)
    assert made.cavities == pieces
    assert mesh.euler_number == 2 - 2 * pieces
    assert mesh.volume == pytest.approx(made.parts[0].volume, rel=1e-4)
    blades = shapely.get_parts(material(mesh, plate + 0.5))
    assert len(blades) == pieces
    if pieces > 1:
        # Between two of them a finger's tip finds room.
        near = min(
            a.distance(b) for k, a in enumerate(blades) for b in blades[:k]
        )  # fmt: skip
        assert near >= Cutter().gap - 2 * FINE
    # The plate reaches beyond the blades on every side.
    ground = rings(mesh, plate / 2)[0]
    apart = min(ground.exterior.distance(blade) for blade in blades)
    assert apart >= Cutter().rim - FINE


def test_the_blade_of_a_hole_hangs_on_bars(tmp_path: Path) -> None:
    made = Cutter(bars=6.0).make(Order(shape("ring-63"), DRYING, (), Board(pieces=2)))
    mesh = file(made, tmp_path)
    plate, edge = levels(mesh)
    # Two bars cross the hole: four ways out for the ring, four for what was in the hole.
    assert mesh.euler_number == 2 - 2 * (2 * 8)
    assert len(rings(mesh, plate - 0.1)) == 1 + 2 * 8
    # Between ring and outer blade a bar is as wide as asked, all through the plate.
    wet = shape("ring-63").outline.scaled(1 / (1 - DRYING)).polygon()
    open_above = wet.area
    open_below = sum(r.area for r in rings(mesh, 1.0)[1:9] + rings(mesh, 1.0)[9:]) / 2
    inner = Polygon(wet.interiors[0]).buffer(-2.0)
    width = Polygon(wet.exterior).area - wet.area  # the hole
    radius, hole = math.sqrt(Polygon(wet.exterior).area / math.pi), math.sqrt(width / math.pi)
    assert radius > hole
    # Four bridges over the ring, and a cross over the hole's middle: 2 b D − b².
    bridges = 4 * 6.0 * (radius - hole)
    cross = 2 * 6.0 * (2 * (hole - 2.0)) - 36.0
    # A bar's ends are arcs, not straight: less than b²/8r each.
    slack = 12 * 6.0**3 / (24 * (hole - 2.0))
    assert open_below == pytest.approx(open_above - bridges + inner.area - cross, abs=slack)
    # Above the bars the whole ring is open, up to the edge.
    assert edge - plate > shape("ring-63").height


def test_several_holes_are_held_by_a_bar_each(tmp_path: Path) -> None:
    holes = (Contour.circle(6, (-10, 0)), Contour.circle(6, (10, 0)))
    box = Outline(Contour.polygon([(-22, -12), (22, -12), (22, 12), (-22, 12)]), holes)
    made = Cutter().make(Order(upright(box), 0.0))
    mesh = file(made, tmp_path)
    assert len(rings(mesh, 1.0)) == 1 + 3 + 2 * 2  # plate; the piece in three; each hole in two
    assert made.set_volume == pytest.approx((44 * 24 - 2 * math.pi * 36) * 8, rel=1e-9)


def test_a_cut_piece_bears_on_its_whole_outline_and_says_so() -> None:
    """Draft and rounding of the piece are not made: π r² h, whatever they are."""
    from wadforms.families import family

    sizes = {"diameter": 30, "height": 10, "draft": 5, "rounding": 2}
    made = Cutter().make(Order(family("disk").sized(sizes).piece(), 0.1))
    assert made.set_volume == pytest.approx(math.pi * 225 * 10, rel=1e-12)
    assert made.wet.volume == pytest.approx(math.pi * 225 * 10 / 0.9**3, rel=1e-12)
    assert made.contact_top_area == pytest.approx(math.pi * 225, rel=1e-12)
    assert made.wet_outline_size == pytest.approx((30 / 0.9, 30 / 0.9))
    assert any("no draft and rounds no edge" in line for line in made.advice)
    assert any("Roll the slab 11.1 mm thick" in line for line in made.advice)


def test_a_notch_too_narrow_for_a_blade_is_cut_all_the_same(tmp_path: Path) -> None:
    """A slot of 1 mm: the blades on both sides of it are one."""
    corners = [(-15, -10), (15, -10), (15, 10), (0.5, 10), (0.5, -2), (-0.5, -2), (-0.5, 10)]
    slotted = Outline(Contour.polygon([*corners, (-15, 10)]))
    mesh = file(Cutter().make(Order(upright(slotted), 0.0)), tmp_path)
    _, edge = levels(mesh)
    assert opening(mesh, edge - 0.1).area == pytest.approx(slotted.area, rel=1e-6)
    assert len(rings(mesh, edge - 0.1)) == 2


def jar(mouth: float) -> Outline:
    """A box that is open above by a mouth."""
    half = mouth / 2
    right = [(-15, -10), (15, -10), (15, 10), (half, 10), (half, 8), (10, 8), (10, -5)]
    left = [(-x, y) for x, y in reversed(right[2:])]
    return Outline(Contour.polygon([*right, *left]))


def test_blades_that_bend_back_shut_no_clay_in(tmp_path: Path) -> None:
    """Two blades of 2 mm close a mouth of 3 mm; two of 1.4 mm leave it open."""
    mesh = file(Cutter().make(Order(upright(jar(3.0)), 0.0)), tmp_path)
    for z in (3.5, 10.0, float(mesh.extents[2]) - 0.1):
        outer, inner = rings(mesh, z)
        assert inner.area == pytest.approx(jar(3.0).area, rel=1e-6)
        assert not outer.contains(shapely.Point(0, 0))
    reason = str(Cutter().refusal(upright(jar(1.2))))
    assert "comes within 1" in reason
    assert "blades of 0.8 mm would meet there" in reason


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("pointed-tripod-63", "it has 3 points on its top"),
        ("stone-seat-63", "it has 3 hollows in its top"),
        ("cone-seat-3", "it has 3 pockets in its top"),
        ("cradle-80", "it has a round channel across its top"),
    ],
)
def test_what_is_not_alike_at_every_level_is_refused(name: str, why: str) -> None:
    with pytest.raises(
        NotMakeable, match=f"a cutter cannot make this piece: {why}.*; tray or .*can$"
    ):
        Cutter().make(Order(shape(name), DRYING))


def test_a_hole_too_small_for_its_blade_is_refused() -> None:
    """Two blades of 2 mm and 3 mm between them: 7 mm."""
    wide = Outline(Contour.circle(15), (Contour.circle(3.55),))
    assert Cutter().refusal(upright(wide)) is None
    small = Outline(Contour.circle(15), (Contour.circle(3.0),))
    reason = str(Cutter().refusal(upright(small)))
    assert "has a hole 6 mm wide" in reason
    assert "need 7 mm" in reason
    assert Cutter(wall=1.2).refusal(upright(small)) is None


@pytest.mark.parametrize(
    ("values", "told"),
    [
        ({"edge": "0.6 mm"}, r"edge: 0\.6 mm was given; give two lines of the nozzle or more"),
        ({"nozzle": "0.6 mm"}, r"edge: 0\.8 mm was given; .* 1\.2 mm"),
        ({"edge": "1.6 mm", "wall": "1.2 mm"}, r"wall: 1\.2 mm was given; give the edge's"),
        ({"plate": "1.6 mm", "relief": "1 mm"}, r"relief: 1 mm was given; .* 1 mm"),
        ({"gap": "1 mm"}, r"gap: 1 mm was given; give 3 mm to 60 mm"),
        ({"free": "99 mm"}, r"free: 99 mm was given; give 1 mm to 30 mm"),
    ],
)
def test_parameters_out_of_bounds(values: dict[str, object], told: str) -> None:
    with pytest.raises(BadInput, match=told):
        Cutter.sized(values)


def test_each_parameter_tells_its_source() -> None:
    assert all(p.help and p.source for p in Cutter.parameters())


def test_many_blades_want_a_board() -> None:
    """A disk of 40 mm has 0.126 m of blade: four of them go beyond half a metre."""
    told = [" ".join(_disks(count).advice) for count in (3, 4)]
    assert ["lean on it" in one for one in told] == [False, True]
    assert "0.5 m of blade" in told[1]


def _disks(count: int) -> Mould:
    return Cutter().make(Order(shape("disk-40"), 0.0, (), Board(count)))


def test_a_deep_narrow_notch_makes_no_larger_plate() -> None:
    """The blade fills it; outside it reaches as far as that of the plain rectangle."""
    corners = [(-20, -10), (20, -10), (20, 10), (0.5, 10), (0.5, -8), (-0.5, -8), (-0.5, 10)]
    notched = upright(Outline(Contour.polygon([*corners, (-20, 10)])))
    plain = upright(Outline(Contour.polygon([(-20, -10), (20, -10), (20, 10), (-20, 10)])))
    sizes = [Cutter().make(Order(piece, 0.0)).parts[0].size for piece in (notched, plain)]
    assert sizes[0] == pytest.approx(sizes[1], abs=0.1)


def test_a_blade_that_goes_in_ledges_says_so() -> None:
    """A blade beside a plain round is one slope; beside sharp tips it cannot be."""
    tips = Outline(Contour(((20.0, 0.0), (-20.0, 0.0)), (0.3, 0.3)))
    for outline, stepped in ((Outline.circle(15), False), (tips, True)):
        mould = Cutter().make(Order(upright(outline), 0.05))
        told = any("small ledges, not in a slope" in sentence for sentence in mould.advice)
        outside = [s for s in mould.parts[0].solids if s.body.height > 8.0]
        assert told == stepped
        assert (max(len(s.body.lofts) for s in outside) > 1) == stepped
