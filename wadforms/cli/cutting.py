"""The options of machines that cut along lines.

Annotations are values here, as in `wadforms.cli.options`.
"""

from typing import TYPE_CHECKING, Annotated, NamedTuple

import typer

if TYPE_CHECKING:
    from wadforms.cli.reading import Reader
    from wadforms.templates.stencil import Cutting


class CuttingOptions(NamedTuple):
    """How a machine cuts; all of it for stencils alone."""

    kerf: Annotated[
        str | None,
        typer.Option(
            "--kerf",
            help="Of a stencil: width that the beam burns away, 0.15mm; the paths are moved by "
            "half of it, outer ones out and holes in. 0 if not given.",
        ),
    ] = None
    gap: Annotated[
        str | None,
        typer.Option(
            "--gap",
            help="Of a stencil: least distance of two copies, at least 0.1mm; 3mm if not given.",
        ),
    ] = None
    board: Annotated[
        str | None,
        typer.Option(
            "--board",
            help="Of a stencil: what the machine takes, 600x400; as large as it need be if not "
            "given.",
        ),
    ] = None
    stroke: Annotated[
        str | None,
        typer.Option(
            "--stroke", help="Of a stencil: colour of the paths, '#ff0000' or red; else black."
        ),
    ] = None
    hole_stroke: Annotated[
        str | None,
        typer.Option("--hole-stroke", help="Of a stencil: colour of its holes, if it is another."),
    ] = None
    stroke_width: Annotated[
        str | None,
        typer.Option(
            "--stroke-width", help="Of a stencil: width of the drawn lines; 0.1mm if not given."
        ),
    ] = None

    @property
    def given(self) -> dict[str, str]:
        """The options that were given, by what is typed."""
        named = {f"--{name.replace('_', '-')}": text for name, text in self._asdict().items()}
        return {option: text for option, text in named.items() if text is not None}


def read_cutting(options: CuttingOptions, reader: "Reader") -> "Cutting | None":
    """How it is cut; None after a fault, which `reader` then has."""
    from wadforms import units
    from wadforms.errors import BadInput
    from wadforms.templates.stencil import Cutting

    before = len(reader.faults)
    lengths = {
        name: reader.quantity(text, "mm", f"--{name.replace('_', '-')}")
        for name in ("kerf", "gap", "stroke_width")
        if (text := getattr(options, name)) is not None
    }
    board = None
    try:
        board = None if options.board is None else units.extent(options.board, "--board")
    except BadInput as error:
        reader.faults += error.faults
    read = {name: value for name, value in lengths.items() if value == value}  # no NaN
    try:
        made = Cutting(
            **read,
            board=board,
            stroke="black" if options.stroke is None else options.stroke,
            hole_stroke=options.hole_stroke,
        )
    except BadInput as error:
        reader.faults += error.faults
    return made if len(reader.faults) == before else None
