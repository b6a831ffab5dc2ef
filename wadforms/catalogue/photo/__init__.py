"""Takes the outline of a shape out of a scan or a photo of a drawing, at true size.

A picture is read (`picture`), what is drawn is parted from the paper (`ink`), its edge is followed
to a part of a pixel (`edge`), counted in mm by a length that is known (`scale`), and made a smooth
outline of arcs and lines (`smoothing`).  `tracing` does these in order; `overlay` shows the answer
on the picture, for the eye to check.

All work is done in the pixels of the picture itself, and only points are carried over to mm: a
photo is never resampled to take its perspective out.  Pixels are counted as picture programmes
count them: from the upper left corner, which is (0, 0), to the right and down, after the picture
was turned as the camera says.  OpenCV and Pillow are known here alone.
"""

from wadforms.catalogue.photo.overlay import overlay
from wadforms.catalogue.photo.picture import Photo, read_photo
from wadforms.catalogue.photo.scale import Between, Extent, Sheet
from wadforms.catalogue.photo.tracing import Traced, Wanted, traced

__all__ = [
    "Between",
    "Extent",
    "Photo",
    "Sheet",
    "Traced",
    "Wanted",
    "overlay",
    "read_photo",
    "traced",
]
