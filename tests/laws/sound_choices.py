"""The choices that a generated sound fixture is made of, and how its lengths are written."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from tests.laws.sound_layouts import Layout

SPREAD_MM = 0.2
# Heights and sizes that the sums need, from the library's tables: heads of ISO 4017 and of ASME B18.2.1, jam nuts of ISO 4035
# and ASME B18.2.2, flanges of tee nuts.
METRIC = {"thread": "M8", "d": 8.0, "head": 5.3, "jam": 4.0, "flange": 1.5}
METRIC_TEN = {"thread": "M10", "d": 10.0, "head": 6.4, "jam": 4.0, "flange": 1.5}
INCH = {"thread": "3/8-16", "d": 9.525, "head": 6.2, "jam": 5.0, "flange": 1.57}


@dataclass
class Sound:
    """The choices of one fixture."""

    rng: Random
    inch_hardware: bool
    inch_units: bool
    sheet: float
    board_layers: int
    gear_layers: int
    kind: str
    layout: Layout
    two_boards: bool
    skirt: bool
    pad_drop: float

    def mm(self, value: float) -> str:
        """A length as it is written."""
        if self.inch_units:
            return f"{value / 25.4:.5f} in"
        return f"{round(value, 4):g} mm"

    @property
    def on(self) -> str:
        """The words before a place that name its frame."""
        return "deck " if self.two_boards or self.skirt else ""

    @property
    def over(self) -> str:
        """The board that gears hang under and feet act on, where it has to be named."""
        return "base" if self.two_boards else "deck" if self.skirt else ""

    def pair(self, x: float, y: float) -> str:
        if self.inch_units:
            return f"({x / 25.4:.6f}, {y / 25.4:.6f}) in"
        return f"({x:.5f}, {y:.5f}) mm"

    def by(self, x: float, y: float) -> str:
        if self.inch_units:
            return f"{x / 25.4:.5f} by {y / 25.4:.5f} in"
        return f"{x:.4f} by {y:.4f} mm"

    @property
    def board(self) -> float:
        return self.sheet * self.board_layers

    @property
    def gear(self) -> float:
        return self.sheet * self.gear_layers

    @property
    def sizes(self) -> dict[str, object]:
        if self.inch_hardware:
            return INCH
        return METRIC if self.kind == "riding" else METRIC_TEN
