"""Prints answers: JSON for scripts, short aligned lines for people; talk goes to stderr."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from wadforms import units
from wadforms.setting.assessment import SOUND, VERDICTS

if TYPE_CHECKING:
    from wadforms.setting.assessment import Assessment
    from wadforms.setting.limits import Limit

_MARKS = dict(zip(VERDICTS, "●▲✕", strict=True))


def print_json(answer: dict[str, Any]) -> None:
    """Print an answer as JSON, numbers to six decimals."""
    print(json_text(answer))


def json_text(answer: dict[str, Any]) -> str:
    """An answer as JSON, numbers to six decimals."""
    return json.dumps(_rounded(answer), indent=2, ensure_ascii=False)


def say(*lines: str) -> None:
    """Print lines for people."""
    for line in lines:
        print(line)


def talk(line: str) -> None:
    """Print something that is no part of the answer."""
    print(line, file=sys.stderr)


def table(rows: Iterable[Sequence[str]], indent: str = "  ") -> list[str]:
    """Align columns by their widest cell."""
    rows = [list(row) for row in rows]
    if not rows:
        return []
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    return [
        indent + "  ".join(c.ljust(w) for c, w in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]


def marked(verdict: str) -> str:
    """A verdict with its mark."""
    return f"{_MARKS[verdict]} {verdict}"


def assessment_lines(assessment: Assessment) -> list[str]:
    """An assessment for people: checks, verdict, what would mend it, what was assumed."""
    rows = []
    for check in assessment.checks:
        unit = check.limit.unit
        origin = check.limit.origin
        allowed = check.bound + (f" ({origin})" if origin else "")
        rows.append([marked(check.verdict), check.name, units.show(check.value, unit), allowed])
    lines = table(rows)
    lines += ["", f"Verdict: {assessment.verdict}. {_capital(assessment.reason)}."]
    if assessment.governing.verdict != SOUND:
        lines += [f"Not checked: {missing}." for missing in assessment.unchecked]
    lines += [f"To mend: {mend}." for mend in assessment.mends]
    lines += [f"Note: {note}." for note in assessment.notes]
    lines += ["", "Assumed (test in your own kiln; `wadforms measure` keeps what you find):"]
    lines += [f"  - {text}" for text in assessment.assumed]
    return lines


def assessment_json(assessment: Assessment) -> dict[str, Any]:
    """An assessment for scripts; units stand in the keys."""
    return {
        "load_n": assessment.load,
        "contact_area_mm2": assessment.contact_area,
        "fired_contact_area_mm2": assessment.fired_contact_area,
        "pressure_kpa": assessment.pressure,
        "fired_pressure_kpa": assessment.fired_pressure,
        "limit_kpa": assessment.limit.value,
        "worst_pressure_kpa": assessment.worst_pressure,
        "cold_limit_kpa": assessment.cold_limit.value,
        "tipping_angle_deg": assessment.tipping_angle,
        "spacing_mm": assessment.spacing,
        **assessment.extra,
        "verdict": assessment.verdict,
        "checks": [
            {
                "name": check.name,
                "value": check.value,
                "limit": check.limit.value,
                "unit": check.limit.unit,
                "used": check.used,
                "verdict": check.verdict,
                "mend": check.mend,
                "source": check.limit.source,
                "assumed": check.limit.assumed,
                "readings": _readings(check.limit),
            }
            for check in assessment.checks
        ],
        "per_wad": [
            {
                "x_mm": wad.x,
                "y_mm": wad.y,
                "turn_deg": wad.turn,
                "area_mm2": wad.area,
                "fired_area_mm2": wad.fired_area,
                "used": wad.used,
                "load_n": wad.load,
                "pressure_kpa": wad.pressure,
                "fired_pressure_kpa": wad.fired_pressure,
                "worst_load_n": wad.worst_load,
                "worst_pressure_kpa": wad.worst_pressure,
            }
            for wad in assessment.wads
        ],
        "unchecked": list(assessment.unchecked),
        "notes": list(assessment.notes),
        "assumed": list(assessment.assumed),
    }


def _readings(limit: Limit) -> dict[str, Any] | None:
    """What a measured limit rests on, for scripts, in the limit's unit; None where none is kept."""
    kept = limit.readings
    if kept is None:
        return None
    on = None if kept.on is None else kept.on.isoformat()
    return {"on": on, "n": kept.n, "mean": kept.mean, "spread": kept.spread, "squat": kept.squat}


def _rounded(value: Any) -> Any:
    if isinstance(value, float):
        return round(value, 6) + 0.0  # no minus before a zero
    if isinstance(value, dict):
        return {k: _rounded(v) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [_rounded(v) for v in value]
    return value


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
