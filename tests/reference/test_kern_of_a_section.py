"""Where off-centre weight begins to lift a wad: the kern of three discs.

Source
------
Kern of a section, e = I/(A c): S. Timoshenko, Strength of Materials, Part I, on eccentric
compression (from memory); derived here for three discs of 10 mm radius on a circle of 40 mm.
"""

from __future__ import annotations

import math

import pytest

from wadforms.families.disk import Disk
from wadforms.setting.arrangement import Arrangement, circle
from wadforms.setting.contact import patches
from wadforms.setting.feet import FlatFoot
from wadforms.setting.load import pressure_plane

SMALL, BIG = 10.0, 40.0


def kern() -> tuple[float, float]:
    """How far weight may move away from a wad, and toward it, while all of them press [mm]."""
    area = 3 * math.pi * SMALL**2
    # Each disc has π r⁴/4 about its own middle; Steiner adds A y² with y = R, −R/2, −R/2.
    second = 3 * math.pi * SMALL**4 / 4 + math.pi * SMALL**2 * BIG**2 * (1 + 0.25 + 0.25)
    toward, away = BIG + SMALL, BIG / 2 + SMALL  # extreme fibres on the wad's side and opposite
    return second / (area * toward), second / (area * away)


def test_kern_by_hand() -> None:
    assert kern() == pytest.approx((16.5, 27.5), rel=1e-12)


@pytest.mark.parametrize("angle", [0.0, 90.0, 217.0])
def test_lifting_begins_at_the_kern(angle: float) -> None:
    """Just inside nothing lifts, just outside something does, however the setting is turned."""
    spots = tuple(circle(3, BIG, first=angle))
    found = patches(Arrangement(Disk(diameter=2 * SMALL).piece(), spots), FlatFoot(120.0).zone)
    regions = [patch.region for patch in found]
    ux, uy = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    away, toward = kern()
    for edge in (-away, toward):
        # The polygons stray 0.005 mm from the circle, of 30 to 50 mm to the extreme fibre, and
        # touch it only at corners: the kern may be off by 5e-4 of itself.
        for factor, lifted in ((1 - 5e-4, False), (1 + 5e-4, True)):
            plane = pressure_plane(regions, 100.0, (edge * factor * ux, edge * factor * uy))
            assert plane is not None
            assert plane.lifted is lifted
