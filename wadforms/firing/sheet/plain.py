"""What a check says, in words for those who set the pots, and lengths as they measure them."""

from __future__ import annotations

import re
from typing import Final

from wadforms.setting.assessment import SOUND, UNSAFE, Assessment, Check
from wadforms.setting.feet import RoundFoot, SideFoot
from wadforms.setting.sizing import Choice
from wadforms.templates.card_picture import apart, by_rule

ASK: Final = "Do not set it like this: tell the leader."

_CARE: Final = "Set it with care, just as the picture shows."

_SAID: Final = {
    "pressure": (
        "The wads bear nearly all that they can: use every one, none cracked, and put nothing "
        "more on top.",
        "It wants more wads, or wider ones.",
    ),
    "tipping": (
        "It tips easily: set it down gently, where nobody brushes against it.",
        "It wants wads farther apart.",
    ),
    "rolls": (
        "It rolls easily: lower it straight into its cradle and let go slowly.",
        "It wants a wider cradle.",
    ),
    "base farthest": ("", "It wants wads in between, too."),
    "spacing": ("", "It wants more wads on that circle."),
    "balance": ("", "The wads must stand all round the middle of its weight."),
    "lifts": ("", "The wads must stand all round the middle of its weight."),
    "wads that touch": ("", "Every wad must lie under the foot."),
    "wall": ("Keep the wads well off the wall.", "It wants narrower wads."),
    "pot and shelf": ("See that nothing but wads touches.", "It wants higher wads."),
    "hollow": ("See that it lies in the whole hollow.", "It wants another cradle."),
    "outward push": (
        "Lower it straight down, so that no wad is pushed over.",
        "It wants a ring, a tripod or a cradle instead of loose wads.",
    ),
}
"""By a word of the check's name: what to do where it is tight, and what is wanted where unsafe."""


def advice(assessment: Assessment) -> tuple[str, ...]:
    """What to do about a setting that is not sound, without a figure.

    Examples
    --------
    >>> from wadforms.setting.assessment import least
    >>> from wadforms.setting.limits import Limit
    >>> lean = Limit(8.0, "deg", "assumed")
    >>> checks = (least("tipping angle", 9.0, lean, sound=12.0),)
    >>> advice(Assessment(4.0, (), lean, lean, 9.0, None, checks, (), ()))
    ('It tips easily: set it down gently, where nobody brushes against it.',)
    """
    if assessment.verdict == SOUND:
        return ()
    said = [ASK] if assessment.verdict == UNSAFE else []
    wrong = [c for c in assessment.checks if c.verdict == assessment.verdict]
    said += [_said(c) for c in sorted(wrong, key=lambda c: -c.used)]
    if assessment.unchecked:
        said.append("Not all of it could be checked: ask the leader before you set it.")
    return tuple(dict.fromkeys(filter(None, said))) or (_CARE,)


def figures(assessment: Assessment) -> tuple[str, ...]:
    """What the advice rests on, and what would mend it, for those who want the figures."""
    if assessment.verdict == SOUND:
        return ()
    return tuple(dict.fromkeys([assessment.reason, *assessment.mends]))


def _said(check: Check) -> str:
    for word, (tight, unsafe) in _SAID.items():
        if word in check.name:
            return unsafe if check.verdict == UNSAFE else tight or _CARE
    return "" if check.verdict == UNSAFE else _CARE


def measured(words: str, *, every: bool = False) -> str:
    """Words whose lengths in mm are as one can measure them: those before their unit, or every one.

    Examples
    --------
    >>> measured("4 on radius 45.1 mm, 1 in the middle")
    '4 on radius 45 mm, 1 in the middle'
    >>> measured("68.2 × 28.1 × 18", every=True)
    '68 × 28 × 18'
    """
    lengths = r"\d+\.\d+" if every else r"\d+\.\d+(?= mm)"
    return re.sub(lengths, lambda found: by_rule(float(found[0])), words)


def laid(choice: Choice) -> str:
    """Where the wads go, in words that can be followed with a rule.

    Examples
    --------
    >>> from wadforms.families.rail import Rail
    >>> from wadforms.setting.arrangement import Arrangement, circle
    >>> from wadforms.setting.checks import check
    >>> from wadforms.setting.mixes import mix
    >>> from wadforms.setting.pot import Pot, Setting
    >>> rails = Arrangement(Rail().piece(), tuple(circle(2, 31.2)))
    >>> bottle = Pot(mass=900.0, foot=SideFoot(95.0))
    >>> setting = Setting(pot=bottle, arrangement=rails, body="wet", mix=mix("open"))
    >>> laid(Choice("rail-63", setting, "", 31.2, 10.0, check(setting)))
    'along the pot, 62 mm apart'
    """
    setting = choice.setting
    spots = setting.arrangement.spots
    if isinstance(setting.pot.foot, RoundFoot) and len(spots) > 1:
        return f"on a circle of radius {by_rule(choice.radius)} mm"
    if not isinstance(setting.pot.foot, SideFoot) or len(spots) < 2:
        return measured(choice.words)
    along, across = apart(setting)
    if along and across:
        return (
            f"two pairs, {by_rule(along)} mm apart along the pot; "
            f"in each pair the wads {by_rule(across)} mm apart"
        )
    if across:
        return f"along the pot, {by_rule(across)} mm apart"
    return f"in one line along the pot, {by_rule(along)} mm apart"
