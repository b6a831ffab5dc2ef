"""`wadforms shapes`: lists the library, or describes one shape."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from wadforms.cli.options import Answering, ShapeOptions, Writing

if TYPE_CHECKING:
    from wadforms.catalogue import Shape
    from wadforms.families.base import Family, Piece

EXAMPLES = """
wadforms shapes
wadforms shapes disk-20
wadforms shapes stand --with arms=6
wadforms shapes --picture library.svg
wadforms shapes --add fish.svg --with width=60mm
"""


def run(
    name: Annotated[
        str | None, typer.Argument(help="A shape or a family; all of them where left out.")
    ] = None,
    picture: Annotated[
        Path | None,
        typer.Option("--picture", help="Draw the shape, or the whole library, into this SVG file."),
    ] = None,
    add: Annotated[
        Path | None,
        typer.Option(
            "--add",
            help="Check an outline (SVG, DXF or a CSV table of points) and add it to your own "
            "shapes, with the parameters given by --with.",
        ),
    ] = None,
    as_: Annotated[
        str | None,
        typer.Option("--as", help="What to call the added shape; named as its file if not given."),
    ] = None,
    into: Annotated[
        Path | None,
        typer.Option(
            "--into",
            help="The folder of shapes to add it to, made if need be; your own one if not given.",
        ),
    ] = None,
    *,
    shape: ShapeOptions,
    answering: Answering,
    writing: Writing,
) -> int:
    """List the shapes, describe one with its parameters, or add one."""
    if add is not None:
        _refuse_beside_add({"NAME": name, "--picture": picture})
        from wadforms.cli.adding import add as add_shape

        return add_shape(add, as_, into, shape=shape, answering=answering, writing=writing)
    _refuse_without_add({"--as": as_, "--into": into})
    if name is None:
        return _list(picture, shape, answering, writing)
    return _describe(name, picture, shape, answering, writing)


def _refuse_beside_add(given: dict[str, object]) -> None:
    for option, value in given.items():
        if value is not None:
            from wadforms.errors import BadInput, Fault

            right = "leave it out: the name of what is added goes after --as"
            if option == "--picture":
                right = "leave it out: add the shape first, and draw it then"
            raise BadInput(Fault(option, "something beside --add", right))


def _refuse_without_add(given: dict[str, object]) -> None:
    for option, value in given.items():
        if value is not None:
            from wadforms.errors import BadInput, Fault

            raise BadInput(Fault(option, "something without effect here", "use it with --add"))


def _list(
    picture: Path | None, options: ShapeOptions, answering: Answering, writing: Writing
) -> int:
    from wadforms.catalogue import shapes
    from wadforms.cli.printing import print_json, say, table
    from wadforms.families import families

    found = shapes(options.shapes_in)
    files = []
    if picture is not None:
        from wadforms.cli.pictures import draw
        from wadforms.templates.library_picture import Specimen, library_picture

        specimens = [Specimen(s.name, s.family, s.piece()) for s in found.values()]
        files = draw(library_picture(specimens), picture, writing)
    if answering.json:
        print_json(
            {
                "shapes": [
                    {
                        "name": s.name,
                        "family": s.family,
                        "summary": s.summary,
                        "parameters": _parameters(s, {}, given_only=True),
                        "bodies": s.bodies,
                    }
                    for s in found.values()
                ],
                "families": {kind.name: kind.summary for kind in families().values()},
                "files": files,
            }
        )
        return 0
    say(*table([s.name, s.family, s.summary] for s in found.values()))
    say("", "Families, to be sized freely with --with (wadforms shapes FAMILY tells how):")
    say(*table([kind.name, kind.summary] for kind in families().values()))
    say(*(f"Written: {file}" for file in files))
    return 0


def _describe(
    name: str, picture: Path | None, options: ShapeOptions, answering: Answering, writing: Writing
) -> int:
    from wadforms.cli.printing import print_json, say, table
    from wadforms.cli.reading import read_shape
    from wadforms.cli.wads import eased_json, eased_lines
    from wadforms.families import family

    found, changes = read_shape(name, options)
    kind = family(found.family)
    needs = [p.name for p in kind.parameters() if p.unit == "outline"]
    if needs and found.name == found.family and not changes.get(needs[0]):
        # The family by itself has no size yet, but its parameters can be told.
        if answering.json:
            print_json({"name": name, "family": name, "parameters": _declared(found)})
        else:
            say(f"{name}: {kind.summary}", "", *_declared_lines(found))
        return 0
    size = found.sized(changes)
    piece = size.piece()
    width, depth = piece.outline.size
    files = []
    if picture is not None:
        from wadforms.cli.pictures import draw
        from wadforms.templates.piece_picture import piece_picture

        drawing = piece_picture(found.name, piece, weak=size.weak_places())
        files = draw(drawing, picture, writing)
    if answering.json:
        print_json(
            {
                "name": found.name,
                "family": found.family,
                "summary": found.summary,
                "bodies": found.bodies,
                "parameters": _parameters(found, changes),
                "declared": _declared(found),
                "size_mm": [width, depth, piece.height],
                "outline_area_mm2": piece.outline.area,
                "contact_top_area_mm2": piece.top_area,
                "piece_volume_mm3": piece.volume,
                "coated_area_mm2": piece.coated_area,
                "source": found.source,
                "note": found.note,
                **eased_json(size),
                "files": files,
            }
        )
        return 0
    say(f"{found.name}: {found.summary}", "")
    say(*table(facts(found, size, piece)), *eased_lines(size), "", *_declared_lines(found, changes))
    say(*(f"Written: {file}" for file in files))
    return 0


def _parameters(
    found: Shape, changes: dict[str, str], *, given_only: bool = False
) -> dict[str, Any]:
    """Values of the parameters; an outline is told by its file."""
    from wadforms.families import family

    if given_only:
        return dict(found.values)
    sized = found.sized(changes)
    values = {**found.values, **changes}
    return {
        p.name: values.get(p.name) if p.unit == "outline" else getattr(sized, p.name)
        for p in family(found.family).parameters()
    }


def _declared(found: Shape) -> list[dict[str, Any]]:
    from wadforms.families import family

    declared = []
    for p in family(found.family).parameters():
        entry: dict[str, Any] = {"name": p.name, "unit": p.unit, "help": p.help}
        if p.choices:
            entry |= {"default": p.default, "choices": p.choices}
        elif p.unit != "outline":
            entry |= {"default": p.default, "low": p.low, "high": p.high}
        declared.append(entry)
    return declared


def _declared_lines(found: Shape, changes: dict[str, str] | None = None) -> list[str]:
    """The parameters: value here, range, what they measure."""
    from wadforms import units
    from wadforms.cli.printing import table
    from wadforms.families import family

    values = {} if changes is None else _parameters(found, changes)
    rows = []
    for p in family(found.family).parameters():
        value = values.get(p.name, p.default)
        number = isinstance(value, int | float)
        shown = units.show(value, p.unit) if number else str(value or "from a file")
        rows.append([p.name, shown, p.range, p.help])
    return ["Parameters, to be changed by --with NAME=VALUE:", *table(rows)]


def facts(found: Shape, size: Family, piece: Piece) -> list[tuple[str, str]]:
    """What a shape of a size is, in words.

    Parameters
    ----------
    found : Shape
        The shape.
    size, piece : Family, Piece
        Its size, and the piece of that size.

    Examples
    --------
    >>> from wadforms.catalogue import find
    >>> disk = find("disk-20")
    >>> facts(disk, disk.sized(), disk.piece())[0]
    ('size', '20 × 20 mm, 8 mm high')
    """
    from wadforms import units
    from wadforms.cli.wads import holes

    told = [
        (
            "size",
            f"{units.show_extent(piece.outline.size)}, {units.show(piece.height, 'mm')} high"
            f"{holes(piece.outline)}",
        ),
        ("bearing face", units.show(piece.top_area, "mm2")),
        ("volume as set", units.show(piece.volume, "mm3")),
        ("brushed with kiln wash", units.show(piece.coated_area, "mm2")),
        ("may be set", ", ".join(found.bodies)),
    ]
    if found.source:
        told.append(("source", found.source))
    if found.note:
        told.append(("note", found.note))
    return told
