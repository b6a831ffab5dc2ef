"""Pictures of moulds: isometric, shaded in greys, edges dark, what is behind hidden.

Drawn by VTK, which CadQuery brings, without a screen: on Linux through EGL.  Shades and edges
are computed here, so that they do not depend on the lights of a renderer.
"""

from __future__ import annotations

import ctypes
import math
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from wadforms.errors import BadInput, Fault, KernelMissing
from wadforms.moulds.lettering import lettering
from wadforms.moulds.meshes.mesh import Mesh
from wadforms.moulds.pixels import averaged
from wadforms.moulds.solids import kernel

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Points = NDArray[np.float64]

SMALLEST: Final = 64
"""Least width and height of a picture [pixels]."""

LARGEST: Final = 1600
"""Most width and height of a picture [pixels]."""

FEATURE: Final = 32.0
"""Facets that meet at more than this [deg] have an edge between them that is drawn.

The steps that a rounding is made of turn by up to 26° where they run around a corner.
"""

_RIGHT: Final = (1 / math.sqrt(2), 1 / math.sqrt(2), 0.0)  # along the picture, to the right
_UP: Final = (-1 / math.sqrt(6), 1 / math.sqrt(6), math.sqrt(2 / 3))  # along the picture, up
_VIEW: Final = (1 / math.sqrt(3), -1 / math.sqrt(3), 1 / math.sqrt(3))  # to the eye
_LIGHT: Final = (0.15, -0.55, 0.82)  # a face to the left front is lighter than one to the right

_DARK, _BRIGHT, _LINE = 90.0, 242.0, 25  # greys: they stay apart in a print without colour
_DEPTH = 0.14  # how much darker a level face is at the very bottom
_FINE = 3  # drawn so many times as large, then averaged, for smooth lines
_TRIES = 5
_WHITE = 255
_MARGIN, _CAPTION = 0.04, 0.07  # of the picture: around it, and below for the sizes
_LETTERS = 0.024  # height of the capitals over that of the picture, at most


class _Scene(NamedTuple):
    """What is drawn: facets with their greys, lines, and the letters below."""

    points: Points
    facets: NDArray[np.int64]
    greys: NDArray[np.uint8]
    lines: NDArray[np.int64]


def picture(
    meshes: Sequence[Mesh],
    *,
    names: Sequence[str] = (),
    width: int = 900,
    height: int = 700,
    fitted: bool = False,
) -> bytes:
    """A PNG of one or several parts side by side, each with its name and size in mm below.

    Isometric (parallel, the three axes equally foreshortened), seen from above the right front
    corner: x runs down to the right, y up to the right.  All parts have the same scale.

    Parameters
    ----------
    meshes : sequence of Mesh
        From left to right [mm].
    names : sequence of str
        Of the parts, where they have any.
    width, height : int
        Of the picture [pixels], `SMALLEST` to `LARGEST`.
    fitted : bool
        Whether a picture that the parts do not fill is less high.

    Raises
    ------
    BadInput
        There is no mesh, or the picture is too small or too large.
    KernelMissing
        VTK, or a system library that it draws with, cannot be loaded.

    Examples
    --------
    >>> import numpy as np
    >>> facets = np.array([[0, 2, 1], [0, 1, 3], [0, 3, 2], [1, 2, 3]])
    >>> corner = Mesh(np.vstack([np.zeros(3), np.eye(3)]), facets)
    >>> picture([corner], width=200, height=150)[1:4]
    b'PNG'
    """
    import numpy as np

    if not meshes or not all(len(mesh.facets) for mesh in meshes):
        raise BadInput(Fault("meshes", "none, or one without facets", "give one at least"))
    faults = [
        Fault(name, f"{value} pixels", f"give {SMALLEST} to {LARGEST} pixels")
        for name, value in (("width", width), ("height", height))
        if not SMALLEST <= value <= LARGEST
    ]
    if faults:
        raise BadInput(*faults)
    sizes = [_size_in_words(mesh.points) for mesh in meshes]
    words = [f"{name} {size}" for name, size in zip(names or [""] * len(sizes), sizes, strict=True)]
    scene, pixel, centre = _laid_out(meshes, words, width, height)
    if fitted:
        filled = float(np.ptp(scene.points[:, 1])) / pixel + (2 * _MARGIN + _CAPTION / 2) * height
        height = min(height, max(SMALLEST, math.ceil(filled)))
    return _drawn(scene, pixel, centre, width, height)


def _laid_out(
    meshes: Sequence[Mesh], words: Sequence[str], width: int, height: int
) -> tuple[_Scene, float, tuple[float, float]]:
    """The scene in picture coordinates, a pixel [mm], and the middle of the picture [mm]."""
    import numpy as np

    frame = np.array([_RIGHT, _UP, _VIEW])
    turned = [(mesh.points - _middle_of_base(mesh.points)) @ frame.T for mesh in meshes]
    low = min(float(p[:, 1].min()) for p in turned)
    high = max(float(p[:, 1].max()) for p in turned)
    nearest = max(float(p[:, 2].max()) for p in turned)
    wides = [float(np.ptp(p[:, 0])) for p in turned]
    gap = min(0.04, 0.3 / len(meshes)) * width  # pixels, as all here that is not in mm
    across = (1 - 2 * _MARGIN) * width - gap * (len(meshes) - 1)
    along = (1 - 2 * _MARGIN - _CAPTION) * height
    per_letter = [_width_of(line) for line in words]
    letters = min(_LETTERS * height, 0.95 * across / math.fsum(per_letter))
    # Each part has the room of its caption at least, which grows with the pixel; the sum of the
    # captions is less than there is, so the pixel settles.
    pixel = (high - low) / along
    for _ in range(200):
        slots = [max(w, n * letters * pixel) for w, n in zip(wides, per_letter, strict=True)]
        pixel = max((high - low) / along, math.fsum(slots) / across)
    scenes, left = [], 0.0
    for mesh, points, slot, line in zip(meshes, turned, slots, words, strict=True):
        middle = left + slot / 2
        aside = middle - (float(points[:, 0].min()) + float(points[:, 0].max())) / 2
        scenes.append(_part(mesh, points + np.array([aside, 0.0, 0.0])))
        place = middle, low - 0.6 * _CAPTION * height * pixel
        scenes += _caption(line, place, letters * pixel, nearest)
        left += slot + gap * pixel
    middle_up = (low - _CAPTION * height * pixel + high) / 2
    return _joined(scenes), pixel, ((left - gap * pixel) / 2, middle_up)


def _middle_of_base(points: Points) -> Points:
    import numpy as np

    low, high = points.min(axis=0), points.max(axis=0)
    return np.array([(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, low[2]])


def _part(mesh: Mesh, points: Points) -> _Scene:
    """A mesh with its greys, and the lines that are drawn on it."""
    import numpy as np

    normals = _normals(mesh.triangles)
    light = np.array(_LIGHT) / math.hypot(*_LIGHT)
    share = (1.0 + normals @ light) / 2.0
    # A level floor is darker than the level top, or a shallow recess would not be seen.
    heights = mesh.triangles[:, :, 2].mean(axis=1)
    depths = (heights.max() - heights) / max(float(np.ptp(heights)), 1e-9)
    level = normals[:, 2] > 0.9999
    tone = np.where(level, 1.0 - _DEPTH * depths, 1.0)
    greys = (tone * (_DARK + (_BRIGHT - _DARK) * share**1.5)).round().astype(np.uint8)
    return _Scene(points, mesh.facets, greys, _edges(mesh.facets, normals))


def _normals(triangles: Points) -> Points:
    import numpy as np

    across = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    length = np.linalg.norm(across, axis=1, keepdims=True)
    return np.asarray(across / np.maximum(length, 1e-300))


def _edges(facets: NDArray[np.int64], normals: Points) -> NDArray[np.int64]:
    """Edges between facets that meet at an angle, and those where the surface turns away."""
    import numpy as np

    ends = np.sort(np.concatenate([facets[:, [0, 1]], facets[:, [1, 2]], facets[:, [2, 0]]]))
    order = np.lexsort(ends.T)
    pairs, owner = ends[order], np.tile(np.arange(len(facets)), 3)[order]
    twins = np.flatnonzero((pairs[1:] == pairs[:-1]).all(axis=1))
    one, other = owner[twins], owner[twins + 1]
    sharp = (normals[one] * normals[other]).sum(axis=1) < math.cos(math.radians(FEATURE))
    facing = normals @ np.array(_VIEW) > 1e-9
    return np.asarray(pairs[twins[sharp | (facing[one] != facing[other])]])


def _size_in_words(points: Points) -> str:
    size = points.max(axis=0) - points.min(axis=0)
    return " × ".join(f"{round(float(v), 1):g}" for v in size) + " mm"


def _width_of(words: str) -> float:
    """Width of a line over the height of its capitals."""
    parts = lettering([words], width=1e4, depth=1e4, letters=1.0, least=1.0)
    return 2.0 * max(part.bounds[2] for part in parts)


def _caption(
    words: str, place: tuple[float, float], letters: float, nearest: float
) -> Iterator[_Scene]:
    """The size of a part as letters, nearer to the eye than all parts."""
    import numpy as np
    import shapely

    field = 1e4 * letters
    for outline in lettering([words], width=field, depth=field, letters=letters, least=0.0):
        cut = shapely.constrained_delaunay_triangles(outline.moved(*place).polygon())
        flat = shapely.get_coordinates(shapely.get_parts(cut)).reshape(-1, 4, 2)[:, :3]
        flat = flat.reshape(-1, 2)
        points = np.column_stack([flat, np.full(len(flat), nearest)])
        facets = np.arange(len(flat)).reshape(-1, 3)
        greys = np.full(len(facets), _LINE, dtype=np.uint8)
        yield _Scene(points, facets, greys, np.empty((0, 2), dtype=np.int64))


def _joined(scenes: Sequence[_Scene]) -> _Scene:
    import numpy as np

    starts = np.cumsum([0, *(len(scene.points) for scene in scenes[:-1])])
    return _Scene(
        np.concatenate([scene.points for scene in scenes]),
        np.concatenate([s.facets + start for s, start in zip(scenes, starts, strict=True)]),
        np.concatenate([scene.greys for scene in scenes]),
        np.concatenate([s.lines + start for s, start in zip(scenes, starts, strict=True)]),
    )


def _drawn(
    scene: _Scene, pixel: float, centre: tuple[float, float], width: int, height: int
) -> bytes:
    """Draw a scene that is given in picture coordinates, the eye on the third axis."""
    kernel.vtk("vtkRenderingOpenGL2")  # first: it says how what the next line gives is drawn
    core = kernel.vtk("vtkRenderingCore")
    renderer = core.vtkRenderer()
    renderer.SetBackground(1.0, 1.0, 1.0)
    for actor in (_surface(scene, core), _lines(scene, core)):
        renderer.AddActor(actor)
    camera = renderer.GetActiveCamera()
    camera.ParallelProjectionOn()
    far, near = float(scene.points[:, 2].min()), float(scene.points[:, 2].max())
    clear = 0.05 * (near - far) + pixel
    camera.SetFocalPoint(*centre, far)
    camera.SetPosition(*centre, near + 2 * clear)
    camera.SetViewUp(0.0, 1.0, 0.0)
    camera.SetClippingRange(clear, near - far + 3 * clear)
    camera.SetParallelScale(height * pixel / 2)
    for _ in range(_TRIES):
        seen = _rendered(renderer, core, _FINE * width, _FINE * height)
        if seen[0].min() == _WHITE:  # the margin: a busy driver now and then gives all black
            return _png(averaged(seen, _FINE))
    raise KernelMissing(f"the graphics driver drew nothing {_TRIES} times: try again later")


def _rendered(renderer: Any, core: Any, width: int, height: int) -> NDArray[np.uint8]:
    """The greys of a renderer's scene, drawn without a screen."""
    with _quiet():
        window = _window(core)
        window.SetSize(width, height)
        window.SetMultiSamples(0)
        window.AddRenderer(renderer)
        window.Render()
        seen = _read(window)
        window.RemoveRenderer(renderer)
        window.Finalize()
    return seen


def _surface(scene: _Scene, core: Any) -> Any:
    import numpy as np

    data = _data(scene)
    data.SetPolys(_cells(scene.facets))
    colours = np.repeat(scene.greys[:, None], 3, axis=1)
    data.GetCellData().SetScalars(_vtk_array(colours))
    mapper = core.vtkPolyDataMapper()
    mapper.SetInputData(data)
    mapper.SetColorModeToDirectScalars()
    # The surface is set back by a hair, so that the lines on it are not half sunk.
    mapper.SetResolveCoincidentTopologyToPolygonOffset()
    mapper.SetRelativeCoincidentTopologyPolygonOffsetParameters(1.0, 1.0)
    actor = core.vtkActor()
    actor.SetMapper(mapper)
    actor.GetProperty().LightingOff()
    return actor


def _lines(scene: _Scene, core: Any) -> Any:
    data = _data(scene)
    data.SetLines(_cells(scene.lines))
    mapper = core.vtkPolyDataMapper()
    mapper.SetInputData(data)
    actor = core.vtkActor()
    actor.SetMapper(mapper)
    look = actor.GetProperty()
    look.LightingOff()
    look.SetColor(*(_LINE / 255,) * 3)
    look.SetLineWidth(1.5 * _FINE)
    return actor


def _data(scene: _Scene) -> Any:
    points = kernel.vtk("vtkCommonCore").vtkPoints()
    points.SetData(_vtk_array(scene.points))
    data = kernel.vtk("vtkCommonDataModel").vtkPolyData()
    data.SetPoints(points)
    return data


def _cells(corners: NDArray[np.int64]) -> Any:
    import numpy as np

    cells = kernel.vtk("vtkCommonDataModel").vtkCellArray()
    count, size = corners.shape
    starts = np.arange(count + 1, dtype=np.int64) * size
    cells.SetData(_vtk_array(starts), _vtk_array(corners.reshape(-1).astype(np.int64)))
    return cells


def _vtk_array(numbers: NDArray[Any]) -> Any:
    """A copy that VTK owns."""
    import numpy as np

    turn = kernel.vtk("util.numpy_support").numpy_to_vtk
    return turn(np.ascontiguousarray(numbers), deep=True)


def _window(core: Any) -> Any:
    """A window without a screen.

    VTK crashes where it cannot draw, so it is asked first whether it can.
    """
    opengl = kernel.vtk("vtkRenderingOpenGL2")
    if sys.platform.startswith("linux"):
        try:
            ctypes.CDLL("libEGL.so.1")
        except OSError as error:
            raise KernelMissing(kernel.advice(error)) from error
        window = opengl.vtkEGLRenderWindow()  # the plain one would first ask for a screen
    else:
        window = core.vtkRenderWindow()
    window.SetOffScreenRendering(1)
    if not window.SupportsOpenGL():
        raise KernelMissing(
            "pictures of moulds need OpenGL, which no driver here offers: on Linux install Mesa's "
            "(Debian, Ubuntu: libegl-mesa0 and libgl1-mesa-dri); all but pictures works without it"
        )
    return window


@contextmanager
def _quiet() -> Iterator[None]:
    """Keep what VTK says about drivers and screens off stderr; what matters is raised instead."""
    common = kernel.vtk("vtkCommonCore")
    log, objects = common.vtkLogger, common.vtkObject
    told, warned = log.GetCurrentVerbosityCutoff(), objects.GetGlobalWarningDisplay()
    log.SetStderrVerbosity(log.VERBOSITY_OFF)
    objects.SetGlobalWarningDisplay(0)
    try:
        yield
    finally:
        log.SetStderrVerbosity(log.ConvertToVerbosity(told))
        objects.SetGlobalWarningDisplay(warned)


def _read(window: Any) -> NDArray[np.uint8]:
    """What was drawn, greys, the lowest row first."""
    import numpy as np

    across, up = window.GetSize()
    pixels = kernel.vtk("vtkCommonCore").vtkUnsignedCharArray()
    window.GetPixelData(0, 0, across - 1, up - 1, 1, pixels, 0)
    numbers = kernel.vtk("util.numpy_support").vtk_to_numpy(pixels)
    return np.asarray(numbers.reshape(up, across, -1)[:, :, 0], dtype=np.uint8)


def _png(greys: NDArray[np.uint8]) -> bytes:
    image = kernel.vtk("vtkCommonDataModel").vtkImageData()
    up, across = greys.shape
    image.SetDimensions(across, up, 1)
    image.GetPointData().SetScalars(_vtk_array(greys.reshape(-1)))
    writer = kernel.vtk("vtkIOImage").vtkPNGWriter()
    writer.WriteToMemoryOn()
    writer.SetInputData(image)
    writer.Write()
    return bytes(kernel.vtk("util.numpy_support").vtk_to_numpy(writer.GetResult()))
