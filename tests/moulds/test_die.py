"""The die plate: what leaves its opening, cut and dried, has the set size."""

from __future__ import annotations

import math
import re
from functools import cache
from pathlib import Path

import numpy as np
import pytest
import shapely
import trimesh
from level_slices import differing, rings, scaled
from shapely import Polygon, affinity

from wadforms.catalogue import find
from wadforms.errors import BadInput, NotMakeable
from wadforms.families import family
from wadforms.families.base import Piece
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.moulds.base import Order
from wadforms.moulds.board import Board
from wadforms.moulds.kinds.bar import bar
from wadforms.moulds.kinds.die import Die
from wadforms.moulds.kinds.openings import openings
from wadforms.moulds.lettering import lettering
from wadforms.moulds.meshes.assembly import meshed
from wadforms.moulds.write import write_mould

ACROSS = ("tee-50", "angle-40", "leaf-55", "disk-20", "gingko-50", "crescent-40", "pebble-35")
ALONG = ("rail-63", "rail-100", "rail-160", "brick-50")


def written(die: Die, order: Order, folder: Path) -> trimesh.Trimesh:
    """The plate as an independent library reads it back."""
    path = folder / "die.stl"
    write_mould(die.make(order), path, board=order.board)
    read = trimesh.load_mesh(path)
    assert isinstance(read, trimesh.Trimesh)
    assert read.is_watertight
    return read


def holes(mesh: trimesh.Trimesh, z: float) -> list[Polygon]:
    """The openings of a plate at a level, the one nearest to its middle first."""
    return sorted(rings(mesh, z)[1:], key=lambda hole: hole.distance(shapely.Point(0, 0)))


@cache
def shape(name: str) -> Piece:
    return find(name).sized({}).piece()


def rectangle(length: float, width: float) -> Piece:
    return (
        family("rail")
        .sized({"length": length, "width": width, "height": 10, "ends": "square", "draft": 0})
        .piece()
    )


def upright(outline: Outline) -> Piece:
    return family("custom").sized({"outline": outline, "height": 8, "draft": 0}).piece()


def middle_of_land(die: Die) -> float:
    return die.relief + die.land / 2


@pytest.mark.parametrize(
    ("name", "shrinkage"), [*((name, 0.065) for name in ACROSS), ("tee-50", 0.0), ("tee-50", 0.121)]
)
def test_slices_dried_have_the_set_outline(name: str, shrinkage: float, tmp_path: Path) -> None:
    die, piece = Die(letters=0), shape(name)
    (hole,) = holes(written(die, Order(piece, shrinkage), tmp_path), middle_of_land(die))
    dried = scaled(hole, 1 - shrinkage)
    assert differing(dried, piece.outline.polygon()) < 1e-3
    made = die.make(Order(piece, shrinkage))
    thick = dict(made.facts)["cut_length_mm"] * (1 - shrinkage)
    assert thick == pytest.approx(piece.height, abs=1e-9)
    assert made.set_volume == pytest.approx(dried.area * thick, rel=1e-3)
    assert made.wet.volume * (1 - shrinkage) ** 3 == pytest.approx(made.set_volume, rel=1e-9)


@pytest.mark.parametrize("shrinkage", [0.0, 0.065, 0.121])
@pytest.mark.parametrize("name", ALONG)
def test_bars_dried_have_the_set_section(name: str, shrinkage: float, tmp_path: Path) -> None:
    """The section that the piece's own triangles show, cut across at its middle."""
    die, piece = Die(letters=0), shape(name)
    (hole,) = holes(written(die, Order(piece, shrinkage), tmp_path), middle_of_land(die))
    dried = scaled(hole, 1 - shrinkage)
    mesh = meshed(piece.body)
    whole = trimesh.Trimesh(mesh.points, mesh.facets)
    cut = whole.section(plane_origin=(0.1, 0, 0), plane_normal=(1, 0, 0))
    assert cut is not None
    ring = np.asarray(cut.discrete[0])[:, 1:]
    assert differing(dried, Polygon(ring)) < 1e-3
    made = die.make(Order(piece, shrinkage))
    long = dict(made.facts)["cut_length_mm"] * (1 - shrinkage)
    assert long == pytest.approx(piece.outline.size[0], abs=1e-9)
    assert made.set_volume == pytest.approx(long * Polygon(ring).area, rel=1e-3)


def test_a_bar_keeps_draft_and_rounding() -> None:
    piece = (
        family("rail")
        .sized({"length": 80, "width": 12, "height": 10, "draft": 5, "rounding": 2})
        .piece()
    )
    found = bar(piece)
    assert found is not None
    x0, y0, x1, y1 = found.section.bounds
    assert (y0, y1) == (0, 10)
    assert x1 - x0 == pytest.approx(12 + 2 * 8 * math.tan(math.radians(5)))  # at the base
    tops = [x for x, y in found.section.outer.vertices if y > 10 - 1e-9]
    assert max(tops) - min(tops) == pytest.approx(12 - 2 * 2)


def test_a_bar_that_lies_askew_is_a_bar() -> None:
    corners = Outline(Contour.polygon([(0, 0), (60, 0), (60, 15), (0, 15)])).turned(31)
    piece = upright(corners)
    found = bar(piece)
    assert found is not None
    assert found.section.area == pytest.approx(15 * 8)
    assert found.body.base.size == pytest.approx((60, 15))


@pytest.mark.parametrize(
    ("corners", "why"),
    [
        ([(0, 0), (20, 0), (20, 15), (0, 15)], "too short"),
        ([(0, 0), (60, 0), (60, 15), (4, 15)], "one end is askew"),
        ([(0, 0), (60, 3), (60, 12), (0, 15)], "tapers"),
        ([(0, 0), (60, 0), (60, 15), (30, 11), (0, 15)], "hollow side"),
        ([(0, 0), (30, 0), (30, 20), (16, 20), (16, 9), (14, 9), (14, 20), (0, 20)], "a slot"),
    ],
)
def test_what_is_no_bar(corners: list[tuple[float, float]], why: str) -> None:
    outline = Outline(Contour.polygon(corners))
    piece = upright(outline)
    assert bar(piece) is None, why
    with pytest.raises(NotMakeable, match=r"no straight bar 1\.5 times as long as wide"):
        Die(way="along").make(Order(piece, 0.0))
    assert Die(barrel=100, lead_in=0).make(Order(piece, 0.0)).wet.base.area == pytest.approx(
        outline.area
    )


def test_a_rail_across_when_asked() -> None:
    made = Die(way="across", barrel=100).make(Order(shape("rail-63"), 0.0))
    assert dict(made.facts)["cut_length_mm"] == pytest.approx(shape("rail-63").height)
    assert made.contact_top_area == pytest.approx(shape("rail-63").outline.area)


def test_funnel_land_and_chamfer(tmp_path: Path) -> None:
    die = Die(lead_in=5, lead_angle=30, land=6, letters=0)
    mesh = written(die, Order(rectangle(80, 12), 0.0), tmp_path)
    wide = {z: holes(mesh, z)[0].area for z in (1.0, 4.0, 6.4)}
    assert len({round(area, 2) for area in wide.values()}) == 1  # the land keeps one section
    high = die.thickness
    assert high == pytest.approx(11.6)  # 0.5 + 6 + 5 in layers of 0.2
    x0, _, x1, _ = holes(mesh, high - 0.01)[0].bounds
    base0, _, base1, _ = holes(mesh, 4.0)[0].bounds
    assert (x1 - x0) - (base1 - base0) == pytest.approx(2 * 5 * math.tan(math.pi / 6), abs=0.02)
    assert holes(mesh, 0.01)[0].area > holes(mesh, 1.0)[0].area  # the first layer may spread


def test_all_draws_upward(tmp_path: Path) -> None:
    order = Order(shape("tee-50"), 0.065, ("tee-50", "50 × 40 × 10 mm"))
    for fixing in ("rim", "screws"):
        folder = tmp_path / fixing
        folder.mkdir()
        mesh = written(Die(fixing=fixing), order, folder)
        down = mesh.face_normals[:, 2] < -1e-3
        assert mesh.triangles[down][:, :, 2].max() <= 0.5 + 1e-4


def test_it_slips_into_the_barrel(tmp_path: Path) -> None:
    die = Die(barrel=60, clearance=0.4, rim_width=7, rim_thickness=5, letters=0)
    mesh = written(die, Order(shape("disk-20"), 0.065), tmp_path)
    rim, spigot = rings(mesh, 2.5)[0], rings(mesh, die.thickness - 0.5)[0]
    assert rim.bounds[2] == pytest.approx(30 + 7, abs=0.01)
    assert spigot.bounds[2] == pytest.approx(30 - 0.4, abs=0.01)


def test_screws_stand_on_their_circle(tmp_path: Path) -> None:
    die = Die(fixing="screws", screws=8, screw_circle=98, screw_hole=6.6, letters=0)
    mesh = written(die, Order(shape("disk-20"), 0.065), tmp_path)
    opening, *screws = holes(mesh, 4.0)
    assert opening.area == pytest.approx(math.pi * (10 / 0.935) ** 2, rel=1e-3)
    assert len(screws) == 8
    for hole in screws:
        assert math.hypot(hole.centroid.x, hole.centroid.y) == pytest.approx(49, abs=1e-3)
        assert hole.area == pytest.approx(math.pi * 3.3**2, rel=1e-3)
    plate = rings(mesh, 4.0)[0]
    assert min(plate.exterior.distance(hole) for hole in screws) >= 3.0


@pytest.mark.parametrize(
    ("count", "ratio"),
    [(3, 2.154701), (4, 2.414214), (5, 2.701302), (6, 3.0), (7, 3.0), (8, 3.304765), (9, 3.613126)],
)
def test_round_openings_lie_as_tight_as_circles_in_a_circle(count: int, ratio: float) -> None:
    """Best known packings of equal circles in a circle: a published table of R/r."""
    found = openings(Outline.circle(9), gap=2, radius=500, count=count)
    # Circles of 9 that keep 2 apart are circles of 10 that touch, in a circle larger by 1.
    assert (found.reach + 1) / 10 == pytest.approx(ratio, rel=2e-4)


@pytest.mark.parametrize(("name", "count"), [("disk-12", 7), ("rail-100", 5), ("disk-5", 14)])
def test_several_openings_keep_their_webs(name: str, count: int, tmp_path: Path) -> None:
    die = Die(letters=0)
    mesh = written(die, Order(shape(name), 0.065, board=Board(count)), tmp_path)
    top = die.thickness - 0.01
    found = holes(mesh, top)
    assert len(found) == count
    apart = [a.distance(b) for k, a in enumerate(found) for b in found[:k]]
    assert min(apart) >= die.wall - 0.01
    plate = rings(mesh, top)[0]
    assert min(plate.exterior.distance(hole) for hole in found) >= die.wall - 0.01
    areas = [hole.area for hole in holes(mesh, middle_of_land(die))]
    assert areas == pytest.approx([areas[0]] * count, rel=1e-3)


def test_it_tells_its_barrel_and_how_it_is_held() -> None:
    order = Order(shape("disk-20"), 0.065)
    (first, *_) = Die(barrel=101.6).make(order).advice
    assert first.startswith("For a barrel of 101.6 mm (4 in), slip-in")
    assert "its rim, 6 mm wide and 4 mm thick" in first
    assert "--making barrel=90mm" in first
    screwed = Die(barrel=60, fixing="screws", screws=8).make(order).advice
    assert "8 screws in holes of 5.5 mm on a circle of 71.5 mm" in screwed[0]
    assert "washer" in screwed[1]
    assert not any("washer" in line for line in Die().make(order).advice)


def test_it_tells_how_it_is_printed_and_what_it_says() -> None:
    order = Order(shape("disk-20"), 0.065, ("disk-20",))
    told = " ".join(Die().make(order).advice)
    assert "100 % infill" in told
    assert "is marked: 'disk-20'" in told
    assert "is marked" not in " ".join(Die(letters=0).make(order).advice)


def test_a_shorter_funnel_makes_no_thinner_plate(tmp_path: Path) -> None:
    """A disk held at its edge bends with 3 (3 + ν) p r² / 8 t² (Timoshenko; from memory)."""
    for barrel in (60.0, 120.0, 240.0):
        die = Die(barrel=barrel, lead_in=0)
        bend = 3 * (3 + 0.35) * 1.0 * (barrel / 2) ** 2 / (8 * die.thickness**2)
        assert bend <= 20.2  # MPa, at a pressure of 1 MPa
    die = Die(barrel=120, lead_in=2, letters=0)
    mesh = written(die, Order(shape("disk-20"), 0.0), tmp_path)
    assert mesh.extents[2] == pytest.approx(15.0, abs=1e-4)
    areas = [holes(mesh, z)[0].area for z in (0.6, 12.9)]
    assert areas[0] == pytest.approx(areas[1], rel=1e-3)  # the land is longer
    assert Die(plate=20).thickness == pytest.approx(20)


def test_a_screwed_plate_centres_itself_in_the_barrel(tmp_path: Path) -> None:
    die = Die(fixing="screws", barrel=60, letters=0)
    mesh = written(die, Order(shape("disk-20"), 0.065), tmp_path)
    assert rings(mesh, die.thickness - 0.5)[0].bounds[2] == pytest.approx(30 - 0.3, abs=0.01)
    assert len(rings(mesh, die.thickness - 0.5)) == 2  # no screw hole comes through there
    assert len(rings(mesh, die.flange - 0.5)) == 2 + 6
    assert die.thickness - die.flange >= 2.0 - 1e-9


@pytest.mark.parametrize("barrel", [75.0, 101.6, 120.03, 33.33])
def test_the_circle_of_screws_that_a_message_names_will_do(barrel: float) -> None:
    with pytest.raises(BadInput) as told:
        Die(fixing="screws", barrel=barrel, screw_circle=30)
    least = float(re.findall(r"at least ([\d.]+) mm", str(told.value))[0])
    assert Die(fixing="screws", barrel=barrel, screw_circle=least).circle == least
    assert Die(fixing="screws", barrel=barrel).circle == pytest.approx(least)
    with pytest.raises(BadInput):
        Die(fixing="screws", barrel=barrel, screw_circle=least - 1.0)


def test_too_many_are_refused_with_how_many_fit() -> None:
    order = Order(shape("disk-12"), 0.065, board=Board(30))
    with pytest.raises(NotMakeable, match=r"30 openings do not fit a barrel of 75 mm .*: \d+ do"):
        Die().make(order)
    most = Die().make(order._replace(board=Board(None))).cavities
    with pytest.raises(NotMakeable, match=rf": {most} do$"):
        Die().make(order)
    assert Die().make(order._replace(board=Board(most))).cavities == most
    with pytest.raises(NotMakeable, match=r"between them: one does$"):
        Die().make(Order(shape("disk-40"), 0.065, board=Board(2)))


def test_too_large_is_refused_with_the_size_and_the_barrel_that_do() -> None:
    piece = shape("stand-4-100")
    with pytest.raises(NotMakeable, match="the largest of this shape that fits is") as told:
        Die().make(Order(piece, 0.065))
    found = re.search(r"fits is ([\d.]+) of it.*wants a barrel of (\d+) mm", str(told.value))
    assert found is not None
    factor, barrel = float(found[1]), float(found[2])
    assert Die().make(Order(piece.scaled(factor), 0.065)).cavities == 1
    with pytest.raises(NotMakeable):
        Die().make(Order(piece.scaled(factor + 0.02), 0.065))
    assert Die(barrel=barrel).make(Order(piece, 0.065)).cavities == 1
    with pytest.raises(NotMakeable):
        Die(barrel=barrel - 1.5).make(Order(piece, 0.065))


def test_a_lead_in_without_room_is_refused_with_the_one_that_has() -> None:
    # A slot of 5 mm in a plate: its sides meet where the funnel widens by more than 2.5 mm.
    slot = [(0, 0), (30, 0), (30, 20), (17.5, 20), (17.5, 6), (12.5, 6), (12.5, 20), (0, 20)]
    outline = Outline(Contour.polygon(slot))
    piece = upright(outline)
    with pytest.raises(NotMakeable, match=r"a gap of 5\.00 mm\. Give --making lead_in=") as told:
        Die().make(Order(piece, 0.0))
    most = float(re.findall(r"lead_in=([\d.]+)", str(told.value))[0])
    assert most * math.tan(math.radians(30)) == pytest.approx(2.5, abs=0.1)
    assert Die(lead_in=most).make(Order(piece, 0.0)).cavities == 1
    narrow = upright(
        Outline(Contour.polygon([(x if x in (0, 30) else 15 + (x - 15) / 8, y) for x, y in slot]))
    )
    with pytest.raises(NotMakeable, match=r"lead_in=.* and --making relief=.*, or less$") as told:
        Die(relief=0.9).make(Order(narrow, 0.0))
    found = [float(v) for v in re.findall(r"=([\d.]+)mm", str(told.value))]
    assert Die(lead_in=found[0], relief=found[1]).make(Order(narrow, 0.0)).cavities == 1


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("ring-63", "has a hole"),
        ("pointed-tripod-63", "flat top"),
        ("stone-seat-63", "flat top"),
        ("cone-seat-3", "flat top"),
        ("cradle-80", "hollows in its top"),
    ],
)
def test_what_no_opening_gives(name: str, why: str) -> None:
    with pytest.raises(NotMakeable, match=f"a die cannot make this piece: it .*{why}") as told:
        Die().make(Order(shape(name), 0.065))
    assert str(told.value).endswith("master can")


def test_a_plate_larger_than_the_bed() -> None:
    order = Order(shape("disk-20"), 0.065, board=Board(1, bed=(90, 120)))
    with pytest.raises(NotMakeable, match=r"the plate is 87\.0 mm across, and the bed takes 80 mm"):
        Die().make(order)


@pytest.mark.parametrize(
    ("values", "told"),
    [
        ({"barrel": "10 mm"}, r"barrel: 10 mm was given; give 20 mm to 300 mm"),
        (
            {"rim_thickness": 12},
            r"rim_thickness: 12 mm was given; give at most 9\.6 mm, or a",
        ),
        ({"plate": "3 mm"}, r"plate: 3 mm was given; give 0, or 6 mm or more"),
        (
            {"fixing": "screws", "screw_circle": 80},
            r"at least 86\.5 mm: .* clear of the bar",
        ),
        (
            {
                "fixing": "screws",
                "screws": 16,
                "screw_hole": 13,
                "wall": 6,
                "barrel": 60,
                "screw_circle": 95,
            },
            r"give 0, or at least 97\.4 mm: screws stand clear of each other",
        ),
        ({"barrel": 20, "wall": 10}, r"wall: 10 mm was given; give less than 8\.7 mm"),
        ({"lead_angle": 75}, r"lead_angle: 75° was given; give 5° to 60°"),
        ({"way": "down"}, "give auto or along or across"),
        ({"layer": 0.5}, "give no more than the nozzle's width"),
    ],
)
def test_values_that_do_not_go(values: dict[str, object], told: str) -> None:
    with pytest.raises(BadInput, match=told):
        Die.sized(values)


def test_every_parameter_tells_what_and_whence() -> None:
    assert all(p.help and p.source for p in Die.parameters())


def test_figures_of_a_barrel() -> None:
    """What leaves is what the plunger pushes; its push is pressure times the bore's area."""
    made = Die(barrel=75).make(Order(shape("rail-100"), 0.065, board=Board(2)))
    facts = dict(made.facts)
    bore = math.pi * 37.5**2
    assert facts["pieces_per_100_mm_of_barrel"] * made.wet.volume == pytest.approx(100 * bore)
    assert facts["clay_speed_over_plunger_speed"] == pytest.approx(
        bore / (2 * facts["opening_area_mm2"])
    )
    assert facts["push_on_plate_per_100_kpa_n"] == pytest.approx(441.8, abs=0.05)  # 0.1 N/mm²
    assert "45 kg" in " ".join(made.advice)  # 441.8 N / 9.80665 m/s²
    assert any("Cut bars of 107.0 mm" in line for line in made.advice)
    assert any("100 pieces want 10.70 m" in line for line in made.advice)


def test_the_label_is_read_from_below(tmp_path: Path) -> None:
    mesh = written(Die(), Order(shape("disk-20"), 0.065, ("F",)), tmp_path)
    letter = min(holes(mesh, 0.2), key=lambda hole: hole.area)
    seen = affinity.scale(letter, -1, 1, origin=(0, 0))
    (drawn,) = lettering(("F",), width=60, depth=20, letters=5, least=2)
    assert differing(seen, drawn.polygon()) < 0.01
    assert differing(letter, drawn.polygon()) > 0.2
