"""Drawings of a slab and what it yields: at full size, or as an overview on one page."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Final

from wadforms.geometry.contour import Contour, Point
from wadforms.geometry.outline import Outline
from wadforms.templates import look, proof
from wadforms.templates.correction import Correction
from wadforms.templates.drawing import Drawing, Item, Region, Text
from wadforms.templates.paper import Paper
from wadforms.templates.scale import chosen_scale, scale_bar, scale_words
from wadforms.templates.slab_layout import SlabLayout
from wadforms.templates.tiles import Grid, grid, tiled
from wadforms.templates.words import folded, measure, plan_size, shortened

if TYPE_CHECKING:
    from shapely import Polygon

_MARGIN: Final = 8.0  # round the slab on the sheet [mm]
_INSET: Final = 1.0  # the same where tiles show it [mm]
_GAP: Final = 8.0
_WORDS: Final = 120.0  # least width of the words beside the square [mm]
_CLEAR: Final = 0.6  # between a label and its outline [mm]


def slab_drawing(
    layout: SlabLayout,
    *,
    title: str,
    facts: Sequence[str] = (),
    overview: Paper | None = None,
    square: bool = True,
) -> Drawing:
    """The slab with every piece, at full size, or as an overview on one sheet of paper.

    Parameters
    ----------
    layout : SlabLayout
        What the slab yields.
    title : str
        What the drawing is called.
    facts : sequence of str
        What else it says.
    overview : Paper, optional
        A sheet that the whole is made to fit; what is not at full size says so.
    square : bool
        Whether a drawing at full size has its own square that proves the scale, and the words
        beside it; tiles bring their square, and an overview the words.

    Examples
    --------
    >>> from wadforms.templates.slab_layout import SlabItem, slab_layout
    >>> found = slab_layout([SlabItem("disk", Outline.circle(20))], slab=(210, 150))
    >>> sheet = slab_drawing(found, title="Disks")
    >>> sheet.width, sheet.height
    (245.6, 280.0)
    """
    width, depth = layout.slab
    items: list[Item]
    if overview is None:
        # Tiles have margins of their own; what is drawn keeps the width of its lines inside.
        margin = _MARGIN if square else _INSET
        at, needed, items = (margin, margin), width, []
        if square:
            beside = proof.WIDTH + _GAP
            needed = max(width, beside + _WORDS)
            texts, high = _words(layout, title, facts, 1.0, needed - beside)
            at = (_MARGIN, _MARGIN + max(proof.HEIGHT, high) + _GAP)
            items += proof.proof((_MARGIN, _MARGIN))
            items += proof.instructions((_MARGIN, _MARGIN))
            items += _moved(texts, _MARGIN + beside, at[1] - _GAP)
        items += _slab(layout, at, 1.0)
        size = needed + 2 * margin, at[1] + depth + margin
    else:
        x0, y0, x1, y1 = overview.box
        # The words depend on the scale only by naming it, so their room is known beforehand.
        room = y1 - y0 - _words(layout, title, facts, 1.0, x1 - x0)[1] - 2 * _GAP
        scale = min(chosen_scale(width, x1 - x0), chosen_scale(depth, room))
        key = _words(layout, title, facts, scale, x1 - x0, overview=True)
        at = (x0 + (x1 - x0 - scale * width) / 2, y1 - key[1] - _GAP - scale * depth)
        items = [*_slab(layout, at, scale), *_moved(key[0], x0, y1)]
        items += scale_bar((x0, at[1] - _GAP), scale)
        size = overview.width, overview.height
    counts = zip(layout.items, layout.counts, strict=True)
    what = ", ".join(f"{count} × {item.name}" for item, count in counts)
    return Drawing(
        title=title,
        description=f"{what} on a slab of {measure(width)} × {measure(depth)} mm, "
        f"{100.0 * layout.waste_share:.1f} % left over.",
        width=size[0],
        height=size[1],
        items=tuple(items),
    )


def slab_pages(
    layout: SlabLayout,
    *,
    title: str,
    facts: Sequence[str] = (),
    paper: Paper,
    correction: Correction | None = None,
) -> tuple[Drawing, ...]:
    """An overview, and the slab at full size on as many sheets as it takes.

    Parameters
    ----------
    layout : SlabLayout
        What the slab yields.
    title : str
        What the drawing is called.
    facts : sequence of str
        What else it says.
    paper : Paper
        What it is printed on.
    correction : Correction or None
        Makes up for a printer that does not print true.

    Raises
    ------
    NotMakeable
        The printer is so far from true that a sheet has no room for the square.
    """
    shown = correction.paper(paper) if correction else paper
    first = slab_drawing(layout, title=title, facts=facts, overview=shown)
    whole = slab_drawing(layout, title=title, square=False)
    sheets = tiled(whole, paper=paper, correction=correction)
    return (correction.drawing(first) if correction else first, *sheets)


def slab_grid(layout: SlabLayout, *, paper: Paper, correction: Correction | None = None) -> Grid:
    """How the sheets of `slab_pages` lie that show the slab at full size.

    Parameters
    ----------
    layout : SlabLayout
        What the slab yields.
    paper : Paper
        What it is printed on.
    correction : Correction or None
        Makes up for a printer that does not print true.

    Examples
    --------
    >>> from wadforms.templates.paper import paper
    >>> from wadforms.templates.slab_layout import SlabItem, slab_layout
    >>> found = slab_layout([SlabItem("disk", Outline.circle(20))], slab=(300, 200))
    >>> taken = slab_grid(found, paper=paper("a4"))
    >>> taken.columns, taken.rows
    (2, 1)
    """
    shown = correction.paper(paper) if correction else paper
    width, depth = (side + 2 * _INSET for side in layout.slab)
    return grid(width, depth, paper=shown)


def _words(
    layout: SlabLayout,
    title: str,
    facts: Sequence[str],
    scale: float,
    width: float,
    *,
    overview: bool = False,
) -> tuple[list[Text], float]:
    """What the slab yields, from (0, 0) down, and how high that is [mm]."""
    slab = f"{measure(layout.slab[0])} × {measure(layout.slab[1])} mm"
    rows = [f"Slab {slab}, {layout.how}, {measure(layout.gap)} mm apart"]
    if layout.edge:
        rows[0] += f", {measure(layout.edge)} mm free along the edges"
    for k, (item, count) in enumerate(zip(layout.items, layout.counts, strict=True)):
        letter = f"{_letter(k)}: " if len(layout.items) > 1 else ""
        rows.append(f"{letter}{count} × {item.name}, {plan_size(item.outline)} mm")
    if layout.sets is not None:
        rows.append(f"{layout.sets} whole sets")
    used, left = 100.0 * layout.yield_share, 100.0 * layout.waste_share
    rows.append(f"Pieces {used:.1f} % of the slab, left over {left:.1f} %")
    rows += facts
    if overview and abs(scale - 1.0) > 1e-9:
        rows.append(f"An overview {scale_words(scale)}: not to cut by")
    else:
        rows.append("At full size: cut along the middle of the line")
    found = [Text((0.0, -5.0), shortened(title, look.TITLE, width), look.TITLE)]
    y = -13.0
    for row in rows:
        for line in folded(row, look.BODY, width):
            found.append(Text((0.0, y), line, look.BODY))
            y -= 5.4
    return found, -y - 2.0


def _moved(texts: Sequence[Text], dx: float, dy: float) -> Iterator[Text]:
    for text in texts:
        yield Text((text.at[0] + dx, text.at[1] + dy), text.text, text.lettering, text.anchor)


def _slab(layout: SlabLayout, corner: Point, scale: float) -> Iterator[Item]:
    """Yield the slab's edge and every piece with its label."""
    (x, y), (width, depth) = corner, layout.slab
    edge = [(0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)]
    slab = Outline(Contour.polygon([(x + scale * a, y + scale * b) for a, b in edge]))
    yield Region(slab, look.DASHED)
    inside = [_middle(item.outline) for item in layout.items]
    drawn: list[list[tuple[Outline, Point]]] = [[] for _ in layout.items]
    for (k, outline), cut in zip(layout.placed(), layout.cuts, strict=True):
        here = outline.scaled(scale).moved(x, y)
        yield Region(here, look.CUT)
        turn = math.radians(cut.spot.turn)
        c, s = math.cos(turn), math.sin(turn)
        (mx, my), spot = inside[k], cut.spot
        at = (x + scale * (c * mx - s * my + spot.x), y + scale * (s * mx + c * my + spot.y))
        drawn[k].append((here, at))
    several = len(layout.items) > 1  # then all by the letters that the words beside explain
    for k, copies in enumerate(drawn):
        yield from _labels(copies, _letter(k) if several else layout.items[k].name)


def _labels(copies: Sequence[tuple[Outline, Point]], word: str) -> Iterator[Text]:
    """Yield the word in every copy, where it stands inside all of them."""
    import shapely

    forms: list[Polygon] = [outline.polygon(0.05).buffer(-_CLEAR) for outline, _ in copies]
    rise, half = look.SMALL.rise, look.SMALL.width(word) / 2
    boxes = [shapely.box(x - half, y - rise / 2, x + half, y + rise / 2) for _, (x, y) in copies]
    if all(form.contains(box) for form, box in zip(forms, boxes, strict=True)):
        for _, (x, y) in copies:
            yield Text((x, y - rise / 2), word, look.SMALL, "middle")


def _middle(outline: Outline) -> Point:
    """Middle of the largest circle inside, where a label has most room."""
    import shapely

    circle = shapely.maximum_inscribed_circle(outline.polygon(0.05), tolerance=0.05)
    x, y = circle.coords[0]
    return float(x), float(y)


def _letter(k: int) -> str:
    """A, B … for the items in their order.

    Examples
    --------
    >>> _letter(0), _letter(27)
    ('A', 'B2')
    """
    return chr(65 + k % 26) + (str(k // 26 + 1) if k >= 26 else "")
