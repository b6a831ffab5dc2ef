"""Where wads are tried under feet that are no circles."""

from __future__ import annotations

import pytest

from wadforms.catalogue import find
from wadforms.geometry.contour import Contour
from wadforms.geometry.outline import Outline
from wadforms.setting.feet import FlatFoot, OutlineFoot
from wadforms.setting.layouts import layouts
from wadforms.setting.pot import Pot

TRAY = OutlineFoot(Outline(Contour.polygon([(-150, -30), (150, -30), (150, 30), (-150, 30)])))
ELL = OutlineFoot(
    Outline(Contour.polygon([(-60, -90), (100, -90), (100, -30), (0, -30), (0, 90), (-60, 90)]))
)


def test_two_rails_lie_where_a_tray_sags_least() -> None:
    """Overhang 0.223149 of the length: least sag of a uniform bar, computed in tests/reference."""
    pot = Pot(mass=1000.0, foot=TRAY, height=30.0)
    (pair,) = (
        one for one in layouts(pot, find("rail-63").piece()) if one.words.startswith("across")
    )
    a, b = pair.spots
    assert a.x - b.x == pytest.approx((1 - 2 * 0.223149) * 300, abs=0.01)
    assert (a.y, b.y) == (0.0, 0.0)
    assert {a.turn, b.turn} == {90.0}


def test_a_curved_band_is_no_rail() -> None:
    pot = Pot(mass=1000.0, foot=TRAY, height=30.0)
    found = layouts(pot, find("arc-100").piece())
    assert not any(one.words.startswith("across") for one in found)


def test_rows_keep_to_the_outline() -> None:
    pot = Pot(mass=3000.0, foot=ELL, height=200.0)
    piece = find("disk-20").piece()
    rows = [one for one in layouts(pot, piece) if "rows" in one.words]
    assert rows
    for one in rows:
        for spot in one.spots:
            assert ELL.zone.contains(spot.place(piece.body.base).polygon())


def test_no_layout_has_more_wads_than_asked() -> None:
    pot = Pot(mass=3000.0, foot=FlatFoot(400.0), height=40.0)
    piece = find("disk-20").piece()
    assert all(len(one.spots) <= 5 for one in layouts(pot, piece, 5))
