"""Where wads and foot meet: one patch for each place where a wad's top touches."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, Final, NamedTuple

from wadforms.families.base import Piece
from wadforms.geometry.moments import Moments, moments
from wadforms.setting.arrangement import Arrangement

if TYPE_CHECKING:
    from shapely import Geometry


class Patch(NamedTuple):
    """The region where one face of one wad meets the foot.

    Parameters
    ----------
    wad, face : int
        Which wad of the arrangement, and which face of its piece.
    region : shapely geometry
        In plan, about the pot's middle [mm].
    moments : Moments
        Its area moments.
    """

    wad: int
    face: int
    region: Geometry
    moments: Moments

    @property
    def area(self) -> float:
        """Area that touches [mm²]."""
        return self.moments.area


def patches(arrangement: Arrangement, zone: Geometry, *, factor: float = 1.0) -> list[Patch]:
    """The patches of all wads: placed faces ∩ bearing zone; wads that miss it have none.

    Parameters
    ----------
    arrangement : Arrangement
        Piece and spots.
    zone : shapely geometry
        Bearing zone of the foot [mm].
    factor : float
        Size of the wads now over their set size: less than 1 once they have shrunk.

    Source
    ------
    Plane geometry; areas agree with the lens of two circles (Weisstein, MathWorld,
    "Circle-Circle Intersection").

    Examples
    --------
    >>> from wadforms.families.disk import Disk
    >>> from wadforms.setting.arrangement import Spot
    >>> from wadforms.setting.feet import RingFoot
    >>> three = Arrangement(Disk(diameter=10, height=8).piece(), (Spot(22.5, 0),))
    >>> round(patches(three, RingFoot(50.0, 5.0).zone)[0].area, 1)
    47.9
    """
    (found,) = patches_at(arrangement, zone, (factor,))
    return found


def patches_at(
    arrangement: Arrangement, zone: Geometry, factors: Sequence[float]
) -> list[list[Patch]]:
    """The patches at several sizes, as shares of the set size, as `patches` gives them for one."""
    import numpy as np
    import shapely

    faces = _face_regions(arrangement.piece)
    turns = np.radians([spot.turn for spot in arrangement.spots])
    shifts = np.array([(spot.x, spot.y) for spot in arrangement.spots])
    cosines, sines = np.cos(turns), np.sin(turns)
    turned = np.stack([cosines, sines, -sines, cosines], axis=1).reshape(-1, 2, 2)
    keys: list[tuple[int, int, int]] = []
    placed = []
    for size, factor in enumerate(factors):
        for number, face in enumerate(faces):
            points = shapely.get_coordinates(face) @ (factor * turned) + shifts[:, None]
            placed.append(
                shapely.set_coordinates(np.repeat(face, len(turns)), points.reshape(-1, 2))
            )
            keys += [(size, wad, number) for wad in range(len(turns))]
    regions = np.concatenate(placed)
    beyond = ~shapely.contains(zone, regions)  # a face wholly under the foot is its own patch
    if beyond.any():
        regions[beyond] = shapely.intersection(regions[beyond], zone)
    found: list[list[Patch]] = [[] for _ in factors]
    for (size, wad, number), region, measured in sorted(
        zip(keys, regions, moments(regions), strict=True), key=lambda row: row[0]
    ):
        if measured.area > 1e-9:
            found[size].append(Patch(wad, number, region, measured))
    return found


_COARSE: Final = 0.5  # how far a patch's outline may stray where only distances far off count [mm]


def farthest_from(patches: Sequence[Patch], zone: Geometry) -> float:
    """How far the part of a foot lies from the wads that lies farthest from any [mm].

    It is sought where it can only be: at the edge of the foot, and in the corners between the
    regions that belong to each patch (its Voronoi diagram).

    Examples
    --------
    >>> import shapely
    >>> from wadforms.geometry.moments import Moments
    >>> middle = Patch(0, 0, shapely.Point(0, 0).buffer(20, quad_segs=32), Moments())
    >>> round(farthest_from([middle], shapely.Point(0, 0).buffer(100, quad_segs=32)), 2)
    80.0
    """
    import numpy as np
    import shapely

    touching = np.array([patch.region for patch in patches])
    # A dozen corners of each patch place the Voronoi corners well; the distance itself is exact.
    corners = shapely.points(shapely.get_coordinates(shapely.simplify(touching, _COARSE)))
    between = shapely.voronoi_polygons(shapely.multipoints(corners), only_edges=True)
    places = np.unique(shapely.get_coordinates([zone, between]).round(6), axis=0)
    sought = shapely.points(places)
    sought = sought[shapely.dwithin(zone, sought, 1e-5)]
    (_, _), away = shapely.STRtree(touching).query_nearest(sought, return_distance=True)
    return float(away.max())


@lru_cache(maxsize=128)
def _face_regions(piece: Piece) -> tuple[Geometry, ...]:
    return tuple(face.polygon() for face in piece.faces)
