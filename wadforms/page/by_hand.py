"""Wads moved by hand on the plan of a pot: by dragging, by keys and by buttons."""

from __future__ import annotations

from abc import abstractmethod
from typing import TYPE_CHECKING, Any, Final

from wadforms.page import pots

if TYPE_CHECKING:
    from wadforms.page.inputs import Plan
    from wadforms.page.pots import Picture
    from wadforms.page.told import Typed
    from wadforms.setting.arrangement import Spot

STEP: Final = 1.0  # of an arrow key [mm]
FINE: Final = 0.1
TURN: Final = 15.0  # of a key [deg]
FINE_TURN: Final = 1.0


class ByHand:
    """What a hand does to the wads, which `typed` takes up as places."""

    plan: Plan
    typed: Typed
    drawn: Picture | None
    spots: list[Spot]
    at: int

    @abstractmethod
    def _put(self, name: str, text: str) -> None: ...

    @abstractmethod
    def _later(self) -> None: ...

    def _chosen(self, event: Any) -> None:
        self.at = int(event.args)
        self.plan.choose(self.at)

    def _moved(self, event: Any) -> None:
        k, x, y, _ = event.args
        if self.drawn is not None and 0 <= k < len(self.spots):
            left, back = self.drawn.spot(float(x), float(y))
            self._place(k, x=left, y=back)

    def _turned(self, event: Any) -> None:
        k, x, y, _ = event.args
        if self.drawn is not None and 0 <= k < len(self.drawn.handles):
            self._place(k, turn=round(self.drawn.turn(k, float(x), float(y)) % 360.0))

    def _stepped(self, event: Any) -> None:
        k, right, down, fine = event.args
        if 0 <= k < len(self.spots):
            step = FINE if fine else STEP
            spot = self.spots[k]
            self._place(k, x=spot.x - step * right, y=spot.y - step * down)

    def _step_turned(self, event: Any) -> None:
        k, way, fine = event.args
        self._turn_by(int(k), -way * (FINE_TURN if fine else TURN))

    def _turn_by(self, k: int, degrees: float) -> None:
        if 0 <= k < len(self.spots):
            self._place(k, turn=(self.spots[k].turn + degrees) % 360.0)

    def _place(self, k: int, **changes: float) -> None:
        self.spots[k] = self.spots[k]._replace(**changes)
        self._by_hand()

    def _add(self) -> None:
        if self.spots:
            spot = self.spots[self.at if 0 <= self.at < len(self.spots) else -1]
            self.spots.append(spot._replace(x=0.0, y=0.0))
            self.at = len(self.spots) - 1
            self._by_hand()

    def _remove(self, k: int) -> None:
        if 0 <= k < len(self.spots) and len(self.spots) > 1:
            del self.spots[k]
            self.at = -1
            self._by_hand()

    def _by_hand(self) -> None:
        for name in ("how_many", "radius", "turn", "rail_angle", "circle"):
            self._put(name, "")
        self.typed["at"] = pots.by_hand(self.spots)
        self._later()

    def _even(self) -> None:
        if self.spots:
            self.typed["at"] = ""
            self._put("how_many", str(len(self.spots)))
            self._later()
