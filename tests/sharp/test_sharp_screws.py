"""Bolts that are bought alike or do not fit, threads, hexagons, what strikes a board, words on binding, checks that stop. Lengths mm."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from tests.designs import M8, mm
from tests.designs_feet import HEX, JAM, NUT, PAN, cap_screw, captured, crank, hex_screw, pin, riding, sliding

from trivet.checks import _binding, _bolts, _check, _clear, _hexagon, _strike_words, _threads
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.base import Band, Ref
from trivet.model.hardware import Screw, ThreadLength
from trivet.model.train import DriveNut
from trivet.record import replace
from trivet.solve.binding import Binding
from trivet.solve.derived import BoltChoice
from trivet.solve.solid import Solid
from trivet.source import LibraryRow, SourceFile, Span

FILE = SourceFile("f.trivet", "x" * 100)
RULE = Rule("a-rule", "error", "", "", "")


def named(**values: Any) -> Any:
    return SimpleNamespace(**values)


def at(start: int) -> Span:
    return Span(FILE, start, start + 1)


def bolt(of: Any, part: str, stated: float | None, fits: bool = False, least: float = 20.0, most: float = 24.0, **facts: Any) -> BoltChoice:
    given: dict[str, Any] = {
        "standard": "ISO 4762", "designation": "M8", "stock_mm": (), "buy_mm": 25.0, "cut_to_mm": None,
        "stack": (("deck", Band(8.0, 7.0, 9.0)), ("washer", Band(1.6, 1.4, 1.8))), "room_ends_at": "the underside of `hub`", "remedy": "another",
    } | facts  # fmt: skip
    return BoltChoice(part=part, of=of, least_mm=least, most_mm=most, stated_mm=stated, fits=fits, **given)


def at_name(of: Any, start: int, **facts: Any) -> Any:
    return of.model_copy(update={"name": Ref(of.name.text, at(start)), "origin": at(start + 1), **facts})


DRIVE, PIVOT, FOOT = at_name(crank(), 10), at_name(pin(), 20), at_name(riding(), 30)
BOLTED = at_name(pin(name=Ref("axle"), nut=DriveNut(hardware=NUT, side="above")), 40)


def test_bolts_that_are_bought_alike() -> None:
    bolts = (
        bolt(PIVOT, "pin.west", None), bolt(DRIVE, "crank.hub", None), bolt(PIVOT, "pin.east", None, least=20.0 + 4e-7),
        bolt(PIVOT, "pin.north", None, least=20.1), bolt(PIVOT, "pin.south", None, most=24.1), bolt(PIVOT, "pin.cut", None, cut_to_mm=22.0),
        bolt(PIVOT, "pin.long", None, buy_mm=30.0), bolt(FOOT, "corner.nw", 30.0), bolt(FOOT, "corner.ne", 30.0, least=21.0, most=29.0),
    )  # fmt: skip
    found = [(name, _bolts.parts_of(held)) for name, held in _bolts.alike(named(bolts=bolts))]
    assert found == [
        ("pin", ("pin.west", "pin.east")), ("crank", ("crank.hub",)), ("pin", ("pin.north",)), ("pin", ("pin.south",)), ("pin", ("pin.cut",)),
        ("pin", ("pin.long",)), ("corner", ("corner.nw", "corner.ne")),
    ]  # fmt: skip


def test_what_a_bolt_is_called_and_where_it_stands() -> None:
    stated = at_name(pin(length=replace(mm(30), origin=at(50))), 20)
    assert _bolts.origin_of(bolt(stated, "pin.west", 30.0)) == at(50) and _bolts.origin_of(bolt(PIVOT, "pin.west", None)) == at(20)
    inch = Screw(standard="ASME B18.2.1", thread=M8, head=HEX, threaded=ThreadLength(full=True), stock_mm=(), stock_origin=at(60))
    assert _bolts.sold_as(bolt(DRIVE, "crank.hub", None)) == "ISO 4762 M8"
    told = [_bolts.sold_text(bolt(of, "x", None), 25.4) for of in (crank(bolt=inch), pin(screw=inch), riding(screw=inch), crank(), captured())]
    assert told == ["1 in"] * 3 + ["25.4 mm"] * 2
    assert [_bolts.row_of(bolt(of, "x", None)) for of in (crank(bolt=inch), pin(screw=inch), riding(screw=inch), captured())] == [at(60)] * 3 + [None]
    assert [_bolts.is_wood_screw(bolt(of, "x", None)) for of in (DRIVE, PIVOT, BOLTED, FOOT)] == [False, True, False, False]


def unfit(judge: Any, *bolts: BoltChoice, unit: str = "mm") -> list[Diagnostic]:
    return list(judge(RULE, named(units=unit), named(bolts=bolts)))


def called(of: Any, name: str) -> Any:
    return of.model_copy(update={"name": Ref(name)})


# The room is from 20 to 24.
PASSED_OVER = (
    bolt(called(DRIVE, "a"), "a.hub", 30.0, fits=True), bolt(called(PIVOT, "b"), "b.west", None), bolt(FOOT, "corner.nw", 30.0),
    bolt(called(BOLTED, "d"), "d.south", 19.0, fits=True), bolt(called(FOOT, "e"), "e.nw", 10.0),
)  # fmt: skip


def test_bolts_that_are_too_long() -> None:
    long = bolt(DRIVE, "crank.hub", 26.0)
    screw, short = bolt(PIVOT, "pin.west", 26.0), bolt(at_name(crank(name=Ref("short")), 10), "short.hub", 19.9)
    pivots = (bolt(BOLTED, "axle.west", 26.0), bolt(BOLTED, "axle.east", 26.0))
    found = unfit(_bolts.too_long, *PASSED_OVER, screw, short, long, *pivots)
    ends = "26 mm long; at most 24 mm fits, which ends at the underside of `hub`"
    assert [item.message for item in found] == [f"the bolt of `crank` is {ends}", f"the bolt of `axle` is {ends}"]
    first = found[0]
    assert (first.rule, first.span, first.remedy, first.parts) == ("a-rule", at(10), "another", ("crank.hub",)) and found[1].parts == ("axle.west", "axle.east")
    assert [(item.message, item.span) for item in first.related] == [("under its head lie, at most: deck 9 mm, washer 1.8 mm", at(10))]
    # Within the room, but the thread begins too late; on both of its ends.
    for stated in (22.0, 20.0, 24.0):
        (item,) = unfit(_bolts.too_long, bolt(DRIVE, "crank.hub", stated))
        assert item.message == f"the bolt of `crank` is {stated:g} mm long, and its plain shank reaches into its nut"
    assert unfit(_bolts.too_long, bolt(DRIVE, "crank.hub", 50.8), unit="in")[0].message.startswith("the bolt of `crank` is 2 in long; at most 0.945 in fits")


def test_bolts_that_are_too_short() -> None:
    found = unfit(_bolts.too_short, *PASSED_OVER, bolt(called(DRIVE, "long"), "long.hub", 20.0), bolt(PIVOT, "pin.west", 19.5), bolt(BOLTED, "axle.west", 19.5))
    assert [item.message for item in found] == [f"the {what} is 19.5 mm long; its longest stack takes 20 mm" for what in ("screw of `pin`", "bolt of `axle`")]
    (item,) = unfit(_bolts.too_short, bolt(crank(), "crank.hub", 19.0))
    assert item.span is None and item.related == ()


def test_threads_and_what_runs_in_them() -> None:
    other = replace(M8, designation="other")
    design: Any = named(
        drives=(crank(), crank(name=Ref("plain"), jam_nut=None, bolt=replace(cap_screw(), thread=other))),
        pivots=(pin(), pin(name=Ref("axle"), bolt=True, screw=hex_screw(), nut=DriveNut(hardware=NUT, side="above"))),
        feet=(riding(), captured(name=Ref("rod")), riding(name=Ref("bare")).model_copy(update={"insert": None})),
    )  # fmt: skip
    found = [(use.part, use.thread.designation, [(what, thread.designation) for what, thread, _ in use.mates]) for use in _threads.thread_uses(design)]
    assert found == [
        ("crank", "M8", [("bolt", "M8"), ("nut", "M8"), ("jam nut", "M8")]), ("plain", "M8", [("bolt", "other"), ("nut", "M8")]),
        ("pin", "ST6.3", [("screw", "ST6.3")]), ("axle", "ST6.3", [("bolt", "M8"), ("nut", "M8")]),
        ("corner", "M8", [("screw", "M8"), ("insert", "M8")]), ("rod", "M8", [("nut", "M8")]), ("bare", "M8", [("screw", "M8")]),
    ]  # fmt: skip


def test_hexagons_of_feet() -> None:
    head, nut = _hexagon.hexagon_of(riding()), _hexagon.hexagon_of(captured())
    assert head is not None and (head.flats_mm, head.corners_mm, head.room_mm, head.words) == (13.0, 14.38, 0.1, "its head")
    assert nut is not None and (nut.flats_mm, nut.corners_mm, nut.room_mm, nut.words) == (13.0, 14.38, 0.1, "its nut")
    slides = _hexagon.hexagon_of(sliding())
    assert slides is not None and slides.room_mm == 0.2
    for foot in (riding(screw=cap_screw()), riding(screw=None), riding(screw=hex_screw(head=replace(HEX, across_corners_mm=None))), captured(nut=None)):
        assert _hexagon.hexagon_of(foot) is None
    assert _hexagon.hexagon_of(riding(screw=hex_screw(head=replace(PAN, across_corners_mm=14.0)))) is None
    # Where the nut's corners are not known, the head counts.
    both = _hexagon.hexagon_of(riding(nut=replace(JAM, across_corners_mm=None)))
    assert both is not None and both.words == "its head"


def struck(radial: float | None, axial: float | None, depth: float | None = None, kind: Any = "gear", unit: str = "mm") -> tuple[str, str]:
    """In wood of 18 at its thinnest; `depth` of the pocket under it."""
    solid = Solid(kind, "west", "west", 0.0, 0.0, 50.0, -20.0, -2.0)
    strike: Any = named(solid=solid, board="base", radial_mm=radial, axial_mm=axial, cutout=None if depth is None else named(depth_mm=depth))
    return _strike_words.strike_words(strike, 18.0, unit)


def test_words_of_a_strike() -> None:
    # A gear keeps 1 from a wall and 0.5 over wood; hardware 0.01.
    radial = "a cut {} larger all round, or in another place"
    assert struck(0.4, None) == ("`west` stands 0.4 mm from the wall round it in `base`; a gap of at least 1 mm is required", radial.format("0.6 mm"))
    assert struck(0.0, None)[0].startswith("`west` stands 0 mm from the wall")
    assert struck(-2.0, None) == ("`west` reaches 2 mm into the wall round it in `base`; a gap of at least 1 mm is required", radial.format("3 mm"))
    assert struck(-0.01, None)[0].startswith("`west` reaches 0.01 mm into") and struck(0.35, None)[1] == radial.format("0.7 mm")
    assert struck(0.4, None, unit="in")[1] == radial.format("0.025 in")  # 0.0236 up to five thousandths
    clears = "the nut of `west` reaches 2 mm into the wall round it in `base`, which it must clear"
    assert struck(-2.0, None, kind="nut") == (clears, radial.format("2.1 mm"))
    worst = "`base` at the worst of the sheets; a gap of at least 0.5 mm is required"
    opening = "an opening round it, or {} more of `clear`"
    assert struck(None, 0.3) == (f"`west` comes within 0.3 mm of the topside of {worst}", opening.format("0.2 mm"))
    assert struck(None, -0.3) == (f"`west` reaches 0.3 mm below the topside of {worst}", opening.format("0.8 mm"))
    assert struck(None, None)[0].startswith("`west` comes within 0 mm of the topside")
    floor = f"the floor of the pocket under it in {worst}"
    # 18 less 3 that stay: a pocket of 14 takes 1 more.
    assert struck(None, -0.3, 9.0) == (f"`west` reaches 0.3 mm below {floor}", "a pocket 0.8 mm deeper, or an opening")
    assert struck(None, 0.3, 9.0)[0] == f"`west` comes within 0.3 mm of {floor}"
    deeper = [struck(None, gap, 14.0)[1] for gap in (-0.5, -0.6, 0.4)]
    assert deeper == ["a pocket 1 mm deeper, or an opening", "an opening in place of the pocket", "a pocket 0.1 mm deeper, or an opening"]
    # 0.25 more where 0.3 is left; without a depth all but the floor is.
    assert [struck(None, 0.25, deep)[1] for deep in (14.7, 14.8)] == ["a pocket 0.3 mm deeper, or an opening", "an opening in place of the pocket"]
    assert struck(None, -14.4, 0.0)[1] == "a pocket 14.9 mm deeper, or an opening" and struck(None, -14.6, 0.0)[1].startswith("an opening")


def test_words_and_places_of_solids() -> None:
    kinds: tuple[Any, ...] = ("head", "keeper", "bolt_end", "keeper_screw")
    told = [_clear.solid_words(Solid(kind, "pin.west", "west", 0.0, 0.0, 5.0, 0.0, 1.0)) for kind in kinds]
    assert told == ["the head of `pin.west`", "the keeper `pin.west`", "the end of the bolt of `pin.west`", "a screw of `pin.west`"]
    assert _clear.solid_names(Solid("keeper", "corner.nw.keeper", "nw", 0.0, 0.0, 5.0, 0.0, 1.0)) == ("corner.nw",)
    held, bare = at_name(captured(), 30), at_name(riding(name=Ref("bare")), 34)
    held = held.model_copy(update={"keeper": held.keeper.model_copy(update={"origin": at(32)})})
    design: Any = named(
        gears=(named(name=Ref("hub", at(1))),), boards=(named(name=Ref("deck", at(2))),), feet=(held, bare), pivots=(PIVOT,), drives=(DRIVE,),
        magnets=(named(name=Ref("m", at(6))),), origin=at(0),
    )  # fmt: skip
    derived: Any = named(
        feet=(named(id="corner.nw", foot=held),), climbers=(named(id="bare.up", foot=bare),),
        pivots=(named(id="pin.west", pivot=PIVOT),), drives=(named(id="crank.hub", drive=DRIVE),),
    )  # fmt: skip
    places = _clear.places_of(design, derived)
    starts = {name: origin.start if isinstance(origin, Span) else None for name, origin in places.items()}
    assert starts == {
        "hub": 1, "deck": 2, "corner": 30, "bare": 34, "pin": 20, "crank": 10, "m": 6, "corner.nw": 30, "corner.nw.keeper": 32, "bare.up": 34,
        "bare.up.keeper": None, "pin.west": 20, "crank.hub": 10,
    }  # fmt: skip
    spots = [_clear.where(places, design, *names) for names in (("x", "pin.west", "hub"), ("bare.up.keeper", "hub"), ("x",))]
    assert spots == [at(20), at(1), at(0)]


def test_backlash_that_a_train_wants() -> None:
    forms = (named(name=Ref("fine"), backlash=replace(mm("0.3"), origin=at(3))), named(name=Ref("coarse"), backlash=replace(mm("0.5"), origin=at(4))))
    # 3 steps of a hundredth bring 8 percent down to 2.
    found = Binding(0.08, 1000, 20, (("m2", 0.05), ("m1", 0.01)), with_more=(0.08, 0.05, 0.03, 0.02, 0.0))
    assert _binding.drawn_words(found) == "8 percent of 1000 drawn, seed 20" and _binding.drawn_words(replace(found, chance=None))[:9] == "0 percent"
    both = _binding.binding_remedy(named(units="mm", tooth_forms=forms), found, 0.02)
    assert both == "0.03 mm more backlash in every tooth form brings it to at most 2 percent"
    one = _binding.binding_remedy(named(units="mm", tooth_forms=forms[:1]), found, 0.02)
    # 0.33, up to a twentieth.
    assert one == "`backlash 0.35 mm` in the tooth form brings it to at most 2 percent"
    even = _binding.binding_remedy(named(units="mm", tooth_forms=(named(backlash=mm("0.32")),)), found, 0.02)
    assert even.startswith("`backlash 0.35 mm`")
    more = replace(found, remedies=(("a guide block", 0.01, ()), ("more backlash", 0.001, ())), contributors=(("tilt", 0.02),))
    told = _binding.binding_remedy(named(units="mm", tooth_forms=forms[:1]), more, 0.02)
    assert told == f"{one}; a guide block would leave about 1 in 100; without tilt three quarters of the risk would be gone"
    meshes = tuple(named(id=f"m{k}", a=f"a{k}", b=f"b{k}", mesh=named(b=Ref("b", at(10 + k) if k == 2 else None), origin=at(20 + k))) for k in (1, 2))
    labels = _binding.binding_labels(named(tooth_forms=forms), named(train=named(meshes=meshes)), found)
    assert [(item.message, item.span) for item in labels] == [
        ("`a2` and `b2`, the likeliest to bind, do so in about 1 in 20", at(12)),
        ("the tooth form `fine` states 0.3 mm", at(3)), ("the tooth form `coarse` states 0.5 mm", at(4)),
    ]  # fmt: skip


def finding(rule: str) -> Diagnostic:
    return Diagnostic(rule, "error", "m", at(1))


def test_checks_that_run_and_one_that_stops() -> None:
    def stops(design: Any, derived: Any) -> Any:
        yield finding("before")
        raise ValueError("no such gear")

    def check(slug: str, **facts: Any) -> _check.Check:
        return _check.Check(Rule(slug, "error", "", "", ""), facts.pop("run", lambda design, derived: [finding(slug)]), **facts)

    checks = (
        check("slow", full_only=True), check("stops", run=stops), check("plain"),
        check("either", full_run=lambda design, derived: [finding("either-full")]),
    )  # fmt: skip
    design: Any = named(origin=at(3))
    quick = _check.run_checks(design, named(), False, checks)
    # What a check had found before it stopped stays.
    assert [item.rule for item in quick] == ["before", "check-crashed", "plain", "either"]
    crash = quick[1]
    assert crash.message == "the check `stops` stopped: ValueError: no such gear" and crash.span == at(3) and crash.fault_of_ours
    assert [item.rule for item in _check.run_checks(design, named(), True, checks)] == ["slow", "before", "check-crashed", "plain", "either-full"]
    assert next(item.rule for item in _check.run_checks(design, named(), checks=checks)) == "slow"
    assert not check("x").full_only and _check.run_checks(named(origin=None), named(), True, checks[1:2])[1].span is None
    row = LibraryRow("my_nuts", "M8", "own", "from_memory")
    told = _check.related(("a", at(2)), ("b", None), ("c", row))
    assert [(item.message, item.span) for item in told] == [("a", at(2)), ("c (table `my_nuts`, row M8, from memory)", None)]
    assert _check.place(None, row, at(4), at(5)) == at(4) and _check.place(None, row) is None


def test_where_a_check_stopped() -> None:
    def deep(design: Any) -> Any:
        raise ValueError(design.origin)

    check = _check.Check(RULE, lambda design, derived: deep(design))
    (crash,) = _check.run_checks(named(origin=at(3)), named(), True, (check,))
    assert crash.remedy == f"report it with this file: it stopped in `deep`, line {deep.__code__.co_firstlineno + 1} of test_sharp_screws.py"
