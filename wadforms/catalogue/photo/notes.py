"""What is said of an outline: what was assumed, and where it may be wrong."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from wadforms.catalogue.photo.picture import Photo
from wadforms.catalogue.photo.scale import Plane, Sheet, fits, other_sheet, seen_ratio
from wadforms.catalogue.photo.smoothing import Smooth

COARSE: Final = 0.5
"""A pixel larger than this is told as too coarse for a shape to be cut [mm]."""


def sheet_notes(plane: Plane, sheet: Sheet, photo: Photo, lens: str) -> list[str]:
    """Which sheet was assumed, and whether it looks like another one.

    Parameters
    ----------
    plane : Plane
        With the sheet's corners.
    sheet : Sheet
        What it is said to be [mm].
    photo : Photo
        The picture.
    lens : str
        What is assumed of the lens.
    """
    notes = [
        f"Assumed: the sheet is {_called(sheet)}; it lies flat, the shape is on it, and {lens}."
    ]
    ratio = seen_ratio(plane.corners, photo.size)
    other = ratio and other_sheet(sheet, ratio)
    unsure = [o for o in sheet.others if ratio is None or (not other and fits(o, ratio))]
    if sheet.name and unsure:
        names = " or ".join(o.name for o in unsure)
        notes.append(f"Be sure that it is {sheet.name}: the picture does not tell it from {names}.")
    if ratio and other:
        notes.append(
            f"The sheet looks like {_called(other)}: its sides are as 1 to "
            f"{sum(ratio) / 2:.2f}, those of {sheet.name or 'the one given'} as 1 to "
            f"{sheet.ratio:.2f}. If it is that, say so: all is of another size then."
        )
    return notes


def _called(sheet: Sheet) -> str:
    size = f"{sheet.width:g} × {sheet.height:g} mm"
    return f"{sheet.name}, {size}" if sheet.name else size


def shape_notes(
    *, told: bool, pen: float | None, pixel: float, parts: Sequence[Smooth]
) -> list[str]:
    """How the shape was taken to be drawn, and what else is to be known of it.

    Parameters
    ----------
    told : bool
        Whether that was told from the picture.
    pen : float or None
        Width of the line, where it is one [pixels].
    pixel : float
        How large a pixel is [mm].
    parts : sequence of Smooth
        The smooth contours [mm].

    Examples
    --------
    >>> shape_notes(told=True, pen=None, pixel=0.1, parts=[])
    ['Assumed: it is drawn as a filled shape.']
    """
    notes = []
    if told:
        what = "a closed line, and its middle was taken" if pen else "a filled shape"
        notes.append(f"Assumed: it is drawn as {what}.")
    if pixel > COARSE:
        notes.append(f"The picture is coarse: a pixel is {pixel:.2f} mm. Take it from nearer.")
    if any(part.sharpened for part in parts):
        notes.append("Corners are where their two sides meet when carried on.")
    return notes
