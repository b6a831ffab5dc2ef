"""Outlines that somebody drew: read from SVG, DXF or a table of points, and checked.

Whatever the format, a drawing becomes runs of lines and arcs in mm with y up (`tracing`), those
become one outline with its holes (`assembling`), and what stands against it is told with its
place.  Nothing is fetched, run, repaired or written.

Places are counted as the drawing counts them: in SVG from its upper left corner, to the right and
down, as drawing programmes show them; in DXF and tables by their own coordinates, in mm.
"""

from wadforms.catalogue.outlines.reading import FORMATS, Drawn, read_drawn, read_outline
from wadforms.catalogue.outlines.refusal import CURVE_ERROR, LARGEST

__all__ = ["CURVE_ERROR", "FORMATS", "LARGEST", "Drawn", "read_drawn", "read_outline"]
