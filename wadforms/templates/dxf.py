"""Writes the closed paths of a stencil as DXF, for machines that do not read SVG.

Every contour is one closed polyline whose arcs stay arcs; the unit of the file is the millimetre.
"""

from __future__ import annotations

import io
from typing import Any, Final

from wadforms.catalogue.outlines.dxf_library import dxf_library
from wadforms.geometry.contour import Contour
from wadforms.templates.drawing import Drawing, Region

_MM: Final = 4  # of $INSUNITS, DXF reference
_VERSION: Final = "R2000"  # the first that has true polylines in the plane; all later ones read it


def dxf(drawing: Drawing) -> bytes:
    """The outlines of a drawing as a DXF file; the same bytes for the same drawing.

    Parameters
    ----------
    drawing : Drawing
        A stencil: outlines only.

    Raises
    ------
    ValueError
        There is something else on it.

    Examples
    --------
    >>> from wadforms.geometry.outline import Outline
    >>> from wadforms.templates.stencil import stencil
    >>> b"LWPOLYLINE" in dxf(stencil("disk", Outline.circle(10)).drawing)
    True
    """
    library = dxf_library()
    fixed = library.options.write_fixed_meta_data_for_testing
    library.options.write_fixed_meta_data_for_testing = True  # no time and no random name in it
    try:
        document = library.new(_VERSION, setup=False, units=_MM)
        _add(drawing, document)
        out = io.StringIO()
        document.write(out)
    finally:
        library.options.write_fixed_meta_data_for_testing = fixed
    return out.getvalue().encode("utf-8")


def _add(drawing: Drawing, document: Any) -> None:
    from ezdxf.colors import rgb2int

    space = document.modelspace()
    for item in drawing.primitives():
        if not isinstance(item, Region):
            raise ValueError("a stencil has outlines only")
        stroke = (item.style.stroke or "#000000").removeprefix("#")
        red, green, blue = (int(stroke[k : k + 2], 16) for k in (0, 2, 4))
        layer = item.style.name.replace(" ", "-")
        if layer not in document.layers:
            document.layers.add(layer)
        for contour in item.outline.contours:
            space.add_lwpolyline(
                _vertices(contour),
                format="xyb",
                close=True,
                dxfattribs={"layer": layer, "true_color": rgb2int((red, green, blue))},
            )


def _vertices(contour: Contour) -> list[tuple[float, float, float]]:
    """Corners with the bulge of what follows, tan(sweep/4), which is DXF's own way too."""
    return [(x, y, b) for (x, y), b in zip(contour.vertices, contour.bulges, strict=True)]
