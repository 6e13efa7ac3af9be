"""Workpieces against the board's heights. Lengths mm."""

from __future__ import annotations

import pytest

from trivet.model.base import Ref
from trivet.model.board import Workpiece
from trivet.solve.matching import foot_blocks, match


@pytest.mark.parametrize("travel", [5.0, 9.3, 12.0])
@pytest.mark.parametrize("wanted", [4.0, 9.3, 9.5, 17.6, 40.0])
def test_foot_blocks_by_stacking(travel: float, wanted: float) -> None:
    # Stack blocks one by one, each adding the travel less the overlap, until the range is covered.
    count, reach = 0, travel
    while reach < wanted - 1e-9:
        count, reach = count + 1, reach + travel - 1.0
    assert foot_blocks(wanted, travel) == count


def test_workpieces() -> None:
    thin = match(Workpiece(name=Ref("board"), least_mm=18.0, most_mm=45.0), 38.8, 48.1, "mm")
    assert (thin.flush_from_mm, thin.flush_to_mm) == pytest.approx((38.8, 45.0))
    assert thin.riser_mm == pytest.approx(20.8)
    on_riser = match(Workpiece(name=Ref("board"), least_mm=18.0, most_mm=19.0, riser_mm=24.0), 38.8, 48.1, "mm")
    assert (on_riser.flush_from_mm, on_riser.flush_to_mm, on_riser.riser_mm, on_riser.blocks) == (18.0, 19.0, None, 0)
    tall = match(Workpiece(name=Ref("board"), least_mm=60.0, most_mm=61.0), 38.8, 48.1, "mm")
    # 61 − 38.8 = 22.2; (22.2 − 9.3)/(9.3 − 1) = 1.55.
    assert (tall.flush_from_mm, tall.blocks) == (None, 2)
