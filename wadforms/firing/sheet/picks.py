"""One picture with its words: the wads of touches that are set alike."""

from __future__ import annotations

from wadforms.families.base import SOLID
from wadforms.firing.plan import Chosen, Wads
from wadforms.firing.sheet.parts import Pick
from wadforms.firing.sheet.plain import ASK, advice, figures, laid
from wadforms.setting.assessment import UNSAFE
from wadforms.templates.card_picture import piece_card


def told_alike(one: Chosen) -> tuple[object, ...]:
    """What must agree so that one picture tells two touches, whatever stands on them."""
    wads = one.wads and (one.wads.shape, one.wads.body, one.wads.number)
    words = one.choice and (one.choice.words, one.choice.radius)
    foot = one.touch.pot and one.touch.pot.foot
    return wads, words, foot, None if wads else (one.touch.bare, one.why)


def pick(one: Chosen, *, where: str, touches: int) -> Pick:
    """The picture of a touch of which there are several.

    Parameters
    ----------
    one : Chosen
        One of them.
    where : str
        What they lie between.
    touches : int
        How many there are.
    """
    wads = one.wads
    if wads is None:
        return _nothing(one, where)
    lines = [set_words(wads)]
    if one.choice is not None:
        lines.append(laid(one.choice))
    lines.append(f"{touches} × {wads.number} = {touches * wads.number} pieces, mix {wads.mix.name}")
    return Pick(
        where=where,
        wads=f"{wads.number} × {wads.shape}",
        lines=tuple(lines),
        verdict=one.verdict,
        remarks=() if one.choice is None else advice(one.choice.assessment),
        figures=() if one.choice is None else figures(one.choice.assessment),
        choice=one.choice,
        alone=None if one.choice else piece_card(wads.shape, wads.piece),
    )


def _nothing(one: Chosen, where: str) -> Pick:
    if one.touch.bare:
        return Pick(
            where=where,
            wads="no wads",
            lines=("stands bare, as the list asks",),
            verdict=UNSAFE,
            remarks=("nothing keeps it from sticking",),
            figures=one.why,
        )
    wanted = advice(one.nearest.assessment) if one.nearest is not None else (ASK,)
    return Pick(
        where=where,
        wads="nothing serves",
        lines=("in the picture: what comes nearest",) if one.nearest is not None else (),
        verdict=UNSAFE,
        remarks=tuple(dict.fromkeys([ASK, *wanted])),
        figures=one.why,
        choice=one.nearest,
    )


def set_words(wads: Wads) -> str:
    """How they are set, in words.

    Examples
    --------
    >>> from wadforms.families.disk import Disk
    >>> from wadforms.setting.mixes import mix
    >>> disk = Disk(diameter=20).piece()
    >>> set_words(Wads("disk-20", "solid", disk, mix("fireclay"), 3))
    'set solid, biscuit-fired before'
    >>> set_words(Wads("disk-20", "wet", disk, mix("open"), 3))
    'set wet'
    """
    return "set solid, biscuit-fired before" if wads.body == SOLID else f"set {wads.body}"
