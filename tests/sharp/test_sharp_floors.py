"""Webs, tabs, floors of pockets and workpieces: what finds no room, check by check. Lengths mm; sums beside the figures."""

from __future__ import annotations

from typing import Any

import pytest
from tests.sharp.stand_ins import MM, at, length, named, ref, start, starts

from trivet.checks import tab_has_no_place, thin_pocket_floor, web_finds_no_room, workpiece_not_met
from trivet.model.base import Band
from trivet.solve.matching import BLOCK_OVERLAP_MM
from trivet.solve.tabs import TabRefusal


def test_webs_that_find_no_room() -> None:
    def fault(gear: str, room: float, size: float | None, form: str = "holes", place: int | None = 3) -> Any:
        web = named(origin=None if place is None else at(place), form=form, size=length(30), count=named(number=6))
        return named(gear=gear, room_mm=room, size_mm=size, count=5, web=web)

    faults = (fault("a", 22.0, 18.5), fault("b", 21.0, None), fault("c", 22.0, 17.0), fault("d", -1.0, 8.0, "spokes"), fault("e", 22.0, 18.5, place=4))
    faults += (fault("f", 9.0, None, place=None), fault("g", 9.0, None, place=None))
    gears = tuple(named(name=ref(name, 20 + k)) for k, name in enumerate("abcdefg"))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(web_finds_no_room, "web_faults", lambda design, derived: faults)
        found = list(web_finds_no_room.check(named(units="mm", gears=gears), named()))
    assert [(item.parts, start(item.span)) for item in found] == [(("a", "c"), 3), (("b",), 3), (("d",), 3), (("e",), 4), (("f", "g"), 25)]
    assert found[0].message == "the web of `a` and `c` is not cut: 6 holes, diameter 30 mm find no room in the 22 mm between hub and rim"
    assert found[2].message == "the web of `d` is not cut: 6 spokes, width 30 mm find no room in the 0 mm between hub and rim"
    assert [item.remedy for item in found[:3]] == [
        "`web holes 5, diameter 18.5 mm` finds room; or leave the web out", "leave the web out", "`web spokes 5, width 8 mm` finds room; or leave the web out",
    ]  # fmt: skip


TABS: Any = named(number=4)


@pytest.mark.parametrize(
    ("units", "placed", "longest", "land", "message", "remedy"),
    [
        ("mm", 0, 3.19, 4.0, "the tabs of {} are 8 mm wide; the tips of its teeth are 4 mm, which holds 3.1 mm at most", "`width 3.1 mm` or less, or "),
        ("mm", 0, 2.0, 4.0, "the tabs of {} are 8 mm wide; the tips of its teeth are 4 mm, which holds 2 mm at most", "`width 2 mm` or less, or "),
        ("mm", 0, 1.9, 4.0, "the tabs of {} are 8 mm wide; the tips of its teeth are 4 mm, which holds 1.9 mm at most", ""),
        ("mm", 0, -1.0, None, "the tabs of {} are 8 mm wide; the longest run of its edge holds 0 mm", ""),
        ("mm", 0, 2.0, None, "the tabs of {} are 8 mm wide; the longest run of its edge holds 2 mm", "`width 2 mm` or less, or "),
        ("in", 0, 3.19, None, "the tabs of {} are 0.315 in wide; the longest run of its edge holds 0.12 in", "`width 0.12 in` or less, or "),
        ("mm", 1, 9.0, 9.0, "{} has room for 1 tab of 8 mm; 4 are stated", "`tabs 1`, or narrower ones"),
        ("mm", 2, 9.0, None, "{} has room for 2 tabs of 8 mm; 4 are stated", "`tabs 2`, or narrower ones"),
    ],
)
def test_tabs_that_find_no_place(units: str, placed: int, longest: float, land: float | None, message: str, remedy: str) -> None:
    said = tab_has_no_place._refused(TabRefusal("a", TABS, 8.0, placed, longest, land), units)
    skin = "hold it by screws in the waste and through its bore, or leave a skin of {} and cut it free by hand"
    otherwise = "" if placed else skin.format("1/64 in" if units == "in" else "0.5 mm")
    assert said == (message, remedy + otherwise)


def test_tabs_as_high_as_the_sheet_and_those_of_one_statement() -> None:
    tabs = {name: named(number=4, height=length(high), origin=at(place)) for name, high, place in (("a", 17, 1), ("b", 18, 1), ("c", 18, 1), ("d", 18, 2))}
    tabs |= {"none": named(number=4, height=length(18), origin=at(1))}
    parts = tuple(named(part=f"{name}.{k}", belongs_to=name, kind="board", sheet=named(thickness=Band(18.2, 18.0, 18.4))) for name in "abcd" for k in (1, 2))
    for units, usual in (("mm", "3 mm"), ("in", "1/8 in")):
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(tab_has_no_place, "stated_tabs", lambda design: tabs)
            patch.setattr(tab_has_no_place, "refusal", lambda design, part: None)
            found = list(tab_has_no_place.check(named(units=units, origin=at(0)), named(parts=parts)))
        assert [(item.parts, start(item.span)) for item in found] == [(("b", "c"), 1), (("d",), 2)]
        high = "are {0} high; its sheet is {0} at its thinnest, so they are not cut at all".format("18 mm" if units == "mm" else "0.709 in")
        assert [item.message for item in found] == [f"the tabs of `b` {high}; `c` too", f"the tabs of `d` {high}"]
        assert {item.remedy for item in found} == {f"`height {usual}` is usual"}


def test_floors_of_pockets() -> None:
    def depth(words: str, deep: float, into: str, added: float = 0.0, place: int = 1, advice: str = "`depth {}`") -> Any:
        wood = Band(18.0, 17.6, 18.4, at(8 + place))
        return named(words=words, depth_mm=deep, wood=wood, into=into, origins=(at(place),), advice=advice, added_mm=added, names=(words, into))

    depths = (
        depth("a", 14.6, "deck"), depth("b", 15.0, "deck"), depth("c", 17.6, "deck", 2.0), depth("b", 15.0, "base", 14.6, 2, "`other {}`"),
        depth("e", 17.1, "deck"), depth("d", 20.0, "deck", 14.6),
    )  # fmt: skip
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(thin_pocket_floor, "depths_of", lambda design, derived: depths)
        patch.setattr(thin_pocket_floor, "opposite_pairs", lambda design, derived, least: ())
        found = list(thin_pocket_floor.check(MM, named()))
    thin, wanted = "17.6 mm thick at the thinnest", "at least 3 mm of wood is wanted under it"
    # Of 17.6 three are to be left: 14.6 deep, less what is added to what is stated; a depth of nothing is none.
    assert [(item.severity, item.message, item.remedy) for item in found] == [
        ("warning", f"the b, 15 mm deep, leaves 2.6 mm of `deck` and `base`, {thin}; {wanted}", "`depth 14.6 mm`"),
        ("error", f"the c, 17.6 mm deep, goes through `deck`, {thin}; {wanted}", "`depth 12.6 mm`"),
        ("warning", f"the e, 17.1 mm deep, leaves 0.5 mm of `deck`, {thin}; {wanted}", "`depth 14.6 mm`"),
        ("error", f"the d, 20 mm deep, goes through `deck`, {thin}; {wanted}", "a thicker sheet"),
    ]
    assert found[0].parts == ("b", "deck", "base") and starts(found[0]) == (1, [9])


def test_floors_between_pockets_of_both_faces() -> None:
    def cut(title: str, part: str = "deck", thick: float = 17.6, place: int = 1) -> Any:
        held = named(part=part, thickness=Band(thick + 0.4, thick, thick + 0.8))
        return named(title=f"pocket {title}", part=held, whole=part, names=(title, f"{title}-set", part), span=at(place))

    low = cut("low", place=4)
    pairs = ((cut("a"), low, 2.5), (cut("a"), low, 2.0), (cut("a", "lid", 3.0), cut("low", "lid", 3.0), -1.0), (cut("b", "lid", 3.1), low, 0.5))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(thin_pocket_floor, "opposite_pairs", lambda design, derived, least: pairs if least == 3.0 else ())
        found = list(thin_pocket_floor._between(MM, named()))
    assert [item.message.partition(" leave ")[2] for item in found] == [
        "2.5 mm of `deck` between them, 17.6 mm thick at the thinnest; at least 3 mm is wanted",
        "0 mm of `lid` between them, 3 mm thick at the thinnest; at least 3 mm is wanted",
        "0.5 mm of `lid` between them, 3.1 mm thick at the thinnest; at least 3 mm is wanted",
    ]
    assert [item.remedy for item in found] == ["depths that add up to 14.6 mm or less", "a thicker sheet", "depths that add up to 0.1 mm or less"]
    assert found[0].parts == ("a", "a-set", "low", "low-set", "deck") and starts(found[0]) == (1, [4])


def pieces(*given: tuple[str, float, float, float], met: Any = (), risers: Any = (), blocks: Any = (), stroke: bool = True, bounded: bool = True) -> list[Any]:
    held = tuple(named(name=ref(name, 8), least_mm=low, most_mm=high, riser_mm=riser, origin=at(9)) for name, low, high, riser in given)
    lift = named(riser_mm=risers, foot_blocks=blocks, workpieces=met, height_min_mm=40.0, height_max_mm=48.0)
    bounds = (named(sentence="low", origin=at(1)), named(sentence="high", origin=at(2)))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(workpiece_not_met, "ends", lambda derived: bounds if bounded else None)
        patch.setattr(workpiece_not_met, "crossing", lambda derived: None)
        return list(workpiece_not_met.check(named(units="mm", workpieces=held), named(lift=lift if stroke else None)))


def test_workpieces_that_are_not_met() -> None:
    good = ("good", 40.0, 48.0, 0.0), ("good", 40.0, 48.0, 0)
    (item,) = pieces(good[0], ("plank", 18.0, 22.0, 0.0), met=(good[1], ("plank", 0.0, 0.0, 0)), risers=(("plank", 22.0),), blocks=(("plank", 0),))
    assert item.message == "`plank` of 18 mm to 22 mm is not matched flush; the board stands at 40 mm to 48 mm at mean thickness"
    assert (item.remedy, item.parts, starts(item)) == ("`on riser 22 mm`", ("plank",), (9, [1]))
    # On a riser of 30, 16 to 20 is 46 to 50: 2 out of reach above, which one block of 2 or more lifts, and 10 are left below it to reach 46.
    (item,) = pieces(("plank", 16.0, 20.0, 30.0), met=(("plank", 16.0, 18.0, 0),), blocks=(("plank", 1),))
    assert item.message.startswith("`plank` of 16 mm to 20 mm on a riser of 30 mm is matched flush only from 16 mm to 18 mm;")
    assert (item.remedy, starts(item)) == ("a foot block of 2 mm under each foot", (9, [2]))
    one = pieces(("thick", 55.0, 55.0, 0.0), met=(("thick", 0.0, 0.0, 0),), blocks=(("thick", None),))[0]
    assert one.message.startswith("`thick` of 55 mm is not") and one.remedy == "more travel: the thickest is out of reach even with foot blocks"
    # Borders: both ends exactly met, and each missed by a thousandth.
    for low, high, count in ((40.0, 48.0, 0), (40.001, 48.0, 1), (40.0, 47.999, 1)):
        assert len(pieces(("p", 40.0, 48.0, 0.0), met=(("p", low, high, 0),), blocks=(("p", 0),))) == count
    none: Any = {"met": (("p", 0.0, 0.0, 0),)}
    assert not pieces(("p", 40.0, 48.0, 0.0), stroke=False, **none) and not pieces(("p", 40.0, 48.0, 0.0), bounded=False, **none)
    assert not pieces(("p", 0.4, 0.5, 0.0), met=(("p", 0.3, 0.5, 0),))
    # As long as the travel: one block lifts it all.
    same = pieces(("p", 16.0, 24.0, 30.0), met=(("p", 16.0, 18.0, 0),), blocks=(("p", 1),))[0]
    assert same.remedy == "a foot block of 6 mm under each foot"
    # What is too thick is ended by the upper bound, what is too thin by the lower.
    for most, place in ((48.5, 2), (48.0, 1), (47.5, 1)):
        assert start(pieces(("p", 39.0, most, 0.0), met=(("p", 40.0, 47.0, 0),), blocks=(("p", 0),))[0].related[0].span) == place
    # The range is longer than the travel: several blocks of less than it.
    long = pieces(("p", 40.0, 70.0, 0.0), met=(("p", 40.0, 48.0, 0),), blocks=(("p", 3),))[0]
    assert long.remedy == f"3 foot blocks under each foot for the thickest, of {8.0 - BLOCK_OVERLAP_MM:g} mm each at most" and start(long.related[0].span) == 2
    assert pieces(("p", 40.0, 60.0, 0.0), met=(("p", 40.0, 48.0, 0),), blocks=(("p", 2),))[0].remedy.startswith("2 foot blocks under each foot")
    two = pieces(("p", 30.0, 49.0, 0.0), met=(("p", 40.0, 48.0, 0),), risers=(("p", 10.0),), blocks=(("p", 1),))[0]
    assert two.remedy.startswith("`on riser 10 mm` and a foot block of ") and two.remedy.endswith(" at most under each foot for the thickest")
