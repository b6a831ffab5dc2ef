"""Level slices of a file, cut by trimesh, as shapely's regions."""

from __future__ import annotations

import numpy as np
import trimesh
from shapely import Polygon, affinity


def rings(mesh: trimesh.Trimesh, z: float) -> list[Polygon]:
    """Every closed line of a slice as the region within it, the largest first."""
    cut = mesh.section(plane_origin=(0, 0, z), plane_normal=(0, 0, 1))
    assert cut is not None
    found = [Polygon(np.asarray(line)[:, :2]) for line in cut.discrete]
    return sorted(found, key=lambda ring: -ring.area)


def in_the_middle(region: Polygon) -> Polygon:
    """The region with the middle of its box on the origin."""
    x0, y0, x1, y1 = region.bounds
    return affinity.translate(region, -(x0 + x1) / 2, -(y0 + y1) / 2)


def differing(a: Polygon, b: Polygon) -> float:
    """By what share two regions differ, once their boxes' middles are one on the other."""
    return float(in_the_middle(a).symmetric_difference(in_the_middle(b)).area / b.area)


def scaled(region: Polygon, factor: float) -> Polygon:
    """The region at another size, about the origin."""
    return affinity.scale(region, factor, factor, origin=(0, 0))
