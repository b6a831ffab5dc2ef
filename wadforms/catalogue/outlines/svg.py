"""Reads the lines of an SVG drawing: groups, repetitions, viewports and transforms resolved.

Nothing is fetched, run or repaired.  How things are painted does not matter: each shape counts
by its edge.  Nothing is cut off at the edge of a viewport.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING, Final, NamedTuple
from xml.etree.ElementTree import ParseError

from wadforms.catalogue.outlines.refusal import DEEPEST, MOST_ELEMENTS, Refused, refused
from wadforms.catalogue.outlines.svg_measures import (
    MM,
    Viewport,
    fitted,
    length,
    transform,
    view_box,
)
from wadforms.catalogue.outlines.svg_shapes import SHAPES
from wadforms.catalogue.outlines.tracing import Affine, Run, Tracer
from wadforms.errors import quoted

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

_SVG: Final = "{http://www.w3.org/2000/svg}"
_LINK: Final = "{http://www.w3.org/1999/xlink}href"
_NOT_DRAWN: Final = {
    *("title", "desc", "metadata", "defs", "symbol", "clipPath", "mask", "marker", "pattern"),
    *("linearGradient", "radialGradient", "filter", "view", "style"),
}
_GROUPS: Final = {"g", "a"}
_RIGHT: Final = {
    "line": "a line encloses nothing: draw the outline as one closed path",
    "text": "turn it into a path",
    "image": "remove it: an outline is drawn, not a picture of one",
    "foreignObject": "remove it",
    "switch": "draw what is meant, without a choice",
    "script": "save it as plain SVG, without scripts",
}
_MOVING: Final = {"animate", "animateMotion", "animateTransform", "set"}
_STYLED: Final = re.compile(
    r"(?:^|[;{\s])(transform(?:-\w+)?|translate|rotate|scale|zoom|clip-path|mask|d|x|y|r|cx|cy|rx"
    r"|ry|width|height|offset-path)\s{0,9}:",
)
_HIDDEN: Final = re.compile(r"(?:^|[;{\s])(?:display\s{0,9}:\s{0,9}none|visibility\s{0,9}:\s{0,9}"
                            r"(?:hidden|collapse))")  # fmt: skip


class _Task(NamedTuple):
    """An element still to be drawn, and what holds where it stands."""

    element: Element
    to_mm: Affine
    view: Viewport
    depth: int
    within: tuple[str, ...] = ()  # the repetitions it stands in
    size: tuple[str | None, str | None] = (None, None)  # what a repetition gives


def svg_runs(data: bytes, tracer: Tracer) -> list[Run]:
    """The runs of a drawing, in mm from its upper left corner, y up.

    Raises
    ------
    Refused
        It is no sound drawing, or has something that cannot be drawn.
    """
    root = _parsed(data)
    _check_styles(root)
    tracer.y_down = True
    ids: dict[str, Element] = {}
    waiting = [_root(root)]
    seen = 0
    while waiting:
        task = waiting.pop()
        seen += 1
        if seen > MOST_ELEMENTS:
            raise _too_many()
        if task.depth > DEEPEST:
            raise refused(f"groups more than {DEEPEST} deep", "take the groups apart")
        name = _local(task.element)
        if name in _NOT_DRAWN or name.startswith("{") or _hidden(task.element):
            continue
        if name in SHAPES:
            tracer.to_mm = _moved(task)
            SHAPES[name](task.element, task.view, tracer)
            _refuse_moving(task.element)
        elif name == "use":
            if not ids:
                ids |= {e.get("id", ""): e for e in reversed(list(root.iter()))}
            waiting.append(_repeated(task, ids))
        elif name in _GROUPS or name == "svg":
            # Drawn in the order of the file, so that the first fault of it is told.
            waiting += reversed(list(_inside(task, name)))
        else:
            raise refused(f"<{name[:30]}>", _RIGHT.get(name, "remove it, or turn it into a path"))
    return tracer.runs


def _too_many() -> Refused:
    return refused(f"a drawing of more than {MOST_ELEMENTS} elements", "draw a simpler one")


def _parsed(data: bytes) -> Element:
    from defusedxml.common import DefusedXmlException, EntitiesForbidden
    from defusedxml.ElementTree import fromstring

    if data.count(b"<") > 4 * MOST_ELEMENTS:  # before any of them takes time
        raise _too_many()
    try:
        root: Element = fromstring(data)
    except EntitiesForbidden:
        right = "save it as plain SVG, without lines that begin with <!ENTITY"
        raise refused("a drawing that declares entities", right) from None
    except DefusedXmlException:
        right = "save it as plain SVG that leans on no other file"
        raise refused("a drawing that refers to another file", right) from None
    except (ParseError, ValueError, LookupError) as error:
        right = f"give an SVG file ({str(error).splitlines()[0][:80]})"
        raise refused("a file that is not sound XML", right) from None
    if _local(root) != "svg":
        raise refused(f"a file of <{_local(root)[:30]}>", "give an SVG file")
    return root


def _local(element: Element) -> str:
    """An element's name without SVG's namespace; foreign ones keep theirs."""
    return str(element.tag).removeprefix(_SVG)


def _check_styles(root: Element) -> None:
    """Refuse what would move or shape a part in a way that is not read here."""
    for element in root.iter():
        name = _local(element)
        if name.startswith("{"):
            continue
        style = (element.text or "") if name == "style" else element.get("style", "")
        if name == "style" and "@import" in style:
            raise refused("a style that refers to another file", "remove that style")
        if found := _STYLED.search(style):
            right = "give it as an attribute of the element, or apply it to the path"
            raise refused(f"the style {found[1]!r}", right)
        if name == "style" and _HIDDEN.search(style):
            raise refused("a style that hides some parts", "remove the parts that are hidden")
        if name == "script" or any(str(key).lower().startswith("on") for key in element.attrib):
            raise refused("a script", _RIGHT["script"])
        if element.get("transform-origin"):
            raise refused("a transform-origin", "apply the transform to the path")


def _hidden(element: Element) -> bool:
    return (
        element.get("display", "").strip() == "none"
        or element.get("visibility", "").strip() in ("hidden", "collapse")
        or _HIDDEN.search(element.get("style", "")) is not None
    )


def _refuse_moving(element: Element) -> None:
    for child in element:
        if _local(child) in _MOVING:
            raise refused(f"<{_local(child)}>", "draw it as it is meant, at rest")


def _root(root: Element) -> _Task:
    if root.get("transform"):
        raise refused("a transform of the whole drawing", "give it to a group inside")
    px, up = MM["px"], Affine(1.0, 0.0, 0.0, -1.0, 0.0, 0.0)
    box = view_box(root)
    if box is None:
        sizes = [_side(root, name) if root.get(name) else None for name in ("width", "height")]
        view = Viewport(*(None if size is None else size / px for size in sizes))
        return _Task(root, up.after(Affine(px, 0.0, 0.0, px, 0.0, 0.0)), view, 0)
    width, height = _side(root, "width"), _side(root, "height")
    fit = fitted(box, width, height, root.get("preserveAspectRatio", ""))
    return _Task(root, up.after(fit), Viewport(box[2], box[3]), 0)


def _side(root: Element, name: str) -> float:
    """Width or height of the drawing [mm]."""
    text = root.get(name, "").strip()
    right = f'give the true {name}, such as {name}="55mm"'
    try:
        side = length(root, name, None) * MM["px"] if text else 0.0
    except Refused:
        raise refused(f"{name} {quoted(text, 30)}", right) from None
    if side <= 0.0:
        raise refused(f"{name} {quoted(text, 30)}" if text else f"no {name}", right)
    return side


def _moved(task: _Task) -> Affine:
    element = task.element
    for name in ("clip-path", "mask"):
        if element.get(name, "none").strip() != "none":
            right = "release it, and draw the outline that is left"
            raise refused(f"a {name}, which cuts some of the drawing off", right)
    text = element.get("transform")
    return task.to_mm.after(transform(text)) if text else task.to_mm


def _inside(task: _Task, name: str) -> Iterator[_Task]:
    """What a group or a viewport holds."""
    _refuse_moving(task.element)
    to_mm, view = _moved(task), task.view
    if name == "svg" and task.depth:
        to_mm, view = _viewport(task, to_mm)
    for child in task.element:
        yield _Task(child, to_mm, view, task.depth + 1, task.within)


def _viewport(task: _Task, to_mm: Affine) -> tuple[Affine, Viewport]:
    """What holds inside an inner viewport."""
    element, view = task.element, task.view
    sizes: list[float | None] = []
    for name, whole, given in zip(("width", "height"), view, task.size, strict=True):
        if given is not None:
            element = _with(element, name, given)
        told = element.get(name, "auto").strip() != "auto"
        sizes.append(length(element, name, whole) if told else whole)
    x, y = length(element, "x", view.width), length(element, "y", view.height)
    to_mm = to_mm.after(Affine(1.0, 0.0, 0.0, 1.0, x, y))
    box = view_box(element)
    if box is None:
        return to_mm, Viewport(*sizes)
    width, height = sizes
    if width is None or height is None or min(width, height) <= 0.0:
        raise refused("an inner <svg> of no size", "give width and height above 0")
    fit = fitted(box, width, height, element.get("preserveAspectRatio", ""))
    return to_mm.after(fit), Viewport(box[2], box[3])


def _with(element: Element, name: str, value: str) -> Element:
    changed = element.makeelement(element.tag, {**element.attrib, name: value})
    changed.extend(list(element))
    return changed


def _repeated(task: _Task, ids: dict[str, Element]) -> _Task:
    """What a <use> draws."""
    element = task.element
    link = (element.get("href") or element.get(_LINK) or "").strip()
    if not link.startswith("#"):
        right = "copy what it stands for into the drawing"
        raise refused(f"a <use> of {quoted(link, 30)}", right)
    target = ids.get(link[1:])
    if target is None or not link[1:]:
        raise refused(f"a <use> of {quoted(link, 30)}", "nothing in the drawing has that id")
    if link in task.within:
        raise refused(f"a <use> of {quoted(link, 30)} within itself", "copy what it stands for")
    x = length(element, "x", task.view.width)
    y = length(element, "y", task.view.height)
    to_mm = _moved(task).after(Affine(1.0, 0.0, 0.0, 1.0, x, y))
    size = (element.get("width"), element.get("height"))
    if _local(target) == "symbol":  # in use it is a viewport like any other
        shown = target.makeelement(f"{_SVG}svg", dict(target.attrib))
        shown.extend(list(target))
        target = shown
    return _Task(target, to_mm, task.view, task.depth + 1, (*task.within, link), size)
