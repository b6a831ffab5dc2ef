"""Moulds and other tools that make a shape in quantity, as files that are proven.

A kind of tool is a frozen dataclass with declared parameters, as a family of shapes is; it turns
a piece into `Part`s, said in bodies alone.  From there on all kinds go the same way:

===========  =======================================================================
module       does
===========  =======================================================================
``part``     what a part and a mould are: bodies that stand together, less others
``base``     what every kind has; the order that it is given
``kinds``    the kinds, one module each
``board``    cavities in their places on a bed, the block around them
``label``    the words sunk into a block; ``lettering`` draws them
``runs``     an order that takes several boards
``meshes``   triangles of a part
``proofs``   shows from its file that a part is what was meant
``solids``   the kernel's own volume of what shapes the clay; solids for STEP
``write``    files: STL, STEP, 3MF, proven before they get their names
``picture``  an isometric picture of parts
===========  =======================================================================

``solids/kernel`` is the only door to CadQuery; it opens when something exact is first asked for.
"""

from wadforms.moulds.base import Kind, Order
from wadforms.moulds.board import Board
from wadforms.moulds.kinds import kind, kinds
from wadforms.moulds.write import Written, write_mould

__all__ = ["Board", "Kind", "Order", "Written", "kind", "kinds", "write_mould"]
