"""Solids of the kernel, built from a body's own words: lofts, bowls and troughs.

An arc becomes an arc and its wall a true cone, so a solid is as exact as the body; nothing is
flattened before the mesh.  What the kernel then says of the volume is a second answer, found
without the body's own formulas.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

from wadforms.geometry.body import Body, Bowl, Loft, Section, Trough
from wadforms.geometry.contour import Contour, Point
from wadforms.moulds.solids import kernel

_SAME_LEVEL = 1e-9  # two sections nearer than this [mm] are a flat step, not a wall


class WirePen:
    """A pen that draws contours as wires of the kernel, at one level.

    Parameters
    ----------
    z : float
        Level of the wires [mm].

    Attributes
    ----------
    wires : list
        One `cadquery.Wire` for each contour drawn.
    """

    def __init__(self, z: float) -> None:
        self.z = z
        self.wires: list[Any] = []
        self._edges: list[Any] = []
        self._at: Point = (0.0, 0.0)

    def move_to(self, point: Point) -> None:
        """Begin a contour."""
        self._edges, self._at = [], point

    def line_to(self, point: Point) -> None:
        """Add a straight edge."""
        cq = kernel.cadquery()
        self._edges.append(cq.Edge.makeLine((*self._at, self.z), (*point, self.z)))
        self._at = point

    def arc_to(self, point: Point, centre: Point, sweep: float) -> None:
        """Add an arc, given to the kernel by its ends and its middle so that it joins exactly."""
        cq = kernel.cadquery()
        dx, dy = self._at[0] - centre[0], self._at[1] - centre[1]
        c, s = math.cos(sweep / 2), math.sin(sweep / 2)
        middle = (centre[0] + dx * c - dy * s, centre[1] + dx * s + dy * c, self.z)
        ends = (*self._at, self.z), (*point, self.z)
        self._edges.append(cq.Edge.makeThreePointArc(ends[0], middle, ends[1]))
        self._at = point

    def close(self) -> None:
        """Join the edges to a wire."""
        self.wires.append(kernel.cadquery().Wire.assembleEdges(self._edges))


def solid(body: Body) -> Any:
    """The solid of a body.

    Parameters
    ----------
    body : Body
        Base at z = 0 [mm].

    Returns
    -------
    cadquery.Shape
        One closed solid.

    Raises
    ------
    KernelMissing
        CadQuery cannot be loaded.

    Examples
    --------
    >>> from wadforms.geometry.outline import Outline
    >>> frustum = Body((Loft.drafted(Outline.circle(8), ((0, 2), (12, 0))),))
    >>> round(solid(frustum).Volume(), 5)
    3066.19443
    """
    first, *others = (_lofted(loft) for loft in body.lofts)
    shape = first.fuse(*others) if others else first
    pockets = [_pocket(pocket, body) for pocket in body.pockets]
    return shape.cut(*pockets) if pockets else shape


def _lofted(loft: Loft) -> Any:
    """One loft; where two sections share a level, what is below and what is above are fused."""
    runs: list[list[Section]] = [[loft.sections[0]]]
    for below, here in pairwise(loft.sections):
        if here[0] - below[0] <= _SAME_LEVEL:
            runs.append([])
        runs[-1].append(here)
    first, *others = (_walls(run) for run in runs if len(run) > 1)
    return first.fuse(*others) if others else first


def _walls(sections: list[Section]) -> Any:
    """The solid between sections at different levels, its holes cut."""
    outside, *holes = (
        _between([(z, outline.contours[i]) for z, outline in sections])
        for i in range(len(sections[0][1].contours))
    )
    return outside.cut(*holes) if holes else outside


def _between(rings: list[tuple[float, Contour]]) -> Any:
    """Straight walls through contours of the same segments, and a lid at either end."""
    kernel.cadquery()  # loaded first: it says what is missing, and it carries the module below
    from cadquery.func import loft

    wires = []
    for z, contour in rings:
        pen = WirePen(z)
        contour.draw(pen)
        wires += pen.wires
    # The segments answer to each other already; the kernel's own matching (compat) would only
    # cost time, and could start a concave outline at another vertex.
    return loft(wires, cap=True, ruled=True, compat=False)


def _pocket(pocket: Loft | Bowl | Trough, body: Body) -> Any:
    """What a pocket takes out of the body, or a little more above its opening."""
    cq = kernel.cadquery()
    match pocket:
        case Loft():
            return _lofted(pocket)
        case Bowl():
            centre = cq.Vector(pocket.x, pocket.y, pocket.z + pocket.radius - pocket.depth)
            # From pole to pole, so that the seam does not run through the bottom of the bowl.
            return cq.Solid.makeSphere(pocket.radius, angleDegrees1=-90).translate(centre)
        case Trough():
            x0, y0, x1, y1 = body.base.bounds
            middle, reach = (y0 + y1) / 2, (y1 - y0) + 2.0
            axis = pocket.z + pocket.radius - pocket.depth
            start = cq.Vector((x0 + x1) / 2, middle - reach / 2, axis)
            return cq.Solid.makeCylinder(pocket.radius, reach, start, cq.Vector(0, 1, 0))


def face_area_at(shape: Any, z: float) -> float:
    """Area of the flat faces of a solid that lie at a level [mm²].

    Parameters
    ----------
    shape : cadquery.Shape
        A solid.
    z : float
        The level [mm].

    Examples
    --------
    >>> from wadforms.geometry.outline import Outline
    >>> plate = solid(Body((Loft(((0, Outline.circle(5)), (3, Outline.circle(5)))),)))
    >>> round(face_area_at(plate, 3) / math.pi, 6)
    25.0
    """
    found = (f for f in shape.Faces() if f.geomType() == "PLANE")
    level = (f.Area() for f in found if _spans(f, z))
    return math.fsum(level)


def _spans(face: Any, z: float) -> bool:
    box = face.BoundingBox()
    return bool(max(abs(box.zmin - z), abs(box.zmax - z)) < 1e-4)
