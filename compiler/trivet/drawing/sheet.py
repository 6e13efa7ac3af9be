"""Sheet: layers of shapes that go into one file, and the layers' names in plain words."""

from __future__ import annotations

from typing import Literal

from trivet.drawing.bounds import Bounds, bounds_of
from trivet.drawing.shapes import Dimension, Face, Operation, Shape, Text, rounded
from trivet.record import record

Unit = Literal["mm", "in"]

MM_PER_INCH = 25.4  # exact: international yard and pound agreement of 1959


def layer_name(operation: Operation, face: Face, depth_mm: float | None, what: str = "", unit: Unit = "mm") -> str:
    """The name of a layer in plain words.

    `underside pocket 5.8 mm`; `bore through` where the depth is None; `reference scale square`, where `what` says
    what is shown. Raises `ValueError` for a reference layer without `what` or with a depth.
    """
    if operation == "reference":
        if not what or depth_mm is not None:
            raise ValueError("a reference layer says what it shows and has no depth")
        return f"reference {what}"
    words = operation.replace("_", " ")
    if depth_mm is None:
        return f"{words} through"
    return f"{face} {words} {depth_text(depth_mm, unit)}"


def depth_text(depth_mm: float, unit: Unit) -> str:
    """A depth with at least one decimal: `3.0 mm`."""
    whole, _, fraction = _digits(depth_mm, unit).partition(".")
    return f"{whole}.{fraction.rstrip('0') or '0'} {unit}"


def stated_depth(depth_mm: float, unit: Unit) -> float:
    """The depth as the layer's name states it, in the unit: what reads alike is one layer."""
    return float(_digits(depth_mm, unit))


def _digits(depth_mm: float, unit: Unit) -> str:
    return f"{depth_mm:.3f}" if unit == "mm" else f"{depth_mm / MM_PER_INCH:.4f}"


@record
class Layer:
    """Shapes that share operation, face and depth; `depth_mm` is None for a cut through and for reference layers.

    `part` is the id of the part the shapes belong to, empty where they belong to the whole sheet.
    Raises `ValueError` for text or dimensions outside a reference layer: whatever lies in a cut layer is cut.
    """

    name: str
    operation: Operation
    face: Face
    depth_mm: float | None
    part: str
    shapes: tuple[Shape, ...]
    title: str

    def __post_init__(self) -> None:
        if self.depth_mm is not None:
            object.__setattr__(self, "depth_mm", rounded(self.depth_mm))
            if self.depth_mm <= 0 or self.reference:
                raise ValueError(f"layer {self.name!r} has the depth {self.depth_mm}")
        if not self.reference and any(isinstance(shape, Text | Dimension) for shape in self.shapes):
            raise ValueError(f"layer {self.name!r} is cut, so it holds no text and no dimensions")

    @property
    def reference(self) -> bool:
        """Whether the layer is only to be read, never to be cut."""
        return self.operation == "reference"


@record
class Sheet:
    """What goes into one file: `bounds` is what the file shows, `unit` what it is measured in by its readers.

    Two layers share a name only when they are the same work on different parts.
    Raises `ValueError` when they do otherwise, or when there is nothing to show.
    """

    id: str
    title: str
    bounds: Bounds
    layers: tuple[Layer, ...]
    unit: Unit = "mm"
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if self.bounds.width_mm <= 0 or self.bounds.height_mm <= 0:
            raise ValueError(f"sheet {self.id!r} shows nothing: {self.bounds}")
        seen: dict[str, Layer] = {}
        parts: set[tuple[str, str]] = set()
        for layer in self.layers:
            first = seen.setdefault(layer.name, layer)
            same_work = (first.operation, first.face, first.depth_mm) == (layer.operation, layer.face, layer.depth_mm)
            if not same_work or (layer.name, layer.part) in parts:
                raise ValueError(f"sheet {self.id!r} has two layers named {layer.name!r}")
            parts.add((layer.name, layer.part))

    def shown(self, plain: bool) -> tuple[Layer, ...]:
        """The layers to write: all, or without the reference layers when `plain`; never an empty one."""
        return tuple(layer for layer in self.layers if layer.shapes and not (plain and layer.reference))


def sheet_of(
    id: str,
    title: str,
    layers: tuple[Layer, ...],
    unit: Unit = "mm",
    notes: tuple[str, ...] = (),
    margin_mm: float = 5.0,
) -> Sheet:
    """A sheet that shows all its layers with a margin round them; raises `ValueError` when there are no shapes."""
    shapes = tuple(shape for layer in layers for shape in layer.shapes)
    return Sheet(id, title, bounds_of(shapes).grown(margin_mm), layers, unit, notes)
