"""Boards add up to what was asked for, and labels lie where they can be read."""

from __future__ import annotations

from itertools import combinations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry.base import BaseGeometry

from wadforms.catalogue import find
from wadforms.families import family
from wadforms.families.base import Piece
from wadforms.geometry.outline import Outline
from wadforms.moulds import Board, Order
from wadforms.moulds.base import WORDS_DEEP
from wadforms.moulds.board import FRONT, RIGHT, Block, block, lay
from wadforms.moulds.kinds.tray import Tray
from wadforms.moulds.label import sunk, words
from wadforms.moulds.lettering import STROKE
from wadforms.moulds.runs import runs


def _disk(diameter: float) -> Piece:
    return family("disk").sized({"diameter": diameter, "height": 6}).piece()


@settings(max_examples=60)
@given(
    st.integers(1, 400), st.sampled_from([10.0, 16.0, 31.0, 63.0]),
    st.integers(110, 260), st.integers(110, 260), st.sampled_from([0.0, 12.0]),
)  # fmt: skip
def test_counts_add_up(wanted: int, diameter: float, width: int, depth: int, ledge: float) -> None:
    board = Board(pieces=wanted, bed=(float(width), float(depth)))
    found = runs(Tray(ledge=ledge), Order(_disk(diameter), 0.05, board=board))
    assert sum(run.times * run.mould.cavities for run in found) == wanted
    assert all(run.times >= 1 for run in found)
    assert len(found) <= 2
    if len(found) == 2:
        full, last = found
        assert last.times == 1
        assert last.mould.cavities < full.mould.cavities
    most = runs(Tray(ledge=ledge), Order(_disk(diameter), 0.05, board=board._replace(pieces=None)))
    assert [run.times for run in most] == [1]
    assert found[0].mould.cavities == min(wanted, most[0].mould.cavities)


@pytest.mark.parametrize("name", ["leaf-55", "tee-50", "tripod-50", "crescent-40"])
@pytest.mark.parametrize("wanted", [1, 2, 7, 23, 50])
def test_counts_of_other_shapes_add_up(name: str, wanted: int) -> None:
    board = Board(pieces=wanted, bed=(150.0, 170.0))
    found = runs(Tray(), Order(find(name).piece(), 0.1, board=board))
    assert sum(run.times * run.mould.cavities for run in found) == wanted


def test_without_a_bed_one_board_takes_all() -> None:
    found = runs(Tray(), Order(_disk(20.0), 0.05, board=Board(pieces=37)))
    assert [(run.mould.cavities, run.times) for run in found] == [(37, 1)]


# Labels.


def _block(radius: float, ledge: float, bed: tuple[float, float] | None = None) -> Block:
    laid = lay(Outline.circle(radius), Board(bed=bed), wall=3.0, rim=3.0, ledge=ledge)
    return block(laid, height=12.0, wall=3.0, ledge=ledge, ledge_height=8.0, relief=0.5)


def _regions(lines: tuple[str, ...], made: Block, **how: float) -> list[BaseGeometry]:
    """The letters where they are sunk, turned and moved by shapely."""
    found = []
    for placed in sunk(lines, made, **{"letters": 5.0, "nozzle": 0.4, **how}):
        assert placed.z + WORDS_DEEP == pytest.approx(made.field[2])
        assert placed.body.height == WORDS_DEEP
        outline = placed.body.base.polygon(1e-4)
        turned = shapely.affinity.rotate(outline, placed.turn, origin=(0, 0))
        found.append(shapely.affinity.translate(turned, placed.x, placed.y))
    return found


def _field(made: Block) -> BaseGeometry:
    x, y, _, length, depth, turn = made.field
    flat = shapely.box(-length / 2, -depth / 2, length / 2, depth / 2)
    turned = shapely.affinity.rotate(flat, turn, origin=(0, 0))
    return shapely.affinity.translate(turned, x, y)


LINES = ("leaf-55", "55 × 28 × 10 mm", "−12.1 %")


@pytest.mark.parametrize("radius", [3.0, 12.0, 60.0])
@pytest.mark.parametrize("ledge", [8.0, 12.0, 25.0, 40.0])
@pytest.mark.parametrize("lines", [LINES, ("Ø",), ("i%;:ä",), ("a" * 40,)])
def test_words_stay_on_the_ledge(radius: float, ledge: float, lines: tuple[str, ...]) -> None:
    made = _block(radius, ledge)
    letters = _regions(lines, made)
    field = _field(made).buffer(1e-6)
    ground = made.solids[0].body.lofts[0].top[1].polygon()
    rim = made.solids[1].body.lofts[0].top[1].polygon()
    assert ground.contains(_field(made))
    for letter in letters:
        assert field.contains(letter)
        assert letter.distance(rim) > 1.0
        assert letter.distance(ground.exterior) > 0.5
    for a, b in combinations(letters, 2):
        assert a.distance(b) > 0.1


def test_a_ledge_on_the_right_is_read_from_there() -> None:
    """Its lines are turned by a quarter, the field with them."""
    laid = lay(Outline.circle(20), Board(bed=(80.0, 60.0)), wall=3, rim=3, ledge=12)
    assert laid.ledge_side == RIGHT
    made = block(laid, height=12, wall=3, ledge=12, ledge_height=8, relief=0.5)
    letters = _regions(LINES[:1], made)
    assert letters
    field = _field(made).buffer(1e-6)
    assert all(field.contains(letter) for letter in letters)
    x0, y0, x1, y1 = shapely.union_all(letters).bounds
    assert y1 - y0 > 2 * (x1 - x0)
    first = letters[0].centroid
    assert first.y < (y0 + y1) / 2  # reads upward
    upright = lay(Outline.circle(20), Board(bed=(60.0, 80.0)), wall=3, rim=3, ledge=12)
    assert upright.ledge_side == FRONT


@pytest.mark.parametrize("nozzle", [0.2, 0.4, 0.8, 1.2])
def test_strokes_are_no_narrower_than_a_line(nozzle: float) -> None:
    """An H as large as is allowed at least; its bar worn away from both sides by half a line."""
    made = _block(60.0, 40.0)
    least = max(nozzle / STROKE, 2.0)
    letters = _regions(("H",), made, letters=least, nozzle=nozzle)
    assert len(letters) == 1
    assert letters[0].bounds[3] - letters[0].bounds[1] == pytest.approx(least, rel=1e-6)
    worn = letters[0].buffer(-nozzle / 2 * 0.999)
    assert worn.geom_type == "Polygon"
    assert not worn.is_empty
    assert _regions(("H",), made, letters=0.99 * least, nozzle=nozzle) == []


def test_what_finds_no_room_is_left_out() -> None:
    assert _regions(LINES, _block(12.0, 0.0)) == []  # no ledge
    assert _regions(LINES, _block(12.0, 3.0)) == []  # too narrow a one
    assert _regions(LINES, _block(60.0, 12.0), letters=0.0) == []
    assert _regions((), _block(60.0, 12.0)) == []
    assert _regions(("a" * 200,), _block(12.0, 12.0)) == []
    long = ("leaf-55 dried", "by 12.1 %", "for jars")
    one, three = (_regions(long, _block(12.0, ledge)) for ledge in (8.0, 40.0))
    assert 0 < len(one) < len(three)


def test_words_of_a_label() -> None:
    """The set size, not the wet one; an odd shrinkage in two places."""
    piece = find("leaf-55").piece()
    name, size, dried = words("leaf-55", piece, 0.12345)
    x, y = (round(side, 1) for side in piece.outline.size)
    assert name == "leaf-55"
    assert dried in ("−12.34 %", "−12.35 %")  # what is half way has no nearest
    assert size == f"{x:g} × {y:g} × {piece.height:g} mm"


def test_letters_take_their_own_volume() -> None:
    made = Tray().make(Order(_disk(40.0), 0.05, ("wad 40", "5 %")))
    part = made.parts[0]
    assert part.words
    region = sum(outline.area for w in part.words for outline in [w.body.base])
    plain = Tray(letters=0.0).make(Order(_disk(40.0), 0.05, ("wad 40", "5 %"))).parts[0]
    assert plain.volume - part.volume == pytest.approx(region * WORDS_DEEP, rel=1e-9)
    assert not plain.words
