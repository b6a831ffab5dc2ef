"""The options of the command line, each declared once, in groups that commands share.

Annotations are values here, not text as elsewhere: typer would evaluate each of them at every
start.
"""

from pathlib import Path
from typing import Annotated, NamedTuple

import typer

from wadforms.families.base import BODIES
from wadforms.setting.limits import PLACES, SHEAR

_LENGTHS = "mm, cm, in; a bare number is mm"


def _words(words: object) -> str:
    return ", ".join(map(str, words))  # type: ignore[call-overload]


class PotOptions(NamedTuple):
    """What stands on the wads."""

    weight: Annotated[
        str, typer.Option("--weight", "-w", help="Weight of the pot: 2.4kg, 850g, '5 lb 4 oz'.")
    ]
    foot: Annotated[
        str | None,
        typer.Option(
            "--foot",
            "-f",
            help=f"Diameter of the foot ({_LENGTHS}); with a gallery, that of the wall around "
            "its ledge.",
        ),
    ] = None
    foot_width: Annotated[
        str | None,
        typer.Option("--foot-width", help="Width of the foot's ring, or of the gallery's ledge."),
    ] = None
    foot_kind: Annotated[
        str | None,
        typer.Option(
            "--foot-kind",
            help="ring, flat, outline, gallery (a lid in its pot), round (bottom) or side (a pot "
            "laid down). Told from the other options where left out.",
        ),
    ] = None
    name: Annotated[str, typer.Option("--name", help="What to call the pot in a picture.")] = "Pot"
    inner_ring: Annotated[
        list[str],
        typer.Option(
            "--inner-ring",
            help="Outside diameter of a further ring within the foot, as wide as the foot's ring.",
        ),
    ] = []
    foot_outline: Annotated[
        Path | None,
        typer.Option(
            "--foot-outline", help="A drawing of the foot's outline: SVG, DXF or a CSV of points."
        ),
    ] = None
    belly: Annotated[
        str | None,
        typer.Option("--belly", help="Diameter of a round bottom's sphere, or of a belly."),
    ] = None
    height: Annotated[str | None, typer.Option("--height", help="Height of the pot.")] = None
    centre_height: Annotated[
        str | None,
        typer.Option("--centre-height", help="Height of its centre of gravity above the foot."),
    ] = None
    off_x: Annotated[
        str, typer.Option("--off-x", help="Centre of gravity off the middle, to the right.")
    ] = "0"
    off_y: Annotated[
        str, typer.Option("--off-y", help="Centre of gravity off the middle, to the back.")
    ] = "0"
    lid: Annotated[str | None, typer.Option("--lid", help="Weight of its lid.")] = None
    stacked: Annotated[
        str | None, typer.Option("--stacked", help="Weight of all that is stacked on it.")
    ] = None
    share: Annotated[
        str, typer.Option("--share", help="Part of the weight that these wads carry.")
    ] = "100%"
    ware: Annotated[
        str | None,
        typer.Option("--ware", help="flat or hollow; told from height and foot where left out."),
    ] = None
    base_thickness: Annotated[
        str | None, typer.Option("--base-thickness", help="Thickness of the base, for its sag.")
    ] = None
    pyroplastic_index: Annotated[
        float | None,
        typer.Option("--pyroplastic-index", help="Of its clay in 1/mm, for the base's sag."),
    ] = None
    clay_file: Annotated[
        Path | None,
        typer.Option(
            "--clay",
            help="A file that `wadforms measure clay-sag` wrote, in place of that number.",
        ),
    ] = None


_Body = Annotated[
    str | None,
    typer.Option(
        "--body",
        "-b",
        help=f"How the wads are set, {_words(BODIES)}: wet is soft when it is set; dry is shaped "
        "and dried first; solid is dense clay of a mix of its own, biscuit-fired before it is "
        "set. Wet where the shape and the mix can be, if not given.",
    ),
]
_Mix = Annotated[
    str | None,
    typer.Option(
        "--mix",
        help="A mix by name (an unknown name lists them), or a TOML file with your own "
        "measurements. The usual one of the body if not given.",
    ),
]


class ClayOptions(NamedTuple):
    """What the wads are made of, and what they meet in the kiln."""

    body: _Body = None
    mix: _Mix = None
    place: Annotated[str, typer.Option("--place", help=f"Where in the kiln: {_words(PLACES)}.")] = (
        "sheltered"
    )
    feel: Annotated[
        str, typer.Option("--feel", help=f"How the wet mix feels to the thumb: {_words(SHEAR)}.")
    ] = "firm"
    measured: Annotated[
        list[str],
        typer.Option(
            "--measured",
            help="A pressure that you measured, in place of the assumed one: at-heat=80kPa (what "
            "the wad bears at top heat without creeping), cold= (what it bears cold, dry or "
            "biscuit-fired), point= (what the flat of a fine tip bears) or shear= (strength of "
            "the wet mix, in place of --feel). Repeat for more.",
        ),
    ] = []


class MixOptions(NamedTuple):
    """What the wads are made of, where nothing is loaded."""

    body: _Body = None
    mix: _Mix = None

    @property
    def clay(self) -> ClayOptions:
        """The same with the defaults of all else, for what reads it."""
        return ClayOptions(body=self.body, mix=self.mix)


class ShapeOptions(NamedTuple):
    """Changes to a shape, and where shapes are found."""

    with_: Annotated[
        list[str],
        typer.Option("--with", "-s", help="Change a parameter: height=12mm. Repeat for more."),
    ] = []
    shapes_in: Annotated[
        list[Path],
        typer.Option("--shapes-in", help="A folder of your own shapes. Repeat for more."),
    ] = []
    ease: Annotated[
        bool,
        typer.Option(
            "--ease",
            help="Fill the gaps and hollow bends of a custom outline that are too tight for its "
            "draft, and say how much that was.",
        ),
    ] = False


class Among(NamedTuple):
    """The shapes that may be chosen."""

    shape: Annotated[
        list[str],
        typer.Option("--shape", help="Choose only among these shapes. Repeat for more."),
    ] = []
    shapes_in: Annotated[
        list[Path],
        typer.Option("--shapes-in", help="A folder of your own shapes. Repeat for more."),
    ] = []


class WadOptions(NamedTuple):
    """Which wads are under the pot, and where."""

    wad: Annotated[
        str, typer.Option("--wad", help="A shape or a family; `wadforms shapes` lists them.")
    ]
    how_many: Annotated[
        int | None,
        typer.Option("--count", "-n", help="How many, evenly on a circle; 3 if not given."),
    ] = None
    radius: Annotated[
        str | None,
        typer.Option(
            "--radius", "-r", help="Of that circle; where the foot bears best if not given."
        ),
    ] = None
    turn: Annotated[
        str, typer.Option("--turn", help="Turns each piece from pointing outward, in degrees.")
    ] = "0"
    circle: Annotated[
        list[str],
        typer.Option(
            "--circle", help="RADIUS:COUNT instead, repeated: 180mm:15; 0:1 is the middle."
        ),
    ] = []
    at: Annotated[
        list[str],
        typer.Option("--at", help="X;Y or X;Y;TURN of one wad instead, repeated: '40mm;-10mm;90'."),
    ] = []
    rail_angle: Annotated[
        str | None,
        typer.Option("--rail-angle", help="How far up a belly two rails touch it, instead."),
    ] = None


class Answering(NamedTuple):
    """How the answer is given."""

    json: Annotated[bool, typer.Option("--json", help="Answer as JSON.")] = False


class Writing(NamedTuple):
    """How files are written."""

    force: Annotated[bool, typer.Option("--force", help="Replace files that are there.")] = False
    dry_run: Annotated[
        bool, typer.Option("--dry-run", help="Do everything but write the files.")
    ] = False


class PaperOptions(NamedTuple):
    """What is printed on, and how true the printer is."""

    paper: Annotated[
        str, typer.Option("--paper", help="a4, letter, or either for what both can print.")
    ] = "either"
    square_measured: Annotated[
        str | None,
        typer.Option(
            "--square-measured",
            help="What the 100 mm square measured on your last print: 97mm. The sheets make up "
            "for it when they are printed the same way.",
        ),
    ] = None


class SettingDrawings(NamedTuple):
    """What is drawn of a setting."""

    picture: Annotated[
        Path | None, typer.Option("--picture", help="Draw the setting into this SVG file.")
    ] = None
    guide: Annotated[
        Path | None,
        typer.Option(
            "--guide",
            help="Draw foot and wads at full size to lay on the shelf, with the mark that will "
            "stay and the places in numbers: a PDF in sheets of paper, or SVG files.",
        ),
    ] = None


class ListOptions(NamedTuple):
    """How the table of a firing was saved."""

    encoding: Annotated[
        str | None,
        typer.Option("--encoding", help="How the CSV was saved, where it is not told right."),
    ] = None
    sheet: Annotated[
        str | None,
        typer.Option("--sheet", help="Which sheet of an XLSX file; the first if not given."),
    ] = None


class ChoosingOptions(NamedTuple):
    """How the wads of a firing are chosen together."""

    stock: Annotated[
        Path | None,
        typer.Option(
            "--shapes-in-stock",
            help="What is in the boxes, to be used first: a table of shape, body and count. "
            "Soft pieces do not keep. Those out of the boxes get no spare.",
        ),
    ] = None
    at_most: Annotated[
        int | None, typer.Option("--at-most", help="Make at most so many kinds of wads.")
    ] = None
    seconds: Annotated[
        float, typer.Option("--seconds", help="How long to look for the least mix.")
    ] = 20.0


class MakingOptions(NamedTuple):
    """What a firing's wads are made of, and how."""

    spare: Annotated[
        str, typer.Option("--spare", help="How many pieces to make on top, as a share: 10%.")
    ] = "10%"
    rate: Annotated[
        float | None,
        typer.Option("--pieces-an-hour", help="How many are pressed in an hour, to tell the time."),
    ] = None
    mix: Annotated[
        list[str],
        typer.Option("--mix", help="A mix for the bodies it suits. Repeat for more."),
    ] = []
    feel: Annotated[
        str, typer.Option("--feel", help=f"How the wet mix feels: {_words(SHEAR)}.")
    ] = "firm"
    scoop: Annotated[
        str | None,
        typer.Option("--scoop", help="What your scoop holds, to weigh out by it: 400ml."),
    ] = None
    moulds: Annotated[
        bool, typer.Option("--moulds/--without-moulds", help="Make a press tray for each shape.")
    ] = True
    bed: Annotated[str, typer.Option("--bed", help="The printer's bed, for the press trays.")] = (
        "220x220"
    )


class CrewSheetOptions(NamedTuple):
    """The sheet for the crew."""

    paper: Annotated[
        str, typer.Option("--paper", help="Of the crew sheet as PDF: a4 or letter.")
    ] = "a4"
    title: Annotated[
        str | None,
        typer.Option("--title", help="What the firing is called; as the list if not given."),
    ] = None
    date: Annotated[
        str,
        typer.Option("--date", help="Of the firing, as it is to be printed: '21 November'."),
    ] = ""
