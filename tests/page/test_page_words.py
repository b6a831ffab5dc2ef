"""What the page shows of the command line's words: other units, fields in place of options.

The factors are those of NIST Special Publication 811 (2008), appendix B.8, to seven digits.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wadforms.cli.options import PotOptions, WadOptions
from wadforms.page.chosen import head_html
from wadforms.page.jobs import Job
from wadforms.page.make_fields import FIELDS, KINDS, command
from wadforms.page.measures import IMPERIAL, METRIC, shown
from wadforms.page.pots import GROUPS, by_hand, outcome
from wadforms.page.told import arguments, typed_from
from wadforms.page.visit import Site, Visit

NIST = {"mm": (25.4, "in"), "kPa": (6.894757, "psi"), "g": (28.34952, "oz"), "mm²": (645.16, "in²"),
        "m²": (0.09290304, "ft²")}  # fmt: skip


@given(value=st.floats(0.5, 440.0), unit=st.sampled_from(sorted(NIST)))
def test_quantities_agree_with_nist(value: float, unit: str) -> None:
    factor, name = NIST[unit]
    told = shown(f"{value:.2f} {unit}", IMPERIAL)
    number = re.fullmatch(rf"([\d.]+) {re.escape(name)}", told)
    assert number is not None, told
    assert float(number[1]) == pytest.approx(round(value, 2) / factor, rel=6e-3, abs=6e-4)


@given(grams=st.integers(1000, 90_000))
def test_pounds_and_ounces_add_up(grams: int) -> None:
    told = shown(f"{grams / 1000:g} kg", IMPERIAL)
    match = re.fullmatch(r"(\d+) lb(?: ([\d.]+) oz)?", told)
    assert match is not None, told
    back = int(match[1]) * 453.5924 + float(match[2] or 0) * 28.34952
    assert back == pytest.approx(grams, abs=3.0)  # ounces have three digits


@pytest.mark.parametrize(
    "text",
    ["ISO 3, R10", "give '240 mm' or '5 lb'", "11 × square-25", "12.4°", "61 %", "2 g/cm³"],
)
def test_what_is_no_quantity_stays(text: str) -> None:
    assert shown(text, IMPERIAL) == text
    assert shown("240 mm", METRIC) == "240 mm"


POT = {name: st.text(max_size=20) for name in PotOptions._fields if name != "inner_ring"}


@given(typed=st.fixed_dictionaries({}, optional=POT))
def test_what_was_typed_comes_back_whatever_it_was(typed: dict[str, str]) -> None:
    plain = {k: " ".join(v.split()) for k, v in typed.items() if v.strip()}
    assert typed_from([PotOptions, WadOptions], arguments([PotOptions, WadOptions], plain)) == plain


@given(
    typed=st.fixed_dictionaries(
        {"weight": st.text(max_size=8), "foot": st.text(max_size=8), "wad": st.just("disk-20")}
    )
)
def test_nothing_that_is_typed_breaks_the_answer(typed: dict[str, str]) -> None:
    found = outcome(typed)
    assert found.missing or found.faults or found.found is not None


def test_places_by_hand_are_read_back_as_they_were() -> None:
    first = outcome({"weight": "450g", "foot": "80mm", "wad": "rail-63"}).found
    assert first is not None
    spots = first.setting.arrangement.spots
    again = outcome({"weight": "450g", "foot": "80mm", "wad": "rail-63", "at": by_hand(spots)})
    assert again.found is not None
    for one, other in zip(spots, again.found.setting.arrangement.spots, strict=True):
        assert tuple(one) == pytest.approx(tuple(other), abs=0.005)


def test_every_option_of_a_group_is_known_by_its_flag() -> None:
    for group in GROUPS:
        for name in group._fields:
            given = arguments([group], {name: "1"})
            assert given[0].startswith("--")
            assert typed_from([group], given) == {name: "1"}


@pytest.mark.parametrize("kind", [kind for kind, _ in KINDS])
def test_a_kind_is_asked_only_what_its_command_knows(kind: str) -> None:
    from typing import get_type_hints

    from wadforms.cli import mould, slab, template
    from wadforms.cli.cutting import CuttingOptions
    from wadforms.cli.options import MixOptions, PaperOptions, ShapeOptions

    typed = {"shape": "disk-20", "kind": kind, "body": "dry", "mix": "open", "with_": "height=9"}
    typed |= {field.name: "yes" if field.tick else "7" for field in FIELDS}
    name, _, *given = command(typed)
    module = {"mould": mould, "slab": slab, "template": template}[name]
    known = set()
    hints = [get_type_hints(module.run, include_extras=True)]
    groups = [CuttingOptions, MixOptions, PaperOptions, ShapeOptions]
    hints += [get_type_hints(group, include_extras=True) for group in groups]
    for hint in hints:
        for one in hint.values():
            for option in getattr(one, "__metadata__", ()):
                known |= {text for text in (option.default, *(option.param_decls or ()))
                          if isinstance(text, str)}  # fmt: skip
    assert {text.partition("=")[0] for text in given} <= known


def test_a_template_of_a_drawing_is_called_after_the_drawing() -> None:
    typed = {"shape": "custom", "kind": "stencil", "with_": "height=9 | outline=/kept/My Star.svg"}
    assert command(typed)[-1] == "--out=my-star-stencil.svg"
    assert command(typed | {"with_": ""})[-1] == "--out=custom-stencil.svg"


def test_a_firings_head_counts_every_touch(tmp_path: Path) -> None:
    verdicts = ["sound", "tight", None, "sound", "unsafe", None]
    job = Job([], tmp_path)
    job.answer = {
        "touches": [{"verdict": verdict} for verdict in verdicts],
        **{"problems": [], "wads": []},
    }
    told = head_html(job, str)
    counts = re.findall(r"(\d+) (?:sound|tight|unsafe|without load)", told)
    assert sum(map(int, counts)) == len(verdicts)
    assert "2 without load" in told


def test_who_comes_in_from_the_network_is_told_no_folder(tmp_path: Path) -> None:
    site = Site(tmp_path / "made", tmp_path / "kept")
    assert str(tmp_path) in Visit(site, "somebody", {}).at_terminal("one-pot")
    assert Visit(site, "somebody", {}, at_home=False).at_terminal("one-pot") == ""
