"""A part in three dimensions, to be turned by pointer, by buttons or by keys."""

from __future__ import annotations

import math

from nicegui import ui

from wadforms.page.inputs import button, tagged
from wadforms.page.pieces import Box

_SIZE = 10.0  # from corner to corner in the scene, whatever it measures
_STEP = 30.0  # degrees a press
_COLOUR = "#b9b3a7"


class Turning:
    """The view; empty until a part is shown.

    Parameters
    ----------
    label : str
        What is seen.
    """

    def __init__(self, label: str) -> None:
        self._around, self._up = -60.0, 35.0
        box = tagged("div", classes="scene", role="group")
        box._props["aria-label"] = label
        with box:
            self._scene = ui.scene(
                width=600,
                height=350,
                grid=False,
                camera=ui.scene.perspective_camera(fov=35.0),
                background_color="#ffffff",
            )
        with ui.element("div").classes("row"):
            for words, turn in (
                ("◀ Turn", (-_STEP, 0.0)),
                ("Turn ▶", (_STEP, 0.0)),
                ("▲ Higher", (0.0, 15.0)),
                ("▼ Lower", (0.0, -15.0)),
            ):
                button(words, lambda turn=turn: self._turn(*turn))  # type: ignore[misc]
        self._look(0.0)

    def show(self, address: str, box: Box) -> None:
        """Show the triangles at an address, which lie in this box [mm]."""
        low, high = box
        scale = _SIZE / math.dist(low, high)
        middle = [-scale * (a + b) / 2 for a, b in zip(low, high, strict=True)]
        self._scene.clear()
        with self._scene:
            self._scene.stl(address).scale(scale).material(_COLOUR).move(*middle)

    def _turn(self, around: float, up: float) -> None:
        self._around += around
        self._up = min(max(self._up + up, -75.0), 89.0)
        self._look(0.3)

    def _look(self, seconds: float) -> None:
        around, up = math.radians(self._around), math.radians(self._up)
        far = 1.6 * _SIZE
        self._scene.move_camera(
            x=far * math.cos(up) * math.cos(around),
            y=far * math.cos(up) * math.sin(around),
            z=far * math.sin(up),
            look_at_x=0.0,
            look_at_y=0.0,
            look_at_z=0.0,
            duration=seconds,
        )
