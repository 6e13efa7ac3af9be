"""Parts and drawings of designs built by hand and of all examples, for the tests of the part drawings."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from trivet.diagnostics import has_errors
from trivet.files import DiskFiles
from trivet.inputs import load_library, read_parts
from trivet.lower.lower import lower
from trivet.model.design import Design
from trivet.solve.contour import Contour
from trivet.solve.derived import Derived
from trivet.solve.feature import Feature
from trivet.solve.part_features import PartFeatures
from trivet.solve.parts import part_features
from trivet.solve.solve import solve
from trivet.source import SourceFile

EXAMPLES = sorted((Path(__file__).parent.parent / "examples").glob("*.trivet"))


def parts_of(design: Design) -> dict[str, PartFeatures]:
    """The parts of a design by id."""
    return {part.part: part for part in part_features(design, solve(design))}


@cache
def example(path: Path) -> tuple[Design, Derived, tuple[PartFeatures, ...]]:
    """An example with its parts."""
    files = DiskFiles()
    source = files.read(str(path))
    assert isinstance(source, SourceFile), source
    parts, found = read_parts(source, files, None)
    design, lowered = lower(parts, load_library, {})
    assert design is not None and not has_errors([*found, *lowered]), (found, lowered)
    derived = solve(design)
    return design, derived, part_features(design, derived)


def titled(part: PartFeatures, words: str) -> list[Feature]:
    """The features whose title begins with the words."""
    return [item for item in part.features if item.title.startswith(words)]


def polygon(contour: Contour, tolerance_mm: float = 0.001) -> Any:
    """Shapely polygon of a contour."""
    from shapely import Polygon

    return Polygon(contour.points(tolerance_mm))
