"""Pictures of parts: where the part lies, what is shaded, what is hidden, and what is said."""

from __future__ import annotations

import ctypes
import io
import math
import os
import subprocess
import sys
from functools import cache

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image

from wadforms.errors import BadInput, KernelMissing
from wadforms.families import family
from wadforms.geometry.body import Body, Loft
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.moulds.meshes.assembly import meshed
from wadforms.moulds.meshes.mesh import Mesh
from wadforms.moulds.picture import LARGEST, SMALLEST, picture
from wadforms.moulds.solids import kernel

WHITE = 255


def _block(x: float, y: float, z: float) -> Mesh:
    corners = [(0, 0), (x, 0), (x, y), (0, y)]
    side = Outline(Contour.polygon(corners))
    return meshed(Body((Loft(((0.0, side), (z, side))),)))


@cache
def _piece(name: str) -> Mesh:
    return meshed(family(name)().piece().body)


def _seen(*meshes: Mesh, width: int = 600, height: int = 450) -> NDArray[np.uint8]:
    data = picture(meshes, width=width, height=height)
    image = Image.open(io.BytesIO(data))
    image.load()
    assert (image.format, image.size) == ("PNG", (width, height))
    return np.asarray(image.convert("L"))


def _part(seen: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """The picture above the caption, which an empty row sets off."""
    ink = np.flatnonzero((seen < WHITE).any(axis=1))
    gaps = np.flatnonzero(np.diff(ink) > 1)
    return seen[: ink[gaps[-1]] + 1]


def _box(seen: NDArray[np.uint8]) -> tuple[int, int, int, int]:
    rows, columns = (np.flatnonzero((seen < WHITE).any(axis=axis)) for axis in (1, 0))
    return columns[0], rows[0], columns[-1] + 1, rows[-1] + 1


@pytest.mark.parametrize("name", ["disk", "stand", "pointed-tripod", "stone-seat", "cradle"])
def test_a_part_is_whole_centred_shaded_and_outlined(name: str) -> None:
    seen = _seen(_piece(name))
    x0, y0, x1, y1 = _box(seen)
    margin = 0.03 * 450
    assert min(x0, y0, 600 - x1, 450 - y1) > margin
    assert abs(x0 + x1 - 600) <= 4
    assert abs(y0 + y1 - 450) <= 0.06 * 450  # the caption is set low in its strip
    part = _part(seen)
    assert (seen == WHITE).mean() > 0.3
    greys = np.bincount(part[part < WHITE].ravel(), minlength=256)
    assert (greys[100:250] > 100).sum() >= 2  # several shades, each over a whole area
    assert greys[:60].sum() > 300  # dark lines
    assert greys[100:250].sum() > 5 * greys[:60].sum()


def test_the_three_axes_are_equally_foreshortened() -> None:
    """Isometric projection, ISO 5456-3 §5.2: x and y at 30° to the horizontal, equal scales.

    Hence a cube's outline is a regular hexagon: height over width is 2/√3.
    """
    x0, y0, x1, y1 = _box(_part(_seen(_block(20, 20, 20))))
    assert (y1 - y0) / (x1 - x0) == pytest.approx(2 / math.sqrt(3), rel=0.01)
    # x runs down to the right, y up to the right: a bar along x leans the other way.
    along_x, along_y = (_part(_seen(_block(*size))) for size in ((60, 3, 3), (3, 60, 3)))
    for bar, falls in ((along_x, True), (along_y, False)):
        rows, columns = np.nonzero(bar < WHITE)
        assert (np.corrcoef(rows, columns)[0, 1] > 0.9) is np.bool_(falls)


def test_faces_of_a_block_have_three_greys_that_stay_apart() -> None:
    part = _part(_seen(_block(20, 20, 20)))
    counts = np.bincount(part.ravel(), minlength=256)
    counts[WHITE] = 0
    largest = np.sort(np.argsort(counts)[-3:])
    assert counts[largest].min() > 5000
    assert np.diff(largest).min() >= 20
    # Top, front (to the left) and right side, from light to dark.
    x0, y0, x1, y1 = _box(part)
    wide, high = x1 - x0, y1 - y0
    top = part[y0 + high // 4, x0 + wide // 2]
    front = part[y0 + 5 * high // 8, x0 + wide // 4]
    right = part[y0 + 5 * high // 8, x0 + 3 * wide // 4]
    assert [right, front, top] == largest.tolist()


def test_what_is_behind_is_hidden_and_smooth_walls_have_no_lines() -> None:
    part = _part(_seen(_block(20, 20, 20)))
    x0, y0, x1, y1 = _box(part)
    middle = (x0 + x1) // 2
    # Below the near corner runs one edge, above it none: the far corner's edges are hidden.
    assert part[(y0 + y1) // 2 + 20 : y1 - 10, middle - 1 : middle + 1].max() < 100
    assert part[y0 + 10 : (y0 + y1) // 2 - 10, middle - 4 : middle + 4].min() > 150
    wall = _part(_seen(_piece("disk")))
    a0, b0, a1, b1 = _box(wall)
    # The lower middle of a disk is its wall, many facets that meet at 11° and less.
    lower = wall[b1 - (b1 - b0) // 5 : b1 - 12, (a0 + a1) // 2 - 60 : (a0 + a1) // 2 + 60]
    assert lower.min() > 100


def test_a_rounding_has_no_lines_on_it() -> None:
    disk = family("disk").sized({"diameter": 40, "height": 16, "rounding": 4}).piece()
    part = _part(_seen(meshed(disk.body)))
    x0, y0, x1, y1 = _box(part)
    middle = (x0 + x1) // 2
    assert part[y0 + 6 : y1 - 6, middle - 40 : middle + 40].min() > 100


def test_parts_stand_side_by_side_at_one_scale() -> None:
    seen = _part(_seen(_block(10, 10, 10), _block(20, 20, 20), width=900))
    columns = (seen < WHITE).any(axis=0).astype(int)
    starts, ends = (np.flatnonzero(np.diff(columns) == step) for step in (1, -1))
    assert len(starts) == 2
    first, second = ends - starts
    assert second / first == pytest.approx(2.0, rel=0.04)


def test_a_caption_is_drawn_and_changes_with_the_size() -> None:
    captions = [_seen(_block(20, 20, 20 * factor))[-60:] for factor in (1.0, 1.0, 1.005)]
    ink = [(c < 128).sum() for c in captions]
    assert ink[0] > 200
    assert np.array_equal(captions[0], captions[1])
    assert not np.array_equal(captions[0], captions[2])


def test_names_are_drawn_and_a_fitted_picture_is_no_higher_than_its_parts() -> None:
    flat = [_block(200, 60, 10), _block(200, 60, 10)]
    named = picture(flat, names=["tub", "lid"])
    assert named != picture(flat) != picture(flat, names=["tub", "rim"])
    high, low = (_size(picture(flat, names=["tub", "lid"], fitted=f)) for f in (False, True))
    assert high == (900, 700)
    assert low[0] == 900
    assert low[1] < 500
    cube = [_block(50, 50, 90)]
    assert _size(picture(cube, fitted=True))[1] > 600


def _size(data: bytes) -> tuple[int, int]:
    """Width and height from the header (PNG, ISO/IEC 15948, 11.2.2)."""
    return int.from_bytes(data[16:20], "big"), int.from_bytes(data[20:24], "big")


def test_the_same_parts_give_the_same_picture() -> None:
    parts = [_piece("stand"), _piece("ring")]
    assert picture(parts) == picture(parts)


def test_the_smallest_picture_and_many_parts() -> None:
    assert _box(_seen(_piece("disk"), width=SMALLEST, height=SMALLEST))[0] >= 1
    x0, _, x1, _ = _box(_seen(*[_piece("disk")] * 12, width=900))
    assert x0 >= 0.03 * 900
    assert x1 <= 0.97 * 900


def test_nothing_is_said_on_stderr(capfd: pytest.CaptureFixture[str]) -> None:
    log = kernel.vtk("vtkCommonCore").vtkLogger
    before = log.GetCurrentVerbosityCutoff()
    picture([_piece("disk")], width=200, height=150)
    assert capfd.readouterr() == ("", "")
    assert log.GetCurrentVerbosityCutoff() == before


def test_bad_sizes_and_no_meshes_are_refused() -> None:
    with pytest.raises(BadInput) as caught:
        picture([_piece("disk")], width=0, height=LARGEST + 1)
    assert [fault.where for fault in caught.value.faults] == ["width", "height"]
    with pytest.raises(BadInput, match="give one"):
        picture([])


@pytest.mark.skipif("not sys.platform.startswith('linux')", reason="EGL is Linux's way")
def test_a_server_without_egl_is_told_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(name: str) -> object:
        # The loader's own words on a server without a screen.
        raise OSError(f"{name}: cannot open shared object file: No such file or directory")

    mesh = _piece("disk")
    monkeypatch.setattr(ctypes, "CDLL", refuse)
    with pytest.raises(KernelMissing, match="libegl1"):
        picture([mesh])


@pytest.mark.skipif("not sys.platform.startswith('linux')", reason="EGL is Linux's way")
def test_a_server_without_a_driver_is_told_so_and_does_not_crash() -> None:
    # What GLVND, the dispatcher behind libEGL, is told to find no driver by; VTK alone would crash.
    bare = {**os.environ, "__EGL_VENDOR_LIBRARY_FILENAMES": "none"}
    code = (
        "import numpy as np\n"
        "from wadforms.moulds.meshes.mesh import Mesh\n"
        "from wadforms.moulds.picture import picture\n"
        "facets = np.array([[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]])\n"
        "try:\n"
        "    picture([Mesh(np.vstack([np.zeros(3), np.eye(3)]), facets)])\n"
        "except ImportError as error:\n"
        "    print(type(error).__name__, error)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, env=bare, check=True
    )
    assert done.stdout.startswith("KernelMissing pictures of moulds need OpenGL")
    assert done.stderr == ""
