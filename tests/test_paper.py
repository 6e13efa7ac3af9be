"""Templates on paper, read back by another reader of the format: at full size, whole, each line where it belongs."""

from __future__ import annotations

import io
import math
from pathlib import Path

import pytest
from pdfminer.high_level import extract_pages
from pdfminer.layout import LTCurve, LTPage, LTTextContainer

from trivet.drawing.bounds import Bounds
from trivet.drawing.paper import OVERLAP_MM, SIZES_MM, Page, paper_pages
from trivet.drawing.parts import part_sheets
from trivet.files import DiskFiles
from trivet.outputs import Wanted, outputs
from trivet.pipeline import Compilation, check
from trivet.source import SourceFile

ROOT = Path(__file__).resolve().parents[1]
# ISO 32000-1, 8.3.2.3: the default unit of user space is 1/72 inch; an inch is 25.4 mm (agreement of 1959).
MM = 25.4 / 72.0


@pytest.fixture(scope="module")
def riser() -> Compilation:
    files = DiskFiles()
    source = files.read(str(ROOT / "examples" / "outfeed_riser.trivet"))
    assert isinstance(source, SourceFile)
    return check(source, files)


def made(found: Compilation, **options: object) -> dict[str, bytes]:
    assert found.design is not None and found.derived is not None
    return outputs(found.design, found.derived, found.findings, {}, {}, Wanted(**options))


@pytest.fixture(scope="module")
def pages(riser: Compilation) -> list[LTPage]:
    return list(extract_pages(io.BytesIO(made(riser, paper="A4")["paper/templates-A4.pdf"])))


def test_none_is_written_unless_asked_for(riser: Compilation) -> None:
    assert not [path for path in made(riser) if path.startswith("paper/")]


def test_the_paper_has_its_standard_size(pages: list[LTPage]) -> None:
    """ISO 216: A4 is 210 mm by 297 mm."""
    for page in pages:
        assert sorted((page.width * MM, page.height * MM)) == pytest.approx([210.0, 297.0], abs=0.01)


def words(page: LTPage) -> str:
    return "".join(item.get_text() for item in page if isinstance(item, LTTextContainer))


def test_the_square_and_the_bars_measure_what_they_say(pages: list[LTPage]) -> None:
    squares = [item for item in pages[0] if isinstance(item, LTCurve) and item.width * MM > 90]
    assert [(round(item.width * MM, 3), round(item.height * MM, 3)) for item in squares] == [(100.0, 100.0)]
    for page in (page for page in pages[1:] if "of Outfeed riser" in words(page)):
        long = {(round(item.width * MM, 3), round(item.height * MM, 3)) for item in page if isinstance(item, LTCurve)}
        assert (100.0, 0.0) in long and (0.0, 100.0) in long
        assert "100 percent" in words(page)


def test_outlines_come_out_at_full_size(riser: Compilation, pages: list[LTPage]) -> None:
    """The largest curve of each gear's page is as wide and high as the gear's outline, to a hundredth of a millimetre."""
    assert riser.design is not None and riser.derived is not None
    for sheet in part_sheets(riser.design, riser.derived):
        edges = [layer for layer in sheet.layers if layer.operation == "outer_edge"]
        if sheet.part == "deck" or not edges:
            continue
        (page,) = (page for page in pages if words(page).startswith(f"{sheet.part}, {sheet.face}"))
        curves = [item for item in page if isinstance(item, LTCurve) and item.width * MM < 180 and len(item.pts) > 100]
        largest = max(curves, key=lambda item: item.width)
        (path,) = edges[0].shapes
        xs, ys = [vertex[0] for vertex in path.vertices], [vertex[1] for vertex in path.vertices]
        # Teeth end in arcs about the middle, so the box of the vertices is at most the sagitta of one tip narrower.
        assert largest.width * MM == pytest.approx(max(xs) - min(xs), abs=0.2)
        assert largest.height * MM == pytest.approx(max(ys) - min(ys), abs=0.2)
        area = abs(shoelace([(x * MM, y * MM) for x, y in largest.pts]))
        assert area == pytest.approx(abs(shoelace([(v[0], v[1]) for v in path.vertices])), rel=0.02)


def shoelace(points: list[tuple[float, float]]) -> float:
    return math.fsum(a[0] * b[1] - a[1] * b[0] for a, b in zip(points, points[1:] + points[:1], strict=True)) / 2.0


@pytest.mark.parametrize("paper", [name for name, _, _ in SIZES_MM])
def test_pages_cover_the_drawing_and_neighbours_share_their_crosses(riser: Compilation, paper: str) -> None:
    assert riser.design is not None and riser.derived is not None
    deck = next(sheet for sheet in part_sheets(riser.design, riser.derived) if sheet.part == "deck")
    found = paper_pages(deck, paper)
    rows, columns = found[0].pages_down, found[0].pages_across
    assert len(found) == rows * columns > 1
    placed = {(page.down, page.across): page for page in found}
    for (row, column), page in placed.items():
        for other in (placed.get((row, column + 1)), placed.get((row + 1, column))):
            if other is not None:
                assert shared(page.window, other.window) == pytest.approx(OVERLAP_MM)
                assert len(crosses(page) & crosses(other)) >= 2
    box = deck_box(found)
    assert found[0].window.x_min <= box.x_min and found[-1].window.x_max >= box.x_max
    assert found[0].window.y_max >= box.y_max and found[-1].window.y_min <= box.y_min


def shared(a: Bounds, b: Bounds) -> float:
    across = min(a.x_max, b.x_max) - max(a.x_min, b.x_min)
    down = min(a.y_max, b.y_max) - max(a.y_min, b.y_min)
    return min(across, down)


def crosses(page: Page) -> set[str]:
    inside = set()
    for mark in page.marks:
        if mark.title.startswith("join ") and hasattr(mark, "x1"):
            x, y = (mark.x1 + mark.x2) / 2.0, (mark.y1 + mark.y2) / 2.0
            if page.window.x_min <= x <= page.window.x_max and page.window.y_min <= y <= page.window.y_max:
                inside.add(mark.title)
    return inside


def deck_box(found: tuple[Page, ...]) -> Bounds:
    from trivet.drawing.bounds import bounds_of

    return bounds_of(shape for layer in found[0].layers if layer.operation == "outer_edge" for shape in layer.shapes)


def test_every_round_cut_has_its_centre(riser: Compilation) -> None:
    assert riser.design is not None and riser.derived is not None
    for sheet in part_sheets(riser.design, riser.derived):
        from trivet.drawing.shapes import Circle

        round_cuts = [s for layer in sheet.layers if not layer.reference for s in layer.shapes if isinstance(s, Circle)]
        centres = [mark for page in paper_pages(sheet, "A4")[:1] for mark in page.marks if mark.title.startswith("centre of")]
        assert len(centres) == 2 * len(round_cuts)


def test_the_same_bytes_and_a_draft_says_so(riser: Compilation) -> None:
    first, second = (made(riser, paper="Letter")["paper/templates-Letter.pdf"] for _ in range(2))
    assert first == second
    draft = made(riser, paper="Letter", draft=True)["paper/DRAFT-templates-Letter.pdf"]
    assert "DRAFT" in words(next(iter(extract_pages(io.BytesIO(draft)))))
