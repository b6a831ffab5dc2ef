"""`wadforms contact`: checks one pot on given wads."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from wadforms.cli.options import (
    Answering,
    ClayOptions,
    PaperOptions,
    PotOptions,
    SettingDrawings,
    ShapeOptions,
    WadOptions,
    Writing,
)

if TYPE_CHECKING:
    from wadforms.families.base import Family
    from wadforms.setting.assessment import Assessment
    from wadforms.setting.pot import Setting

EXAMPLES = """
wadforms contact -w 380g -f 50mm --foot-width 5mm --centre-height 45mm --wad disk-10
wadforms contact -w 35kg -f 240mm --height 600mm --wad disk-40 -n 5 -r 95mm --place firebox
wadforms contact -w 1.6kg --foot-kind side --belly 130mm --share 70% \\
    --wad rail-63 --rail-angle 40 --body wet
wadforms contact -w 900g -f 200mm --foot-width 8mm --wad disk-16 -n 8 --guide guide.pdf
"""


def run(
    pot: PotOptions,
    wads: WadOptions,
    shape: ShapeOptions,
    clay: ClayOptions,
    drawings: SettingDrawings,
    paper: PaperOptions,
    *,
    answering: Answering,
    writing: Writing,
) -> int:
    """Check one pot on given wads: contact, pressure, tipping, spacing."""
    from wadforms.cli.pictures import correction, correction_json, correction_lines, draw_setting
    from wadforms.cli.printing import assessment_lines, print_json, say
    from wadforms.cli.wads import eased_lines, pieces_line
    from wadforms.setting.assessment import UNSAFE

    found = checked(pot, wads, shape, clay)
    name, setting, answer = found.name, found.setting, found.answer
    drawn = draw_setting(pot.name, name, setting, answer, drawings, paper, writing)
    if answering.json:
        print_json(found.told | correction_json(correction(paper)) | drawn.told)
    else:
        say(pieces_line(name, setting), *eased_lines(found.size), "", *assessment_lines(answer))
        say(*drawn.lines, *correction_lines(paper), *(f"Written: {f}" for f in drawn.files))
    return 3 if answer.verdict == UNSAFE else 0


class Checked(NamedTuple):
    """A pot on its wads, and what the check says of it."""

    name: str
    size: Family
    setting: Setting
    answer: Assessment

    @property
    def told(self) -> dict[str, Any]:
        """The answer in the words of JSON."""
        from wadforms.cli.printing import assessment_json
        from wadforms.cli.wads import eased_json, pieces_json

        return {
            "shape": self.name,
            **pieces_json(self.setting),
            **eased_json(self.size),
            **assessment_json(self.answer),
        }


def checked(pot: PotOptions, wads: WadOptions, shape: ShapeOptions, clay: ClayOptions) -> Checked:
    """Check what the options describe.

    Raises
    ------
    BadInput
        With all faults of the first group of options that has any.
    NotMakeable
        The shape makes no piece.

    Examples
    --------
    >>> pot = PotOptions(weight="380g", foot="50mm", foot_width="5mm", centre_height="45mm")
    >>> wads = WadOptions(wad="disk-10")
    >>> checked(pot, wads, ShapeOptions(), ClayOptions(body="dry")).answer.verdict
    'sound'
    """
    from wadforms.cli.reading import (
        read_body,
        read_mix,
        read_place,
        read_pot,
        read_shape,
        read_shear,
        read_spots,
    )
    from wadforms.setting.arrangement import Arrangement
    from wadforms.setting.checks import check
    from wadforms.setting.pot import Setting

    standing = read_pot(pot)
    found, changes = read_shape(wads.wad, shape)
    size = found.sized(changes)
    piece = size.piece()
    body = read_body(clay, found.bodies_of(size))
    setting = Setting(
        pot=standing,
        arrangement=Arrangement(piece, read_spots(wads, standing, piece)),
        body=body,
        mix=read_mix(clay, body),
        place=read_place(clay),
        shear=read_shear(clay),
    )
    return Checked(found.name, size, setting, check(setting))
