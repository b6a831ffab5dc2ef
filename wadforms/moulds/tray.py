"""The press tray: a block with one cavity, mouth up, struck off level.

Clay is pressed into the cavity, struck off at the mouth, and drawn or knocked out when it lets
go.  The piece lies in it upside down, its bearing top on the cavity's floor and its base at
the mouth, so that the draft, which makes the base the widest, lets it out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, Final

from wadforms.errors import BadInput, Fault, NotMakeable
from wadforms.families.base import Piece
from wadforms.geometry.body import Body, Loft
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.moulds import kernel
from wadforms.moulds.making import Making
from wadforms.moulds.mesh import Mesh, fine_enough, tessellate
from wadforms.moulds.proof import facing_down
from wadforms.moulds.solid import solid
from wadforms.setting.shrinkage import mould_factor

MOST_SHRINKAGE: Final = 0.3
"""Beyond it no clay is moulded; a number such as 6.5, meant as percent, is caught by it."""

Size = tuple[float, float, float]


@dataclass(frozen=True, slots=True, eq=False)
class Tray:
    """A press tray as a solid and as triangles.

    Parameters
    ----------
    solid : cadquery.Shape
        The tray: z = 0 on the bed, mouth up [mm].
    mesh : Mesh
        Its triangles.
    block_volume : float
        Of the tray and its cavity together [mm³].
    piece_volume, wet_volume : float
        Of the piece at its set size, and as it leaves the tray [mm³].
    wet_size, outer_size : tuple of float
        Extent along x, y and z of the piece as it leaves the tray, and of the tray [mm].
    contact_top_area : float
        What of the piece can touch the pot, at its set size [mm²].
    relief : float
        Up to which level the outside leans over, to stay clear of the bed [mm].
    """

    solid: Any
    mesh: Mesh
    block_volume: float
    piece_volume: float
    wet_volume: float
    wet_size: Size
    outer_size: Size
    contact_top_area: float
    relief: float

    @property
    def material_volume(self) -> float:
        """What the printer lays down, were the tray printed solid [mm³]."""
        return self.block_volume - self.wet_volume


def tray(piece: Piece, *, shrinkage: float, making: Making | None = None) -> Tray:
    """A press tray for one piece.

    Parameters
    ----------
    piece : Piece
        At its set size [mm].
    shrinkage : float
        Linear, as a share of the wet length (ASTM C326); the cavity is larger than the piece
        by 1/(1 − S).
    making : Making, optional
        Wall, floor and relief; the defaults where left out.

    Raises
    ------
    BadInput
        The shrinkage is out of bounds.
    NotMakeable
        The piece could not be drawn out of a tray.
    KernelMissing
        The modelling kernel cannot be loaded.

    Examples
    --------
    >>> from wadforms.families import family
    >>> made = tray(family("disk")(diameter=20, height=8).piece(), shrinkage=0.05)
    >>> [round(v, 2) for v in made.wet_size], [round(v, 2) for v in made.outer_size]
    ([22.53, 22.53, 8.42], [28.53, 28.53, 11.42])
    """
    making = making or Making()
    if not 0.0 <= shrinkage <= MOST_SHRINKAGE:
        given = f"{shrinkage:g}"
        right = f"give a share from 0 to {MOST_SHRINKAGE:g}, such as 0.065 for 6.5 %"
        raise BadInput(Fault("shrinkage", given, right))
    wet = piece.scaled(mould_factor(shrinkage)).body
    # The piece is turned over about the y axis, never mirrored: what comes out, turned back,
    # is the piece itself.  Hence the mouth, seen from above, shows its outline with left and
    # right changed over; the piece as it is set, seen from above, shows it as drawn.
    mouth = wet.base.mirrored()
    height = making.floor + wet.height
    block = block_around(mouth, height=height, making=making)
    cq = kernel.cadquery()
    cavity = solid(wet).rotate((0, 0, 0), (0, 1, 0), 180).translate(cq.Vector(0, 0, height))
    made = solid(block).cut(cavity)
    mesh = tessellate(made, linear=fine_enough(cavity))
    over = facing_down(mesh.triangles, above=making.relief)
    if over.any():
        depth = height - float(mesh.triangles[over][:, :, 2].max())
        raise NotMakeable(
            f"a tray cannot make this piece: {depth:.1f} mm above its base a wall leans over, "
            "which would hold it in the cavity"
        )
    return Tray(
        solid=made,
        mesh=mesh,
        block_volume=block.volume,
        piece_volume=piece.volume,
        wet_volume=wet.volume,
        wet_size=(*wet.base.size, wet.height),
        outer_size=(*block.lofts[0].top[1].size, height),
        contact_top_area=piece.top_area,
        relief=making.relief,
    )


def block_around(mouth: Outline, *, height: float, making: Making) -> Body:
    """The block that a cavity is sunk into: upright sides, bevelled corners, a relief below.

    It has flat faces only, so its triangles have its volume to the last digit, and the
    cavity's can be found from what a file lacks of it.

    Parameters
    ----------
    mouth : Outline
        Of the cavity [mm].
    height : float
        Of the block [mm].
    making : Making
        Wall and relief.
    """
    x0, y0, x1, y1 = mouth.bounds
    x0, y0, x1, y1 = x0 - making.wall, y0 - making.wall, x1 + making.wall, y1 + making.wall
    # A corner of the mouth may lie in the corner of its box: this much off leaves the full wall.
    c = making.wall * (2.0 - math.sqrt(2.0))
    corners = [(x0 + c, y0), (x1 - c, y0), (x1, y0 + c), (x1, y1 - c)]
    corners += [(x1 - c, y1), (x0 + c, y1), (x0, y1 - c), (x0, y0 + c)]
    sides = Outline(Contour.polygon(corners))
    if making.relief == 0.0:
        return Body((Loft(((0.0, sides), (height, sides))),))
    foot = sides.offset(-making.relief)
    return Body((Loft(((0.0, foot), (making.relief, sides), (height, sides))),))
