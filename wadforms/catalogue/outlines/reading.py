"""Reads the outline of a drawing, whichever of the formats it is in."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Final, NamedTuple

from wadforms.catalogue.outlines.assembling import assembled
from wadforms.catalogue.outlines.refusal import LARGEST, Refused, refused
from wadforms.catalogue.outlines.tracing import Tracer
from wadforms.errors import BadInput, Fault
from wadforms.files import read_at_most, shortened
from wadforms.geometry.outline import Outline

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

FORMATS: Final = ("svg", "dxf", "csv")
"""What a drawing may be: the last part of its file's name."""

_COUNTED_SVG: Final = "places are counted from the drawing's upper left corner, right and down"
_COUNTED: Final = "places are the drawing's own coordinates"
_BY_NAME: Final = {"svg": "svg", "dxf": "dxf", "csv": "csv", "tsv": "csv", "txt": "csv"}
_GZIP: Final = b"\x1f\x8b"


class Drawn(NamedTuple):
    """An outline as it was read.

    Parameters
    ----------
    outline : Outline
        Centred on its area [mm].
    notes : tuple of str
        What had to be assumed.
    """

    outline: Outline
    notes: tuple[str, ...] = ()


def read_outline(file: Traversable, *, finer: float = 1.0) -> Outline:
    """Read the outline of a drawing, centred on its area.

    Parameters
    ----------
    file : Path or Traversable
        An SVG or DXF drawing, or a CSV table of points.
    finer : float
        How many times the outline will be enlarged: curves are taken that much closer.

    Returns
    -------
    Outline
        Circular arcs stay arcs; other curves become lines within `CURVE_ERROR` [mm].

    Raises
    ------
    BadInput
        With what is wrong, where in the drawing, and what would be right.

    Examples
    --------
    >>> from wadforms.catalogue import own_folder
    >>> leaf = read_outline(own_folder().joinpath("outlines", "leaf.svg"))
    >>> len(leaf.outer.segments), [round(side, 3) for side in leaf.size]
    (2, [55.0, 28.0])
    """
    return read_drawn(file, finer=finer).outline


def read_drawn(file: Traversable, *, finer: float = 1.0) -> Drawn:
    """Read the outline of a drawing, with what had to be assumed; see `read_outline`.

    Parameters
    ----------
    file : Path or Traversable
        An SVG or DXF drawing, or a CSV table of points.
    finer : float
        How many times the outline will be enlarged.

    Raises
    ------
    BadInput
        As `read_outline`.
    """
    data = read_at_most(file, LARGEST, "a drawing")
    ending = file.name.lower().rpartition(".")[2]
    try:
        return drawn(data, _BY_NAME.get(ending, ""), finer)
    except Refused as error:
        faults = [Fault(shortened(file), *fault) for fault in error.faults]
        told = [k for k, fault in enumerate(faults) if ") mm" in fault.given]
        if told:  # once for all, where it is read last
            fault = faults[told[-1]]
            how = _COUNTED_SVG if ending == "svg" else _COUNTED
            faults[told[-1]] = fault._replace(right=f"{fault.right} ({how})")
        raise BadInput(*faults) from None


@lru_cache(maxsize=16)
def drawn(data: bytes, kind: str, finer: float = 1.0) -> Drawn:
    r"""The outline of a drawing's bytes.

    Parameters
    ----------
    data : bytes
        The whole file.
    kind : str
        One of `FORMATS`.
    finer : float
        How many times the outline will be enlarged.

    Raises
    ------
    Refused
        With what is wrong; `read_drawn` names the file of it.

    Examples
    --------
    >>> drawn(b"0,0\n30,0\n30,20\n0,20", "csv").outline.size
    (30.0, 20.0)
    """
    if len(data) > LARGEST:
        raise refused(f"a drawing of more than {LARGEST} bytes", f"give at most {LARGEST} bytes")
    if data.startswith(_GZIP):
        raise refused("a compressed drawing", "save it as plain SVG, not as .svgz")
    tracer = Tracer(finer)
    notes: tuple[str, ...] = ()
    match kind:
        case "svg":
            from wadforms.catalogue.outlines.svg import svg_runs

            runs = svg_runs(data, tracer)
        case "dxf":
            from wadforms.catalogue.outlines.dxf import dxf_runs

            runs, notes = dxf_runs(data, tracer)
        case "csv":
            from wadforms.catalogue.outlines.points import point_runs

            runs = point_runs(data, tracer)
        case _:
            right = "give a drawing whose name ends with .svg or .dxf, or points in a .csv"
            raise refused("a file of another kind", right)
    return Drawn(assembled(runs, tracer.place, finer), notes)
