"""Copies of an outline on a rectangle, as near to each other as their gap allows."""

from wadforms.nesting.blocks import compact, nest
from wadforms.nesting.fitting import fit_turn, largest_factor
from wadforms.nesting.mixed import Mixed, mixed
from wadforms.nesting.spots import Nest, Spot

__all__ = ["Mixed", "Nest", "Spot", "compact", "fit_turn", "largest_factor", "mixed", "nest"]
