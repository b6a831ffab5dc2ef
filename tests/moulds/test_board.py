"""Boards and blocks: how many a bed takes, what keeps its wall, and what is told if none fits."""

from __future__ import annotations

import re
from itertools import combinations
from pathlib import Path

import pytest
import shapely
from shapely import Polygon, affinity

from wadforms.catalogue import find
from wadforms.errors import BadInput, NotMakeable
from wadforms.families import family
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.moulds import Board, Order, write_mould
from wadforms.moulds.base import turned_over
from wadforms.moulds.board import FRONT, RIGHT, Block, Laid, block, lay
from wadforms.moulds.kinds.tray import Tray
from wadforms.moulds.label import words

DRIED = 0.121  # linear, of a published test bar of kaolin and alumina hydrate

FINE = 1e-3  # chords of arcs on both sides [mm]


def _bar(length: float, width: float) -> Outline:
    x, y = length / 2, width / 2
    return Outline(Contour.polygon([(-x, -y), (x, -y), (x, y), (-x, y)]))


def _mouths(outline: Outline, laid: Laid) -> list[Polygon]:
    """The copies, turned and moved by shapely."""
    shape = outline.polygon(1e-4)
    turned = (affinity.rotate(shape, s.turn, origin=(0, 0)) for s in laid.spots)
    return [affinity.translate(t, s.x, s.y) for t, s in zip(turned, laid.spots, strict=True)]


def _block(laid: Laid, ledge: float, *, wall: float = 3.0, relief: float = 0.5) -> Block:
    return block(laid, height=12.0, wall=wall, ledge=ledge, ledge_height=8.0, relief=relief)


def _upper(made: Block) -> Polygon:
    """The rim's outline: the highest section of the last solid."""
    return made.solids[-1].body.lofts[0].top[1].polygon()


def _check(outline: Outline, laid: Laid, board: Board, *, wall: float, ledge: float) -> None:
    mouths = _mouths(outline, laid)
    made = _block(laid, ledge, wall=wall)
    rim = _upper(made)
    for mouth in mouths:
        assert rim.contains(mouth)
        assert rim.exterior.distance(mouth) > wall - FINE
    assert all(a.distance(b) > wall - FINE for a, b in combinations(mouths, 2))
    if board.printable is not None:
        grounds = [s.body.lofts[0].sections[-1][1].polygon() for s in made.solids]
        x0, y0, x1, y1 = shapely.union_all(grounds).bounds
        assert x1 - x0 <= board.printable[0] + 1e-6
        assert y1 - y0 <= board.printable[1] + 1e-6


@pytest.mark.parametrize(("side", "least"), [(180, 8), (220, 15), (256, 18)])
def test_leaves_on_a_whole_bed(side: float, least: int, tmp_path: Path) -> None:
    """As many as leaf by leaf in rows by hand, the ledge included, 5 mm free along the edges."""
    piece = find("leaf-55").piece()
    board = Board(pieces=None, bed=(side, side), margin=5.0)
    order = Order(piece, DRIED, words("leaf-55", piece, DRIED), board)
    made = Tray(wall=3.0).make(order)
    assert made.cavities >= least
    part = made.parts[0]
    laid = lay(turned_over(made.wet.base), board, wall=3.0, rim=3.0, ledge=12.0)
    assert len(laid.spots) == made.cavities
    _check(turned_over(made.wet.base), laid, board, wall=3.0, ledge=12.0)
    written = write_mould(made, tmp_path / "tray.stl", board=board)
    assert max(part.size[:2]) <= side - 10 + 1e-6
    assert written.parts[0].thinnest_wall_mm == pytest.approx(3.0, abs=0.01)


@pytest.mark.parametrize("ledge", [0.0, 3.0, 12.0, 40.0])
@pytest.mark.parametrize("name", ["tee-50", "ring-63", "crescent-40", "disk-5", "rail-63"])
@pytest.mark.parametrize("bed", [None, (150.0, 210.0), (210.0, 150.0)])
def test_walls_are_kept(name: str, ledge: float, bed: tuple[float, float] | None) -> None:
    outline = turned_over(find(name).piece().body.base)
    board = Board(pieces=7, bed=bed)
    laid = lay(outline, board, wall=2.4, rim=2.4, ledge=ledge)
    assert 0 < len(laid.spots) <= 7
    assert bool(laid.ledge_side) == (ledge > 0)
    _check(outline, laid, board, wall=2.4, ledge=ledge)


def test_the_ledge_goes_where_more_pieces_find_room() -> None:
    """Squares of 40 mm with a ledge of 20 mm: 2 × 3 on a bed wide enough, 3 × 2 on a deep one."""
    square = _bar(40, 40)
    for bed, where in (((2 * 43 + 13 + 20, 3 * 43 + 13), RIGHT), ((3 * 43 + 13, 119), FRONT)):
        laid = lay(square, Board(pieces=None, bed=bed), wall=3, rim=3, ledge=20)
        assert (len(laid.spots), laid.ledge_side) == (6, where)
        assert len(_block(laid, 20).solids) == 2


@pytest.mark.parametrize("ledge", [0.0, 12.0])
def test_a_rail_lies_on_the_diagonal(ledge: float, tmp_path: Path) -> None:
    """Turned by t, a bar of a × b needs a cos t + b sin t each way: less than a."""
    rail = family("rail").sized({"length": 150, "width": 12, "height": 10}).piece()
    board = Board(bed=(150.0, 150.0))
    made = Tray(ledge=ledge).make(Order(rail, 0.05, board=board))
    assert max(made.wet.base.size) > 140.0 - 2 * 3.0 - ledge
    assert made.parts[0].cuts[0].turn % 90.0 > 1.0
    part = write_mould(made, tmp_path / "rail.stl", board=board).parts[0]
    assert max(part.size_mm[:2]) <= 140.0


@pytest.mark.parametrize("ledge", [0.0, 12.0])
@pytest.mark.parametrize(
    "outline",
    [
        Outline.circle(67.3),
        _bar(400, 30),
        _bar(300, 290),
        find("tripod-80").piece().outline.scaled(2.7),
        find("leaf-55").piece().outline.scaled(3.33),
    ],
    ids=["circle", "bar", "plate", "tripod", "leaf"],
)
def test_a_refusal_names_the_largest_size_that_fits(outline: Outline, ledge: float) -> None:
    board = Board(bed=(120, 130))
    with pytest.raises(NotMakeable) as error:
        lay(outline, board, wall=3, rim=3, ledge=ledge)
    told = re.search(r"fits is (0\.\d+) of it, ([\d.]+) × ([\d.]+) mm", str(error.value))
    assert told is not None
    factor = float(told[1])
    fitting = outline.scaled(factor)
    assert [float(told[k]) for k in (2, 3)] == pytest.approx(fitting.size, abs=0.1)
    assert all(float(told[k + 2]) <= fitting.size[k] + 1e-9 for k in (0, 1))
    laid = lay(fitting, board, wall=3, rim=3, ledge=ledge)
    _check(fitting, laid, board, wall=3, ledge=ledge)
    with pytest.raises(NotMakeable):
        lay(outline.scaled(1.01 * factor), board, wall=3, rim=3, ledge=ledge)


def test_a_bed_for_no_mould_at_all() -> None:
    with pytest.raises(NotMakeable, match="a bed of 15 × 15 mm is too small for any mould"):
        lay(Outline.circle(1), Board(bed=(15, 15)), wall=3, rim=3, ledge=12)


@pytest.mark.parametrize("side", [40.0, 46.0, 60.0])
def test_a_ledge_is_no_longer_than_the_bed(side: float, tmp_path: Path) -> None:
    """Tiny pieces have a ledge longer than their block, but only as long as can be printed."""
    piece = find("disk-5").piece()
    board = Board(pieces=None, bed=(side, side))
    made = Tray().make(Order(piece, DRIED, words("disk-5", piece, DRIED), board))
    assert made.parts[0].words
    part = write_mould(made, tmp_path / "tray.stl", board=board).parts[0]
    assert max(part.size_mm[:2]) <= side - 10 + 1e-6


def test_a_tiny_piece_has_a_ledge_for_a_hand_and_a_label(tmp_path: Path) -> None:
    piece = find("disk-5").piece()
    made = Tray().make(Order(piece, DRIED, words("disk-5", piece, DRIED)))
    part = write_mould(made, tmp_path / "tray.stl").parts[0]
    assert part.size_mm[0] == pytest.approx(36.0)
    assert made.parts[0].words


@pytest.mark.parametrize("shrinkage", [0.05, 0.065, 0.121])
@pytest.mark.parametrize("side", [2, 3, 5])
def test_a_bed_filled_to_the_last_bit(shrinkage: float, side: int, tmp_path: Path) -> None:
    """Rounded to the 32 bits of a file, a block may be larger than the bed that it fills."""
    disk = family("disk").sized({"diameter": 20, "height": 8}).piece()
    tray = Tray(ledge=0.0)
    alone = tray.make(Order(disk, shrinkage, board=Board(pieces=side**2)))
    x, y, _ = alone.parts[0].size
    board = Board(pieces=side**2, bed=(x + 10, y + 10))
    made = tray.make(Order(disk, shrinkage, board=board))
    assert write_mould(made, tmp_path / "tray.stl", board=board).cavities == side**2


@pytest.mark.parametrize("ledge", [0.1, 1.0, 2.9])
def test_a_ledge_too_narrow_to_hold(ledge: float) -> None:
    with pytest.raises(BadInput, match=r"ledge: .* give 0 for none, or at least 3 mm"):
        lay(Outline.circle(9), Board(), wall=3, rim=3, ledge=ledge)


@pytest.mark.parametrize("radius", [2.0, 9.0, 40.0])
@pytest.mark.parametrize("ledge", [3.0, 3.5, 12.0])
@pytest.mark.parametrize("relief", [0.0, 0.5, 1.0])
@pytest.mark.parametrize("wall", [2.4, 20.0])
def test_volume_of_a_block(radius: float, ledge: float, relief: float, wall: float) -> None:
    """Upright prisms on a foot whose sides lean by 45°: shapely's areas by Simpson's rule.

    A section within the bevel is the outline shrunk with mitred corners, so its area is a
    quadratic of the level, for which the rule is exact.
    """
    laid = lay(Outline.circle(radius), Board(), wall=wall, rim=wall, ledge=ledge)
    made = _block(laid, ledge, wall=wall, relief=relief)
    ground = made.solids[0].body.lofts[0].top[1].polygon()
    shrunk = [ground.buffer(-relief * t, join_style="mitre").area for t in (1, 0.5, 0)]
    foot = relief / 6 * (shrunk[0] + 4 * shrunk[1] + shrunk[2])
    expected = foot + (8.0 - relief) * ground.area + 4.0 * _upper(made).area
    assert sum(s.body.volume for s in made.solids) == pytest.approx(expected, rel=1e-9)
    assert ground.covers(_upper(made).buffer(-1e-9))


def test_the_bed_may_be_of_no_matter() -> None:
    assert Board().printable is None
    assert Board(bed=(200, 180), margin=4).printable == (192, 172)
