"""Files that came out half made: depths that read alike, contours that cross themselves, and teeth that do not reach each other."""

from __future__ import annotations

import math

import pytest
from tests.everything import NAME, checked

from trivet.checks._examples import example_text
from trivet.drawing.parts import part_sheets
from trivet.outputs import Wanted, outputs
from trivet.solve.as_cut_mesh import as_cut_mesh
from trivet.solve.gear_size import ToothGeometry

BOW = ("(0, 0) mm", "(40, 30) mm", "(40, 0) mm", "(0, 30) mm")
CROSSING_POCKET = "\n".join(
    ("+ ", "+ pocket bow", "+   into deck, topside", "+   outline polygon", *(f"+   point {at}" for at in BOW), "+   depth 5 mm", "+   at (220, 30) mm")
)
CROSSING_SPACER = "\n".join(
    ("+ ", "+ spacer bow", "+   stock ply18", "+   cutter straight6", "+   outline polygon", *(f"+   point {at}" for at in BOW))
)


def drafted(text: str) -> dict[str, bytes]:
    """All files of a text as a draft, whatever stands against it."""
    result = checked(text)
    assert result.design is not None and result.derived is not None, result.findings
    return outputs(result.design, result.derived, result.findings, {NAME: text}, {}, Wanted(draft=True))


def two_pockets(depths: tuple[str, str]) -> str:
    """The base with two round pockets in the deck's top."""
    pockets = [
        f"pocket p_{name}\n  into deck, topside\n  outline circle 12 mm\n  depth {depth}\n  at ({x}, 40) mm".splitlines()
        for name, depth, x in zip(("one", "two"), depths, (240, 280), strict=True)
    ]
    return example_text("\n".join(f"+ {line}" for block in pockets for line in ("", *block)))


@pytest.mark.parametrize(("depths", "layers"), [(("9.525 mm", "3/8 in"), 1), (("0.5 mm", "0.019685 in"), 1), (("9.525 mm", "9.526 mm"), 2)])
def test_depths_that_read_alike_are_one_layer(depths: tuple[str, str], layers: int) -> None:
    """A cutter has one setting for them, and a drawing one name."""
    result = checked(two_pockets(depths))
    assert result.design is not None and result.derived is not None, result.findings
    (deck,) = (sheet for sheet in part_sheets(result.design, result.derived) if sheet.id == "deck.topside")
    bored = [layer.name for layer in deck.layers if layer.operation == "pocket" and layer.depth_mm is not None]
    assert len(bored) == layers == len(set(bored))


@pytest.mark.parametrize("edits", [CROSSING_POCKET, CROSSING_SPACER])
def test_a_draft_of_a_contour_that_crosses_itself(edits: str) -> None:
    """It is drawn as it stands, for the eye to see where, and laid on the sheet as its hull."""
    files = drafted(example_text(edits))
    assert "faulty-contour" in {item.rule for item in checked(example_text(edits), True).findings}
    assert any(path.endswith(".dxf") and "sheet" in path for path in files)


def test_teeth_that_do_not_reach_each_other() -> None:
    """Their play is a whole pitch of the working circle: pi by the module that the centre distance would be right for."""
    a, b = ToothGeometry(16, 6.0), ToothGeometry(20, 6.0)
    distance = a.tip_radius_mm + b.tip_radius_mm + 1.0
    assert as_cut_mesh(a, b, distance, (1.5, 1.5)).backlash_mm == pytest.approx(math.pi * 2.0 * distance / 36.0)
