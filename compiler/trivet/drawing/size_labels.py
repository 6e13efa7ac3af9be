"""Sizes printed beside the cuts of a board, so that a hole can be told from its neighbour without opening the file's titles."""

from __future__ import annotations

from collections.abc import Iterable

from trivet.drawing.bounds import Bounds, bounds_of
from trivet.drawing.shapes import Anchor, Circle, Text
from trivet.drawing.sheet import MM_PER_INCH, Layer, Unit

HEIGHT_MM = 2.5  # of capitals: the smallest size of ISO 3098 that prints well, from memory
GAP_MM = 1.5
# Looking for a free place compares every label with every cut, so plates full of holes go without: their list has the sizes.
MOST_LABELLED = 120


def size_labels(layers: Iterable[Layer], unit: Unit) -> tuple[Text, ...]:
    """Diameters, with depths where not through, under, over or beside each centre; none where every place is taken."""
    cuts = [(layer, shape) for layer in layers for shape in layer.shapes if layer.operation != "outer_edge"]
    if len(cuts) > MOST_LABELLED:
        return ()
    rings: dict[tuple[float, float], list[tuple[Circle, Layer]]] = {}
    for layer, shape in cuts:
        if isinstance(shape, Circle):
            rings.setdefault((shape.cx, shape.cy), []).append((shape, layer))
    taken = [bounds_of([shape]) for _, shape in cuts]
    found: list[Text] = []
    for ring in rings.values():
        widest = max((circle for circle, _ in ring), key=lambda circle: circle.r)
        words = ", ".join(_words(circle, layer, unit) for circle, layer in sorted(ring, key=lambda item: item[0].r))
        for text in _places(widest, words):
            box = bounds_of([text])
            if not any(_meet(box, other) for other in taken):
                taken.append(box)
                found.append(text)
                break
    return tuple(found)


def _words(circle: Circle, layer: Layer, unit: Unit) -> str:
    depth = f" x {_number(layer.depth_mm, unit)} deep" if layer.depth_mm is not None else ""
    return f"\N{LATIN CAPITAL LETTER O WITH STROKE}{_number(2.0 * circle.r, unit)}{depth}"


def _number(mm: float, unit: Unit) -> str:
    return f"{mm / MM_PER_INCH:.3f}" if unit == "in" else f"{mm:.2f}"


def _places(circle: Circle, words: str) -> tuple[Text, ...]:
    away = circle.r + GAP_MM
    middle = circle.cy - HEIGHT_MM / 2.0

    def at(x: float, y: float, anchor: Anchor) -> Text:
        return Text(x, y, HEIGHT_MM, words, anchor, circle.title, circle.because)

    return (
        at(circle.cx, circle.cy - away - HEIGHT_MM, "middle"),
        at(circle.cx, circle.cy + away, "middle"),
        at(circle.cx + away, middle, "start"),
        at(circle.cx - away, middle, "end"),
    )


def _meet(a: Bounds, b: Bounds) -> bool:
    return a.x_min < b.x_max and b.x_min < a.x_max and a.y_min < b.y_max and b.y_min < a.y_max
