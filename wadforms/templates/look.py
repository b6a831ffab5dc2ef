"""The look that all drawings share: few greys, one iron red, nothing told by colour alone.

Line widths follow the steps of ISO 128-2 (each about √2 of the next).  The red is dark enough
to print as a dark grey; what it marks is hatched or lettered as well.
"""

from __future__ import annotations

from typing import Final

from wadforms.templates.drawing import Lettering, Style

INK: Final = "#1d1c1a"
SOFT: Final = "#5f5c57"
FAINT: Final = "#aaa69f"
TONE: Final = "#d3cfc7"
TINT: Final = "#eeebe5"
WHITE: Final = "#ffffff"
ACCENT: Final = "#8a3a22"

CUT: Final = Style("cut", INK, 0.25)
"""The line to cut along; its middle is the true outline."""
EDGE: Final = Style("edge", INK, 0.35)
FINE: Final = Style("fine", SOFT, 0.18)
HAIR: Final = Style("hair", FAINT, 0.18)
DASHED: Final = Style("dashed", SOFT, 0.25, dash=(2.4, 1.2))
HIDDEN: Final = Style("hidden", SOFT, 0.18, dash=(1.2, 0.8))
CENTRE: Final = Style("centre", SOFT, 0.18, dash=(4.0, 0.8, 0.5, 0.8))
PROOF: Final = Style("proof", SOFT, 0.18, dash=(0.4, 0.8))
"""A square to measure that lies over a drawing: its sides are nothing to cut along."""
MEASURE: Final = Style("measure", SOFT, 0.18)
SOLID: Final = Style("solid", None, 0.0, INK)

BASE: Final = Style("base", FAINT, 0.18, TINT)
"""The foot of a drafted piece, which stands out beyond its bearing face."""
PLAIN: Final = Style("plain", INK, 0.25, TINT)
"""The part of a piece that bears nothing."""
BEARING: Final = Style("bearing", INK, 0.25, TONE)
"""The face that can touch a pot."""
POCKET: Final = Style("pocket", INK, 0.18, WHITE)
FOOT: Final = Style("foot", SOFT, 0.18, TINT)
POT: Final = Style("pot", SOFT, 0.35, TINT)
WAD: Final = Style("wad", INK, 0.35, WHITE)
PATCH: Final = Style("patch", ACCENT, 0.25, TONE)
PATCH_HATCH: Final = Style("patch hatch", ACCENT, 0.18)
RULE: Final = Style("rule", TONE, 0.25)
PLUMB: Final = Style("plumb", ACCENT, 0.25)

TITLE: Final = Lettering("title", 6.0, INK, bold=True)
HEADING: Final = Lettering("heading", 4.0, INK, bold=True)
BODY: Final = Lettering("body", 3.6, INK)
NOTE: Final = Lettering("note", 3.2, SOFT)
SMALL: Final = Lettering("small", 3.0, INK)
"""The smallest type used: readable at arm's length beside a kiln."""
SMALL_NOTE: Final = Lettering("small note", 3.0, SOFT)
STRONG: Final = Lettering("strong", 3.6, INK, bold=True)
SPOT: Final = Style("spot", INK, 0.18, ACCENT)
SOLID_WHITE: Final = Style("solid white", INK, 0.25, WHITE)
TRACK: Final = Style("track", None, 0.0, TINT)
GAUGE: Final = Style("gauge", None, 0.0, SOFT)
ALARM: Final = Style("alarm", ACCENT, 0.5)
GUESSED: Final = Style("guessed", SOFT, 0.25, TINT, (2.4, 1.2))
BLANK: Final = Style("blank", None, 0.0, WHITE, opacity=0.75)
"""Below a measure: lines fade, but what is there can be seen."""
