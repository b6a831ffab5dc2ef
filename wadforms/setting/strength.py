"""The limits that hold for one setting: its mix, its shape, its place, and what was assumed."""

from __future__ import annotations

from wadforms import units
from wadforms.errors import BadInput, Fault
from wadforms.families.base import WET, Piece
from wadforms.setting.limits import Limit, Place, squash_pressure, squat_factor
from wadforms.setting.mixes import Mix
from wadforms.setting.pot import Setting


def at_heat(setting: Setting, width: float | None = None) -> Limit:
    """Pressure that the even share may reach at top heat [kPa]; see `heat_limit`."""
    return heat_limit(setting.arrangement.piece, setting.mix, setting.place, width)


def heat_limit(piece: Piece, mix: Mix, place: Place, width: float | None = None) -> Limit:
    """Pressure that a piece of this mix bears at top heat in this place [kPa].

    An assumed limit is that of the clay, and a squat piece of it bears more.  A measured one is
    of a whole wad, whose squatness is in it already: it is taken as it is, or reduced for a piece
    that is known to be less squat than those of the test.

    Parameters
    ----------
    piece : Piece
        The wad.
    mix : Mix
        What it is made of.
    place : Place
        Where in the kiln.
    width : float, optional
        Of what touches, where that is narrower than the piece [mm].

    Examples
    --------
    >>> from wadforms.families.disk import Disk
    >>> from wadforms.setting.limits import PLACES
    >>> from wadforms.setting.mixes import mix
    >>> disk = Disk(diameter=12, height=8).piece()
    >>> round(heat_limit(disk, mix("open"), PLACES["sheltered"]).value, 1)
    64.4
    """
    limit = mix.at_heat
    if piece.tips:
        return _placed(_tip(mix), place)
    if not limit.assumed:
        return _placed(
            _as_tested(limit, squat_factor(_narrower(piece, width), piece.height)), place
        )
    factor = squat_factor(_narrower(piece, width), piece.height)
    shown = f"{units.show(limit.value, 'kPa')} × {factor:.2f} for a piece as squat as this"
    squat = limit._replace(value=limit.value * factor, source=f"{limit.source}; {shown}")
    return _placed(squat, place)


def tip_base(setting: Setting) -> Limit:
    """Pressure at the base of a tip at top heat [kPa]: that of the mix, with no help from shape."""
    return _placed(_as_tested(setting.mix.at_heat, 1.0), setting.place)


def _as_tested(limit: Limit, squat: float) -> Limit:
    """A measured limit for a piece with this squat factor: never more than the test's own bore."""
    tested = 1.0 if limit.readings is None else limit.readings.squat
    if squat >= tested:
        return limit
    part = squat / tested
    source = f"{limit.source}; × {part:.2f} for a piece less squat than those"
    return limit._replace(value=limit.value * part, source=source)


def _narrower(piece: Piece, width: float | None) -> float:
    """Width that holds the clay by friction: of the piece, or of what touches of it [mm]."""
    whole = piece.outline.inscribed_width
    return whole if width is None else min(whole, width)


def cold(setting: Setting, width: float | None = None) -> Limit:
    """Pressure that may come about before the kiln is hot [kPa]; see `cold_limit`."""
    piece = setting.arrangement.piece
    return cold_limit(piece, setting.mix, setting.body, setting.shear, width)


def cold_limit(
    piece: Piece, mix: Mix, body: str, shear: Limit, width: float | None = None
) -> Limit:
    """Pressure that a piece may come to bear before the kiln is hot [kPa].

    Soft wads must not squash when set; dry and solid ones must not crush.

    Parameters
    ----------
    piece : Piece
        The wad.
    mix : Mix
        What it is made of.
    body : str
        How it is set.
    shear : Limit
        Shear strength of the wet mix [kPa].
    width : float, optional
        Of what touches, where that is narrower than the piece [mm].

    Examples
    --------
    >>> from wadforms.families.disk import Disk
    >>> from wadforms.setting.limits import SHEAR
    >>> from wadforms.setting.mixes import mix
    >>> disk = Disk(diameter=12, height=8).piece()
    >>> round(cold_limit(disk, mix("open"), "wet", SHEAR["firm"]).value, 1)
    103.1
    """
    if piece.tips:
        return _tip(mix)
    if body == WET:
        limit = squash_pressure(shear.value, _narrower(piece, width), piece.height)
        return Limit(limit, "kPa", f"squash of a soft disc; {shear.source}", shear.assumed)
    crushing = mix.cold
    if crushing.assumed:
        return crushing
    return _as_tested(crushing, squat_factor(_narrower(piece, width), piece.height))


def _tip(mix: Mix) -> Limit:
    if mix.tip is None:
        right = "name a mix with limits.tip, such as 'fireclay'"
        raise BadInput(Fault("mix", repr(mix.name), right))
    return mix.tip


def _placed(limit: Limit, place: Place) -> Limit:
    """What is left of a limit at heat in this place of the kiln."""
    if place.strength == 1.0:
        return limit
    source = f"{limit.source}; × {place.strength:g} at the place {place.name!r}"
    return limit._replace(value=limit.value * place.strength, source=source)


def measured_limits(mix: Mix, heat: Limit, rest: Limit) -> list[str]:
    """What the user measured of the mix and of the limits at heat and while cold, in words."""
    shrinkages = [
        f"mix {mix.name!r} shrinks {units.show(mean, 'share')} in {stage}, up to "
        f"{units.show(limit.value, 'share')}: {limit.source}"
        for stage, mean, limit in _shrinkages(mix)
        if limit is not None
    ]
    return [words for limit, words in _in_words(heat, rest) if not limit.assumed] + shrinkages


def common_assumptions(mix: Mix, heat: Limit, rest: Limit) -> list[str]:
    """Everything assumed about the mix and the limits at heat and while cold, with its source."""
    limits = [words for limit, words in _in_words(heat, rest) if limit.assumed]
    shrinkages = [
        f"{units.show(mean, 'share')} in {stage}"
        for stage, mean, limit in _shrinkages(mix)
        if limit is None
    ]
    if not shrinkages:
        return limits
    return [*limits, f"mix {mix.name!r} shrinks {' and '.join(shrinkages)}: {mix.source}"]


def _shrinkages(mix: Mix) -> tuple[tuple[str, float, Limit | None], ...]:
    return (("drying", mix.drying, mix.drying_limit), ("firing", mix.firing, mix.firing_limit))


def _in_words(heat: Limit, rest: Limit) -> list[tuple[Limit, str]]:
    named = (("limit at top heat", heat), ("limit while cold", rest))
    return [
        (limit, f"{name} {units.show(limit.value, 'kPa')}: {limit.source}") for name, limit in named
    ]
