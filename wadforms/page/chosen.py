"""What was chosen for a firing, as HTML: the words and numbers of the folder's own record."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from html import escape
from pathlib import PurePosixPath
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

from wadforms import units
from wadforms.cli.printing import marked
from wadforms.firing.batch import scoop_words
from wadforms.page.inputs import paragraphs
from wadforms.setting.assessment import UNSAFE, VERDICTS

if TYPE_CHECKING:
    from wadforms.firing.touches import Audit
    from wadforms.page.jobs import Job

Shown = Callable[[str], str]


def audit_html(found: Audit, notes: Sequence[str], shown: Shown) -> str:
    """Every touch with its load, before anything was chosen.

    Parameters
    ----------
    found : Audit
        What touches what.
    notes : sequence of str
        How the list was read.
    shown : callable
        Puts quantities into the visitor's units.
    """
    wanted = [touch for touch in found.touches if not touch.bare]
    bare = len(found.touches) - len(wanted)
    head = f"Kinds of touches that need wads: {len(wanted)}"
    head += f"; without, as the list says: {bare}" if bare else ""
    rows = []
    for touch in found.touches:
        load = "no load" if touch.pot is None else shown(units.show(touch.pot.mass, "g"))
        wads = "none, as the list says" if touch.bare else "to be chosen"
        rows.append(
            f"<tr><th scope='row'>{touch.count} × {escape(touch.name)}</th>"
            f"<td>{escape(load)}</td><td>{wads}</td></tr>"
        )
    return (
        f"<p><b>{head}.</b></p>{_problems(found.problems, shown)}{notes_html(notes, shown)}"
        "<details><summary>What touches what</summary><table class='stack'><thead><tr>"
        "<th scope='col'>Touch</th><th scope='col'>Bears</th><th scope='col'>Wads</th></tr>"
        f"</thead><tbody>{''.join(rows)}</tbody></table></details>"
    )


def head_html(job: Job, shown: Shown) -> str:
    """The verdict on the whole firing, and the folder to take away.

    Parameters
    ----------
    job : Job
        That is done.
    shown : callable
        As for `audit_html`.
    """
    answer = job.answer
    touches = answer["touches"]
    counts = [(v, sum(t["verdict"] == v for t in touches)) for v in VERDICTS]
    unsafe = bool(answer["problems"]) or any(v == UNSAFE and n for v, n in counts)
    worst = UNSAFE if unsafe else next(v for v, n in reversed(counts) if n or v == VERDICTS[0])
    free = sum(t["verdict"] is None for t in touches)
    told = ", ".join(f"{n} {v}" for v, n in (*counts, ("without load", free)) if n)
    kinds = len({(make["shape"], make["body"]) for make in answer["wads"]})
    pieces = sum(make["to_make"] for make in answer["wads"])
    pdf = next((file for file in job.files if file.name == "crew-sheet.pdf"), None)
    paper = ""
    if pdf is not None:
        paper = f'<a class="press" href="{_address(job, pdf.name)}" download>Crew sheet as PDF</a>'
    return "".join(
        [
            f'<div class="verdict {worst}"><p class="word">{marked(worst)}</p>',
            f"<p>Of {len(touches)} kinds of touches: {told}. ",
            f"Kinds of wads: {kinds}. Pieces to make: {pieces}.</p></div>",
            _problems(answer["problems"], shown),
            f'<p class="row"><a class="press" href="/made/{job.id}.zip" download>The folder as a ',
            f"zip: {len(job.files)} files</a> {paper}</p>",
        ]
    )


def touches_html(job: Job, shown: Shown) -> str:
    """What goes where, touch by touch, each with its picture.

    Parameters
    ----------
    job : Job
        That is done.
    shown : callable
        As for `audit_html`.
    """
    rows = []
    for touch in job.answer["touches"]:
        verdict = "no load" if touch["verdict"] is None else marked(touch["verdict"])
        wads = "no wads"
        if touch["shape"]:
            wads = f"{touch['count']} × {touch['shape']}, {touch['body']}"
            if touch["radius_mm"] is not None:
                wads += f", on radius {units.show(touch['radius_mm'], 'mm')}"
        lines = [*touch["why"], *touch["notes"]]
        if touch["nearest"]:
            lines.append(f"nearest: {touch['nearest']}")
        picture = ""
        if touch["picture"]:
            name = PurePosixPath(touch["picture"]).name
            about = f"{touch['name']}, from below and from the side"
            picture = (
                f'<img class="thumb" loading="lazy" src="{_address(job, name)}" '
                f'alt="{escape(about, quote=True)}">'
            )
        rows.append(
            f"<li><details><summary><span class='what'><span>{verdict}</span>"
            f"<b>{touch['times']} × {escape(touch['name'])}</b>"
            f"<span>{escape(shown(wads))}</span></span></summary>"
            f"<ul>{paragraphs([shown(line) for line in lines])}</ul>{picture}</details></li>"
        )
    return f"<h2>What goes where</h2><ul class='goes'>{''.join(rows)}</ul>"


def making_html(answer: dict[str, Any], shown: Shown) -> str:
    """What to make, what to weigh out, the kiln wash, the boxes, and what was assumed.

    Parameters
    ----------
    answer : dict
        The folder's record.
    shown : callable
        As for `audit_html`.
    """
    parts = [_makes(answer, shown)]
    for made in answer["batches"]:
        parts.append(_batch(made, shown))
    wash = answer["kiln_wash"]
    parts.append(
        "<h2>Kiln wash</h2><p>"
        + escape(
            shown(
                f"{units.show(wash['volume_mm3'], 'mm3')}, {units.show(wash['mass_g'], 'g')}, for "
                f"{wash['wads_area_mm2'] / 1e6:.2f} m² of dry and solid wads and "
                f"{wash['shelves_area_mm2'] / 1e6:.2f} m² of shelves. {wash['recipe']}."
            )
        )
        + "</p>"
    )
    boxes = [
        f"<tr><th scope='row'>{escape(box['shape'])}</th><td>{box['body']}</td>"
        f"<td class='number'>{box['number']}</td></tr>"
        for box in answer["boxes_after"]
    ]
    if boxes:
        parts.append(
            "<h2>In the boxes after packing</h2>"
            + _table(("Shape", "Set", "Pieces"), boxes, "What is left in the boxes")
        )
    assumed = paragraphs([shown(text) for text in answer["assumed"]])
    parts.append(
        "<details><summary>Assumed, until you test your own</summary>"
        f"<ul>{assumed}</ul></details><p class='care'>{escape(answer['caution'])}</p>"
    )
    return "".join(parts)


def _makes(answer: dict[str, Any], shown: Shown) -> str:
    if not answer["wads"]:
        return ""
    rows = []
    for make in answer["wads"]:
        cells = [
            make["body"],
            make["mix"],
            str(make["from_stock"]),
            shown(units.show(make["wet_volume_mm3"], "mm3")),
            shown(units.show(make["wet_mass_g"], "g")),
        ]
        if make["minutes"] is not None:
            cells.append(f"{make['minutes']:.0f} min")
        rows.append(
            f"<tr><td class='number'>{make['to_make']}</td>"
            f"<th scope='row'>{escape(make['shape'])}</th>"
            + "".join(f"<td>{escape(cell)}</td>" for cell in cells)
            + "</tr>"
        )
    heads = ["Make", "Shape", "Set", "Mix", "From the boxes", "Wet mix", "It weighs"]
    if any(make["minutes"] is not None for make in answer["wads"]):
        heads.append("Pressing")
    spare = units.show(answer["spare"], "share")
    gap = "".join(f"<p>{escape(said)}</p>" for said in answer["unproven"])
    return f"<h2>What to make, {spare} spare in it</h2>{_table(heads, rows, 'What to make')}{gap}"


def _batch(made: dict[str, Any], shown: Shown) -> str:
    def row(name: str, mass: float, volume: str, scoops: float | None, remark: str) -> str:
        by = [] if scoops is None else [scoop_words(scoops)]
        cells = (shown(units.show(mass, "g")), volume, *by, remark)
        told = "".join(f"<td>{escape(cell)}</td>" for cell in cells)
        return f"<tr><th scope='row'>{escape(name)}</th>{told}</tr>"

    rows = [
        row(
            one["name"],
            one["mass_g"],
            shown(units.show(one["volume_mm3"], "mm3")),
            one["scoops"],
            "burns out" if one["burns_out"] else "",
        )
        for one in made["ingredients"]
    ]
    rows.append(row("water", made["water_g"], "", made["water_scoops"], "the last of it by feel"))
    total = (
        f"{units.show(made['wet_volume_mm3'], 'mm3')}, {units.show(made['wet_mass_g'], 'g')} wet"
    )
    by = [] if made["water_scoops"] is None else ["By the scoop"]
    heads = ("Ingredient", "Weigh out", "Loose, struck off", *by, "Note")
    title = f"Batch of the mix {made['mix']!r}: {shown(total)}"
    return f"<h2>{escape(title)}</h2>{_table(heads, rows, title)}"


def _table(heads: Sequence[str], rows: Sequence[str], caption: str) -> str:
    head = "".join(f"<th scope='col'>{h}</th>" for h in heads)
    return (
        f"<table class='stack'><caption class='heard'>{escape(caption)}</caption>"
        f"<thead><tr>{head}</tr></thead><tbody>{''.join(rows)}</tbody></table>"
    )


def _problems(problems: Sequence[str], shown: Shown) -> str:
    return "".join(f'<p class="fault">✕ {escape(_capital(shown(p)))}.</p>' for p in problems)


def notes_html(notes: Sequence[str], shown: Shown) -> str:
    """What was noted, as HTML.

    Parameters
    ----------
    notes : sequence of str
        In words.
    shown : callable
        As for `audit_html`.
    """
    return paragraphs([f"Note: {shown(note)}." for note in notes], "p")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _address(job: Job, name: str) -> str:
    return escape(f"/made/{job.id}/{quote(name)}", quote=True)
