"""Triangles of a part: each body's own mesh, joined and cut by manifold3d.

The kernel has no say here, so its volumes stay an independent witness; and cutting many
cavities out of a block takes hundredths of a second, where it would take the kernel minutes.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final

from wadforms.geometry.body import Body, Bowl, Loft, Trough
from wadforms.geometry.contour import CHORD_ERROR, Contour, Point
from wadforms.moulds.meshes.mesh import Mesh
from wadforms.moulds.meshes.sinking import sunk
from wadforms.moulds.part import Part, Placed

if TYPE_CHECKING:
    from wadforms.geometry.body import Pocket

_BALL_ERROR: Final = 0.01  # how far the facets of a ball or a channel may stray [mm]

_BALL_STEP: Final = math.radians(6.0)  # and turn from one to the next at most

_SAME: Final = 1e-4  # corners nearer than this [mm] become one; a printer's step is 100 times it


def assembled(part: Part) -> Mesh:
    """The triangles of a part, closed and facing outward.

    Parameters
    ----------
    part : Part
        Its solids and cuts [mm].

    Examples
    --------
    >>> from wadforms.geometry.outline import Outline
    >>> def prism(radius, height):
    ...     return Body((Loft(((0, Outline.circle(radius)), (height, Outline.circle(radius)))),))
    >>> cup = Part(
    ...     name="cup", solids=(Placed(prism(20, 12)),), cuts=(Placed(prism(15, 10), z=2),),
    ...     form=prism(15, 10), wall=5, floor=2, relief=0,
    ... )
    >>> abs(assembled(cup).volume / cup.volume - 1) < 1e-6
    True
    """
    return sunk(part, _cut, meshed) or _cut(part)


def _cut(part: Part) -> Mesh:
    """The solids joined, the cuts taken out of them."""
    from manifold3d import Manifold, OpType

    kept: dict[int, Any] = {}
    solids = [_placed(placed, kept) for placed in part.solids]
    whole = Manifold.batch_boolean(solids, OpType.Add) if len(solids) > 1 else solids[0]
    if cuts := [_placed(p, kept) for p in (*part.cuts, *part.words)]:
        whole -= Manifold.batch_boolean(cuts, OpType.Add)
    return _mesh(whole.simplify(_SAME))


def meshed(body: Body) -> Mesh:
    """The triangles of one body.

    Parameters
    ----------
    body : Body
        Base at z = 0 [mm].

    Examples
    --------
    >>> from wadforms.geometry.outline import Outline
    >>> frustum = Body((Loft.drafted(Outline.circle(8), ((0, 2), (12, 0))),))
    >>> abs(meshed(frustum).volume / 3066.19443 - 1) < 1e-6
    True
    """
    return _mesh(_manifold(body))


def _placed(placed: Placed, kept: dict[int, Any]) -> Any:
    """A body's manifold where it belongs; each body is meshed once."""
    made = kept.get(id(placed.body))
    if made is None:
        made = kept[id(placed.body)] = _manifold(placed.body)
    if placed.over:
        made = made.rotate((0.0, 180.0, 0.0))
    return made.rotate((0.0, 0.0, placed.turn)).translate((placed.x, placed.y, placed.z))


def _manifold(body: Body) -> Any:
    from manifold3d import Manifold, OpType

    lofts = [_loft(loft) for loft in body.lofts]
    whole = Manifold.batch_boolean(lofts, OpType.Add) if len(lofts) > 1 else lofts[0]
    for pocket in body.pockets:
        whole -= _pocket(pocket, body)
    return whole


def _loft(loft: Loft) -> Any:
    """Walls between the sections and a lid at either end."""
    import numpy as np
    from manifold3d import Manifold, Mesh64, triangulate

    rings: list[list[list[Point]]] = []  # for each section, the points of each contour
    for contours in zip(*(outline.contours for _, outline in loft.sections), strict=True):
        rings.append(_matched(contours))
    sections = list(zip(*rings, strict=True))
    points: list[tuple[float, float, float]] = []
    for (z, _), section in zip(loft.sections, sections, strict=True):
        points += ((x, y, z) for ring in section for x, y in ring)
    # Holes run clockwise, so that the same rule turns every wall outward.
    ends = [
        triangulate([np.array(r if k == 0 else r[::-1]) for k, r in enumerate(section)])
        for section in (sections[0], sections[-1])
    ]
    order = _clockwise_holes([len(ring) for ring in sections[0]])
    count, last = len(order), len(sections) - 1
    facets = [order[ends[0]][:, ::-1], order[ends[1]] + last * count]
    first, step = _walks([len(ring) for ring in sections[0]])
    for level, _ in enumerate(pairwise(sections)):
        a, b = first + level * count, step + level * count
        facets += [np.stack([a, b, b + count], 1), np.stack([a, b + count, a + count], 1)]
    return Manifold(
        Mesh64(np.array(points, dtype=np.float64), np.concatenate(facets).astype(np.uint64))
    )


def _matched(contours: tuple[Contour, ...]) -> list[list[Point]]:
    """Corners of contours of the same segments: as many for each of them, one to one."""
    counts = [
        max(segment.lines(CHORD_ERROR) for segment in matching)
        for matching in zip(*contours, strict=True)
    ]
    return [
        [p for segment, n in zip(contour, counts, strict=True) for p in segment.points(n)]
        for contour in contours
    ]


def _clockwise_holes(lengths: list[int]) -> Any:
    """Numbers of the corners of all rings, the holes' run backwards."""
    import numpy as np

    order, start = [], 0
    for k, length in enumerate(lengths):
        ring = np.arange(start, start + length)
        order.append(ring if k == 0 else ring[::-1])
        start += length
    return np.concatenate(order)


def _walks(lengths: list[int]) -> tuple[Any, Any]:
    """Each wall's first corner and its second, with the body to the left."""
    import numpy as np

    firsts, seconds, start = [], [], 0
    for k, length in enumerate(lengths):
        ring = np.arange(start, start + length)
        ahead = np.roll(ring, -1)
        firsts.append(ring if k == 0 else ahead)
        seconds.append(ahead if k == 0 else ring)
        start += length
    return np.concatenate(firsts), np.concatenate(seconds)


def _pocket(pocket: Pocket, body: Body) -> Any:
    """What a pocket takes out of the body, or a little more above its opening."""
    from manifold3d import Manifold

    match pocket:
        case Loft():
            return _loft(pocket)
        case Bowl():
            r, low = pocket.radius, pocket.z - pocket.depth
            ball = Manifold.revolve(_half_round(r), _facets_of_turn(r))
            return ball.translate((pocket.x, pocket.y, low + r))
        case Trough():
            x0, y0, x1, y1 = body.base.bounds
            reach, r = (y1 - y0) + 2.0, pocket.radius
            lines = Contour.circle(r).flattened(_BALL_ERROR)
            from manifold3d import CrossSection

            rod = Manifold.extrude(CrossSection([lines]), reach).rotate((90.0, 0.0, 0.0))
            axis = pocket.z + r - pocket.depth
            return rod.translate(((x0 + x1) / 2, (y0 + y1) / 2 + reach / 2, axis))


def _facets_of_turn(radius: float) -> int:
    """How many flats stand for a full turn of a ball: an even number."""
    step = min(_BALL_STEP, 2.0 * math.acos(max(0.0, 1.0 - _BALL_ERROR / radius)))
    return 2 * math.ceil(math.pi / step)


def _half_round(radius: float) -> Any:
    """The profile of a ball right of its axis, from pole to pole."""
    from manifold3d import CrossSection

    # Flats about a ball lose volume in both ways.  A radius that makes up for the turn, and
    # points just outside the meridian, so that its lines cross it, give nearly all of it back.
    n = _facets_of_turn(radius)
    turn = math.tau / n
    grown = radius * math.sqrt(turn / math.sin(turn))
    angles = (math.pi * (2 * k / n - 0.5) for k in range(n // 2 + 1))
    return CrossSection([[(grown * math.cos(a), radius * math.sin(a)) for a in angles]])


def _mesh(made: Any) -> Mesh:
    import numpy as np

    found = made.to_mesh64()
    points = np.asarray(found.vert_properties, dtype=np.float64)[:, :3]
    return Mesh(points, np.asarray(found.tri_verts, dtype=np.int64))
