"""Reads the lines of a DXF drawing through ezdxf.

Text DXF of any release; nothing is repaired.  Blocks are resolved, other files are not looked
at, and what is on a layer that is off or frozen is not there.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterator, Sequence
from typing import Any, Final

from wadforms.catalogue.outlines.dxf_library import dxf_library
from wadforms.catalogue.outlines.joining import joined
from wadforms.catalogue.outlines.refusal import DEEPEST, Refused, refused, shown
from wadforms.catalogue.outlines.tracing import Affine, Run, Tracer
from wadforms.errors import quoted
from wadforms.geometry.contour import Point

LARGEST_DXF: Final = 1_000_000
"""Largest DXF file that is read [bytes]; the library takes a second for it."""

MOST_RECORDS: Final = 6000
"""As many records (entities, layers, styles, ...) may a DXF file have."""

MOST_DRAWN: Final = 3000
"""As many lines, arcs and blocks may a DXF drawing show, each repetition counted."""

NO_UNIT: Final = "The drawing names no unit: taken as mm."
"""What is said of a file without ``$INSUNITS``."""

_BINARY: Final = b"AutoCAD Binary DXF"
_LOOP: Final = 104  # the library's number of a block within itself
_DRAWN: Final = {11, 16, 103, 104, 108, *range(115, 118), 210, 211, 212, *range(217, 222), 225}
"""Codes of what the audit mends in the drawing itself (`ezdxf.audit.AuditError`); the others are
about looks and bookkeeping, which nobody cuts."""

_MOST_POLES: Final = 2000  # of one spline
_HIGHEST: Final = 11  # degree of a spline
_FRAME: Final = 16  # flag of a vertex that only steers a curve through the others
_LEVEL: Final = 1e-6  # how far a flat drawing may leave its plane, in its own unit


def dxf_runs(data: bytes, tracer: Tracer) -> tuple[list[Run], tuple[str, ...]]:
    """The closed runs of a drawing in mm, y up, and what is to be said of it.

    Raises
    ------
    Refused
        It is no sound drawing, or has something that is no outline.
    """
    text = _text(data)
    document = _document(text)
    unit, notes = _unit(document)
    tracer.to_mm = Affine(unit, 0.0, 0.0, unit, 0.0, 0.0)
    for entity in _entities(document):
        _draw(entity, tracer, unit)
        tracer.end()
    return joined(tracer.runs, shown), notes


def _text(data: bytes) -> str:
    """The text of the file, once it is known to be short and well paired."""
    if data.startswith(_BINARY):
        raise refused("a binary DXF file", "save it as text (ASCII) DXF")
    if b"\0" in data:
        raise refused("a file that is no text", "save it as text (ASCII) DXF")
    if len(data) > LARGEST_DXF:
        given = f"a DXF drawing of more than {LARGEST_DXF} bytes"
        raise refused(given, "save the outline alone, as an older release (R12) perhaps")
    # Only names and texts are not ASCII, and those are not looked at.
    text = data.decode("utf-8-sig", errors="replace")
    lines = text.split("\n")
    records = 0
    for number in range(0, len(lines) - 1, 2):
        code = lines[number].strip()
        if not code.lstrip("-").isdecimal() or len(code) > 5:
            raise refused(f"line {number + 1}: {quoted(code, 30)}", "give a sound DXF file")
        records += code == "0"
        if records > MOST_RECORDS:
            given = f"a DXF drawing of more than {MOST_RECORDS} records"
            raise refused(given, "save the outline alone")
    if "EOF" not in (line.strip() for line in lines[-6:]):
        raise refused("a DXF file that breaks off", "save it anew")
    return text


def _document(text: str) -> Any:
    ezdxf = dxf_library()
    try:
        document = ezdxf.read(io.StringIO(text))
        auditor = document.audit()
    except Exception as error:  # the library promises nothing about files that are not sound
        raise refused("a DXF file that is not sound", f"mend it ({_why(error)})") from None
    found = [*auditor.errors, *(fix for fix in auditor.fixes if fix.code in _DRAWN)]
    # A block within itself is told of each that leads to it too; the last is the block.
    loops = [error for error in found if error.code == _LOOP]
    found = [error for error in found if error.code != _LOOP] + loops[-1:]
    if found:
        faults = [
            ("a DXF file that is not sound", f"mend it ({str(error.message)[:100]})")
            for error in found[:3]
        ]
        raise Refused(*faults)
    return document


def _why(error: Exception) -> str:
    lines = str(error).splitlines()
    return (lines[0] if lines else type(error).__name__)[:100]


def _unit(document: Any) -> tuple[float, tuple[str, ...]]:
    """How many mm a unit of the drawing is."""
    from ezdxf import units
    from ezdxf.enums import InsertUnits

    code = document.header.get("$INSUNITS", 0)
    if code == 0:
        return 1.0, (NO_UNIT,)
    try:
        mm = InsertUnits.Millimeters
        factor = float(units.conversion_factor(InsertUnits(code), mm))
    except Exception:  # a code that the library does not know
        factor = math.nan
    if not 0.0 < factor < math.inf:
        raise refused(f"$INSUNITS {code}", "give 1 (inch), 4 (mm), 5 (cm) or another length")
    return factor, ()


def _entities(document: Any) -> Iterator[Any]:
    """What the model space shows, blocks taken apart."""
    off = {
        layer.dxf.name.lower() for layer in document.layers if layer.is_off() or layer.is_frozen()
    }
    waiting = [(entity, 0) for entity in reversed(list(document.modelspace()))]
    seen = 0
    while waiting:
        entity, depth = waiting.pop()
        seen += 1
        if seen > MOST_DRAWN:
            raise refused(f"a drawing of more than {MOST_DRAWN} elements", "draw a simpler one")
        if entity.dxf.get("invisible", 0) or entity.dxf.get("layer", "0").lower() in off:
            continue
        if entity.dxftype() != "INSERT":
            yield entity
            continue
        if depth >= DEEPEST:
            raise refused(f"blocks more than {DEEPEST} deep", "take the blocks apart")
        waiting += ((part, depth + 1) for part in reversed(_parts(entity)))


def _parts(insert: Any) -> list[Any]:
    """What a block's insertion draws."""
    name = quoted(str(insert.dxf.get("name", "")), 30)
    block = insert.block()
    if block is None:
        raise refused(f"a block {name} that is not there", "save the drawing with its blocks")
    if block.block.is_xref or block.block.is_xref_overlay:
        raise refused(f"a block {name} of another file", "bind it into the drawing")
    many = insert.mcount
    if many * max(1, len(block)) > MOST_DRAWN:
        raise refused(f"a drawing of more than {MOST_DRAWN} elements", "draw a simpler one")
    try:
        each = list(insert.multi_insert()) if many > 1 else [insert]
        return [part for one in each for part in one.virtual_entities()]
    except Exception as error:
        raise refused(f"a block {name} that cannot be placed", f"mend it ({_why(error)})") from None


def _draw(entity: Any, tracer: Tracer, unit: float) -> None:
    kind = entity.dxftype()
    try:
        flat = _upright(entity)
        match kind:
            case "LINE":
                tracer.move(_flat(flat.dxf.start, flat.dxf.end))
                tracer.line(_flat(flat.dxf.end, flat.dxf.start))
            case "CIRCLE":
                _circle(tracer, _flat(flat.dxf.center), flat.dxf.radius, 0.0, 360.0)
            case "ARC":
                turn = (flat.dxf.end_angle - flat.dxf.start_angle) % 360.0 or 360.0
                _circle(tracer, _flat(flat.dxf.center), flat.dxf.radius, flat.dxf.start_angle, turn)
            case "ELLIPSE":
                _ellipse(tracer, flat)
            case "LWPOLYLINE":
                _bulged(tracer, [tuple(map(float, p)) for p in flat.get_points("xyb")], flat.closed)
            case "POLYLINE":
                _polyline(tracer, flat)
            case "SPLINE":
                _spline(tracer, flat, unit)
            case _:
                right = "remove it, or put it on a layer that is off"
                raise refused(f"a {kind[:30]}", right)
    except Refused:
        raise
    except Exception as error:  # the library promises nothing about files that are not sound
        raise refused(f"a {kind[:30]} that is not sound", f"mend it ({_why(error)})") from None


def _upright(entity: Any) -> Any:
    """The entity as seen from above; one that is drawn from below is turned over."""
    if not entity.dxf.hasattr("extrusion"):
        return entity
    x, y, z = entity.dxf.extrusion.normalize()
    if abs(x) > _LEVEL or abs(y) > _LEVEL:
        raise refused(f"a {entity.dxftype()[:30]} that stands upright", "draw the outline flat")
    if z > 0.0 or entity.dxftype() in ("LINE", "ELLIPSE", "SPLINE"):  # those ask no such thing
        return entity
    from ezdxf import upright

    turned = entity.copy()
    upright.upright(turned)
    return turned


def _flat(point: Any, other: Any = None) -> Point:
    x, y, z = (float(ordinate) for ordinate in point)
    if other is not None and not abs(z - other[2]) <= _LEVEL * (1 + abs(z)):
        raise refused(f"a line that leaves the plane near {shown((x, y))}", "draw it flat")
    return x, y


def _circle(tracer: Tracer, centre: Point, radius: float, first: float, turn: float) -> None:
    """An arc that turns counter-clockwise [deg]."""
    if not radius > 0.0:
        raise refused(f"an arc of radius {radius:g}", "give a radius above 0")
    start, turn = math.radians(first), math.radians(turn)
    _around(tracer, centre, (radius, 0.0), (0.0, radius), start, turn)


def _around(tracer: Tracer, centre: Point, u: Point, v: Point, start: float, turn: float) -> None:
    def at(t: float) -> Point:
        c, s = math.cos(t), math.sin(t)
        return centre[0] + u[0] * c + v[0] * s, centre[1] + u[1] * c + v[1] * s

    tracer.move(at(start))
    parts = 2 if turn > math.radians(300.0) else 1
    for k in range(parts):
        last = start + turn * (k + 1) / parts
        tracer.ellipse(centre, u, v, start + turn * k / parts, turn / parts, at(last))


def _ellipse(tracer: Tracer, entity: Any) -> None:
    tool = entity.construction_tool()
    centre = _flat(tool.center)
    u, v = _flat(tool.major_axis, (0, 0, 0)), _flat(tool.minor_axis, (0, 0, 0))
    turn = (tool.end_param - tool.start_param) % math.tau or math.tau
    _around(tracer, centre, u, v, float(tool.start_param), float(turn))


def _bulged(tracer: Tracer, corners: Sequence[tuple[float, ...]], closed: bool) -> None:
    if len(corners) < 2:
        raise refused("a polyline of fewer than two points", "remove it")
    tracer.move(corners[0][:2])  # type: ignore[arg-type]
    onward = [*corners[1:], corners[0]] if closed else corners[1:]
    for (x0, y0, bulge), (x1, y1, _) in zip(corners, onward, strict=False):
        if bulge and (x0, y0) != (x1, y1):
            _bulge(tracer, (x0, y0), (x1, y1), bulge)
        else:
            tracer.line((x1, y1))
    if closed:
        tracer.close()


def _bulge(tracer: Tracer, start: Point, end: Point, bulge: float) -> None:
    """An arc by the tangent of a quarter of its sweep."""
    along = (1.0 - bulge * bulge) / (4.0 * bulge)
    dx, dy = end[0] - start[0], end[1] - start[1]
    x, y = (start[0] + end[0]) / 2 - along * dy, (start[1] + end[1]) / 2 + along * dx
    radius = math.dist((x, y), start)
    first, turn = math.atan2(start[1] - y, start[0] - x), 4.0 * math.atan(bulge)
    tracer.ellipse((x, y), (radius, 0.0), (0.0, radius), first, turn, end)


def _polyline(tracer: Tracer, entity: Any) -> None:
    if entity.is_poly_face_mesh or entity.is_polygon_mesh:
        raise refused("a mesh", "draw the outline flat")
    if entity.is_2d_polyline:
        points = [
            (float(v.dxf.location.x), float(v.dxf.location.y), float(v.dxf.get("bulge", 0.0)))
            for v in entity.vertices
            if not v.dxf.get("flags", 0) & _FRAME
        ]
    else:
        first = entity.vertices[0].dxf.location if entity.vertices else None
        points = [(*_flat(v.dxf.location, first), 0.0) for v in entity.vertices]
    _bulged(tracer, points, bool(entity.is_closed))


def _spline(tracer: Tracer, entity: Any, unit: float) -> None:
    if len(entity.control_points) > _MOST_POLES or len(entity.fit_points) > _MOST_POLES:
        raise refused(f"a spline of more than {_MOST_POLES} points", "draw a simpler one")
    if entity.dxf.get("degree", 3) > _HIGHEST:
        raise refused(f"a spline of a degree above {_HIGHEST}", "draw a simpler one")
    poles = [*entity.control_points, *entity.fit_points, *((k, 0, 0) for k in entity.knots)]
    if not all(math.isfinite(ordinate) for pole in poles for ordinate in pole):
        raise refused("a spline without end", "draw it anew")
    for pole in entity.control_points:
        _flat(pole, entity.control_points[0])
    tool = entity.construction_tool()
    points = [(float(p[0]), float(p[1])) for p in tool.flattening(tracer.error / 2 / unit)]
    tracer.move(points[0])
    for point in points[1:]:
        tracer.line(point)
    if entity.closed:
        tracer.close()
