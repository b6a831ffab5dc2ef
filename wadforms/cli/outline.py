"""`wadforms outline`: takes the outline of a drawing out of a photo, at true size."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, NamedTuple

import typer

from wadforms.cli.options import Answering, Writing

if TYPE_CHECKING:
    from wadforms.catalogue.photo import Between, Extent, Sheet, Traced
    from wadforms.geometry.contour import Point

_SHEETS = ("a4", "letter")

EXAMPLES = """
wadforms outline leaf.jpg --width 55mm
wadforms outline leaf.jpg --sheet a4 --out leaf.svg
wadforms outline scan.png --from 120,340 --to 980,340 --apart 100mm --near 500,600
"""


class LengthOptions(NamedTuple):
    """The one length in the picture that is known."""

    width: Annotated[
        str | None,
        typer.Option("--width", help="Width of the shape itself, along the picture's rows."),
    ] = None
    height: Annotated[
        str | None,
        typer.Option("--height", help="Or its height, along the picture's columns."),
    ] = None
    sheet: Annotated[
        str | None,
        typer.Option(
            "--sheet",
            help="Or the paper that the shape is on: a4, letter or 150x200mm. It must lie flat "
            "and whole in the picture, on a darker ground; then the camera need not look "
            "straight down.",
        ),
    ] = None
    from_: Annotated[
        str | None,
        typer.Option("--from", help="Or a point of the picture, X,Y in pixels from upper left,"),
    ] = None
    to: Annotated[str | None, typer.Option("--to", help="another point,")] = None
    apart: Annotated[str | None, typer.Option("--apart", help="and how far they are apart.")] = None


class FindingOptions(NamedTuple):
    """Which shape it is, and how it is drawn."""

    near: Annotated[
        str | None,
        typer.Option(
            "--near",
            help="X,Y in pixels of a place in the shape or close by; the largest shape is taken "
            "if not given.",
        ),
    ] = None
    light: Annotated[
        bool, typer.Option("--light", help="The shape is lighter than what is around it.")
    ] = False
    drawn: Annotated[
        str | None,
        typer.Option(
            "--drawn",
            help="filled, or line for a closed line, whose middle is taken; told from the "
            "picture if not given. To say line also helps where shadows fall.",
        ),
    ] = None
    holes: Annotated[bool, typer.Option("--holes", help="Keep holes in a filled shape.")] = False
    smooth: Annotated[
        str | None,
        typer.Option(
            "--smooth",
            help="How far the outline may be moved to make it smooth; 0.2 mm or a pixel if not "
            "given, whichever is larger. Corners stay sharp.",
        ),
    ] = None


def run(
    photo: Annotated[Path, typer.Argument(help="A scan or photo, PNG or JPEG.")],
    out: Annotated[
        Path | None,
        typer.Option("--out", "-o", help="The SVG file; PHOTO-outline.svg if not given."),
    ] = None,
    *,
    length: LengthOptions,
    finding: FindingOptions,
    answering: Answering,
    writing: Writing,
) -> int:
    """Take the outline of a drawing from a photo or scan, at true size, as SVG.

    Beside it goes a picture, its name with -checked.png: the photo with the outline on it. Look
    at it before you use the outline.
    """
    from wadforms.cli.pictures import check_name, refuse_overwrite
    from wadforms.cli.printing import print_json, say
    from wadforms.files import write_all

    path = out or Path(f"{photo.stem}-outline.svg")
    check_name(path, ".svg")
    shown = path.with_name(f"{path.stem}-checked.png")
    for place in (path, shown):
        refuse_overwrite(place, writing)
    _refuse_own(photo, path, shown)
    known = _known(length)
    wanted = _wanted(finding)

    from wadforms.catalogue.photo import overlay, read_photo, traced
    from wadforms.templates.kept_outline import kept_outline
    from wadforms.templates.svg import svg

    picture = read_photo(photo)
    found = traced(picture, known, wanted)
    title = "".join(c if c.isprintable() else "?" for c in photo.stem)
    contents = {path: svg(kept_outline(found.outline, title)), shown: overlay(picture, found)}
    if not writing.dry_run:
        write_all(contents, force=writing.force)
    files = [] if writing.dry_run else [str(place) for place in contents]
    if answering.json:
        print_json({"files": files, **_json(found)})
        return 0
    say(*_lines(found), *(f"Written: {file}" for file in files))
    if files:
        say(f"Look at {shown.name} before you use the outline.")
        say(f"To use it: wadforms template custom --with outline={path}")
    return 0


def _refuse_own(photo: Path, *places: Path) -> None:
    """Refuse to write over the photo, even where files may be replaced."""
    from wadforms.errors import BadInput, Fault
    from wadforms.files import shortened

    for place in places:
        if place.exists() and photo.exists() and place.samefile(photo):
            given = "the photo itself as the place of an answer"
            raise BadInput(Fault(shortened(place), given, "give another name with --out"))


def _known(length: LengthOptions) -> Extent | Between | Sheet:
    from wadforms.catalogue.photo import Between, Extent
    from wadforms.errors import BadInput, Fault

    between = (length.from_, length.to, length.apart)
    ways = [length.width, length.height, length.sheet]
    given = sum(way is not None for way in ways) + any(word is not None for word in between)
    right = "give one of --width, --height, --sheet, or --from, --to and --apart together"
    if given != 1:
        what = "no known length" if not given else "more than one known length"
        raise BadInput(Fault("length", what, right))
    if length.width is not None:
        return Extent("width", _length(length.width, "--width"))
    if length.height is not None:
        return Extent("height", _length(length.height, "--height"))
    if length.sheet is not None:
        return _sheet(length.sheet)
    if length.from_ is None or length.to is None or length.apart is None:
        raise BadInput(Fault("length", "a part of two points and their distance", right))
    start, end = _pixel(length.from_, "--from"), _pixel(length.to, "--to")
    return Between(start, end, _length(length.apart, "--apart"))


def _length(text: str, where: str, least: float = 1.0, most: float = 2000.0) -> float:
    """A length within what makes sense [mm]."""
    from wadforms import units
    from wadforms.errors import BadInput, Fault, quoted

    value = units.parse(text, "mm", where)
    if not least <= value <= most:
        right = f"give {units.show(least, 'mm')} to {units.show(most, 'mm')}"
        raise BadInput(Fault(where, quoted(text), right))
    return value


def _sheet(text: str) -> Sheet:
    """The sheet, and which it might be instead."""
    from wadforms import units
    from wadforms.catalogue.photo import Sheet
    from wadforms.errors import BadInput, Fault, UnknownName, quoted
    from wadforms.templates.paper import PAPERS

    known = {name: Sheet(PAPERS[name].width, PAPERS[name].height, name) for name in _SHEETS}
    name = text.strip().lower()
    if name in known:
        others = tuple(sheet for other, sheet in known.items() if other != name)
        return known[name]._replace(others=others)
    if not any(c.isdigit() for c in text):
        raise UnknownName("--sheet", text, [*known, "150x200mm"])
    sides = units.extent(text, "--sheet")
    if not all(20.0 <= side <= 2000.0 for side in sides):
        raise BadInput(Fault("--sheet", quoted(text), "give sides of 20 mm to 2000 mm"))
    return Sheet(*sides, others=tuple(known.values()))


def _pixel(text: str, where: str) -> Point:
    import re

    from wadforms.errors import BadInput, Fault, quoted

    match = re.fullmatch(r"\s*(\d{1,5}(?:\.\d+)?)\s*[,; ]\s*(\d{1,5}(?:\.\d+)?)\s*", text)
    if match is None:
        raise BadInput(Fault(where, quoted(text), "give X,Y in pixels, such as 120,340"))
    return float(match[1]), float(match[2])


def _wanted(finding: FindingOptions) -> Any:
    from wadforms.catalogue.photo import Wanted
    from wadforms.catalogue.photo.tracing import KINDS
    from wadforms.errors import UnknownName

    told, *kinds = KINDS
    if finding.drawn is not None and finding.drawn not in kinds:
        raise UnknownName("--drawn", finding.drawn, kinds)
    return Wanted(
        near=None if finding.near is None else _pixel(finding.near, "--near"),
        light=finding.light,
        kind=finding.drawn or told,
        holes=finding.holes,
        tolerance=None if finding.smooth is None else _length(finding.smooth, "--smooth", 0.01, 10),
    )


def _lines(found: Traced) -> list[str]:
    from wadforms import units

    outline = found.outline
    what = "filled shape" if found.line_width is None else "line"
    lines = [
        f"{units.show_extent(outline.size)}, {units.show(outline.area, 'mm2')}, "
        f"{found.points} points, {found.corners} sharp corners",
        f"From a {what} around ({found.place[0]:.0f}, {found.place[1]:.0f}) px, a pixel "
        f"{found.resolution:.3f} mm, its edge {found.blur:.2f} mm wide",
        f"Moved by smoothing: {found.moved_most:.3f} mm at most, {found.moved_mean:.3f} mm on "
        f"the mean, of {found.tolerance:.2f} mm allowed",
    ]
    if found.line_width is not None:
        lines.append(f"The line is {found.line_width:.2f} mm wide; the outline is its middle")
    if outline.holes:
        lines.append(f"{_holes(len(outline.holes))} kept")
    if found.left_out:
        holes = _holes(found.left_out)
        lines.append(f"{holes} in it not kept: only its outer edge was taken; --holes keeps them")
    if found.sharpened:
        lines.append(f"Corners drawn out by {found.sharpened:.2f} mm at most")
    if found.equals > 1:
        lines.append(f"{found.equals} shapes are about as large; name another one with --near X,Y")
    return [*lines, *found.notes]


def _holes(count: int) -> str:
    return "1 hole" if count == 1 else f"{count} holes"


def _json(found: Traced) -> dict[str, Any]:
    return {
        "size_mm": list(found.outline.size),
        "area_mm2": found.outline.area,
        "points": found.points,
        "corners": found.corners,
        "holes": len(found.outline.holes),
        "holes_left_out": found.left_out,
        "pixel_mm": found.resolution,
        "edge_width_mm": found.blur,
        "tolerance_mm": found.tolerance,
        "moved_most_mm": found.moved_most,
        "moved_mean_mm": found.moved_mean,
        "sharpened_most_mm": found.sharpened,
        "line_width_mm": found.line_width,
        "place_px": list(found.place),
        "shapes_found": found.among,
        "shapes_as_large": found.equals,
        "assumed": list(found.notes),
    }
