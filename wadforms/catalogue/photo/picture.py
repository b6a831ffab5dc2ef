"""Reads a picture that somebody took: a PNG or JPEG file, of any size, kind and state."""

from __future__ import annotations

import math
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from wadforms.errors import BadInput, Fault
from wadforms.files import read_at_most, shortened

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

LARGEST: Final = 60_000_000
"""Largest file of a picture that is read [bytes]."""

MOST_PIXELS: Final = 50_000_000
"""As many pixels may a picture have; what phones take has 12 to 50 million."""

LONGEST: Final = 20_000
"""As long may a side of a picture be [pixels]."""

LEAST: Final = 50
"""A shorter side has no room for a shape [pixels]."""

WORKED: Final = 12_000_000
"""A picture of more pixels is averaged down to fewer: more tell nothing more of a shape of clay."""

_FORMATS: Final = ("PNG", "JPEG")
_PRINTERS: Final = {"CMYK", "LAB", "HSV"}


class Photo(NamedTuple):
    """A picture as it was read.

    Parameters
    ----------
    colour : array of bytes
        Red, green and blue, by row and column.
    grey : array of float
        How light, as a share of white.
    reduced : int
        How many pixels of the file are one here, each way.
    name : str
        Of its file, for messages.
    """

    colour: NDArray[np.uint8]
    grey: NDArray[np.float32]
    reduced: int
    name: str

    @property
    def size(self) -> tuple[int, int]:
        """How many pixels it is wide and high."""
        return self.grey.shape[1], self.grey.shape[0]


def read_photo(path: Path) -> Photo:
    """Read a PNG or JPEG file, turned as the camera says, what is clear in it taken for white.

    Parameters
    ----------
    path : Path
        The file.

    Raises
    ------
    BadInput
        It is no such picture, a broken one, an animated one, one in printers' colours, too large
        or too small.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> from PIL import Image
    >>> with TemporaryDirectory() as folder:
    ...     Image.new("L", (80, 60), 51).save(Path(folder, "dark.png"))
    ...     photo = read_photo(Path(folder, "dark.png"))
    >>> photo.size, round(float(photo.grey[0, 0]), 6)
    ((80, 60), 0.2)
    """
    import warnings

    from PIL import Image, UnidentifiedImageError

    data = read_at_most(path, LARGEST, "a picture")
    name = shortened(path)
    if len(data) > LARGEST:
        right = f"give one of at most {LARGEST // 1_000_000} MB"
        raise BadInput(Fault(name, f"a picture of more than {LARGEST} bytes", right))
    try:
        with warnings.catch_warnings():
            # What it warns of, we refuse below, or it is of no concern to the picture's pixels.
            warnings.simplefilter("ignore")
            with Image.open(BytesIO(data), formats=_FORMATS) as image:
                _refuse(image, name)
                return _photo(image, name)
    except BadInput:
        raise
    except Image.DecompressionBombError:
        raise BadInput(_too_many("far more pixels than it may have", name)) from None
    except UnidentifiedImageError:
        right = "give a PNG or JPEG picture"
        raise BadInput(Fault(name, "a file that is no PNG or JPEG picture", right)) from None
    except Exception:  # whatever a reader stumbles over in a stranger's file is the file's fault
        right = "save or send it again"
        raise BadInput(Fault(name, "a broken or shortened picture", right)) from None


def _too_many(given: str, name: str) -> Fault:
    right = f"give at most {MOST_PIXELS // 1_000_000} million pixels, {LONGEST} a side"
    return Fault(name, f"a picture of {given}", right)


def _refuse(image: Any, name: str) -> None:
    """Refuse what its head says of it, before its pixels are unpacked."""
    width, height = image.size
    given = f"{width} × {height} pixels"
    if width * height > MOST_PIXELS or max(width, height) > LONGEST:
        raise BadInput(_too_many(given, name))
    if min(width, height) < LEAST:
        right = f"give one of at least {LEAST} × {LEAST} pixels"
        raise BadInput(Fault(name, f"a picture of {given}", right))
    # A phone's JPEG may hold further pictures behind the one that is meant.
    if image.format == "PNG" and getattr(image, "n_frames", 1) > 1:
        raise BadInput(Fault(name, "an animated picture", "save one of its frames"))
    if image.mode in _PRINTERS:
        given = f"a picture in printers' colours ({image.mode})"
        raise BadInput(Fault(name, given, "save it as RGB or grey"))


def _photo(image: Any, name: str) -> Photo:
    import numpy as np
    from PIL import Image, ImageOps

    image.load()
    image = ImageOps.exif_transpose(image)
    if image.mode.startswith("I"):  # 16 bits of grey
        deep = np.asarray(image, dtype=np.float32) / 65535.0
        image = Image.fromarray(np.rint(deep * 255.0).astype(np.uint8))
    if image.mode in {"LA", "PA", "RGBA", "RGBa"} or "transparency" in image.info:
        clear = image.convert("RGBA")
        image = Image.new("RGBA", clear.size, (255, 255, 255, 255))
        image.alpha_composite(clear)
    image = image.convert("RGB")
    reduced = math.ceil(math.sqrt(image.width * image.height / WORKED))
    if reduced > 1:
        image = image.reduce(reduced)
    colour = np.asarray(image)
    # Luminance of ITU-R BT.601, as Pillow's own grey, but with the parts of a step kept.
    grey = colour.astype(np.float32) @ np.array([0.299, 0.587, 0.114], np.float32) / 255.0
    return Photo(colour, grey, reduced, name)
