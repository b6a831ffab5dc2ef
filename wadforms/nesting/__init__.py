"""Copies of an outline on a rectangle, as near to each other as their gap allows."""

from wadforms.nesting.blocks import compact, nest
from wadforms.nesting.fitting import fit_turn, largest_factor
from wadforms.nesting.spots import Nest, Spot

__all__ = ["Nest", "Spot", "compact", "fit_turn", "largest_factor", "nest"]
