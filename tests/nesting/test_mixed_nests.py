"""Several shapes on one rectangle: inside, apart, whole sets, the same in every run.

Sources
-------
- Distances, areas and what lies inside: shapely, from each outline flattened here.
"""

from __future__ import annotations

from itertools import combinations

import pytest
from nest_proofs import CHORD, ROUNDING, bar, named
from shapely import Polygon, affinity, box

from wadforms.errors import BadInput
from wadforms.geometry.outline import Outline
from wadforms.nesting import Mixed, mixed

SETS = {
    "disks and tees": ((named("tee-50"), Outline.circle(10)), (1, 2)),
    "three shapes": ((named("leaf-55"), named("tripod-50"), Outline.circle(12.5)), (1, 1, 2)),
    "rails": ((bar(100, 12), bar(40, 40)), (2, 1)),
}


def laid(outlines: tuple[Outline, ...], found: Mixed) -> list[Polygon]:
    forms = [Polygon(outline.outer.flattened(CHORD)) for outline in outlines]
    return [
        affinity.translate(affinity.rotate(forms[k], s.turn, origin=(0, 0)), s.x, s.y)
        for k, s in found.placed
    ]


def faults(
    outlines: tuple[Outline, ...], found: Mixed, gap: float, width: float, height: float
) -> list[str]:
    slack = CHORD + ROUNDING
    copies = laid(outlines, found)
    sheet = box(-slack, -slack, width + slack, height + slack)
    wrong = [f"{k} is outside" for k, copy in enumerate(copies) if not sheet.covers(copy)]
    for (i, a), (j, b) in combinations(enumerate(copies), 2):
        if a.distance(b) < gap - 2 * slack:
            wrong.append(f"{i} and {j} are {a.distance(b):.6f} mm apart")
        elif gap == 0.0 and a.intersection(b).area > slack * (a.length + b.length):
            wrong.append(f"{i} and {j} overlap")
    return wrong


@pytest.mark.parametrize("name", SETS)
@pytest.mark.parametrize("gap", [0.0, 2.0])
def test_all_are_inside_and_apart_and_make_whole_sets(name: str, gap: float) -> None:
    outlines, counts = SETS[name]
    found = mixed(outlines, counts, gap=gap, width=260.0, height=180.0)
    assert not faults(outlines, found, gap, 260.0, 180.0)
    assert found.sets >= 2
    for k, count in enumerate(counts):
        assert sum(index == k for index, _ in found.placed) == count * found.sets
    area = sum(outline.area * n for outline, n in zip(outlines, counts, strict=True))
    assert found.sets * area <= 260.0 * 180.0


def test_bands_are_the_same_in_every_run() -> None:
    outlines, counts = SETS["three shapes"]
    first, second = (mixed(outlines, counts, gap=2.0, width=260.0, height=180.0) for _ in "12")
    assert first == second
    assert first.how == "bands"


def test_tiles_fill_their_rectangle() -> None:
    tiles = (bar(30, 10), bar(30, 20))
    found = mixed(tiles, (1, 1), gap=0.0, width=90.0, height=60.0)
    assert found.sets == 6  # 6 · (300 + 600) mm² = 90 · 60 mm²: nothing is left over


def test_no_more_sets_than_asked_for() -> None:
    found = mixed((bar(30, 10), bar(30, 20)), (1, 1), gap=0.0, width=90.0, height=60.0, sets=2)
    assert (found.sets, len(found.placed)) == (2, 4)


def test_what_does_not_fit_is_no_set() -> None:
    found = mixed((bar(200, 10), bar(30, 20)), (1, 1), gap=0.0, width=90.0, height=60.0)
    assert found == Mixed((), 0, "bands")


@pytest.mark.slow
def test_the_search_finds_more_than_bands() -> None:
    outlines, counts = (named("stand-4-100"), named("tripod-80")), (1, 1)
    bands = mixed(outlines, counts, gap=2.0, width=300.0, height=200.0)
    # One more is enough: the search ends when it is found, and has long for it where all is busy.
    one_more = bands.sets + 1
    found = mixed(
        outlines, counts, gap=2.0, width=300.0, height=200.0, sets=one_more, seconds=12.0, seed=1
    )
    assert found.sets == one_more
    assert found.how == "nested"
    assert not faults(outlines, found, 2.0, 300.0, 200.0)


@pytest.mark.parametrize(
    ("change", "where"),
    [
        ({"gap": -1.0}, "gap"),
        ({"width": 0.0}, "width"),
        ({"height": float("nan")}, "height"),
        ({"seconds": float("inf")}, "seconds"),
        ({"sets": 0}, "sets"),
    ],
)
def test_sizes_that_make_no_sense_are_refused(change: dict[str, float], where: str) -> None:
    given = {"gap": 2.0, "width": 90.0, "height": 60.0} | change
    with pytest.raises(BadInput, match=where):
        mixed((bar(30, 10),), (1,), **given)  # type: ignore[arg-type]
    with pytest.raises(BadInput, match="count"):
        mixed((bar(30, 10),), (0,), gap=0.0, width=90.0, height=60.0)
    with pytest.raises(BadInput, match="outlines"):
        mixed((), (), gap=0.0, width=90.0, height=60.0)
