"""Sizes of the named disks.

Source
------
ISO 3, Preferred numbers — Series of preferred numbers, series R10 (from memory): 10, 12.5, 16,
20, 25, 31.5, 40, 50, 63, 80, 100, which are 10^(k/10) rounded by at most 1.3 %.
"""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from wadforms.catalogue import shapes
from wadforms.families.disk import Disk

R10 = (10.0, 12.5, 16.0, 20.0, 25.0, 31.5, 40.0, 50.0, 63.0, 80.0)


def disks() -> list[float]:
    """Diameters of the named disks."""
    found = [shape.sized() for shape in shapes().values()]
    return sorted(family.diameter for family in found if isinstance(family, Disk))


def test_the_series_is_geometric() -> None:
    for k, value in enumerate(R10):
        assert value == pytest.approx(10 ** (1 + k / 10), rel=0.0126)  # rounding of the standard


def test_every_disk_has_a_preferred_diameter() -> None:
    sizes = disks()
    assert len(sizes) >= 6
    for diameter in sizes:
        decade = 10.0 ** (math.floor(math.log10(diameter)) - 1)
        assert diameter / decade in R10


def test_no_step_is_left_out() -> None:
    """Between the smallest and the largest from 8 mm on, so that the next size is 25 % larger."""
    sizes = [d for d in disks() if d >= 8.0]
    steps = [b / a for a, b in pairwise(sizes)]
    assert max(steps) < 1.3
