"""Adds an outline to the user's own shapes."""

from __future__ import annotations

import math
from pathlib import Path
from typing import TYPE_CHECKING, Final

from wadforms.cli.options import Answering, ShapeOptions, Writing

if TYPE_CHECKING:
    from wadforms.families.custom import Custom

FAMILY: Final = "custom"

_MOST: Final = 5  # places that are told; the others are counted


def add(
    file: Path,
    name: str | None,
    into: Path | None,
    *,
    shape: ShapeOptions,
    answering: Answering,
    writing: Writing,
) -> int:
    """Check an outline and write it into a folder of shapes, as TOML and SVG.

    Raises
    ------
    BadInput
        The outline cannot be used, is weak somewhere, or the name or the folder cannot.
    NotMakeable
        It has no room for its walls.
    WouldOverwrite
        One of the two files is there.
    """
    from wadforms import units
    from wadforms.catalogue.keeping import Entry, name_for, place_for, write_files
    from wadforms.catalogue.outlines import read_drawn
    from wadforms.cli.printing import print_json, say
    from wadforms.cli.reading import read_shape
    from wadforms.cli.wads import eased_json, eased_lines, holes
    from wadforms.families.custom import Custom
    from wadforms.files import shortened
    from wadforms.templates.kept_outline import kept_outline
    from wadforms.templates.svg import svg

    options = shape._replace(with_=[*shape.with_, f"outline={file}"])
    found, changes = read_shape(FAMILY, options)
    name = name if name is not None else name_for(file)
    toml, drawing = place_for(name, into, shape.shapes_in, force=writing.force)
    size = found.sized(changes)
    assert isinstance(size, Custom)  # noqa: S101 - its family says so
    _refuse_weak(size, file)
    piece = size.piece()
    notes = read_drawn(file).notes
    parameters = {key: value for key, value in changes.items() if key != "outline"}
    summary = f"own outline, {units.show_extent(size.drawn.size)}{holes(size.drawn)}"
    entry = Entry(FAMILY, summary, _plain(file.name), parameters, note=" ".join(notes))
    files = []
    picture = svg(kept_outline(size.drawn, name))
    if not writing.dry_run:
        text = entry.toml(name).encode()
        write_files({drawing: picture, toml: text}, force=writing.force)
        files = [str(toml), str(drawing)]
    if answering.json:
        print_json(
            {
                "name": name,
                "family": FAMILY,
                "size_mm": [*piece.outline.size, piece.height],
                "outline_area_mm2": piece.outline.area,
                "piece_volume_mm3": piece.volume,
                "notes": list(notes),
                **eased_json(size),
                "files": files,
            }
        )
        return 0
    say(f"{name}: {entry.summary}", *eased_lines(size), *(f"Written: {path}" for path in files))
    if into is not None and not _looked_into(into):
        say(f"It is found with --shapes-in {shortened(into)}")
    return 0


def _plain(name: str) -> str:
    """The name of a file as one line of text."""
    return "".join(c if c.isprintable() else "?" for c in name)


def _refuse_weak(size: Custom, file: Path) -> None:
    """Refuse an outline that breaks or tears somewhere, with every place.

    Raises
    ------
    BadInput
        It does.
    """
    from wadforms.errors import BadInput, Fault
    from wadforms.families.flat import COUNTED
    from wadforms.files import shortened
    from wadforms.geometry.weakness import NECK

    faults = []
    for place in size.weak_places():
        right = f"make it {size.neck:g} mm or wider"
        if place.kind != NECK:
            right = f"round it to {size.bend:g} mm or more"
        faults.append(Fault(shortened(file), str(place), right))
    if len(faults) > _MOST:
        given = f"the like at {len(faults) - _MOST} more places"
        faults[_MOST:] = [Fault(shortened(file), given, "mend those first")]
    if faults:
        right = f"{faults[-1].right}. Or allow all of them with {_allowing(size)}. {COUNTED}"
        faults[-1] = faults[-1]._replace(right=right)
        raise BadInput(*faults)


def _allowing(size: Custom) -> str:
    """The options with which no place of an outline is told as weak any more."""
    from dataclasses import replace

    from wadforms.geometry.weakness import NECK

    allowed = size
    while weak := allowed.weak_places():
        for place in weak:
            limit = math.floor(place.measure * 10) / 10
            if place.kind == NECK:
                allowed = replace(allowed, neck=min(limit, allowed.neck))
            else:
                allowed = replace(allowed, bend=min(limit, allowed.bend))
    limits = {"neck": allowed.neck, "bend": allowed.bend}
    changed = {name: limit for name, limit in limits.items() if limit != getattr(size, name)}
    return " ".join(f"--with {name}={limit:g}" for name, limit in changed.items())


def _looked_into(folder: Path) -> bool:
    from wadforms.catalogue import user_folders

    return folder.resolve() in {found.resolve() for found in user_folders()}
