"""The legend: how each kind of work looks on the drawings of a fixture, and what it means."""

from __future__ import annotations

from collections.abc import Iterable

from trivet.drawing.bounds import Bounds, bounds_of
from trivet.drawing.reference_text import reference_text
from trivet.drawing.shapes import Line, Operation, Path, Shape, Text
from trivet.drawing.sheet import Layer, Sheet, Unit, sheet_of

_ROW_MM, _LONG_MM, _HIGH_MM, _TEXT_MM, _AFTER_MM = 14.0, 40.0, 7.0, 3.5, 8.0
_BECAUSE = "a sample of the layer's line"
# Each kind of work in the order in which it is cut, with what a cutter does there.
MEANINGS: tuple[tuple[Operation, str, str], ...] = (
    ("engrave", "engrave", "follow the line, so deep as the layer's name says"),
    ("pocket", "pocket", "clear all inside the line to the depth in the layer's name; any shape"),
    ("counterbore", "counterbore", "clear all inside the circle to the depth in the layer's name; takes a head, a nut or a flange"),
    ("bore", "bore", "clear the round hole inside the line; where its title says drilled, mark its centre"),
    ("opening", "opening", "cut along the inside of the line, all the way through"),
    ("outer_edge", "outer edge", "cut along the outside of the line, all the way through, last: it frees the part"),
    ("reference", "reference", "to be read, never cut: sizes, names, tabs, dowels, the sheet's edge, the scale square"),
)


def legend_sheet(fixture: str, names: Iterable[str], unit: Unit) -> Sheet:
    """One row for each kind of work: a sample of its line, then words. `names`: the layers that the fixture's drawings have."""
    used = sorted(set(names))
    layers: list[Layer] = []
    words: list[Shape] = []
    for row, (operation, word, meaning) in enumerate(MEANINGS):
        y = -row * _ROW_MM
        title = f"sample: {word}"
        box = ((0.0, y), (_LONG_MM, y), (_LONG_MM, y + _HIGH_MM), (0.0, y + _HIGH_MM))
        shapes: tuple[Shape, ...] = (Path(tuple((px, py, 0.0) for px, py in box), True, title, _BECAUSE),)
        if operation == "engrave":
            shapes = (Line(0.0, y + _HIGH_MM / 2.0, _LONG_MM, y + _HIGH_MM / 2.0, title, _BECAUSE),)
        layers.append(Layer(f"sample of {word}", operation, "topside", None, "", shapes, "a sample, not for cutting"))
        words.append(_text(y + _HIGH_MM - _TEXT_MM, f"{word}: {meaning}"))
        mine = [name for name in used if _of(name, word)]
        listed = _listed(mine) if mine else "none in this fixture"
        words.append(_text(y - 1.0, "every layer whose name begins with `reference`" if word == "reference" else listed, 2.5))
    layers.append(Layer("reference words", "reference", "topside", None, "", tuple(words), "what the lines mean"))
    shown: Bounds = bounds_of(shape for layer in layers for shape in layer.shapes)
    lines = (
        f"legend of the drawings of {fixture}: not for cutting",
        "a layer's name says the work, its face and its depth; `through` goes through the part; colours only help, names and lines count",
        "outlines are edges as they are to be cut: no cutter offset is applied; the underside's drawings are mirrored already",
        f"lengths in layers' names are in {'inches' if unit == 'in' else 'millimetres'}; each drawing has a square of 100 mm (3.937 in) to measure",
    )
    text = reference_text(shown, lines, "how to read the drawings")
    return sheet_of("legend", f"legend, not for cutting, of {fixture}", (*layers, text), unit, lines)


def _of(name: str, word: str) -> bool:
    """Whether a layer's name is of that kind of work: `underside pocket 5.8 mm`, `bore through`."""
    plain = name.removeprefix("topside ").removeprefix("underside ")
    return plain.startswith(f"{word} ")


def _listed(names: list[str]) -> str:
    return "; ".join(names[:5]) + (f"; and {len(names) - 5} more" if len(names) > 5 else "")


def _text(y: float, words: str, height_mm: float = _TEXT_MM) -> Text:
    return Text(_LONG_MM + _AFTER_MM, y, height_mm, words, "start", "meaning of a layer", _BECAUSE)
