"""Slabs: as many pieces as rows give and no more than can be, all apart and inside.

Sources
-------
- Circles of unit diameter in a square of side 8: OEIS A084616 has 68 (seen in its text).
- Counts on ISO 216 A4 in tight hexagonal rows: 160, 99, 72 and 36 discs of Ø 20, 25, 30 and 40,
  computed from the rows' own arithmetic.
- The densest packing of equal circles in the plane covers π/√12 of it (Thue 1910, from memory);
  within a sheet discs lie in the sheet grown by a part of their radius, so the area alone is
  the bound that is used here.
- Distances and areas: shapely; sizes in the file: svgelements.
"""

from __future__ import annotations

from itertools import combinations

import pytest
import reading
import shapely

from wadforms.catalogue import find
from wadforms.errors import BadInput, NotMakeable
from wadforms.geometry.outline import Outline
from wadforms.templates.drawing import Region, Text
from wadforms.templates.paper import paper
from wadforms.templates.slab_drawing import slab_drawing, slab_pages
from wadforms.templates.slab_layout import SlabItem, SlabLayout, slab_layout
from wadforms.templates.svg import svg

A4 = (210.0, 297.0)
CHORD = 1e-4  # between an arc and the polygon that stands for it here [mm]


def item(name: str, wanted: int | None = None) -> SlabItem:
    return SlabItem(name, find(name).piece().outline, wanted)


def disc(diameter: float, wanted: int | None = None) -> SlabItem:
    return SlabItem(f"disc {diameter:g}", Outline.circle(diameter / 2), wanted)


def wrong(layout: SlabLayout) -> list[str]:
    """Pieces too near to the edge or to each other, found by shapely."""
    width, depth = layout.slab
    e, slack = layout.edge, 2 * CHORD
    room = shapely.box(e - slack, e - slack, width - e + slack, depth - e + slack)
    pieces = [outline.polygon(CHORD) for _, outline in layout.placed()]
    found = [f"{k} is outside" for k, piece in enumerate(pieces) if not room.covers(piece)]
    tree = shapely.STRtree(pieces)
    near = tree.query(pieces, predicate="dwithin", distance=layout.gap + 1.0)
    for i, j in zip(*near, strict=True):
        a, b = pieces[i], pieces[j]
        if i < j and (a.distance(b) < layout.gap - 2 * slack or a.intersection(b).area > 0.05):
            found.append(f"{i} and {j} are too near")
    return found


@pytest.mark.parametrize(("diameter", "least"), [(20, 160), (25, 99), (30, 72), (40, 36)])
def test_discs_on_a4(diameter: float, least: int) -> None:
    found = slab_layout([disc(diameter)], slab=A4, gap=0.0)
    assert len(found.cuts) >= least
    assert found.area < found.slab_area
    assert not wrong(found)


def test_68_circles_in_a_square_of_side_8_and_no_more() -> None:
    assert len(slab_layout([disc(1.0)], slab=(8.0, 8.0), gap=0.0).cuts) == 68


@pytest.mark.parametrize("name", ["leaf-55", "tee-50", "ring-63", "rail-100"])
def test_other_shapes_are_inside_and_apart(name: str) -> None:
    found = slab_layout([item(name)], slab=(300.0, 200.0), gap=2.0, edge=5.0)
    assert not wrong(found)
    polygon = find(name).piece().outline.polygon()
    share = len(found.cuts) * polygon.area / (300.0 * 200.0)
    assert found.yield_share == pytest.approx(share, rel=1e-5)
    assert found.waste_share == pytest.approx(1.0 - share, rel=1e-5)


def test_several_make_whole_sets_or_the_counts_asked_for() -> None:
    three = [item("leaf-55"), item("tripod-50"), item("disk-25")]
    sets = slab_layout(three, slab=(300.0, 200.0), gap=2.0)
    assert sets.sets is not None
    assert sets.sets > 1
    assert sets.counts == (sets.sets,) * 3
    assert not wrong(sets)
    some = slab_layout([item("disk-25", 7), item("tee-50", 2)], slab=(300.0, 200.0), edge=3.0)
    assert (some.counts, some.sets) == ((7, 2), None)
    assert not wrong(some)
    more = slab_layout([item("disk-25", 7), item("tee-50", 2)], slab=(300.0, 200.0), in_sets=True)
    assert more.sets is not None
    assert more.sets > 1
    assert more.counts == (7 * more.sets, 2 * more.sets)


@pytest.mark.parametrize(
    ("items", "options", "says"),
    [
        ([disc(20)], {"slab": (0.0, 100.0)}, "slab"),
        ([disc(20)], {"slab": (100.0, 1e9)}, "slab"),
        ([disc(20)], {"slab": (float("nan"), 100.0)}, "slab"),
        ([disc(20)], {"gap": -1.0}, "gap"),
        ([disc(20)], {"edge": 60.0}, "edge"),
        ([disc(20, 0)], {}, "count of"),
        ([disc(20, 3), disc(25)], {}, "count for disc 20, but not for all"),
        ([disc(20), disc(20)], {}, "twice"),
        ([disc(20)], {"in_sets": True}, "no counts"),
        ([], {}, "none"),
        ([disc(1.0)], {"slab": (2000.0, 2000.0)}, "at most 20000"),
    ],
)
def test_bad_input_is_refused(items: list[SlabItem], options: dict[str, object], says: str) -> None:
    with pytest.raises(BadInput, match=says):
        slab_layout(items, **({"slab": (100.0, 100.0)} | options))  # type: ignore[arg-type]


def test_what_does_not_fit_says_what_does() -> None:
    with pytest.raises(NotMakeable, match=r"30 × disc 20 do not fit .*; 25 do"):
        slab_layout([disc(20, 30)], slab=(100.0, 100.0), gap=0.0)
    with pytest.raises(NotMakeable, match="larger than"):
        slab_layout([disc(120)], slab=(100.0, 100.0))
    with pytest.raises(NotMakeable, match="no way was found"):
        slab_layout([disc(60, 2), disc(50, 2)], slab=(100.0, 100.0))


def test_the_drawing_at_full_size_is_true() -> None:
    found = slab_layout([item("leaf-55", 4), item("disk-25", 3)], slab=(200.0, 150.0))
    data = svg(slab_drawing(found, title="Slab"))
    sizes = [reading.size(path) for path in reading.paths(data)]
    assert (200.0, 150.0) in [pytest.approx(size, abs=0.01) for size in sizes]
    assert (100.0, 100.0) in [pytest.approx(size, abs=0.01) for size in sizes]
    leaf = find("leaf-55").piece().outline.area
    areas = [reading.area(path) for path in reading.paths(data)]
    assert sum(area == pytest.approx(leaf, rel=1e-4) for area in areas) == 4


def test_an_overview_says_that_it_is_none_to_cut_by() -> None:
    found = slab_layout([item("leaf-55"), item("disk-25")], slab=(400.0, 300.0))
    sheet = paper("either")
    drawing = slab_drawing(found, title="Slab", overview=sheet)
    words = " ".join(i.text for i in drawing.items if isinstance(i, Text))
    assert "An overview at 1 : 2.5: not to cut by" in words
    x0, y0, x1, y1 = sheet.box
    for region in drawing.items:
        if isinstance(region, Region):
            a0, b0, a1, b1 = region.outline.bounds
            assert x0 - 1e-6 <= a0 < a1 <= x1 + 1e-6
            assert y0 - 1e-6 <= b0 < b1 <= y1 + 1e-6


def test_labels_stand_inside_their_pieces_and_apart() -> None:
    found = slab_layout([item("leaf-55"), item("tripod-50"), item("disk-16")], slab=(300.0, 200.0))
    drawing = slab_drawing(found, title="Slab", square=False)
    pieces = [i.outline.polygon(0.05) for i in drawing.items if isinstance(i, Region)][1:]
    texts = [i for i in drawing.items if isinstance(i, Text)]
    assert len(texts) == len(found.cuts)
    for text in texts:
        x0, _, x1, _ = text.box
        box = shapely.box(x0, text.at[1], x1, text.at[1] + text.lettering.rise)
        assert sum(piece.contains(box) for piece in pieces) == 1
    assert {text.text for text in texts} == {"A", "B", "C"}  # as the words beside call them
    boxes = [shapely.box(*text.box) for text in texts]
    assert not any(a.intersects(b) for a, b in combinations(boxes, 2))


def test_paper_has_an_overview_and_then_the_tiles() -> None:
    found = slab_layout([item("disk-25")], slab=(400.0, 300.0))
    pages = slab_pages(found, title="Slab", paper=paper("either"))
    # One sheet shows 190 × 259 mm and shares 15 mm: 402 mm take 3, 302 mm take 2.
    assert len(pages) == 1 + 3 * 2
    assert {(page.width, page.height) for page in pages} == {(210.0, 279.4)}
