"""What is said of feet that rise differently, turn opposite ways or rock, of inserts and of their sides: each sum is written out. Lengths mm."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from tests.designs import INSERT, TEE_NUT, q
from tests.sharp.check_samples import at, of, ref, run

from trivet.checks import feet_rise_differently, feet_rock, feet_turn_opposite, insert_breaks_through, insert_wrong_way
from trivet.diagnostics import Diagnostic
from trivet.model.base import Band
from trivet.record import replace


def gear(name: str, teeth: int = 20, path: tuple[str, ...] = (), start: int = 50) -> Any:
    """A foot's gear; its teeth are stated one place after its name, its foot two after."""
    declared = of(name=ref(name, start), teeth=q(teeth).at(at(start + 1)), z=teeth, carries=of(origin=at(start + 2)))
    return of(id=name, gear=declared, path=path or ("hub", name))


def foot(gear_name: str, rise: str | None, lead: float = 1.25, name: str = "corner", hand: int = 1, **facts: Any) -> Any:
    thread = of(lead_mm=lead, designation=f"thread of {name}", hand=hand, origin=at(11))
    rises = None if rise is None else Fraction(rise)
    return of(id=f"{name}.{gear_name}", gear=gear_name, rise_per_turn_mm=rises, foot=of(name=ref(name, 10), thread=thread), **facts)


def world(feet: tuple[Any, ...], *gears: Any, meshes: str = "", travel: float | None = None, units: str = "mm") -> Any:
    """Gears that are not given are plain ones, in the order of the feet; meshes are pairs of words."""
    held = {item.id: item for item in gears}
    for index, item in enumerate(feet):
        held.setdefault(item.gear, gear(item.gear, start=60 + 3 * index))
    pairs = meshes.split()
    joined = tuple(of(a=a, b=b) for a, b in zip(pairs[::2], pairs[1::2], strict=True))
    train = of(gears=tuple(held.values()), gear=held.__getitem__, meshes=joined)
    lift = None if travel is None else of(travel_mm=travel)
    return of(gears=tuple(item.gear for item in held.values()), units=units), of(feet=feet, train=train, lift=lift)


def rising(*given: Any, **facts: Any) -> list[Diagnostic]:
    return run(feet_rise_differently, world(*given, **facts))


def test_a_foot_that_rises_more_than_most() -> None:
    # 16 to 20 and 16 to 25 teeth: 1 and 0.8 mm for a turn of the drive.
    feet = (foot("a", "0.8"), foot("b", "-1"), foot("c", "-0.8"), foot("d", None))
    gears = (gear("b", 20), gear("a", 25), gear("c", 25))
    (item,) = rising(feet, *gears, meshes="hub b", travel=8.0)
    assert item.message == (
        "`corner.b` moves 1 mm for a turn of the drive, `corner.a` 0.8 mm: 0.2 mm apart after one turn, 2 mm over the whole travel"
    )
    assert item.span == at(51) and [label.span for label in item.related] == [at(50)] and item.parts == ("corner.b", "b")
    assert item.related[0].message == "`corner.a` is carried here"
    # 20 · 1 / 0.8.
    assert item.remedy == "25 teeth on `b` would make them equal"
    for travel in (None, 0.0):
        assert rising(feet, *gears, meshes="hub b", travel=travel)[0].message.endswith("0.2 mm apart after one turn")
    assert not rising((foot("a", "0.8"), foot("b", "-0.8"), foot("c", None), foot("d", "0"))) and not rising(())
    # 8/25.4, ten turns of 0.2.
    assert rising(feet, *gears, travel=8.0, units="in")[0].message.endswith("after one turn, 0.079 in over the whole travel")


def test_feet_that_differ_alike_are_one_finding() -> None:
    usual = tuple(foot(name, "1") for name in "pqrs")
    alike = (foot("a", "2"), foot("b", "-2"))
    (item,) = rising((*usual, *alike), meshes="hub a b hub")
    assert item.message.startswith("`corner.a` moves 2 mm") and item.message.endswith("1 mm apart after one turn; `corner.b` too")
    assert rising((*usual, *alike), travel=0.5)[0].message.endswith(", 0.5 mm over the whole travel; `corner.b` too")
    assert item.parts == ("corner.a", "a", "corner.b", "b")
    assert [label.message for label in item.related] == ["`corner.p` is carried here", "the same holds for `corner.b`"]
    assert item.remedy == "40 teeth on `a` and `b` would make them equal"
    # One of them is turned by its shaft: only another lead helps.
    assert "no tooth count" in rising((*usual, *alike), meshes="hub a")[0].remedy
    for other in (foot("b", "3"), foot("b", "2", name="side")):
        assert len(rising((*usual, alike[0], other))) == 2
    found = rising((*usual, *alike), gear("a", 30), gear("b", 20))
    assert [item.parts for item in found] == [("corner.a", "a"), ("corner.b", "b")]


def test_what_makes_feet_rise_alike() -> None:
    usual = (foot("p", "1"), foot("q", "1"))

    def remedy(odd: Any, teeth: int = 20, meshes: str = "hub a", **facts: Any) -> Diagnostic:
        (item,) = rising((*usual, odd), gear("a", teeth, **facts), meshes=meshes)
        return item

    # 1.2 of lead: 20 · 0.96 is no whole number; 25 · 0.96 = 24. The thread is to blame where the gears turn alike: 0.96 / 1.2 = 1 / 1.25.
    thread = "`thread thread of corner` for `side`, the thread of the others,"
    same = foot("a", "0.96", 1.2, "side")
    assert remedy(same).remedy == f"{thread} would make them equal" and remedy(same).span == at(10)
    assert remedy(same, 25).remedy == f"{thread} or 24 teeth on `a` would make them equal"
    # The lead that would: 1.25 · 1 / 0.96 at a ratio that differs.
    odd = foot("a", "0.96")
    assert remedy(odd).remedy == "no tooth count of `a` alone makes them equal; a lead of 1.302 mm would" and remedy(odd).span == at(51)
    assert remedy(odd, 25).remedy == "24 teeth on `a` would make them equal"
    # Four teeth are the fewest.
    assert remedy(foot("a", "0.25"), 16).remedy.startswith("4 teeth") and "lead of 6.25 mm" in remedy(foot("a", "0.2"), 15).remedy
    # Only its own mesh turns it: not one between others, nor one of the gear's with what does not drive it.
    for meshes in ("x a", "hub x", ""):
        assert "no tooth count" in remedy(odd, 25, meshes).remedy
    assert "no tooth count" in remedy(odd, 25, "a hub", path=("a",)).remedy
    assert remedy(odd, 25, "x a", path=("hub", "x", "a")).remedy.startswith("24 teeth")
    assert "no tooth count" in remedy(odd, 25, "hub a", path=("hub", "x", "a")).remedy


def test_feet_that_turn_opposite_ways() -> None:
    def told(*rises: str | None, hand: int = 1, path: tuple[str, ...] = ()) -> list[Diagnostic]:
        feet = tuple(foot(name, rise, hand=hand) for name, rise in zip("abcd", rises, strict=False))
        made = [gear(item.gear, path=path, start=60 + 3 * index) for index, item in enumerate(feet)]
        return run(feet_turn_opposite, world(feet, *made))

    assert not told("1", "2", None, "0") and not told("-1", "-2") and not told()
    (item,) = told("1", "-1", "2", None)
    assert item.message == "a clockwise turn of the drive raises the board at `corner.a` and `corner.c` and lowers it at `corner.b`"
    assert item.remedy == "a left-hand thread for `corner.b`, or one idler more between `hub` and `b`"
    assert item.span == at(65) and [label.span for label in item.related] == [at(60), at(66)] and item.parts == ("corner.b", "b")
    (item,) = told("1", "-1", "-2", "-1", hand=-1, path=("a",))
    assert item.remedy == "a right-hand thread for `corner.a`, or one idler more" and item.span == at(62)
    (item,) = told("1", "-1")
    assert item.parts == ("corner.b", "b") and "between `hub` and `b`" in item.remedy
    (item,) = told("1", "-1", path=("hub", "x", "y", "b"))
    assert "between `y` and `b`" in item.remedy


def test_feet_that_rock_after_zeroing(monkeypatch: pytest.MonkeyPatch) -> None:
    feet = tuple(
        foot(name, "1", zero_step_mm=step, zero_clockings=count) for name, step, count in (("a", 0.05, 1), ("c", 0.0625, 6), ("b", 0.0625, 3))
    )

    def told(residual: float, before: float = 1.0) -> list[Diagnostic]:
        monkeypatch.setattr(feet_rock, "twist_of", lambda given: of(residual_mm=residual, before_gluing_mm=before))
        return run(feet_rock, world(feet))

    allowed = feet_rock.ALLOWED_MM
    assert not told(allowed) and told(allowed + 0.001)
    (item,) = told(0.3)
    assert item.message == f"after zeroing, the feet may still rock by 0.3 mm; {allowed:g} mm is allowed"
    # Of equal steps the last by name.
    assert [label.message for label in item.related] == ["one tooth of `c` moves `corner.c` by 0.062 mm"] and item.span == at(11)
    assert "clockings" not in item.remedy and item.parts == ("corner.a", "corner.c", "corner.b")
    assert "; before the screws are glued, 6 clockings of its hexagon leave 0.299 mm; or a finer" in told(0.3, 0.299)[0].remedy
    assert "clockings" not in told(0.3, 0.3)[0].remedy
    monkeypatch.setattr(feet_rock, "twist_of", lambda given: None)
    assert not run(feet_rock, world(feet))


def use(driven: str = "topside", flush: str = "underside", hardware: Any = INSERT, proud: float | None = None) -> Any:
    return of(driven_from=driven, flush=flush, hardware=hardware, origin=at(5), proud=None if proud is None else of(mm=proud))


def member(insert: Any, other: float | None = None, hand: int = 1, name: str = "corner.a", guide: Any = None) -> Any:
    set_name = name.partition(".")[0]
    board = of(text="deck")
    return of(id=name, other_way_travel_mm=other, foot=of(insert=insert, name=ref(set_name, 10), thread=of(hand=hand), guide=guide, into=board))


def wrong(now: float, *feet: Any, units: str = "mm") -> list[Diagnostic]:
    return run(insert_wrong_way, (of(units=units), of(lift=of(travel_mm=now), feet=feet)))


@pytest.mark.parametrize(("driven", "hand", "loosens"), [("topside", 1, False), ("topside", -1, True), ("underside", 1, True), ("underside", -1, False)])
def test_side_from_which_raising_tightens_an_insert(driven: str, hand: int, loosens: bool) -> None:
    way = "underside" if driven == "topside" else "topside"
    said = wrong(10.0, member(use(driven), 10.0, hand))
    assert len(said) == loosens
    for item in said:
        assert item.message == f"the insert of `corner` is driven from the {driven}: raising the board loosens it"
        assert item.remedy == f"`driven_from {way}` gives 10 mm of travel at mean thickness; epoxy round the insert keeps it as it is"
        assert item.span == at(5) and item.parts == ("corner.a",)
    (item,) = wrong(10.0, member(use(driven), 10.5, hand))
    more = "travel is 10 mm; driven from the " + way + " it would be 10.5 mm"
    assert item.message.endswith(f": {more}, and raising the board loosens it" if loosens else f": {more}")
    after = "" if loosens else "; raising the board then loosens it: epoxy round the insert keeps it"
    assert item.remedy == f"`driven_from {way}` gives 10.5 mm of travel at mean thickness{after}"


def test_travel_that_an_insert_gains() -> None:
    assert wrong(10.0, member(use(), 10.5)) and not wrong(10.0, member(use(), 10.499)) and not wrong(10.0, member(use()))
    glue = "epoxy round the insert keeps it"
    loose = use("underside")
    assert wrong(10.0, member(loose, 0.0))[0].remedy == glue and wrong(10.0, member(loose, -0.5))[0].remedy == glue
    # Nothing is left either way: a gain from -5 to -2 is told, and the way to it.
    (item,) = wrong(-5.0, member(loose, -2.0))
    assert item.remedy == "`driven_from topside` gives -2 mm of travel at mean thickness"
    assert wrong(10.0, member(loose, 0.1))[0].remedy.endswith(f"; {glue} as it is")
    row = replace(INSERT, live_from_mm=4.0, live_to_mm=13.0)
    assert not run(insert_wrong_way, (of(units="mm"), of(lift=None, feet=(member(use(), 99.0),))))
    flanged = replace(row, flange_diameter_mm=20.0)
    skipped = [member(made, 20.0, name=f"f{index}.a") for index, made in enumerate((None, use(hardware=TEE_NUT), use(hardware=flanged)))]
    pair = (member(use(), 20.0), member(use(), 30.0, name="corner.b"))
    found = wrong(10.0, *skipped, member(use(), name="z.a"), *pair, member(use(), 40.0, name="y.a"))
    assert [item.parts for item in found] == [("corner.a", "corner.b"), ("y.a",)] and "gives 20 mm" in found[0].remedy


@pytest.mark.parametrize(
    ("flush", "driven", "guide", "proud", "taken"),
    [
        ("underside", "topside", None, None, 15.0),
        ("underside", "topside", True, 2.0, 13.0),
        ("topside", "topside", None, 2.0, None),
        ("topside", "topside", True, 2.0, 13.0),
        ("topside", "underside", True, 2.0, None),
        ("topside", "underside", None, None, None),
    ],
)
def test_wood_that_an_insert_takes(flush: str, driven: str, guide: Any, proud: float | None, taken: float | None) -> None:
    foot: Any = member(use(driven, flush, proud=proud), guide=guide).foot
    assert insert_breaks_through.taken_mm(foot) == taken
    foot.insert.hardware = TEE_NUT  # 11 high
    assert insert_breaks_through.taken_mm(foot) == (None if taken is None else taken - 4.0)
    foot.insert = None
    assert insert_breaks_through.taken_mm(foot) is None


def test_an_insert_that_breaks_through(monkeypatch: pytest.MonkeyPatch) -> None:
    def told(least: float, *members: Any) -> list[Diagnostic]:
        monkeypatch.setattr(insert_breaks_through, "board_thickness", lambda design, board: Band(18.0, least, 19.0, origin=at(3)))
        return run(insert_breaks_through, (of(boards=(of(name=of(text="deck", __str__=None)),), units="mm"), of(feet=members[:1], climbers=members[1:])))

    through, blind = member(use()), member(use("underside", proud=1.0), guide=True)
    assert not told(15.0, through) and told(14.99, through)
    (item,) = told(14.0, through)
    assert "takes 15 mm of `" in item.message and item.message.endswith(", 14 mm thick at the thinnest: it stands out of the topside")
    assert item.remedy == "an insert no longer than 14 mm, or a thicker board" and item.span == at(5) and item.parts == ("corner.a",)
    # 14 taken and half a millimetre beyond it.
    assert not told(14.5, blind) and not told(14.4, member(use("topside", proud=1.0), guide=True))
    (item,) = told(14.4, blind)
    assert item.message.endswith(": 0.4 mm of wood is left beyond its end; at least 0.5 mm of wood is wanted there")
    assert item.remedy == "an insert no longer than 13.9 mm, or a thicker board"
    assert "0 mm of wood is left beyond its end" in told(14.0, blind)[0].message and "stands out of the topside" in told(13.9, blind)[0].message
    both = told(12.0, member(None, name="x.a"), member(use("topside", "topside"), guide=True, name="y.a"), member(use(), name="z.a"))
    assert [item.parts for item in both] == [("y.a",), ("z.a",)] and "it stands out of the underside" in both[0].message
    assert not told(14.0, member(use(), guide=True, name="x.a"))[0].message.count("wanted")


@pytest.mark.parametrize(("face", "hand", "loosens"), [("topside", 1, False), ("topside", -1, True), ("underside", 1, True), ("underside", -1, False)])
def test_which_inserts_raising_loosens(face: str, hand: int, loosens: bool) -> None:
    """A right-hand screw raises the board by turning clockwise, seen from above; so turned, an outer right-hand thread goes down.

    From above that is into the wood, from below out of it. A left-hand screw turns the other way round.
    """
    foot = of(insert=of(driven_from=face), thread=of(hand=hand))
    assert insert_wrong_way._raising_loosens(of(foot=foot)) is loosens
