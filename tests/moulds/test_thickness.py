"""Walls and floors measured in triangles: known ones, and by shapely and trimesh for any."""

from __future__ import annotations

import math
from itertools import combinations, pairwise

import numpy as np
import pytest
import shapely
import trimesh
from every_piece import pieces
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from wadforms.catalogue import find
from wadforms.geometry.body import Body, Loft
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.moulds import Board, Order
from wadforms.moulds.kinds.tray import Tray
from wadforms.moulds.meshes.assembly import assembled, meshed
from wadforms.moulds.meshes.mesh import Mesh
from wadforms.moulds.part import Part, Placed, around
from wadforms.moulds.proofs.thickness import lowest_upward, thinnest_wall

FINE = 0.01  # what the proof lets pass [mm]


def _box(width: float, depth: float, height: float) -> Body:
    x, y = width / 2, depth / 2
    outline = Outline(Contour.polygon([(-x, -y), (x, -y), (x, y), (-x, y)]))
    return Body((Loft(((0.0, outline), (height, outline))),))


def _leaning(radius: float, height: float, draft: float) -> Body:
    spread = height * math.tan(math.radians(draft))
    return Body((Loft.drafted(Outline.circle(radius), ((0.0, spread), (height, 0.0))),))


def _cut(solid: Body, *cuts: Placed) -> Mesh:
    return assembled(
        Part(
            name="it", solids=(Placed(solid),), cuts=cuts, form=solid, wall=2.0, floor=2.0,
            relief=0.0,
        )
    )  # fmt: skip


def _pit(x: float, y: float = 0.0, *, draft: float = 0.0, z: float = 12.0) -> Placed:
    """A round hollow of 8 mm radius at its floor, 9 mm deep."""
    return Placed(_leaning(8.0, 9.0, draft), x, y, z, over=True)


def test_between_two_hollows() -> None:
    mesh = _cut(_box(80, 40, 12), _pit(-10.0), _pit(9.2))
    found = thinnest_wall(mesh, asked=3.0)
    assert found.width == pytest.approx(19.2 - 16.0, abs=FINE)
    assert found.place[:2] == pytest.approx((-0.4, 0.0), abs=0.05)


def test_between_a_hollow_and_the_outside() -> None:
    mesh = _cut(_box(60, 24, 12), _pit(0.0, 1.5))
    found = thinnest_wall(mesh, asked=2.5)
    assert found.width == pytest.approx(12 - 9.5, abs=FINE)
    assert found.place[:2] == pytest.approx((0.0, 10.75), abs=0.05)


@pytest.mark.parametrize("draft", [1.0, 5.0, 15.0])
def test_hollows_that_lean_are_nearest_at_the_rim(draft: float) -> None:
    mesh = _cut(_box(80, 40, 12), _pit(-11.0, draft=draft), _pit(11.0, draft=draft))
    expected = 22.0 - 2 * (8.0 + 9.0 * math.tan(math.radians(draft)))
    found = thinnest_wall(mesh, asked=expected)
    assert found.width == pytest.approx(expected, abs=FINE)
    assert found.place[2] == pytest.approx(12.0, abs=FINE)


def test_an_outside_that_leans_is_nearest_at_the_foot() -> None:
    """A block that is narrower below, as no proof lets pass, has its thinnest wall at the floor."""
    foot, top = _box(20, 40, 1).base, _box(30, 40, 1).base
    mesh = _cut(Body((Loft(((0.0, foot), (12.0, top))),)), _pit(0.0))
    half = 10.0 + 5.0 * 3.0 / 12.0  # of the block at the level of the floor, 3 mm
    found = thinnest_wall(mesh, asked=half - 8.0 + 0.05)
    assert found.width == pytest.approx(half - 8.0, abs=FINE)
    assert found.place[2] == pytest.approx(3.0, abs=FINE)


def test_a_wall_of_an_upper_storey() -> None:
    """Hollows in a step of the block: its rim is not the part's top."""
    tower = Body((Loft(((0.0, _box(80, 40, 1).base), (12.0, _box(80, 40, 1).base))),
                  Loft(((12.0, _box(10, 40, 1).base), (30.0, _box(10, 40, 1).base)))))  # fmt: skip
    pits = (_pit(-30.0), _pit(-13.0))
    thin = thinnest_wall(_cut(tower, *pits), asked=1.5)
    assert thin.width == pytest.approx(1.0, abs=FINE)


def test_words_are_no_walls() -> None:
    strokes = [Placed(_box(1.0, 6.0, 0.6), x, -14.0, 11.4) for x in (-2.0, -0.5, 1.0)]
    mesh = _cut(_box(60, 36, 12), _pit(-15.0), _pit(4.0), *strokes)
    assert thinnest_wall(mesh, asked=3.0).width == pytest.approx(0.5, abs=FINE)
    words = around(strokes)
    assert thinnest_wall(mesh, asked=3.0, words=words).width == pytest.approx(3.0, abs=FINE)


def test_a_ridge_within_one_hollow_is_no_wall() -> None:
    """The cavity of a cradle has a ridge: near its floor it is two hollows."""
    base = _box(40, 20, 12)
    ridge = Loft(((5.0, _box(1.2, 20, 1).base), (9.0, _box(1.2, 20, 1).base)))
    hollow = Placed(Body((_leaning(9.0, 9.0, 0.0).lofts[0],), (ridge,)), 0.0, 0.0, 12.0, over=True)
    mesh = _cut(base, hollow)
    assert thinnest_wall(mesh, asked=1.5).width == pytest.approx(1.0, abs=0.01)  # beside it
    thin = thinnest_wall(mesh, asked=1.5, hollows=[around([hollow])])
    assert thin.width == pytest.approx(1.0, abs=0.01)  # 10 − 9 mm, to the outside
    wide = _cut(_box(40, 40, 12), hollow)
    assert thinnest_wall(wide, asked=1.5).width == pytest.approx(1.2, abs=0.01)
    assert thinnest_wall(wide, asked=1.5, hollows=[around([hollow])]).width == math.inf


def test_air_between_two_parts_is_no_wall() -> None:
    posts = Body((Loft(((0.0, _box(40, 20, 1).base), (3.0, _box(40, 20, 1).base))),
                  *(Loft(((3.0, Outline.circle(3, (x, 0))), (9.0, Outline.circle(3, (x, 0)))))
                    for x in (-3.5, 3.5))))  # fmt: skip
    assert thinnest_wall(meshed(posts), asked=3.0).width == math.inf


def test_no_wall_is_near_what_was_asked() -> None:
    mesh = _cut(_box(80, 60, 12), _pit(0.0))
    assert thinnest_wall(mesh, asked=3.0).width == math.inf


@pytest.mark.parametrize("name", ["tee-50", "leaf-55", "ring-63", "crescent-40", "wave-72"])
@pytest.mark.parametrize("wall", [2.4, 3.0, 4.7])
def test_boards_by_shapely(name: str, wall: float) -> None:
    """The mouths' own outlines, placed by shapely, are as far apart as the slices tell."""
    order = Order(find(name).piece(), 0.065, board=Board(pieces=5))
    part = Tray(wall=wall, ledge=0.0).make(order).parts[0]
    shape = part.form.base.mirrored().polygon(1e-4)
    rings = [
        shapely.affinity.translate(
            shapely.affinity.rotate(shape.exterior, c.turn, (0, 0)), c.x, c.y
        )
        for c in part.cuts
    ]
    rings.append(part.solids[-1].body.lofts[0].top[1].polygon().exterior)
    least = min(a.distance(b) for a, b in combinations(rings, 2))
    found = thinnest_wall(assembled(part), asked=wall)
    assert found.width == pytest.approx(least, abs=FINE)
    assert found.width > wall - FINE


@settings(max_examples=30)
@given(st.floats(0.0, 3.0), st.floats(0.0, 3.0), st.floats(0.0, 10.0), st.floats(0.3, 6.0))
def test_no_line_through_a_wall_is_shorter(x: float, y: float, draft: float, gap: float) -> None:
    """Another library cuts the part level by level; a line across the wall meets it no sooner."""
    spread = 9.0 * math.tan(math.radians(draft))
    reach = 2 * (8.0 + spread) + gap
    block = _box(2 * reach + 12.0, 40, 12)
    mesh = _cut(block, _pit(x - reach / 2, y, draft=draft), _pit(x + reach / 2, y, draft=draft))
    assume(6.0 - x - gap / 2 > gap + 0.1)  # so that the outside is further away
    assume(20.0 - 8.0 - spread - y > gap + 0.1)
    found = thinnest_wall(mesh, asked=gap)
    assert found.width == pytest.approx(gap, abs=FINE)
    whole = trimesh.Trimesh(mesh.points, mesh.facets, process=False)
    widths = []
    for level in (3.1, 6.0, 9.0, 11.99):
        section = whole.section(plane_origin=(0, 0, level), plane_normal=(0, 0, 1))
        assert section is not None
        lines = shapely.MultiLineString([line[:, :2].tolist() for line in section.discrete])
        ray = shapely.LineString([(-200.0, y), (200.0, y)])
        hits = sorted(point.x for point in shapely.get_parts(ray.intersection(lines)))
        widths.append(min(b - a for a, b in pairwise(hits) if a < x < b))
    assert min(widths) == pytest.approx(found.width, abs=0.02)


def test_lowest_upward_of_steps_holes_and_drafts() -> None:
    block = _box(60, 40, 12)
    assert lowest_upward(meshed(block).triangles) == 12.0
    shallow, deep = _pit(-12.0), Placed(_leaning(6.0, 10.0, 5.0), 14.0, 0.0, 12.0, over=True)
    assert lowest_upward(_cut(block, shallow).triangles) == pytest.approx(3.0)
    assert lowest_upward(_cut(block, shallow, deep).triangles) == pytest.approx(2.0)
    # A drafted hole right through has no floor.
    through = Placed(_leaning(6.0, 14.0, 5.0), 14.0, 0.0, 13.0, over=True)
    assert lowest_upward(_cut(block, through).triangles) == pytest.approx(12.0)
    assert lowest_upward(_cut(block, shallow, through).triangles) == pytest.approx(3.0)


def test_a_floor_that_slopes_counts_where_it_is_lowest() -> None:
    """A hollow like a shallow cone, its tip 1 mm above the bed: the floor is 1 mm thick there."""
    wide, fine = Outline.circle(10), Outline.circle(0.5)
    tip = Placed(Body((Loft(((0.0, wide), (6.0, wide), (11.0, fine))),)), z=12.0, over=True)
    assert lowest_upward(_cut(_box(40, 40, 12), tip).triangles) == 1.0
    # One flat that falls from 4 mm to 1 mm along the hollow, with no level floor at all.
    slope = meshed(_box(20, 20, 8))
    points = slope.points + np.array([0.0, 0.0, 4.0])
    low = points[:, 2] < 5.0
    points[low & (points[:, 0] > 0), 2] = 1.0
    block = meshed(_box(40, 40, 12))
    shell = Mesh(points, slope.facets[:, ::-1])
    both = np.concatenate([block.triangles, shell.triangles])
    assert lowest_upward(both) == pytest.approx(1.0)


@pytest.mark.parametrize("name", [n for n in pieces() if n.startswith("shape ")])
def test_floors_of_named_shapes(name: str) -> None:
    part = Tray(floor=4.0).make(Order(pieces()[name], 0.1)).parts[0]
    assert lowest_upward(assembled(part).triangles) == pytest.approx(4.0, abs=1e-6)
