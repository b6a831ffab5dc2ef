"""Shrinkage.

Source
------
ASTM C326, Standard Test Method for Drying and Firing Shrinkages of Ceramic Whiteware Clays:
drying shrinkage on the plastic length, firing shrinkage on the dry length, volume from linear.
Inputs 6.5 % and 8.0 %: a ball clay data sheet.  Published test bars of 50:50 kaolin and alumina
hydrate with 20 % water: about 5 % in drying, 7.5 % in firing, 12.1 % in all.
"""

from __future__ import annotations

import pytest

from wadforms.setting.mixes import mix
from wadforms.setting.shrinkage import mould_factor, total_shrinkage, volume_shrinkage


@pytest.mark.parametrize(
    ("drying", "firing", "total", "factor", "volume"),
    [
        # Inputs published, results derived by the definitions; rounded as written.
        (0.065, 0.080, 0.1398, 1.16252, 0.3635),
        (0.060, 0.070, 0.1258, 1.143903, 0.331914),
    ],
)
def test_definitions(
    drying: float, firing: float, total: float, factor: float, volume: float
) -> None:
    found = total_shrinkage(drying, firing)
    # Measured along a bar, by the definitions themselves.
    dry = 100.0 * (1 - drying)
    fired = dry * (1 - firing)
    assert found == pytest.approx((100.0 - fired) / 100.0, rel=1e-12)
    assert found == pytest.approx(total, abs=5e-5)
    assert mould_factor(found) == pytest.approx(factor, abs=5e-6)
    assert volume_shrinkage(found) == pytest.approx(volume, abs=5e-5)
    assert volume_shrinkage(found) == pytest.approx(1 - (fired / 100.0) ** 3, rel=1e-12)


def test_adding_up_would_be_wrong() -> None:
    assert total_shrinkage(0.06, 0.07) != pytest.approx(0.13, abs=1e-3)


@pytest.mark.parametrize("name", ["open", "dense"])
def test_published_test_bars(name: str) -> None:
    """The mixes of kaolin and alumina hydrate use those bars' values."""
    # Published to a tenth of a percent.
    assert mix(name).total == pytest.approx(0.121, abs=5e-4)
    assert mix(name).wet_factor("solid") == pytest.approx(1 / (1 - 0.121), rel=5e-4)


def test_ball_clay_data_sheet() -> None:
    assert mix("fireclay").total == pytest.approx(0.1398, abs=5e-5)


def test_a_dry_wad_made_larger_shrinks_to_its_set_and_fired_size() -> None:
    wads = mix("open")
    wet = 40.0 * wads.wet_factor("dry")
    assert wet * (1 - 0.05) == pytest.approx(40.0, rel=1e-12)  # set when dry
    assert 40.0 * wads.fired_factor("dry") == pytest.approx(40.0 * (1 - 0.075), rel=1e-12)
    assert 40.0 * wads.fired_factor("wet") == pytest.approx(40.0 * (1 - 0.121), rel=5e-4)
    assert wads.wet_factor("wet") == 1.0
    assert mix("fireclay").fired_factor("solid") == 1.0  # biscuit-fired before use
