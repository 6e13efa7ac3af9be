"""Parts on sheets and machines: boxes, panels, margins, counts, index dowels, check by check. Lengths mm.

The sheet of these tests is 500 by 400 with a margin of 10, so that 480 by 380 are left; the machine takes 300 by 200.
"""

from __future__ import annotations

from typing import Any

import pytest
from tests.sharp.stand_ins import at, length, named, ref, start, starts

from trivet.checks import (
    no_room_for_registration,
    part_larger_than_machine,
    part_larger_than_sheet,
    sheet_larger_than_machine,
    too_few_sheets,
)
from trivet.model.base import Band
from trivet.model.shop import Sheet
from trivet.record import replace
from trivet.solve.contour import Contour, Vertex
from trivet.solve.nest_records import Job, Piece, Stock
from trivet.units import Quantity

THICK = Band(18.0, 17.6, 18.4)


def sheet(wide: float | None = 500.0, high: float = 400.0, margin: Quantity | None = None, **facts: Any) -> Sheet:
    size = {} if wide is None else {"width": length(wide, 70), "height": length(high, 71)}
    return Sheet(name=ref("ply", 72), thickness=THICK, edge_margin=margin or length(10), **(size | facts))


def part(name: str, wide: float, high: float, *, on: Sheet | None = None, kind: str = "board", grain: Any = None, whole: str = "", faces: int = 1) -> Any:
    outline = named(bounds=(5.0, -7.0, 5.0 + wide, high - 7.0))
    cut: Any = {"cutter_diameter_mm": 6.0, "faces": ("topside", "underside")[:faces]}
    return named(part=name, belongs_to=whole, kind=kind, sheet=on or sheet(), outline=outline, grain=grain, **cut)


def board(name: str, place: int, machine: int | None = None) -> Any:
    return named(name=ref(name, place), machine=None if machine is None else ref("router", machine))


ROUTER: Any = named(name=ref("router", 80), work_area_width=length(300, 81), work_area_height=length(200, 82))
SPARE: Any = named(name=ref("spare"), work_area_width=None, work_area_height=None)


def derived(*parts: Any, **tips: float) -> Any:
    return named(parts=parts, train=named(gears=tuple(named(id=name, tip_radius_mm=tip) for name, tip in tips.items())))


def machined(*parts: Any, gears: tuple[Any, ...] = (), machines: tuple[Any, ...] = (SPARE, ROUTER), **tips: float) -> list[Any]:
    boards = (board("free", 1), board("a", 2, 12), board("b", 3, 13), board("c", 4, 14))
    design = named(units="mm", boards=boards, gears=gears, machines=machines)
    return list(part_larger_than_machine.check(design, derived(*parts, **tips)))


EDGE = ", or `edge_margin 0 mm` where the sheet's edges are true"


@pytest.mark.parametrize(
    ("size", "told", "needed", "helps"),
    [
        # Of 300 by 200 the margin leaves 280 by 180.
        ((290.0, 150.0), "150 mm by 290 mm", "170 mm by 310 mm", True), ((250.0, 290.0), "250 mm by 290 mm", "270 mm by 310 mm", False),
        ((150.0, 310.0), "150 mm by 310 mm", "170 mm by 330 mm", False), ((200.0, 300.0), "200 mm by 300 mm", "220 mm by 320 mm", True),
        ((190.0, 190.0), "190 mm by 190 mm", "210 mm by 210 mm", True),
    ],
)  # fmt: skip
def test_parts_that_a_machine_does_not_take(size: tuple[float, float], told: str, needed: str, helps: bool) -> None:
    (item,) = machined(part("a", *size))
    assert item.message == (
        f"`a` takes {told}; the work area of `router` is 300 mm by 200 mm less an edge margin of 10 mm all round, and it does not fit, turned or not"
    )
    assert item.remedy == f"a machine with a work area of at least {needed}, or a smaller part" + (EDGE if helps else "")
    assert (item.parts, starts(item)) == (("a", "router"), (12, [81]))


def test_which_parts_are_compared_with_their_machine() -> None:
    big = {"wide": 290.0, "high": 150.0}
    # One of no machine, one that fits turned, one that its sheet does not take either, two layers, and one of two faces.
    parts = (
        part("free", **big), part("b", 180, 280), part("c", 490, 100), part("lam.1", **big, whole="a"), part("lam.2", **big, whole="a"), part("b", **big),
    )  # fmt: skip
    assert [item.parts[0] for item in machined(*parts)] == ["a", "b"]
    assert not machined(*parts, machines=(SPARE,))
    true = part("a", 300, 200, on=sheet(margin=length(0)))
    assert not machined(true)
    (item,) = machined(part("a", 300, 210, on=sheet(margin=length(0))))
    assert "margin" not in item.message and item.remedy == "a machine with a work area of at least 210 mm by 300 mm, or a smaller part"
    (item,) = machined(part("a", 300, 200, on=sheet(margin=length("0.5"))))
    assert "less an edge margin of 0.5 mm all round" in item.message and item.remedy.endswith(EDGE)
    # A part with grain is not turned: its box is told as it lies.
    (item,) = machined(part("a", 290, 150, on=sheet(face_grain="x"), grain="x"))
    assert item.message.startswith("`a` takes 290 mm by 150 mm;")


def test_gears_count_by_their_tips() -> None:
    """What is drawn turns by the gear's phase, so its box is that of the tip circle."""
    wheel = named(name=ref("wheel", 5), machine=ref("router", 15))
    held = part("wheel", 10, 10, kind="gear")
    assert not machined(held, gears=(wheel,), wheel=90.0)
    (item,) = machined(held, gears=(wheel,), wheel=90.5)
    assert item.message.startswith("`wheel` takes 181 mm by 181 mm;") and start(item.span) == 15


def sheeted(*parts: Any, **tips: float) -> list[Any]:
    design = named(units="mm", boards=(board("a", 2), board("b", 3)), gears=(board("wheel", 4),), spacers=(board("shim", 5),), origin=at(0))
    return list(part_larger_than_sheet.check(design, derived(*parts, **tips)))


@pytest.mark.parametrize(
    ("size", "grain", "remedy"),
    [
        ((490.0, 100.0), None, f"a sheet of at least 510 mm by 120 mm, or a smaller part{EDGE}"),
        ((480.5, 100.0), None, f"a sheet of at least 500.5 mm by 120 mm, or a smaller part{EDGE}"),
        ((390.0, 490.0), None, f"a sheet of at least 410 mm by 510 mm, or a smaller part{EDGE}"),
        ((490.0, 405.0), None, "a sheet of at least 510 mm by 425 mm, or a smaller part"),
        ((505.0, 100.0), None, "a sheet of at least 525 mm by 120 mm, or a smaller part"),
        ((500.0, 400.0), None, f"a sheet of at least 520 mm by 420 mm, or a smaller part{EDGE}"),
        ((100.0, 390.0), "x", f"a sheet of at least 120 mm by 410 mm (along x, then y, as `size` has them), or a smaller part{EDGE}"),
        ((480.0, 380.0), "y", "a sheet of at least 400 mm by 500 mm (along x, then y, as `size` has them), or a smaller part"),
        ((380.0, 380.0), None, ""), ((480.0, 380.0), None, ""), ((380.0, 480.0), None, ""), ((480.0, 380.0), "x", ""), ((380.0, 480.0), "y", ""),
    ],
)  # fmt: skip
def test_parts_that_a_sheet_does_not_take(size: tuple[float, float], grain: Any, remedy: str) -> None:
    found = sheeted(part("a", *size, on=sheet(face_grain="x"), grain=grain))
    assert [item.remedy for item in found] == ([remedy] if remedy else [])
    for item in found:
        box, turned = f"{size[0]:g} mm by {size[1]:g} mm", " with its grain as stated" if grain else ", turned or not"
        assert item.message == f"`a` takes {box}; the sheet `ply` is 500 mm by 400 mm less an edge margin of 10 mm all round and it does not fit{turned}"
        assert (item.parts, starts(item)) == (("a",), (2, [70]))


def test_which_parts_are_compared_with_their_sheet() -> None:
    parts = (part("a", 999, 9, on=sheet(None)), part("b", 100, 100), part("lam.1", 490, 9, whole="a"), part("lam.2", 490, 9, whole="a"), part("shim.2", 490, 9))
    found = sheeted(*parts, part("other", 490, 9))
    assert [(item.parts[0], start(item.span)) for item in found] == [("a", 2), ("shim.2", 5), ("other", 0)]
    assert not sheeted(part("a", 490, 100, on=sheet(off_cuts=((length(100), length(9)), (length(120), length(510))))))
    (item,) = sheeted(part("a", 510, 100, on=sheet(margin=length(0))))
    (slim,) = sheeted(part("a", 500, 100, on=sheet(margin=length("0.5"))))
    assert "less an edge margin of 0.5 mm all round" in slim.message and slim.remedy.endswith(EDGE)
    assert "margin" not in item.message and "margin" not in item.remedy and not sheeted(part("a", 500, 400, on=sheet(margin=length(0))))
    wheel = part("wheel", 10, 10, kind="gear", grain="x", on=sheet(face_grain="y"))
    assert not sheeted(wheel, wheel=190.0) and "takes 381 mm by 381 mm;" in sheeted(wheel, wheel=190.5)[0].message


def job(stocks: tuple[Stock, ...], sheet_: str = "ply", machine: str = "router", pieces: tuple[Any, ...] = ()) -> Job:
    return Job(sheet_, "topside", pieces, stocks, 11.0, 10.0, 6.0, 8.0, frozenset(), 1, machine=machine)


PANEL = Stock(300.0, 200.0, None, False, 4, (1220.0, 610.0))


def panels(*jobs: Job, machines: tuple[Any, ...] = (ROUTER,)) -> list[Any]:
    boards = (board("a", 2, 12), named(name=ref("b"), machine=ref("small")))
    sheets = (sheet(), sheet(None).model_copy(update={"name": ref("mdf", 73)}))
    design = named(units="mm", boards=boards, gears=(), machines=machines, sheets=sheets)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sheet_larger_than_machine, "jobs_of", lambda design, derived: named(jobs=jobs))
        return list(sheet_larger_than_machine.check(design, named()))


def test_sheets_that_are_sawn_into_panels() -> None:
    small: Any = named(name=ref("small", 85), work_area_width=length(100, 86), work_area_height=length(200, 87))
    cut, whole = replace(PANEL, off_cut=True, cut_from_mm=(400.0, 300.0)), replace(PANEL, cut_from_mm=None)
    one = job((replace(PANEL, per_sheet=1),), machine="small")
    jobs = (job((whole,), machine=""), job((cut, whole)), job((cut, PANEL)), job((PANEL,)), job((replace(PANEL, per_sheet=2),), "mdf"), one)
    found = panels(*jobs, machines=(ROUTER, small))
    assert [(item.parts, starts(item)) for item in found] == [(("ply", "router"), (81, [70])), (("mdf", "router"), (81, [])), (("ply", "small"), (86, [70]))]
    area = "the work area of `router` is 300 mm by 200 mm, so its parts are laid on panels cut from it"
    assert found[0].message == f"the sheet `ply` is 1220 mm by 610 mm; {area}"
    assert [item.remedy for item in found] == [f"saw it into {what} of 300 mm by 200 mm first" for what in ("4 panels", "2 panels", "a panel")]
    assert not panels(*jobs, machines=())


WHOLE = Stock(500.0, 400.0, 1, False)


def few(limited: Sheet, *, left: tuple[int, ...] = (), used: int = 1, would: int = 2, jobs: tuple[Job, ...] = ()) -> list[Any]:
    """Laid with the sheets at hand, a job leaves `left` and takes `used`; freely, it takes `would`."""
    pieces = tuple(named(id=f"p{k}") for k in range(9))
    held = jobs or (job((WHOLE,), pieces=pieces), job((WHOLE,), "other", pieces=pieces))

    def laid(asked: Job) -> Any:
        free = all(stock.count is None for stock in asked.stocks if not stock.off_cut)
        return named(left_over=() if free or asked.sheet == "other" else left, stocks=(WHOLE,) * (would if free else used))

    design = named(sheets=(sheet(count=9).model_copy(update={"name": ref("other")}), limited), origin=at(0))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(too_few_sheets, "jobs_of", lambda design, derived: named(jobs=held))
        patch.setattr(too_few_sheets, "laid_job", laid)
        patch.setattr(too_few_sheets, "least_sheets", lambda job: 0 if job.stocks == () else 2)
        return list(too_few_sheets.check(design, named()))


def test_too_few_sheets() -> None:
    one = sheet(count=1)
    assert not few(one) and not few(sheet(), left=(1,))
    (item,) = few(one, left=(0, 2), would=3)
    assert item.message == "the parts of `ply` do not fit on 1 of it: no place for `p0`, `p2`"
    assert (item.remedy, item.parts, start(item.span)) == ("`sheets 3` would do; by their area alone the parts need 2", ("ply",), 72)
    assert few(one, left=(0, 1, 2, 3))[0].message.endswith("no place for `p0`, `p1`, `p2`, `p3`")
    assert few(one, left=(0, 1, 2, 3, 4))[0].message.endswith("no place for `p0`, `p1`, `p2`, `p3` and more")
    # Two first faces may take more sheets than there are, though each job fits by itself.
    pieces = (named(id="p"),)
    both = (job((WHOLE,), pieces=pieces), job((WHOLE,), machine="other", pieces=pieces))
    (item,) = few(one, jobs=both, would=1)
    assert item.message.endswith("do not fit on 1 of it: 2 are needed, since each is cut from one face first")
    assert item.remedy == "`sheets 2` would do; by their area alone the parts need 4" and not few(sheet(count=2), jobs=both)


def test_off_cuts_alone_and_beside_sheets() -> None:
    cuts = ((length(100), length(90)), (length(80), length(70)))
    (item,) = few(sheet(None, off_cuts=cuts[:1]), left=(3,))
    assert item.message == "the parts of `ply` do not fit on its off-cut: no place for `p3`"
    assert item.remedy == "state the `size` of whole sheets, or larger off-cuts"
    assert "fit on its off-cut:" in few(sheet(None, off_cuts=cuts[:1], count=2), left=(3,))[0].message
    assert "fit on its 2 off-cuts:" in few(sheet(None, off_cuts=cuts), left=(3,))[0].message and not few(sheet(None, off_cuts=cuts), used=7)
    assert "fit on 1 of it and its" not in few(sheet(count=1), left=(1,))[0].message
    assert "fit on 1 of it and 2 off-cuts:" in few(sheet(count=1, off_cuts=cuts), left=(1,))[0].message
    assert "fit on 1 of it and off-cut:" in few(sheet(count=1, off_cuts=cuts[:1]), left=(1,))[0].message
    assert not few(sheet(off_cuts=cuts), left=(1,))
    # Off-cuts stay as many as there are; of whole sheets as many as needed.
    cut = Stock(100.0, 90.0, 1, True)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(too_few_sheets, "laid_job", lambda job: job)
        assert too_few_sheets._would_do(job((cut, WHOLE))) == (cut, replace(WHOLE, count=None))
    # By area alone at least one is needed.
    assert few(sheet(count=1), left=(0,), jobs=(job((), pieces=(named(id="p"),)),))[0].remedy.endswith("the parts need 1")


def rectangle(wide: float, high: float) -> Contour:
    return Contour(tuple(Vertex(x, y) for x, y in ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))))


@pytest.mark.parametrize(
    ("stock", "ample"),
    # Two margins of 10 and the spacing of 6 + 5 beside a part of 300 by 200, and 80 more: 411 by 311.
    [((411.0, 221.0), True), ((410.9, 310.9), False), ((321.0, 311.0), True)],
)
def test_ample_room_for_index_dowels(stock: tuple[float, float], ample: bool) -> None:
    held = part("a", 300, 200, faces=2)
    tight = Stock(321.0, 221.0, None, False)
    assert no_room_for_registration._ample(held, (tight, Stock(*stock, None, False))) == ample
    assert not no_room_for_registration._ample(held, (tight,)) and no_room_for_registration._ample(held, ())


@pytest.mark.parametrize(("stock", "full"), [((502.0, 402.0), True), ((502.0, 480.0), False), ((582.0, 402.0), False)])
def test_a_piece_alone_on_its_sheet(stock: tuple[float, float], full: bool) -> None:
    """Dowels of 8 find room in a strip beside a piece that fills the sheet's breadth or its length: 80 less 11 and 9 are a hole's to choose."""
    pieces = tuple(Piece(name, 1, rectangle(wide, high), (0.0,)) for name, wide, high in (("small", 50.0, 50.0), ("a", 500.0, 400.0)))
    held = replace(job((Stock(*stock, None, False),), pieces=pieces), margin_mm=1.0)
    assert no_room_for_registration._full(held, pieces[1]) == full


def registered(*parts: Any, full: tuple[str, ...] = ("a", "lam.1", "lam.2", "wheel", "keeper"), machine: int | None = None) -> list[Any]:
    stock = Stock(500.0, 400.0, None, False)
    cuts = tuple(replace(stock, off_cut=True, width_mm=wide) for wide in (9.0, 8.0))
    jobs = (job((*cuts, stock), pieces=tuple(named(part=item.part) for item in parts)),) * 2
    design = named(units="mm", boards=(board("a", 2, machine),), gears=(board("wheel", 4),), machines=(ROUTER,), origin=at(0))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(no_room_for_registration, "jobs_of", lambda design, derived: named(jobs=jobs))
        patch.setattr(no_room_for_registration, "_full", lambda job, piece: piece.part in full)
        return list(no_room_for_registration.check(design, derived(*parts)))


def test_parts_without_room_for_index_dowels() -> None:
    narrow = {"wide": 460.0, "high": 370.0, "faces": 2}
    parts = (
        part("a", 460, 370), part("roomy", **narrow), part("wheel", 100, 100, faces=2), part("lam.1", **narrow, whole="a"), part("lam.2", **narrow, whole="a"),
        part("keeper", **narrow),
    )  # fmt: skip
    found = registered(*parts)
    assert [(item.parts, start(item.span)) for item in found] == [(("a",), 2), (("keeper",), 0)]
    assert found[0].message == "`a` takes 460 mm by 370 mm of a sheet of 500 mm by 400 mm and is cut from both faces: no room is left for index dowels"
    assert found[0].remedy == "a sheet that is 80 mm longer or wider than the part, or all work from one face"
    # A panel that the machine takes is what is left beside, also of a layered part.
    layer = part("lam.1", 250, 150, whole="a", faces=2, on=sheet(face_grain="x"), grain="x")
    assert not registered(layer) and [item.parts for item in registered(layer, machine=3)] == [("a",)]
    # On panels of 200 by 300 it lies turned.
    assert [item.parts for item in registered(part("lam.1", 250, 150, whole="a", faces=2), machine=3)] == [("a",)]
    assert not registered(part("a", 460, 370)) and len(registered(part("wheel", **narrow))) == 1
