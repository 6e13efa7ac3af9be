"""What is said of keepers and their screws, of inserts near an edge or in the air and of gears on the bench: each sum is written out. Lengths mm."""

from __future__ import annotations

from typing import Any

import pytest
from tests.sharp import check_samples
from tests.sharp.check_samples import at, of, ref, run

from trivet.checks import (
    gear_rubs_bench,
    insert_end_in_air,
    insert_near_edge,
    insert_presses_gear,
    keeper_hangs_free,
    keeper_overlaps,
    keeper_screw_unfit,
)
from trivet.checks._insert_walls import Near as Wall
from trivet.checks.thin_wall import LEAST_MM
from trivet.diagnostics import Diagnostic
from trivet.solve.clearances import Near
from trivet.solve.keeper_room import StandOffs
from trivet.solve.solid import Solid
from trivet.solve.torque import SMALL_CONTACT


def made(units: str = "mm", **facts: Any) -> Any:
    return check_samples.made("abc", units, **facts)


def held(
    least: float, most: float, length: float | None = None, stated: bool = True, foot: str = "corner.a", stock: Any = (40.0, 45.0, 50.0), **facts: Any
) -> Any:
    """A keeper whose screws of a standard are `length` long, as stated at 20 or as found."""
    screws = of(length=of(origin=at(20)) if length is not None and stated else None, origin=facts.pop("at", at(21)), recessed=facts.pop("recessed", None))
    screw = of(standard=facts.pop("standard", "ISO 7049"), thread=of(designation="ST4.8"), stock_mm=stock, head=of(form=facts.pop("form", "pan")))
    given: dict[str, Any] = {
        "id": f"{foot}.keeper", "foot": foot, "gear": "b", "least_mm": least, "most_mm": most, "length_mm": length, "height_mm": 20.5,
        "fits": False, "keeper": of(origin=at(22)), "screws": screws, "screw": screw, "under_head_mm": 8.0, "recess_mm": 3.0,
    }  # fmt: skip
    return of(**(given | facts))


def unfit(*keepers: Any, units: str = "mm") -> list[Diagnostic]:
    return run(keeper_screw_unfit, (made(units), of(**(check_samples.NOTHING | {"keepers": keepers}))))


@pytest.mark.parametrize(
    ("keeper", "message", "remedy"),
    [
        # Through: 53 where 48 stays 1 inside.
        (held(38.0, 48.0, 53.0), "is 53 mm long and comes 4 mm through the topside; at most 48 mm stays inside", "`length 45 mm` fits"),
        (held(38.0, 48.0, 49.0), "is 49 mm long and comes within 0 mm of the topside; at most 48 mm stays inside", "`length 45 mm` fits"),
        (held(38.0, 48.0, 49.5), "is 49.5 mm long and comes 0.5 mm through the topside; at most 48 mm stays inside", "`length 45 mm` fits"),
        (held(38.0, 48.0, 48.2), "is 48.2 mm long and comes within 0.8 mm of the topside; at most 48 mm stays inside", "`length 45 mm` fits"),
        (held(45.0, 50.0, 40.0), "is 40 mm long; at least 45 mm holds in the wood", "`length 50 mm` fits"),
        (held(40.1, 44.9, 40.0), "is 40 mm long; at least 40.1 mm holds in the wood", "deeper recesses for the heads, a thinner keeper, or"),
        (held(50.1, 49.9, 40.0), "is 40 mm long; at least 50.1 mm holds in the wood", "a thicker board, or thinner screws"),
    ],
)
def test_a_keepers_screw_of_a_stated_length(keeper: Any, message: str, remedy: str) -> None:
    (item,) = unfit(keeper)
    assert item.message == f"the screw of the keeper of `corner.a` {message}" and item.remedy.startswith(remedy)
    assert item.span == at(20) and item.parts == ("corner.a",)
    assert [(x.message, x.span) for x in item.related] == [("the stand-offs are 20.5 mm high, over `b`", at(31))]


def test_a_keepers_screw_that_is_not_sold() -> None:
    (item,) = unfit(held(52.0, 58.0))
    assert item.message == "no ISO 7049 ST4.8 holds the keeper of `corner.a`: 52 mm to 58 mm is wanted, the longest sold is 50 mm"
    assert item.remedy.startswith("deeper recesses") and item.span == at(21) and unfit(held(52.0, 58.0, at=None))[0].span == at(22)
    assert "the longest sold is 0 mm" in unfit(held(52.0, 58.0, stock=()))[0].message
    (item,) = unfit(held(52.0, 48.0))
    assert item.message.endswith("holds the keeper of `corner.a`: 52 mm is needed, and only 48 mm stays in the board") and item.remedy.startswith("a thicker")
    assert "52 mm to 58 mm is wanted" in unfit(held(52.0, 58.0, 55.0, stated=False))[0].message
    assert "45 mm to 45 mm is wanted" in unfit(held(45.0, 45.0, stock=(40.0,)))[0].message
    # A length a hair off is sold.
    assert unfit(held(45.0000005, 46.0))[0].remedy == "`length 45 mm` fits" and unfit(held(44.0, 44.9999995))[0].remedy == "`length 45 mm` fits"
    assert unfit(held(45.00001, 46.0))[0].remedy.startswith("deeper")
    inch = unfit(held(44.0, 52.0, standard="ASME B18.6.1", stock=(44.45, 50.8)))[0]
    assert inch.remedy == "`length 2 in` fits" and "the longest sold is 2 in" in inch.message


def test_wood_under_heads_of_a_keepers_screws() -> None:
    def head(under: float, recess: float, **facts: Any) -> list[Diagnostic]:
        return unfit(held(40.0, 50.0, 45.0, fits=True, under_head_mm=under, recess_mm=recess, **({"recessed": True} | facts)))

    assert not head(6.0, 12.0) and head(5.99, 12.0) and not head(4.0, 4.0) and head(3.99, 4.0)  # 6, or half of a thin keeper
    (item,) = head(5.0, 12.004)
    assert item.message == "5 mm of wood is left under the screw heads of the keeper of `corner.a`; at least 6 mm is required"
    assert item.remedy == "`head recessed 11 mm` leaves it" and item.span == at(20)
    (item,) = head(2.0, 6.0)  # half of 8 is 4: two less deep
    assert "at least 4 mm" in item.message and item.remedy == "`head recessed 4 mm` leaves it"
    assert head(-2.0, 20.0)[0].message.startswith("0 mm of wood") and head(-2.0, 3.0)[0].remedy == "`head recessed 0.5 mm` leaves it"
    assert not head(2.0, 6.0, recessed=None) and not head(2.0, 6.0, form="countersunk")
    assert head(-9.0, 2.0)[0].remedy == "`head recessed 0 mm` leaves it"


def test_keepers_of_a_set_with_the_same_lengths() -> None:
    alike = [held(52.0, 58.0, foot=f"corner.{name}") for name in "ab"]
    (item,) = unfit(*alike)
    assert item.parts == ("corner.a", "corner.b")
    others = [held(52.0, 58.0, foot="side.a"), held(52.00001, 58.0, foot="corner.c"), held(52.0, 58.00001, foot="corner.d")]
    sound = held(40.0, 50.0, 45.0, fits=True, foot="z.a")
    assert [item.parts[0] for item in unfit(sound, *alike, *others)] == ["corner.a", "side.a", "corner.c", "corner.d"]


def free(foot: str = "corner.a", room: float = 7.5, opposite: bool = False, tip: float = 131.3) -> StandOffs:
    return StandOffs(foot, "b", "deck", room, tip, opposite)


def test_keepers_without_stand_offs(monkeypatch: pytest.MonkeyPatch) -> None:
    def told(*items: StandOffs, units: str = "mm") -> list[Diagnostic]:
        monkeypatch.setattr(keeper_hangs_free, "stand_offs", lambda design, derived: items)
        states = tuple(of(id=f"corner.{name}", foot=of(name=ref("corner"), keeper=of(origin=at(60 + k)))) for k, name in enumerate("ab"))
        return run(keeper_hangs_free, (made(units), of(**(check_samples.NOTHING | {"feet": states}))))

    (item,) = told(free(opposite=True, room=20.0), free())
    assert item.message == "the keeper of `corner.a` reaches 7.5 mm past the teeth of `b`; a stand-off wants 10 mm"
    # 131.3 + 20 up to a whole millimetre.
    assert item.remedy == "an outline of 152 mm or more one way (131.3 mm over the teeth and 10 mm either side)"
    assert (item.span, item.related[0].span, item.parts) == (at(60), at(31), ("corner.a",))
    assert "an outline of 6 in or" in told(free(), units="in")[0].remedy  # 5.957 in steps of a twentieth
    assert "reaches 0 mm past" in told(free(room=-3.0))[0].message and "an outline of 151 mm" in told(free(tip=130.3))[0].remedy
    for room, words in ((9.99, "wants 10 mm"), (10.0, "on one side only: the other lies past the edge of `deck`"), (10.01, "on one side only")):
        assert words in told(free(room=room))[0].message
    assert told(free(room=10.0))[0].remedy.startswith("turn the outline")
    alike = (free(), free("corner.b"), free("corner.c", 7.50001), free("side.a"))
    assert [item.parts for item in told(*alike)] == [("corner.a", "corner.b"), ("corner.c",), ("side.a",)]


def test_keepers_over_other_parts(monkeypatch: pytest.MonkeyPatch) -> None:
    def solid(part: str, kind: Any) -> Solid:
        return Solid(kind, part, part, 0.0, 0.0, 5.0, 0.0, 5.0)

    keeper = solid("corner.a.keeper", "keeper")
    gear, other = solid("b", "gear"), solid("corner.b.keeper", "keeper")
    pairs = (Near(keeper, gear, -3.0, 4.0), Near(keeper, gear, -2.0, 6.0), Near(keeper, other, -1.0, 2.5))
    monkeypatch.setattr(keeper_overlaps, "near_keepers", lambda derived: pairs)
    one, two = run(keeper_overlaps, (made(), of(**check_samples.NOTHING)))
    assert one.message == "the keeper `corner.a.keeper` overlaps the gear `b`, seen from above, and they share 4 mm of height"
    assert one.related[0].span == at(31) and one.parts == ("corner.a", "b") and two.parts == ("corner.a", "corner.b") and "2.5 mm" in two.message


def wall(wood: float, to_edge: bool = True, outside: float = 16.0, mdf: float = 0.0, name: str = "corner.a") -> Wall:
    set_name = name.partition(".")[0]
    return Wall(name, set_name, f"the insert of `{name}`", "the edge", wood, outside, mdf, at(50), at(51), to_edge, (name, "deck"))


def test_wood_round_inserts(monkeypatch: pytest.MonkeyPatch) -> None:
    def told(*walls: Wall) -> list[Diagnostic]:
        monkeypatch.setattr(insert_near_edge, "near_inserts", lambda design, derived: walls)
        return run(insert_near_edge, (made(), of()))

    (item,) = told(wall(9.5))
    assert item.message == "between the insert of `corner.a` and the edge 9.5 mm of wood is left; at least 16 mm, its outside diameter, is wanted"
    assert item.remedy == "move it 6.5 mm away for 16 mm of wood" and item.severity == "warning" and (item.span, item.related[0].span) == (at(50), at(51))
    (item,) = told(wall(7.99))
    assert "at least 8 mm, half its outside diameter of 16 mm, is required" in item.message and item.severity == "error"
    assert item.remedy == "move it 8.01 mm away for 16 mm of wood"
    assert told(wall(8.0))[0].severity == "warning"
    for wood, severity in ((7.99, "warning"), (8.01, "note")):
        (item,) = told(wall(wood, False))
        assert item.severity == severity and item.remedy.startswith("move one of them")
    (item,) = told(wall(9.5, mdf=25.0))
    assert "at least 25 mm, for MDF, is wanted" in item.message and "15.5 mm away for 25 mm" in item.remedy
    assert "its outside diameter, is wanted" in told(wall(9.5, mdf=16.0))[0].message and "half its" in told(wall(7.0, mdf=25.0))[0].message
    assert told(wall(LEAST_MM - 0.002)) and not told(wall(LEAST_MM - 0.0021))
    assert told(wall(LEAST_MM, False)) and not told(wall(LEAST_MM - 0.0001, False))
    alike = (wall(9.5), wall(9.5003, name="corner.b"), wall(9.4997, name="corner.c"))
    (item,) = told(*alike)
    assert ", and 1 more like it;" in told(*alike[:2])[0].message
    assert ", and 2 more like it;" in item.message and item.parts == ("corner.a", "deck", "corner.b", "corner.c")
    others = (wall(9.501), wall(9.5, False), wall(9.5, outside=16.1), wall(9.5, mdf=17.0), wall(9.5, name="side.a"))
    assert len(told(alike[0], *others)) == 6


def bare(mm: float, depth: float, foot: str = "corner.a", zone: Any = (2.0, 17.0), insert: bool = True) -> Any:
    state = of(id=foot, insert_z_mm=zone, foot=of(insert=of(origin=at(12)) if insert else None))
    return of(foot=state, bare_mm=mm, depth_mm=depth, hole=of(id="dog.2", origin=at(13)))


def test_ends_of_inserts_in_the_air(monkeypatch: pytest.MonkeyPatch) -> None:
    def told(*items: Any) -> list[Diagnostic]:
        monkeypatch.setattr(insert_end_in_air, "bare_inserts", lambda design, derived: items)
        return run(insert_end_in_air, (made(), of()))

    assert not told(bare(0.5, 9.0)) and not told(bare(3.0, 9.0, zone=None)) and not told(bare(3.0, 9.0, insert=False))
    (item,) = told(bare(0.4, 9.0), bare(3.04, 9.0))
    assert item.message == "`dog.2` lays 3.04 mm of the insert of `corner.a` bare, which is 15 mm long; at most 0.5 mm is allowed"
    assert item.remedy == "a depth of 5.9 mm or less, or another place" and (item.span, item.related[0].span) == (at(13), at(12))
    assert item.parts == ("dog", "corner.a")
    assert told(bare(3.0, 3.5))[0].remedy == "another place" and told(bare(3.0, 3.6))[0].remedy.startswith("a depth of 0.6 mm")


def test_inserts_that_press_gears(monkeypatch: pytest.MonkeyPatch) -> None:
    def press(foot: str, hangs: float, room: float, zone: Any = (-3.0, 12.0), insert: bool = True) -> Any:
        noun = of(name=ref(foot.partition(".")[0]), into="deck", insert=of(origin=at(12), hardware=of(origin=at(14))) if insert else None)
        return of(foot=of(id=foot, foot=noun, insert_z_mm=zone), hangs_mm=hangs, room_mm=room)

    skipped = (press("x.a", 2.0, 1.0, None), press("y.a", 2.0, 1.0, insert=False))
    items = (press("corner.a", 2.5, 2.4), press("corner.b", 2.44, 1.8), *skipped, press("z.a", 1.0, 0.3))
    monkeypatch.setattr(insert_presses_gear, "pressed_gears", lambda design, derived: items)
    one, two = run(insert_presses_gear, (made(), of()))
    assert one.message == "the insert of `corner` hangs 2.44 mm out of `deck` at the worst of the sheets; its gear has 1.8 mm of play there"
    # 15 long less 2.44: 12.56.
    assert one.remedy == "an insert no longer than 12.5 mm, or a thicker board" and one.parts == ("corner.a", "corner.b")
    assert (one.span, one.related[0].span) == (at(12), at(14)) and two.parts == ("z.a",)


def test_gears_that_stand_on_the_bench(monkeypatch: pytest.MonkeyPatch) -> None:
    def stands(name: str, touches: str = "gear", pocket: float | None = 5.8, drop: float | None = 0.3, head: float | None = 4.2) -> Any:
        screw = None if head is None else of(head=of(height_mm=head))
        pad = of(drop=None if drop is None else of(mm=drop), origin=at(16))
        noun = of(screw=screw, pad=pad, pocket=of(origin=at(15)) if pocket is not None else None, name=ref("corner"), thread=of(major_mm=8.0))
        return of(id=name, gear=name.partition(".")[2], touches=touches, pocket_mm=pocket, foot=noun)

    radii = {"a": 60.0, "b": 72.0, "c": 66.0}
    monkeypatch.setattr(gear_rubs_bench, "tilt_deg", lambda design, foot: 0.5)
    monkeypatch.setattr(gear_rubs_bench, "rock_once_a_turn_mm", lambda design, derived, foot: radii[foot.gear] / 100.0)

    def told(*feet: Any, units: str = "mm") -> list[Diagnostic]:
        train = of(gear=lambda name: of(tip_radius_mm=radii[name], gear=of(name=ref(name, 40 + ord(name)))))
        return run(gear_rubs_bench, (made(units), of(feet=feet, train=train)))

    assert not told(stands("corner.a", "head"), stands("corner.b", "pad"))
    (item,) = told(stands("corner.c", "pad"), stands("corner.a"), stands("corner.b"))
    assert item.message == "the gears of `corner` stand on the bench: the pocket is 5.8 mm deep, head and pad only 4.5 mm high"
    # 5.8 - 4.2 + 2 = 3.6, in halves.
    assert item.remedy == "`pad dome, drop 4 mm` stands 2 mm or more out of the gear" and item.span == at(15) and item.parts == ("corner.a", "corner.b")
    assert item.related[0].message == "tilted 0.5 deg with its insert, `a` rocks the board by up to 0.72 mm in a turn"
    # Two thirds of 72 at 0.25 and 0.5; two thirds of half the thread's radius of 4, at 0.2 and 0.6.
    small = SMALL_CONTACT * 4.0 * 2.0 / 3.0
    assert f"takes 12 to 24 Nmm to rub it round, {0.2 * small:.1g} to {0.6 * small:.2g} on a dome" in item.related[1].message
    assert "up to 0.5 N for each" in item.related[1].message and item.related[1].span == at(16)
    for drop in (None, 0.0):
        assert "deep, the head only 4.2 mm high" in told(stands("corner.a", drop=drop))[0].message
    (item,) = told(stands("corner.a", pocket=None, drop=None, head=None))
    assert "the pocket is 0 mm deep, the head only 0 mm high" in item.message and "drop 2 mm" in item.remedy and item.span == at(16)
    assert told(stands("corner.a", head=4.4), units="in")[0].remedy.startswith("`pad dome, drop 5/32 in`")  # 3.4 is 4.28/32, 8.57/64
