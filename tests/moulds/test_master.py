"""The plaster master: a piece pressed in what it moulds, dried, has the set size."""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely
import trimesh
from level_slices import differing, rings
from manifold3d import Manifold, Mesh64

from wadforms.catalogue import find
from wadforms.errors import BadInput, NotMakeable
from wadforms.families import family
from wadforms.families.base import Piece
from wadforms.geometry.body import Body, Loft
from wadforms.geometry.outline import Outline
from wadforms.moulds.base import Order
from wadforms.moulds.board import Board
from wadforms.moulds.kinds.master import Master
from wadforms.moulds.meshes.assembly import meshed
from wadforms.moulds.write import write_mould

# One of each way to be built: a cone, arms, a hole, tips, slots, bowls, a trough, free outlines.
SAMPLE: tuple[str, ...] = (
    "disk-20",
    "tee-50",
    "ring-63",
    "pointed-tripod-63",
    "cone-seat-3",
    "stone-seat-63",
)
SAMPLE += ("cradle-130", "leaf-55", "gingko-50", "angle-40", "pointed-stand-5-100")

PAPER_THIN = 1e-3


@cache
def shape(name: str) -> Piece:
    return find(name).sized({}).piece()


def written(master: Master, order: Order, folder: Path) -> trimesh.Trimesh:
    """The tub as an independent library reads it back."""
    path = folder / "master.stl"
    write_mould(master.make(order), path, board=order.board)
    read = trimesh.load_mesh(path)
    assert isinstance(read, trimesh.Trimesh)
    assert read.is_watertight
    assert read.body_count == 1
    return read


def manifold(mesh: trimesh.Trimesh) -> Manifold:
    points = np.asarray(mesh.vertices, dtype=np.float64)
    return Manifold(Mesh64(points, np.asarray(mesh.faces, dtype=np.uint64)))


def positive_of(mesh: trimesh.Trimesh, floor: float) -> Manifold:
    """What stands on the floor of the tub, from just above it."""
    low = floor + PAPER_THIN
    x0, y0, x1, y1 = rings(mesh, low)[1].bounds
    high = float(mesh.bounds[1, 2])
    cube = Manifold.cube((x1 - x0 - 24, y1 - y0 - 24, high - low))  # clear of bevelled corners
    room = cube.translate((x0 + 12, y0 + 12, low))
    return manifold(mesh) ^ room


def sides(region: shapely.Polygon) -> list[float]:
    """Of the smallest rectangle around a region, at any turn."""
    a, b, c = list(shapely.oriented_envelope(region).exterior.coords)[:3]
    return sorted([math.dist(a, b), math.dist(b, c)])


@pytest.mark.parametrize(
    ("name", "shrinkage"),
    [*((name, 0.065) for name in SAMPLE), *((n, s) for n in SAMPLE[2:5] for s in (0.0, 0.121))],
)
def test_round_trip(name: str, shrinkage: float, tmp_path: Path) -> None:
    """Plaster grows by e, clay shrinks by S: positive × (1 + e) × (1 − S) is the piece."""
    piece, master = shape(name), Master(letters=0)
    mesh = written(master, Order(piece, shrinkage), tmp_path)
    dried = (1 + master.expansion) * (1 - shrinkage)
    found = positive_of(mesh, master.floor)
    assert found.volume() * dried**3 == pytest.approx(piece.volume, rel=1e-3)
    z0, z1 = found.bounding_box()[2::3]
    assert (z1 - z0) * dried == pytest.approx(piece.body.height, abs=0.01)
    foot = shapely.Polygon(max(found.slice(z0 + PAPER_THIN).to_polygons(), key=len))
    assert np.array(sides(foot)) * dried == pytest.approx(
        sides(piece.body.base.polygon()), abs=0.03
    )
    drawn = meshed(piece.body)
    whole = trimesh.Trimesh(drawn.points, drawn.facets)
    for share in (0.1, 0.5, 0.9):
        level = share * piece.body.height
        cut = found.slice(master.floor + level / dried).area()
        section = whole.section(plane_origin=(0, 0, level), plane_normal=(0, 0, 1))
        assert section is not None
        assert cut * dried**2 == pytest.approx(_area(rings(whole, level)), rel=4e-3)


def _area(found: list[Any]) -> float:
    """Area of a slice from its lines: what lies within an odd number of them."""
    total = shapely.Polygon()
    for ring in found:
        total = total.symmetric_difference(ring.buffer(0))
    return float(total.area)


def test_the_piece_is_not_mirrored(tmp_path: Path) -> None:
    """It stands as it is set, seen from above; so what is pressed in its print is the piece."""
    piece = family("angle").sized({"leg": 60, "other_leg": 30}).piece()
    master = Master(letters=0, expansion=0.0)
    mesh = written(master, Order(piece, 0.0), tmp_path)
    _, _, standing = rings(mesh, master.floor + piece.height - PAPER_THIN)[:3]
    drawn = piece.faces[0].polygon()
    assert min(differing(shapely.affinity.rotate(standing, t), drawn) for t in (0, 90)) < 1e-3


def test_plaster_is_as_thick_as_asked(tmp_path: Path) -> None:
    master = Master(plaster=22, web=16, letters=0)
    order = Order(shape("disk-20"), 0.065, board=Board(4))
    mesh = written(master, order, tmp_path)
    _, inside, *standing = rings(mesh, master.floor + PAPER_THIN)
    assert len(standing) == 4
    assert min(inside.exterior.distance(one) for one in standing) >= 22 - 0.01
    apart = [a.distance(b) for k, a in enumerate(standing) for b in standing[:k]]
    assert min(apart) == pytest.approx(16, abs=0.02)
    above = float(mesh.bounds[1, 2]) - master.floor - shape("disk-20").height / 0.935 / 1.002
    assert 22 <= above < 22 + master.layer


def test_the_tub_lets_the_block_go(tmp_path: Path) -> None:
    master = Master(lean=5, letters=0)
    mesh = written(master, Order(shape("disk-20"), 0.065), tmp_path)
    low, high = (rings(mesh, z)[1].bounds for z in (20.0, 30.0))
    out = 10 * math.tan(math.radians(5))
    assert np.array(high) - np.array(low) == pytest.approx([-out, -out, out, out], abs=1e-3)
    top = rings(mesh, float(mesh.bounds[1, 2]) - PAPER_THIN)
    assert top[0].exterior.distance(top[1]) == pytest.approx(master.wall, abs=0.01)
    down = mesh.face_normals[:, 2] < -1e-3
    assert mesh.triangles[down][:, :, 2].max() <= master.relief + 1e-4


LB_PER_CUBIC_FOOT = 453.59237 / 28316.846592  # g/cm³; both exact by definition


@pytest.mark.parametrize("name", ["disk-40", "ring-63", "stone-seat-63"])
def test_slurry_is_the_air_in_the_tub(name: str, tmp_path: Path) -> None:
    """Weighed by a plaster maker's table: wet 99.0, dry 69.0 lb/ft³ at 70 parts of water."""
    master = Master(letters=0, water=70)
    order = Order(shape(name), 0.065, board=Board(2))
    mesh = written(master, order, tmp_path)
    (x0, y0, _), (x1, y1, z1) = mesh.bounds
    above = Manifold.cube((x1 - x0, y1 - y0, z1 - master.floor)).translate((x0, y0, master.floor))
    air = max((above - manifold(mesh)).decompose(), key=lambda part: part.volume())
    facts = dict(master.make(order).facts)
    assert facts["slurry_volume_mm3"] == pytest.approx(air.volume(), rel=1e-4)
    litres = air.volume() / 1e3  # in cm³
    wet, dry = 99.0 * LB_PER_CUBIC_FOOT * litres, 69.0 * LB_PER_CUBIC_FOOT * litres
    assert facts["wet_block_mass_g"] == pytest.approx(wet, rel=0.015)
    assert facts["dry_block_mass_g"] == pytest.approx(dry, rel=0.015)
    assert facts["plaster_mass_g"] == pytest.approx(0.934 * litres, rel=1e-3)
    assert facts["water_mass_g"] == pytest.approx(0.654 * litres, rel=1e-3)


def test_heavy_blocks_want_two() -> None:
    light = Master().make(Order(shape("disk-40"), 0.065))
    assert not any("second pair of hands" in line for line in light.advice)
    heavy = Master(plaster=80).make(Order(shape("stand-6-160"), 0.065, board=Board(2)))
    mass = dict(heavy.facts)["wet_block_mass_g"]
    assert mass > 20_000
    assert any("second pair of hands" in line for line in heavy.advice)
    assert f"{mass / 1000:.1f} kg" in heavy.advice[-1]


def test_cautions_are_told() -> None:
    told = " ".join(Master().make(Order(shape("disk-40"), 0.065)).advice)
    for caution in ("dust mask", "burns", "drains", "local rules", "soap"):
        assert caution in told


def test_upright_walls_are_told() -> None:
    upright = family("disk").sized({"draft": 0}).piece()
    assert any("upright" in line for line in Master().make(Order(upright, 0.0)).advice)
    leaning = family("disk").sized({"draft": 3}).piece()
    assert not any("upright" in line for line in Master().make(Order(leaning, 0.0)).advice)


def test_thin_pieces_are_no_thin_walls(tmp_path: Path) -> None:
    """The narrow ring and the lands between pockets are the piece's own, not walls of the tub."""
    ring = family("ring").sized({"diameter": 60, "width": 3, "height": 8}).piece()
    seat = family("stone-seat").sized({"circle": 27, "diameter": 60, "pebbles": 3}).piece()
    for k, piece in enumerate((ring, seat)):
        folder = tmp_path / str(k)
        folder.mkdir()
        assert written(Master(wall=4.0), Order(piece, 0.0), folder).volume > 0


def test_what_grows_wider_is_refused() -> None:
    mushroom = Loft(((0, Outline.circle(8)), (5, Outline.circle(8)), (8, Outline.circle(11))))
    piece = Piece(Outline.circle(11), Body((mushroom,)), (Outline.circle(11),))
    with pytest.raises(NotMakeable, match=r"it grows wider 5\.0 mm above its base"):
        Master().make(Order(piece, 0.0))


@pytest.mark.parametrize("bed", [(150.0, 260.0), (260.0, 150.0)])
def test_the_ledge_lies_where_the_bed_has_room(bed: tuple[float, float], tmp_path: Path) -> None:
    order = Order(shape("rail-63"), 0.065, ("rail-63",), Board(2, bed=bed))
    mesh = written(Master(), order, tmp_path)
    assert mesh.extents[0] <= bed[0] - 10
    assert mesh.extents[1] <= bed[1] - 10


def test_a_bed_too_small() -> None:
    order = Order(shape("stand-6-160"), 0.065, board=Board(1, bed=(220, 220)))
    with pytest.raises(NotMakeable, match=r"the largest of this shape that fits is 0\.\d+ of it"):
        Master().make(order)


def test_without_ledge_and_vent(tmp_path: Path) -> None:
    with_both = written(Master(letters=0), Order(shape("disk-20"), 0.0), tmp_path)
    assert with_both.euler_number == 0  # a hole goes through the floor
    bare = tmp_path / "bare"
    bare.mkdir()
    mesh = written(Master(ledge=0, vent=0), Order(shape("disk-20"), 0.0), bare)
    assert mesh.euler_number == 2
    assert mesh.extents[1] == pytest.approx(mesh.extents[0])


@pytest.mark.parametrize(
    ("values", "told"),
    [
        ({"water": "0.7"}, r"water: 0\.7 parts was given; give 50 parts to 100 parts"),
        ({"expansion": "2 %"}, r"expansion: 2 % was given; give 0 % to 0\.6 %"),
        ({"plaster": "2 mm"}, r"plaster: 2 mm was given; give 10 mm to 80 mm"),
        ({"floor": 1.6, "relief": 1.0, "lean": 1}, r"lean: 1° was given; give 2° to 15°"),
        ({"wall": "1 mm"}, r"wall: 1 mm was given; give 2\.4 mm to 20 mm"),
    ],
)
def test_values_that_do_not_go(values: dict[str, object], told: str) -> None:
    with pytest.raises(BadInput, match=told):
        Master.sized(values)


def test_shares_are_read_with_their_sign() -> None:
    made = Master.sized({"expansion": "0.3 %", "water": "65 %"})
    assert made.expansion == pytest.approx(0.003)
    assert made.water == pytest.approx(65)


@pytest.mark.parametrize("text", ["75", "75%", "75 parts"])
def test_parts_of_water_are_parts_to_a_hundred(text: str) -> None:
    made = Master.sized({"water": text}).make(Order(shape("disk-20"), 0.0))
    facts = dict(made.facts)
    assert facts["water_mass_g"] / facts["plaster_mass_g"] == pytest.approx(0.75)
    assert any("75 parts of water to 100 of plaster" in line for line in made.advice)


def test_expansion_is_told_with_its_source_where_it_is_assumed() -> None:
    order = Order(shape("disk-20"), 0.0)
    usual = " ".join(Master().make(order).advice)
    assert "grows by 0.2 % as it sets, assumed after a plaster maker" in usual
    given = " ".join(Master(expansion=0.003).make(order).advice)
    assert "grows by 0.3 % as it sets." in given
    assert given.startswith("Print the tub once: cast as many blocks")


def test_every_parameter_tells_what_and_whence() -> None:
    assert all(p.help and p.source for p in Master.parameters())
