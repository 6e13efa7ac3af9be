"""Which length a drive and a pivot get from their stacks, the bench and what is stated: figures by hand. Lengths mm."""

from __future__ import annotations

from collections.abc import Sequence
from types import SimpleNamespace
from typing import Any

import pytest
from tests.designs import BOLT, gear, mm
from tests.designs_feet import NUT, cap_screw, crank, pin

from trivet.model.base import Band, Ref
from trivet.model.hardware import Screw, ThreadLength
from trivet.model.intent import Have
from trivet.model.shop import Shop
from trivet.model.train import Drive, DriveNut, Pivot
from trivet.record import replace
from trivet.solve import bolts
from trivet.solve.bolt_length import as_bands, choose_length, why_not
from trivet.solve.derived import BoltChoice

KEYS = ((-1, -1), (-1, 1), (1, -1), (1, 1))
HALF = ThreadLength(full=False)


def named(**values: Any) -> Any:
    return SimpleNamespace(**values)


def stand(held: float, face: float, thread_from: float = 20.0, **facts: Any) -> Any:
    given = {"items": (("boards", held),), "face_of": "the face", "head_z_mm": 10.0, "remaining_mm": 9.0, "underside_mm": 30.0}
    return named(held_mm=held, face_mm=face, thread_from_mm=thread_from, **(given | facts))


def chosen(
    monkeypatch: pytest.MonkeyPatch, of: Drive | Pivot, long: Sequence[Any], short: Sequence[Any], *, bench: Sequence[float] = (), stop: float = 0.0,
    have: tuple[Have, ...] = (), unit: str = "mm", wood: Sequence[float] = (18.0, 17.0, 19.0, 16.4),
) -> BoltChoice:  # fmt: skip
    """The choice for stacks given outright: the nominal one is 21 long, with its own face."""
    made = gear("hub", 20, drive=True) if isinstance(of, Drive) else gear("hub", 20)
    whole: Any = named(design=named(have=have, shop=Shop(depth_mm=0.2), drives=(of,), pivots=(of,)), states={"hub": named(gear=made)})
    worlds: Any = {(0, 0): named(**vars(whole), boards=named(z={"deck": named(under_mm=5.0, top_mm=23.0)}))}
    worlds |= {key: named(boards=named(z={"deck": named(under_mm=5.0, top_mm=5.0 + thick)})) for key, thick in zip(KEYS, wood, strict=True)}
    mean = stand(21.0, 99.0, 0.0, face_of="the middle")
    for name in ("drive_stands", "pivot_stands"):
        monkeypatch.setattr(bolts, name, lambda *_: (mean, list(long), list(short)))
    # The uppermost gear's board counts, and the lowest gear's wood: the other one is thicker and hangs elsewhere.
    top: Any = named(id="top", level=0, gear=gear("top", 20, shaft="hub"), face_width=Band(30.0, 29.0, 31.0))
    state: Any = named(id="hub", level=1, gear=made.model_copy(update={"under": Ref("lid")}), face_width=Band(18.0, 17.0, 19.0))
    if isinstance(of, Pivot):
        found = bolts.pivot_screw(worlds, (top, state), "hub", unit)
    else:
        room = bolts.BenchRoom(dict(zip(KEYS, bench, strict=True))) if bench else None
        found = bolts.drive_bolt(worlds, (top, state), "hub", room, unit, stop)
    assert found is not None
    return found


def four(**facts: Any) -> list[Any]:
    """Shortest stacks that leave room up to 38, the tightest of them the second."""
    return [stand(20.0, face, begins, **facts) for face, begins in ((39.0, 21.0), (38.0, 22.0), (40.0, 19.5), (41.0, 24.0))]


LONG = [stand(22.0, 50.0, 0.0), stand(29.0, 50.0, 0.0), stand(23.0, 50.0, 0.0)]


def test_bolt_within_the_tightest_stacks(monkeypatch: pytest.MonkeyPatch) -> None:
    found = chosen(monkeypatch, crank(), LONG, four())
    assert (found.part, found.least_mm, found.most_mm, found.buy_mm, found.cut_to_mm, found.fits) == ("crank.hub", 29.0, 38.0, 35.0, None, True)
    assert (found.room_ends_at, found.remedy, found.stack) == ("the middle", "", (("boards", Band(21.0, 20.0, 29.0)),))
    assert found.because.inputs == (("longest stack", "29 mm", None), ("longest that ends at the middle", "38 mm", None)) and found.because.value == "35 mm"
    # A shank must end before the nearest nut, at 19.5: of 35 there are 13, of 45 there are 23.
    half = crank(bolt=cap_screw(HALF, (35.0, 45.0)))
    assert chosen(monkeypatch, half, LONG, four()).buy_mm == 35.0
    longer = [stand(20.0, 48.0, begins) for begins in (21.0, 22.0, 17.0, 24.0)]
    threaded = chosen(monkeypatch, crank(bolt=cap_screw(HALF, (45.0,))), [stand(41.0, 0.0)], longer)
    assert (threaded.buy_mm, threaded.fits, threaded.because.value) == (None, False, "none fits")
    drawer = (Have(quantity=1, standard="ISO 4762", thread="M8", length_mm=30.0),)
    assert chosen(monkeypatch, crank(), LONG, four(), have=drawer).buy_mm == 30.0
    strange = (("ISO 4762", "M6", 30.0), ("ISO 4017", "M8", 30.0), ("ISO 4762", "M8", None))
    others = tuple(Have(quantity=1, standard=standard, thread=thread, length_mm=length) for standard, thread, length in strange)
    assert chosen(monkeypatch, crank(), LONG, four(), have=others).buy_mm == 35.0


def test_bolt_that_the_bench_leaves_more_room(monkeypatch: pytest.MonkeyPatch) -> None:
    def told(of: Drive, bench: Sequence[float], long: float = 35.5, most: float = 38.0, **facts: Any) -> tuple[float | None, float | None, float, str]:
        found = chosen(monkeypatch, of, [stand(long, 0.0)], [stand(20.0, most, **facts) for _ in range(4)], bench=bench)
        return found.buy_mm, found.cut_to_mm, found.most_mm, found.room_ends_at

    # 35.5 to 38 can only be cut, from 40. Under a head at 10 the bench at -31 leaves 41: the shortest that is sold is taken.
    room = "the bench at the lowest height"
    assert told(crank(), (-90.0, -31.0, -80.0, -70.0)) == (40.0, None, 41.0, room)
    assert told(crank(), (-90.0, -70.0, -80.0, -29.5)) == (40.0, 37.0, 38.0, "the middle")
    assert told(crank(), (-90.0, -65.0, -80.0, -70.0)) == (40.0, None, 75.0, room)
    # A stock length that ends in the gear is kept, and one that is stated and ends there.
    assert told(crank(), (-90.0,) * 4, 34.0) == (35.0, None, 38.0, "the middle")
    assert told(crank(length=mm(37)), (-90.0,) * 4) == (40.0, 37.0, 38.0, "the middle")
    # A stated one that only the bench allows, with a stock length beside it in the gear or not.
    assert told(crank(length=mm(42)), (-90.0,) * 4) == (45.0, 42.0, 100.0, room)
    assert told(crank(length=mm(40)), (-90.0,) * 4, 34.0) == (40.0, None, 100.0, room)
    assert told(crank(length=mm(40)), (-27.0,) * 4, 34.0) == (40.0, None, 38.0, "the middle")
    # The bench right at the face of the gear leaves nothing.
    assert told(crank(length=mm(42)), (-28.0,) * 4, 34.0) == (45.0, 42.0, 38.0, "the middle")
    # As far as the bench, where nothing that is sold lies between.
    assert told(crank(bolt=cap_screw(stock=(30.0, 70.0))), (-31.0,) * 4) == (70.0, 37.0, 38.0, "the middle")
    assert told(crank(length=mm(42), bolt=cap_screw(stock=(30.0, 70.0))), (-34.0,) * 4) == (70.0, 42.0, 44.0, room)


def test_bolt_with_a_stop(monkeypatch: pytest.MonkeyPatch) -> None:
    found = chosen(monkeypatch, crank(stop=True, stop_nut=NUT), LONG, four(), bench=(-12.0,) * 4, stop=13.0)
    # 29 and 13 at least, 5 more at the most: 45 is sold.
    assert (found.least_mm, found.most_mm, found.buy_mm, found.cut_to_mm) == (42.0, 47.0, 45.0, None)
    assert found.room_ends_at == "the threads that stand out of the stop's end nut" and found.stack[-1] == (bolts.STOP_ITEM, Band(13.0, 13.0, 13.0))
    short = chosen(monkeypatch, crank(stop=True, stop_nut=NUT, bolt=cap_screw(stock=(30.0,))), LONG, four(), stop=13.0)
    assert (short.buy_mm, short.remedy) == (None, "a screw of at least 42 mm; the longest sold is 30 mm")
    # The nut of a stop is not let in deeper, and one that fits is left alone.
    low = crank(stop=True, stop_nut=NUT, bolt=cap_screw(stock=(38.0,)))
    assert chosen(monkeypatch, low, LONG, four(underside_mm=38.0), stop=13.0).remedy == "a screw of at least 42 mm; the longest sold is 38 mm"
    plain = chosen(monkeypatch, crank(), LONG, four(underside_mm=26.0))
    assert (plain.stack[-1][0], plain.remedy) == ("boards", "")


@pytest.mark.parametrize(("of", "name"), [(crank(), "drive_stack"), (pin(), "pivot_stack")])
def test_combinations_that_a_stack_is_taken_at(monkeypatch: pytest.MonkeyPatch, of: Any, name: str) -> None:
    """The nominal one; shallow recesses under thick washers; deep ones under thin washers; each at both sheets of board and gear."""
    calls: list[tuple[Any, ...]] = []
    monkeypatch.setattr(bolts, name, lambda *given: calls.append(given) or len(calls) - 1)
    worlds: Any = {key: named(boards=key, design=named(shop="shop"), drops={1: 2.5, 3: 7.0}) for key in ((0, 0), *KEYS)}
    stack: Any = (named(level=1), named(level=3))
    stands = bolts.drive_stands if name == "drive_stack" else bolts.pivot_stands
    assert stands(worlds, stack, of) == (0, [1, 2, 3, 4], [5, 6, 7, 8])
    assert all((given[0], given[1], given[3], given[4]) == (of, stack, "shop", 2.5) for given in calls)
    told = [(given[2], (given[5].board, given[5].gear, given[5].depth), given[6]) for given in calls]
    assert told == [((0, 0), (0, 0, 0), 0), *((key, (*key, depth), washer) for depth, washer in ((-1, 1), (1, -1)) for key in KEYS)]


def test_a_level_that_does_not_hang(monkeypatch: pytest.MonkeyPatch) -> None:
    for name, stands in (("drive_stack", bolts.drive_stands), ("pivot_stack", bolts.pivot_stands)):
        monkeypatch.setattr(bolts, name, lambda *given: given[4])
        worlds: Any = {key: named(boards=key, design=named(shop="shop"), drops={1: 2.5}) for key in ((0, 0), *KEYS)}
        level: Any = (named(level=0), named(level=1))
        found: Any = stands(worlds, level, Any)
        assert found == (0.0, [0.0] * 4, [0.0] * 4)


def test_a_stop_that_takes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    whole: Any = named(design=named(have=(), shop=Shop(), drives=(crank(stop=True, stop_nut=NUT),)), states={"hub": named(gear=gear("hub", 20, drive=True))})
    monkeypatch.setattr(bolts, "drive_stands", lambda *_: (stand(21.0, 0.0), [stand(29.0, 0.0)], [stand(20.0, 38.0)]))
    found = bolts.drive_bolt({(0, 0): whole}, (), "hub", None, "mm")
    assert found is not None and (found.least_mm, found.most_mm) == (29.0, 34.0)


def test_recesses_offered_for_a_bolt(monkeypatch: pytest.MonkeyPatch) -> None:
    def remedy(of: Drive, long: float, most: float, left: float = 9.0) -> str:
        return chosen(monkeypatch, of, [stand(long, 0.0)], [*(stand(20.0, most) for _ in range(3)), stand(20.0, most, remaining_mm=left)]).remedy

    # 35.5 to 38 is cut from 40; 0.5 deeper lets 35 do as bought. Where one of the stacks leaves 6 of wood, 2 shallower lets 40 do.
    assert remedy(crank(), 35.5, 38.0) == "`head recessed 9.5 mm` lets a screw of 35 mm do as bought"
    assert remedy(crank(head_recessed=mm("11.6")), 35.5, 38.0) == "`head recessed 12.1 mm` lets a screw of 35 mm do as bought"
    assert remedy(crank(head_recessed=mm("11.6")), 35.5, 38.0, 6.0) == "`head recessed 9.6 mm` lets a screw of 40 mm do as bought"
    # No length and no step between: a recess that lets a sold one do comes before more room; else what is lacking.
    assert remedy(crank(bolt=cap_screw(stock=(35.0,))), 36.1, 36.4) == "`head recessed 10.1 mm` lets a screw of 35 mm do as bought"
    assert remedy(crank(bolt=cap_screw(stock=(20.0,))), 36.1, 36.4) == "a recess 0.5 mm deeper for the last nut leaves a length that can be cut"
    # Exactly as long as the room, at no step: nothing is lacking, but no length can be cut.
    assert remedy(crank(bolt=cap_screw(stock=(20.0,))), 36.25, 36.25).startswith("a recess 0.5 mm deeper")
    # The stack is longer than the room: the jam nut 1 deeper than the gear's face at 30 and a step, 6 + 6.5 + 0.5.
    assert remedy(crank(), 36.5, 36.0) == "`recessed 13 mm` in the `jam_nut` leaves a length that can be cut"
    # A gear of 17 keeps 3 and the error: 13.8 at the most.
    assert remedy(crank(), 37.3, 36.0).startswith("`recessed 13.8 mm`") and remedy(crank(), 37.4, 36.0).startswith("1.4 mm more room")
    assert remedy(crank(jam_nut=None), 36.5, 36.0).startswith("0.5 mm more room")
    assert remedy(crank(stop=True, stop_nut=NUT, bolt=cap_screw(stock=(20.0,))), 36.5, 36.0) == "a screw of at least 36.5 mm; the longest sold is 20 mm"
    found = chosen(monkeypatch, crank(), [stand(36.5, 0.0)], [stand(20.0, 36.0, underside_mm=at) for at in (31.0, 30.5, 30.0, 33.0)])
    assert found.remedy == "`recessed 13 mm` in the `jam_nut` leaves a length that can be cut"


@pytest.mark.parametrize(
    ("length", "fits", "buy", "cut", "said"),
    [
        (35.0, True, 35.0, None, ""), (36.0, True, 40.0, 36.0, ""), (38.0, True, 40.0, 38.0, ""), (38.5, False, 40.0, 38.5, "`length 35 mm` fits"),
        (29.0, True, 30.0, 29.0, ""), (28.5, False, 30.0, 28.5, "`length 35 mm` fits"), (81.0, False, None, None, "`length 35 mm` fits"),
    ],
)  # fmt: skip
def test_stated_lengths(monkeypatch: pytest.MonkeyPatch, length: float, fits: bool, buy: float | None, cut: float | None, said: str) -> None:
    found = chosen(monkeypatch, crank(length=mm(str(length))), LONG, four())
    assert (found.fits, found.buy_mm, found.cut_to_mm, found.stated_mm, found.remedy) == (fits, buy, cut, length, said)
    assert found.because.value == f"{length:g} mm"


def test_what_is_said_of_a_stated_length(monkeypatch: pytest.MonkeyPatch) -> None:
    # One that is cut; none at all, with a recess to be had and without.
    cut = chosen(monkeypatch, crank(length=mm(50)), [stand(35.5, 0.0)], [stand(20.0, 38.0) for _ in range(4)])
    assert (cut.fits, cut.remedy) == (False, "`length 37 mm` fits")
    inch = chosen(monkeypatch, crank(length=mm(50)), [stand(36.0, 0.0)], [stand(20.0, 38.0) for _ in range(4)], unit="in")
    # The middle of 36 and 38 in 64ths: 93.2.
    assert inch.remedy == "`length 1-29/64 in` (1.453 in) fits"
    none = chosen(monkeypatch, crank(length=mm(50), bolt=cap_screw(stock=(20.0,))), [stand(35.5, 0.0)], [stand(20.0, 38.0) for _ in range(4)])
    assert (none.fits, none.remedy) == (False, "a screw of at least 35.5 mm; the longest sold is 20 mm")


def idler(monkeypatch: pytest.MonkeyPatch, of: Pivot, least: float, most: float, **facts: Any) -> BoltChoice:
    return chosen(monkeypatch, of, [stand(least - 1, 0.0), stand(least, 0.0), stand(least - 2, 0.0)], [stand(20.0, most + 1), stand(20.0, most, 18.0)], **facts)


def test_screw_of_an_idler(monkeypatch: pytest.MonkeyPatch) -> None:
    found = idler(monkeypatch, pin(), 29.0, 33.0)
    assert (found.part, found.least_mm, found.most_mm, found.buy_mm, found.remedy) == ("pin.hub", 29.0, 33.0, 32.0, "")
    assert (found.standard, found.designation, found.room_ends_at) == ("ISO 7049", "ST6.3", "the middle")
    # A wood screw is not cut; the head 1 shallower or deeper lets one do: 33 to 36.5 holds none, 32 with 1 more of depth.
    wood = idler(monkeypatch, pin(), 33.0, 36.5)
    assert (wood.buy_mm, wood.cut_to_mm, wood.fits, wood.remedy) == (None, None, False, "`head recessed 8 mm` lets a screw of 32 mm do as bought")
    # A gear of 17 keeps 3 and the error 0.2: 13.8 at the most.
    short = pin(screw=replace(pin().screw, stock_mm=(20.0,)))
    assert idler(monkeypatch, short, 26.8, 30.0).remedy == "`head recessed 13.8 mm` lets a screw of 20 mm do as bought"
    assert idler(monkeypatch, short, 26.9, 30.0).remedy == "a screw of at least 26.9 mm; the longest sold is 20 mm"
    nut = DriveNut(hardware=NUT, side="above", recessed=mm("6.8"))
    cut = idler(monkeypatch, pin(screw=BOLT, nut=nut, head_recessed=None), 51.0, 55.0)
    assert (cut.buy_mm, cut.cut_to_mm, cut.fits, cut.remedy) == (60.0, 53.0, True, "`head recessed 1 mm` lets a screw of 50 mm do as bought")
    assert idler(monkeypatch, pin(screw=BOLT, nut=nut), 29.0, 33.0).remedy == ""
    drawer = (Have(quantity=1, standard="ISO 7049", thread="ST6.3", length_mm=31.0),)
    assert idler(monkeypatch, pin(), 29.0, 33.0, have=drawer).buy_mm == 31.0


def test_nut_of_an_idlers_bolt(monkeypatch: pytest.MonkeyPatch) -> None:
    """The nut must go in as deep as 52 - 50 and more; the thinnest board less an error keeps 6 of wood under it."""
    nut = DriveNut(hardware=NUT, side="above", recessed=mm("6.8"))
    of = pin(screw=BOLT, nut=nut, head_recessed=None)
    for thin, said in ((16.4, "`recessed 8.8 mm` in the `nut`"), (15.0, "`recessed 8.8 mm` in the `nut`"), (14.9, "")):
        found = idler(monkeypatch, of, 52.0, 50.0, wood=(18.0, thin, 19.0, 17.0))
        assert found.remedy.startswith(said or "2 mm more room") and (found.buy_mm, found.fits) == (None, False)
    assert not idler(monkeypatch, of, 61.0, 64.0).remedy.startswith("`recessed")
    assert idler(monkeypatch, of, 52.25, 52.25).remedy.startswith("a recess 0.5 mm deeper")


def test_stated_screw_whose_room_lies_between_two_lengths(monkeypatch: pytest.MonkeyPatch) -> None:
    """A recess of 7 in a gear of 17 can be 13.8 deep, and no less than 0: 45 is 8.5 too long, 22 too short by 7."""
    between = replace(pin().screw, stock_mm=(22.0, 45.0))
    found = idler(monkeypatch, pin(screw=between, length=mm(40)), 33.0, 36.5)
    assert (found.fits, found.buy_mm, found.cut_to_mm) == (False, 45.0, 40.0)
    assert found.remedy == "a thinner or a thicker stack: no length that is sold fits this one, and a wood screw is not cut"
    near = idler(monkeypatch, pin(screw=replace(between, stock_mm=(22.0, 43.0)), length=mm(40)), 33.0, 36.5)
    assert near.remedy == "`head recessed 0.5 mm` lets a screw of 43 mm do as bought"


def test_no_bolt_without_a_drive_or_a_pivot() -> None:
    worlds: Any = {(0, 0): named(design=named(drives=(), pivots=()), states={"hub": named(gear=gear("hub", 20))})}
    assert bolts.drive_bolt(worlds, (), "hub", None, "mm") is None and bolts.pivot_screw(worlds, (), "hub", "mm") is None


def partly(stock: tuple[float, ...] = (50.0,)) -> Screw:
    return replace(BOLT, threaded=HALF, stock_mm=stock)


@pytest.mark.parametrize(
    ("least", "most", "thread_from", "words"),
    [
        # No half millimetre at the one length that would do; the longest sold just long enough; a nut right under the head.
        (20.25, 20.25, 90.0, "a recess 0.5 mm deeper"), (50.0, 52.0, 9.0, "a fully threaded screw: the thread must begin within 9 mm"),
        (40.0, 52.0, 0.0, "a fully threaded screw: the thread must begin within 0 mm"),
    ],
)  # fmt: skip
def test_why_no_length_does_on_a_border(least: float, most: float, thread_from: float, words: str) -> None:
    assert why_not(partly(), least, most, thread_from, "mm").startswith(words)


def test_an_item_that_another_stack_lacks() -> None:
    assert as_bands([("washer", 0.3)], [("washer", 0.2)], []) == (("washer", Band(0.3, 0.0, 0.3)),)
    # The shortest stock of two that can be cut, in whatever order they are listed.
    assert choose_length(replace(BOLT, stock_mm=(60.0, 40.0)), 31.0, 33.0, 0.0, "mm").buy_mm == 40.0
