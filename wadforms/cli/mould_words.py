"""What `wadforms mould` answers: for scripts and for people."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from collections.abc import Sequence

    from wadforms.families.base import Piece
    from wadforms.moulds import Kind, Order, Written
    from wadforms.moulds.runs import Run
    from wadforms.setting.mixes import Mix

    Made = list[tuple[Run, Written]]


_USUAL_BED: Final = 220.0  # of many small printers [mm] (common practice, no source)


def answer(made: Made, files: list[str], mix: Mix, body: str, *, written: bool) -> dict[str, Any]:
    """What was made, in the words of JSON; volumes and areas are of one piece."""
    from dataclasses import asdict

    first = made[0][1]
    wet_mass = mix.wet_mass(first.wet_volume_mm3)
    boards = []
    for run, one in made:
        told = asdict(one)
        for part, meant in zip(told["parts"], run.mould.parts, strict=True):
            part["times"] = 1 if meant.once else run.times
            part["files"] = part["files"] if written else []
        boards.append(
            {"times": run.times, "filling_mass_g": run.mould.cavities * wet_mass}
            | {key: told[key] for key in ("cavities", "material_volume_mm3", "parts")}
        )
    shared = asdict(first)
    for key in ("files", "parts", "material_volume_mm3"):
        del shared[key]
    return shared | {
        "cavities": sum(run.times * run.mould.cavities for run, _ in made),
        "wet_mass_g": wet_mass,
        "shrinkage": mix.shrinkage(body),
        "boards": boards,
        **dict(made[0][0].mould.facts),
        "advice": list(made[0][0].mould.advice),
        "body": body,
        "mix": mix.name,
        "files": files,
    }


def together(answers: list[dict[str, Any]], refused: dict[str, str]) -> dict[str, Any]:
    """The answers for several kinds as one."""
    files = [file for one in answers for file in one["files"]]
    return {"moulds": answers, "refused": refused, "files": files}


def lines(
    name: str, kind: Kind, order: Order, mix: Mix, body: str, made: Made, told: dict[str, Any]
) -> list[str]:
    """What was made, for people."""
    from wadforms import units

    first, piece = made[0][1], order.piece
    *mouth, depth = first.wet_size_mm
    kept = 1.0 - order.shrinkage
    found = [
        f"{kind.name.capitalize()} for {name}, set {body}, mix {mix.name!r}:",
        f"  set {units.show_extent(piece.outline.size)} {_level(piece)}, "
        f"{units.show(depth * kept, 'mm')} high; {units.show(first.piece_volume_mm3, 'mm3')}, "
        f"bearing face {units.show(first.contact_top_area_mm2, 'mm2')}",
        f"  wet {units.show_extent(first.wet_outline_size_mm)} {_level(piece)}, "
        f"{units.show_extent(mouth)} at its base, "
        f"{units.show(depth, 'mm')} high; {units.show(first.wet_volume_mm3, 'mm3')}, "
        f"{units.show(told['wet_mass_g'], 'g')}",
        f"  {_shrinking(order.shrinkage, mix, body)}",
    ]
    for board, (run, written) in zip(told["boards"], made, strict=True):
        many = run.mould.cavities
        pieces = "one piece" if many == 1 else f"{many} pieces"
        filling = units.show(board["filling_mass_g"], "g")
        found.append(f"  {pieces} {kind.at_once}, {filling} of wet mix")
        for part, how_often in zip(written.parts, board["parts"], strict=True):
            wall = part.thinnest_wall_mm
            walls = f", thinnest wall {wall:.1f} mm" if wall is not None else ""
            times = how_often["times"]
            often = f", print it {'twice' if times == 2 else f'{times} times'}" if times > 1 else ""
            solid = units.show(part.material_volume_mm3, "mm3")
            found.append(
                f"  {part.part} {units.show_extent(part.size_mm)}, "
                f"{solid} if printed solid{walls}{often}"
            )
    if len(made) > 1 or made[0][0].times > 1:
        found += _in_all(made, told)
    asked, many = order.board.pieces or 0, made[0][0].mould.cavities
    if kind.lasting and asked > many:
        found.append(f"  {asked} pieces take {-(-asked // many)} castings, or one used so often")
    found += [f"  {line}" for line in proof(first.kernel_volume_mm3)]
    return found


def notes(kind: Kind, order: Order, made: Made) -> list[str]:
    """What else is worth a decision before it is printed, for people and scripts."""
    from wadforms.moulds.label import left_out
    from wadforms.moulds.runs import one_bed

    found = []
    board, first = order.board, made[0][0].mould
    words = next((part.words for part in first.parts if part.words), ())
    if kind.letters and (missing := left_out(order.words, words)):
        said = ", ".join(missing)
        found.append(f"{kind.name}: the label has no room for {said}: write it on")
    if board.bed is None:
        for part in made[0][1].parts:
            longest = max(part.size_mm[:2])
            if longest > _USUAL_BED:
                found.append(
                    f"{part.part}: {longest:.0f} mm long, more than many printers' beds "
                    f"({_USUAL_BED:g} mm): give yours with --bed, or fewer --cavities"
                )
    elif (len(made) > 1 or made[0][0].times > 1) and (larger := one_bed(kind, order)):
        wide, deep = larger
        found.append(
            f"{kind.name}: a bed of {wide:g} × {deep:g} mm would take all {board.pieces} on one "
            "board"
        )
        free = board.margin - max(wide - board.bed[0], deep - board.bed[1]) / 2
        if free >= 0.0:
            found[-1] += f", and so would this one with --margin {math.floor(free * 10) / 10:g}mm"
    return found


def namesakes(name: str) -> list[str]:
    """The families that have a family's name in their own.

    Examples
    --------
    >>> namesakes("tripod"), namesakes("disk"), namesakes("tripod-50")
    (['pointed-tripod'], [], [])
    """
    from wadforms.families import families

    if name not in families():
        return []
    return [other for other in families() if other != name and name in other.split("-")]


def how_to(advice: Sequence[str], of: str = "it") -> list[str]:
    """How a mould is used, for people.

    Parameters
    ----------
    advice : sequence of str
        Sentences.
    of : str
        What it is for: a kind, where there are several.

    Examples
    --------
    >>> how_to(["Dust the cavities."], "the tray")
    ['To use the tray:', '  - Dust the cavities.']
    """
    import textwrap

    found = [f"To use {of}:"]
    for sentence in advice:
        found += textwrap.wrap(sentence, 98, initial_indent="  - ", subsequent_indent="    ")
    return found


def _in_all(made: Made, told: dict[str, Any]) -> list[str]:
    """What several boards give together, and how one of them would do."""
    import math

    from wadforms import units

    total, many = told["cavities"], made[0][0].mould.cavities
    mass = units.show(total * told["wet_mass_g"], "g")
    return [
        f"  together {total} pieces, {mass} of wet mix; or one board of {many}, used "
        f"{math.ceil(total / many)} times"
    ]


def _shrinking(shrinkage: float, mix: Mix, body: str) -> str:
    """What the mould is enlarged by."""
    from wadforms import units

    if shrinkage == 0.0:
        return f"not enlarged: a wad that is set {body} has its set size wet"
    share = units.show(shrinkage, "share")
    return f"enlarged so that it has its set size after shrinking {share}, as {mix.name!r} does"


def proof(kernel_volume: float | None) -> list[str]:
    """What was shown of the files.

    Parameters
    ----------
    kernel_volume : float or None
        What the modelling kernel found [mm³]; None where it cannot be loaded.

    Examples
    --------
    >>> proof(None)[-1]
    'volume as meant; without the modelling kernel, a second witness, which cannot be loaded here'
    """
    kernel = (
        "without the modelling kernel, a second witness, which cannot be loaded here"
        if kernel_volume is None
        else "the modelling kernel finds the same"
    )
    return [
        "proven by reading back: closed, clear of itself, no undercut, walls and floors as asked,",
        f"volume as meant; {kernel}",
    ]


def _level(piece: Piece) -> str:
    """Where the outline of a piece is found."""
    if piece.tips and piece.tips.base_area:
        return "where the points begin"
    return "over its bearing face" if piece.faces else "over its top"


def about(name: str) -> dict[str, Any]:
    """A kind with its parameters, in the words of JSON.

    Raises
    ------
    UnknownName
        There is no such kind.
    """
    from wadforms.errors import UnknownName
    from wadforms.moulds import kind, kinds

    if name not in kinds():
        raise UnknownName("--about", name, kinds())
    found = kind(name)
    return {
        "kind": name,
        "summary": found.summary,
        "parameters": [
            {
                "name": p.name,
                "default": p.default,
                "unit": p.unit,
                "range": p.range,
                "help": p.help,
                "source": p.source,
            }
            for p in found.parameters()
        ],
    }


def about_lines(told: dict[str, Any]) -> list[str]:
    """A kind with its parameters, for people."""
    import textwrap

    from wadforms import units

    found = [f"{told['kind']}: {told['summary']}", "", "With --making NAME=VALUE:"]
    for one in told["parameters"]:
        plain = one["unit"] in ("choice", "outline")
        usual = str(one["default"]) if plain else units.show(float(one["default"]), one["unit"])
        found.append(f"  {one['name']} = {usual}  ({one['range']})")
        source = f" ({one['source']})" if one["source"] else ""
        found += textwrap.wrap(
            one["help"] + source, 98, initial_indent="      ", subsequent_indent="      "
        )
    return found
