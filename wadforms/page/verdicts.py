"""An assessment as HTML: the words and numbers of the command line, with marks and bars."""

from __future__ import annotations

from collections.abc import Callable
from html import escape
from typing import TYPE_CHECKING

from wadforms import units
from wadforms.cli.printing import marked
from wadforms.page.inputs import paragraphs
from wadforms.setting.assessment import SOUND

if TYPE_CHECKING:
    from wadforms.cli.contact import Checked
    from wadforms.setting.assessment import Assessment

_FULL = 80.0  # of a bar's width is the limit itself [%]


def verdict_html(answer: Assessment, shown: Callable[[str], str]) -> str:
    """The verdict and what it rests on; what would mend it.

    Parameters
    ----------
    answer : Assessment
        What the check says.
    shown : callable
        Puts quantities into the visitor's units.
    """
    parts = [
        f'<div class="verdict {answer.verdict}"><p class="word">{marked(answer.verdict)}</p>',
        f"<p>{_told(answer.reason, shown)}.</p>",
    ]
    if answer.governing.verdict != SOUND:
        parts += [f"<p>Not checked: {_told(m, shown)}.</p>" for m in answer.unchecked]
    parts += [f"<p><b>To mend:</b> {_told(mend, shown)}.</p>" for mend in answer.mends]
    return "".join([*parts, "</div>"])


def line_html(answer: Assessment) -> str:
    """The verdict alone, to stay in view on a narrow screen.

    Parameters
    ----------
    answer : Assessment
        What the check says.
    """
    return f'<p class="{answer.verdict}">{marked(answer.verdict)}</p>'


def numbers_html(found: Checked, shown: Callable[[str], str]) -> str:
    """Every check beside its limit, what was assumed, and each wad's own numbers."""
    from wadforms.cli.wads import eased_lines, pieces_line

    answer = found.answer
    rows = []
    for check in answer.checks:
        value = units.show(check.value, check.limit.unit)
        origin = f" ({check.limit.origin})" if check.limit.origin else ""
        reach = min(max(check.used, 0.0), 1.25) * _FULL
        bar = f'<span class="bar" aria-hidden="true"><i style="width:{reach:.1f}%"></i></span>'
        rows.append(
            f"<tr><td>{marked(check.verdict)}</td><th scope='row'>{escape(check.name)}</th>"
            f'<td class="number">{_told(value, shown)}</td>'
            f"<td>{_told(check.bound + origin, shown)}{bar}</td></tr>"
        )
    facts = [
        pieces_line(found.name, found.setting),
        f"Contact as set {units.show(answer.contact_area, 'mm2')}, "
        f"at top heat {units.show(answer.fired_contact_area, 'mm2')}",
        *eased_lines(found.size),
        *(f"Note: {note}." for note in answer.notes),
    ]
    return "".join(
        [
            '<table class="stack"><caption class="heard">Every check beside its limit</caption>',
            "<thead><tr><th scope='col'>Verdict</th><th scope='col'>Check</th>",
            "<th scope='col'>Here</th><th scope='col'>Allowed</th></tr></thead><tbody>",
            *rows,
            "</tbody></table>",
            paragraphs([shown(fact) for fact in facts], "p"),
            _wads(found, shown),
            "<h3>Assumed, until you test your own</h3><ul>",
            paragraphs([shown(text) for text in answer.assumed]),
            "</ul>",
        ]
    )


def _wads(found: Checked, shown: Callable[[str], str]) -> str:
    rows = []
    for k, wad in enumerate(found.answer.wads, 1):
        cells = (
            f"({wad.x:.1f}, {wad.y:.1f}) mm",
            f"{wad.turn:.0f}°",
            units.show(wad.area, "mm2"),
            units.show(wad.used, "share"),
            units.show(wad.fired_pressure, "kPa"),
        )
        told = "".join(f"<td>{_told(cell, shown)}</td>" for cell in cells)
        rows.append(f"<tr><th scope='row'>Wad {k}</th>{told}</tr>")
    heads = ("Wad", "Right, back", "Turned", "Touches", "Of its top", "Pressure at heat")
    head = "".join(f"<th scope='col'>{h}</th>" for h in heads)
    return (
        f'<details><summary>Each wad</summary><table class="stack"><thead><tr>{head}</tr></thead>'
        f"<tbody>{''.join(rows)}</tbody></table></details>"
    )


def _told(text: str, shown: Callable[[str], str]) -> str:
    told = shown(text)
    return escape(told[:1].upper() + told[1:])
