"""`wadforms size`: picks wads for one pot."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from wadforms.cli.options import (
    Among,
    Answering,
    ClayOptions,
    PaperOptions,
    PotOptions,
    SettingDrawings,
    Writing,
)

if TYPE_CHECKING:
    from wadforms.setting.sizing import Sizing

EXAMPLES = """
wadforms size --weight 35kg --foot 240mm --height 600mm --place firebox
wadforms size --weight '5 lb 4 oz' --foot 4in --foot-width 3/8in --height 9in
wadforms size -w 2.4kg -f 360mm --foot-width 12mm --height 60mm --guide platter.pdf
"""


def run(
    pot: PotOptions,
    clay: ClayOptions,
    among: Among,
    drawings: SettingDrawings,
    paper: PaperOptions,
    at_most: Annotated[
        int | None, typer.Option("--at-most", help="Use no more wads than this.")
    ] = None,
    *,
    answering: Answering,
    writing: Writing,
) -> int:
    """Pick wads for one pot: the lightest arrangement within all limits, and why."""
    from wadforms import units
    from wadforms.cli.pictures import (
        SettingFiles,
        correction,
        correction_json,
        correction_lines,
        draw_setting,
    )
    from wadforms.cli.printing import assessment_json, assessment_lines, print_json, say
    from wadforms.cli.wads import pieces_json, pieces_line
    from wadforms.setting.assessment import UNSAFE

    found = picked(pot, clay, among, at_most)
    chosen = found.best or found.refused
    drawn = SettingFiles([], None)
    if found.best is not None:
        best = found.best
        drawn = draw_setting(
            pot.name, best.name, best.setting, best.assessment, drawings, paper, writing
        )
    if answering.json:
        answer: dict[str, object] = {
            "shape": found.best.name if found.best else None,
            "why": list(found.why),
            "runner_up": found.runner_up.sentence if found.runner_up else None,
            "tried": found.tried,
        }
        if found.best:
            answer |= pieces_json(found.best.setting) | assessment_json(found.best.assessment)
            answer |= correction_json(correction(paper))
        else:
            answer |= {"count": None, "radius_mm": None, "verdict": UNSAFE}
            answer["nearest"] = chosen.sentence if chosen else None
        print_json(answer | drawn.told)
    elif found.best is None:
        say(*(f"{reason[:1].upper()}{reason[1:]}." for reason in found.why))
    else:
        best = found.best
        say(
            f"Use {best.sentence}.",
            *(f"  - {reason}" for reason in found.why),
        )
        if found.runner_up:
            second = found.runner_up
            say(f"  - next: {second.sentence}, {units.show(second.mass, 'g')}")
        say("", pieces_line(best.name, best.setting), "", *assessment_lines(best.assessment))
        say(*drawn.lines, *correction_lines(paper), *(f"Written: {f}" for f in drawn.files))
    return 0 if found.best else 3


def picked(pot: PotOptions, clay: ClayOptions, among: Among, at_most: int | None) -> Sizing:
    """Pick wads for what the options describe.

    Raises
    ------
    BadInput
        With all faults of the first group of options that has any.

    Examples
    --------
    >>> found = picked(PotOptions(weight="450g", foot="80mm"), ClayOptions(), Among(), None)
    >>> found.best is not None
    True
    """
    from wadforms.cli.reading import read_mix, read_place, read_pot, read_shear
    from wadforms.errors import BadInput, Fault, UnknownName
    from wadforms.families.base import BODIES
    from wadforms.firing.candidates import candidates
    from wadforms.setting.sizing import bodies_for, size

    if clay.body is not None and clay.body not in BODIES:
        raise UnknownName("--body", clay.body, BODIES)
    if at_most is not None and at_most < 1:
        raise BadInput(Fault("--at-most", str(at_most), "give 1 or more"))
    place = read_place(clay)
    bodies = bodies_for(place, clay.body)
    return size(
        read_pot(pot),
        candidates(among.shape, among.shapes_in, lid=pot.foot_kind == "gallery"),
        place=place,
        shear=read_shear(clay),
        most=at_most,
        mixes={body: mix for body in bodies if body in (mix := read_mix(clay, body)).bodies},
    )
