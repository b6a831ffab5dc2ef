"""What is asked for each thing that can be made, and the command that makes it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final, NamedTuple

from wadforms.page.told import SEVERAL, Typed

if TYPE_CHECKING:
    from collections.abc import Sequence

MAKING: Final = "making:"
"""Before the name of a parameter of a kind of mould, as `typed` knows it."""

MOULDS: Final = ("tray", "frame", "cutter", "die", "master")
TICKED: Final = "yes"


class Asked(NamedTuple):
    """One field.

    Parameters
    ----------
    name, label : str
        Its option, without the hyphens in front, and what it is called.
    kinds : tuple of str
        What it is asked for.
    hint : str
        An example, or what happens where it is empty.
    choices : tuple of str
        The words it can be.
    tick : bool
        Whether it is just yes or no.
    """

    name: str
    label: str
    kinds: tuple[str, ...]
    hint: str = ""
    choices: tuple[str, ...] = ()
    tick: bool = False


_PAPER: Final = ("sheet", "slab")
_DRAWN: Final = ("sheet", "stencil", "slab")

FIELDS: Final = (
    Asked("cavities", "Pieces pressed at once", MOULDS, "1 if left empty"),
    Asked("fill-bed", "Or fill a bed of", MOULDS, "220x220"),
    Asked("bed", "The printer's bed", MOULDS, "220x220: more goes on several boards"),
    Asked("margin", "Free along the bed's edges", MOULDS, "5 mm"),
    Asked("size", "Size of the slab", ("slab",), "400x300, 12x12in"),
    Asked("copies", "How many outlines", ("sheet", "stencil"), "1 if left empty"),
    Asked("gap", "Between two pieces", ("stencil", "slab"), "3 mm, 2 mm on a slab"),
    Asked("edge", "Free along the slab's edges", ("slab",), "0"),
    Asked("kerf", "Kerf: what the beam burns away", ("stencil",), "0.15 mm"),
    Asked("board", "Board that the machine takes", ("stencil",), "600x400"),
    Asked("stroke", "Colour of the lines", ("stencil",), "black"),
    Asked("paper", "Paper", _PAPER, choices=("either", "a4", "letter")),
    Asked("square-measured", "The 100 mm square measured", _PAPER, "97 mm, on your last print"),
    Asked("wet", "Draw the size to cut from wet clay", _DRAWN, tick=True),
    Asked("step", "STEP too, for modelling", MOULDS, tick=True),
    Asked("3mf", "3MF too", MOULDS, tick=True),
    Asked("pdf", "As PDF in sheets of paper", _PAPER, tick=True),
    Asked("dxf", "As DXF", ("stencil",), tick=True),
)
"""Every field but shape, kind, body and mix, which all ask for."""

KINDS: Final = (
    ("tray", "Press mould: tray, cavities with a floor"),
    ("frame", "Press mould: frame and pusher"),
    ("cutter", "Slab cutter"),
    ("die", "Extruder's die plate"),
    ("master", "Plaster master"),
    ("sheet", "Template: outlines on paper, to cut by"),
    ("stencil", "Template: stencil, for a machine that cuts along lines"),
    ("slab", "Template: as many as a rolled slab yields"),
)

_FLAGGED: Final = ("step", "3mf", "pdf", "dxf")  # they choose a format and are no options


def command(typed: Typed, folders: Sequence[Path] = ()) -> list[str]:
    """The command that makes what the fields say, in the folder that it runs in.

    Parameters
    ----------
    typed : dict
        What stands in the fields.
    folders : sequence of Path
        The visitor's own shapes.

    Examples
    --------
    >>> command({"shape": "leaf-55", "kind": "stencil", "kerf": "0.2mm", "bed": "220x220"})
    ['template', 'leaf-55', '--kind=stencil', '--kerf=0.2mm', '--out=leaf-55-stencil.svg']
    >>> command({"shape": "disk-25", "kind": "tray", "step": "yes", "making:wall": "4mm"})
    ['mould', 'disk-25', '--kind=tray', '--also=step', '--making=wall=4mm', '--picture']
    """
    kind, shape = typed.get("kind") or "tray", typed.get("shape", "").strip()
    name = "slab" if kind == "slab" else "mould" if kind in MOULDS else "template"
    found = [name, shape or "none"]
    if name != "slab":
        found.append(f"--kind={kind}")
    for field in FIELDS:
        text = typed.get(field.name, "").strip()
        if not text or kind not in field.kinds or field.name in _FLAGGED:
            continue
        found.append(f"--{field.name}" if field.tick else f"--{field.name}={text}")
    for name_ in ("body", "mix"):
        if text := typed.get(name_, "").strip():
            found.append(f"--{name_}={text}")
    found += [f"--with={part}" for part in typed.get("with_", "").split(SEVERAL) if part.strip()]
    found += [f"--shapes-in={folder}" for folder in folders]
    if kind in MOULDS:
        found += [f"--also={form}" for form in ("step", "3mf") if typed.get(form) == TICKED]
        for key, text in sorted(typed.items()):
            if key.startswith(MAKING) and text.strip():
                found.append(f"--making={key.removeprefix(MAKING)}={text.strip()}")
        return [*found, "--picture"]
    stem = f"{_called(typed) or shape or 'none'}-{'outline' if kind == 'sheet' else kind}"
    form = "pdf" if kind in _PAPER else "dxf"
    ending = form if typed.get(form) == TICKED else "svg"
    return [*found, f"--out={stem}.{ending}"]


def _called(typed: Typed) -> str:
    """What a shape out of a drawing is called, as the command that makes a mould calls it."""
    from wadforms.catalogue.keeping import name_for

    for part in typed.get("with_", "").split(SEVERAL):
        name, _, drawing = part.partition("=")
        if name.strip() == "outline":
            return name_for(Path(drawing.strip()))
    return ""
