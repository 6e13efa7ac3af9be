"""What all explanations of one fixture share: its parts by name, and each number made once."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property

from trivet.model.base import Band
from trivet.model.design import Design
from trivet.model.shop import ToothForm
from trivet.solve.because_stroke import Stroked, strokes_again
from trivet.solve.corner import pick
from trivet.solve.derived import Derived, GearState, MeshState
from trivet.solve.train_graph import train_graph
from trivet.solve.train_parts import train_parts
from trivet.source import Origin
from trivet.tables.explanation import PRACTICE, Number, computed, given

_SIDES = {-1: "at its thinnest", 0: "mean", 1: "at its thickest"}
_SUFFIX = {-1: "_thin", 0: "", 1: "_thick"}


class Facts:
    """A design, what follows from it, and the numbers already explained."""

    def __init__(self, design: Design, derived: Derived) -> None:
        self.design = design
        self.derived = derived
        self.graph = train_graph(design)
        self.parts = train_parts(design)
        self.states: dict[str, GearState] = {state.id: state for state in derived.train.gears}
        self.meshes: dict[tuple[str, str], MeshState] = {}
        for mesh in derived.train.meshes:
            self.meshes[mesh.a, mesh.b] = self.meshes[mesh.b, mesh.a] = mesh
        self._made: dict[tuple[object, ...], Number] = {}

    @cached_property
    def stroked(self) -> Stroked:
        """Every foot at every combination of sheets, worked out again."""
        return strokes_again(self.design, self.derived)

    def once(self, key: tuple[object, ...], make: Callable[[], Number]) -> Number:
        """The number under `key`, made when first asked for, so that it is printed once."""
        if key not in self._made:
            self._made[key] = make()
        return self._made[key]

    def form(self, gear: str) -> ToothForm:
        """The tooth form of a gear."""
        return self.graph.forms[self.graph.gears[gear].tooth_form.text]

    def of_form(self, letter: str, form: ToothForm) -> str:
        """A tooth form's symbol: the bare letter where the fixture has one form."""
        return letter if len(self.graph.forms) == 1 else f"{letter}_{form.name}"

    def shop(self, word: str, symbol: str, words: str, value: float, unit: str = "mm") -> Number:
        """One of the shop's errors, at its line or as the default it is."""
        origins = self.design.shop.origins or {}
        origin: Origin | None = origins.get(word)
        source = "" if origin is not None else f"`{word}` is not stated: the default, {PRACTICE}"
        return self.once(("shop", symbol), lambda: given(symbol, words, value, unit, origin, source))

    def sheet(self, name: str, sign: int = 0) -> Number:
        """A sheet's thickness at its mean (0), least (-1) or most (+1)."""
        band: Band = self.parts.sheets[name].thickness
        return self.once(
            ("sheet", name, sign),
            lambda: given(f"{name}{_SUFFIX[sign]}", f"thickness of `{name}`, {_SIDES[sign]}", pick(band, sign), origin=band.origin),
        )

    def gear_width(self, gear: str, sign: int = 0) -> Number:
        """A gear's thickness."""
        made = self.graph.gears[gear]
        return self.once(
            ("width", gear, sign), lambda: self._layers(f"g_{gear}", f"thickness of `{gear}`", made.stock.text, made.layers, sign)
        )

    def board_thickness(self, board: str, sign: int = 0) -> Number:
        """A board's thickness."""
        made = self.parts.boards[board]
        return self.once(
            ("board", board, sign),
            lambda: self._layers(f"t_{board}", f"thickness of `{board}`", made.stock.text, made.layers, sign),
        )

    def _layers(self, symbol: str, words: str, sheet: str, layers: int, sign: int) -> Number:
        one = self.sheet(sheet, sign)
        if layers == 1:
            return computed(f"{symbol}{_SUFFIX[sign]}", f"{words}, {_SIDES[sign]}", one.symbol, "one layer", one)
        formula = f"{layers} · {one.symbol}"
        return computed(f"{symbol}{_SUFFIX[sign]}", f"{words}, {_SIDES[sign]}", formula, "layers, glue lines neglected", one)
