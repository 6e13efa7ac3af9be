"""Orders of assembly of fixtures whose order a maker would name, and what the steps say; captive parts are named."""

from __future__ import annotations

from tests.quick_solve import findings_alone, solved

from trivet.checks._examples import BASE, example_text
from trivet.checks.assembly_blocked import RULE as BLOCKED
from trivet.checks.gear_hits_hardware import RULE as HITS
from trivet.checks.keeper_overlaps import KEPT
from trivet.checks.strikes_board_below import SKIRT
from trivet.solve.assembly import Assembly, AssemblyStep, assembly
from trivet.solve.assembly_order import blockers_of, take_off
from trivet.solve.assembly_units import Unit
from trivet.solve.solid import Solid

CORNERS = ("corner.ne", "corner.nw", "corner.se", "corner.sw")


def made(text: str) -> Assembly:
    return assembly(*solved(text))


def kinds(found: Assembly) -> list[str]:
    return [step.kind for step in found.steps]


def step(found: Assembly, kind: str) -> AssemblyStep:
    (only,) = [item for item in found.steps if item.kind == kind]
    return only


def test_a_riding_fixture() -> None:
    """Inserts and glue first; feet while they still turn freely; idlers slide in between them; the drive last."""
    found = made(BASE)
    assert found.fixed == "deck" and found.blocked == ()
    assert kinds(found) == [
        "drive_insert", "press_tee_nut", "glue_screw_in_gear", "fit_pad", "thread_feet", "hang_idler", "fit_drive",
    ]  # fmt: skip
    insert = step(found, "drive_insert")
    assert (insert.parts, insert.boards, insert.side, insert.face) == (CORNERS, ("deck",), "above", "topside")
    glue = step(found, "glue_screw_in_gear")
    assert glue.needs_cure and glue.gears == ("ne", "nw", "se", "sw") and glue.face == "underside"
    assert not step(found, "thread_feet").exact and step(found, "hang_idler").exact
    drive = step(found, "fit_drive")
    assert (drive.parts, drive.gears, drive.side) == (("crank.hub",), ("hub",), "above")


def test_an_insert_driven_from_below() -> None:
    text = BASE.replace("driven_from topside", "driven_from underside")
    insert = step(made(text), "drive_insert")
    assert (insert.side, insert.face) == ("below", "underside")


def test_every_part_is_put_on_once() -> None:
    for text in (BASE, example_text(KEPT.format("170 by 70")), example_text(SKIRT.format("through"))):
        design, derived = solved(text)
        put_on = ("thread_feet", "hang_idler", "fit_drive", "place_gear")
        gears = [name for item in assembly(design, derived).steps if item.kind in put_on for name in item.gears]
        assert sorted(gears) == sorted(gear.name.text for gear in design.gears)


def test_kept_gears_before_keepers_before_screws() -> None:
    found = made(example_text(KEPT.format("170 by 70")))
    order = [(item.kind, part) for item in found.steps for part in item.parts]
    for name in ("ne", "nw", "se", "sw"):
        place, keeper, screw = (
            order.index(entry)
            for entry in (("place_gear", name), ("fit_keeper", f"corner.{name}.keeper"), ("turn_in_screw", f"corner.{name}"))
        )
        assert place < keeper < screw


def test_a_keeper_over_an_idler_comes_after_it() -> None:
    """100 mm wide and 200 mm long it lies under the idlers' rims, which hang no lower than the gears that it holds."""
    text = example_text(KEPT.format("100 by 200"))
    order = [(item.kind, part) for item in made(text).steps for part in item.parts]
    assert order.index(("hang_idler", "pin.west")) < order.index(("fit_keeper", "corner.nw.keeper"))


def test_rods_come_from_above_before_the_board_over_them() -> None:
    """A cross pin does not pass the nut, so the rod comes down through its slot; the drive's bolt goes through both boards."""
    text = example_text("""
- outline rectangle 480 by 350 mm, corner_radius 12 mm
+   outline rectangle 700 by 600 mm, corner_radius 12 mm
+   under lid, centred
+ 
+ board lid
+   stock ply18
+   cutter straight6
+   outline rectangle 700 by 600 mm
- at deck.centre
+   at deck.centre
- carries corner
+   carries corner
+   under deck
- turns_on pin
+   turns_on pin
+   under deck
- turned_by crank
+   turned_by crank
+   under deck
- kind riding
+   kind captured_nut
+   into deck
+   rod DIN 976-1, length 60 mm
+   nut ISO 4032, pocket underside
+   held_by keeper, stock ply18, outline rectangle 170 by 70 mm
+   rod_stop cross_pin 3 mm
- screw ISO 4017, length 30 mm, pocket 5.8 mm
- insert my_insert, driven_from topside, flush underside
""")
    found = made(text)
    assert found.fixed == "deck" and found.blocked == ()
    names = kinds(found)
    assert names.index("thread_rod") < names.index("lay_board") < names.index("fit_drive")
    assert step(found, "thread_rod").side == "above" and step(found, "lay_board").side == "above"
    nut = step(found, "press_nut")
    assert nut.parts == CORNERS and nut.face == "underside"
    assert names.index("fit_pad") > names.index("thread_rod"), "a pad does not pass the nut"


def test_a_board_below_comes_from_below() -> None:
    found = made(example_text(SKIRT.format("through")))
    board = step(found, "lay_board")
    assert (board.parts, board.side) == (("skirt",), "below") and found.fixed == "deck"


def test_a_pivots_nut_under_another_board() -> None:
    """Turned on from above it needs the topside, so the lid comes later; held by its recess it can lie there under the lid."""
    base = BASE
    for old, new in (
        ("  thread ST6.3\n  screw ISO 7049, head recessed 7 mm\n", "  thread M6\n  bolt ISO 4017, head recessed 5 mm\n"),
        ("  drill 5 mm\n", "  nut ISO 4032, above board, recessed 6 mm{}\n"),
        (
            "board deck\n",
            "board lid\n  stock ply18\n  cutter straight6\n  outline rectangle 480 by 350 mm\n\nboard deck\n  under lid, centred\n",
        ),
        ("  carries corner", "  carries corner\n  under deck"),
        ("  turns_on pin", "  turns_on pin\n  under deck"),
        ("  turned_by crank", "  turned_by crank\n  under deck"),
        ("  kind riding", "  kind riding\n  into deck"),
    ):
        assert base.count(old) == 1, old
        base = base.replace(old, new)
    free = kinds(made(base.replace("{}", ", round 16 mm")))
    assert free.index("hang_idler") < free.index("lay_board") < free.index("fit_drive")
    held = kinds(made(base.replace("{}", "")))
    assert held.index("lay_board") < held.index("hang_idler")


def test_a_pad_that_would_hide_a_gear_is_put_on_last() -> None:
    """A disc of 110 mm lies under the rims of the idlers beside it, so it comes after them; one of 60 mm can be glued on first."""
    late = made(example_text(HITS.failing))
    assert late.blocked == ()
    assert kinds(late).index("fit_pad") > kinds(late).index("hang_idler") > kinds(late).index("thread_feet")
    assert set(step(late, "fit_pad").parts) <= set(CORNERS)
    early = made(example_text(HITS.passing))
    assert kinds(early).index("fit_pad") < kinds(early).index("thread_feet")


def test_captive_parts_name_each_other() -> None:
    text = example_text(BLOCKED.failing)
    found = made(text)
    held = {item.part: item for item in found.blocked}
    assert set(held) == {"corner.nw", "pin.west"}
    assert held["pin.west"].held_by == ("corner.nw",) and held["corner.nw"].held_by == ("pin.west",)
    assert held["pin.west"].why == ("`west` would have to pass `low_nw`",)
    put_on = [part for item in found.steps for part in item.parts]
    assert {"corner.nw", "pin.west", "crank.hub"} <= set(put_on), "what is stuck has its steps all the same"
    (item,) = findings_alone(text, "assembly-blocked")
    assert item.severity == "error" and set(item.parts) == {"corner.nw", "pin.west"}


def test_nothing_to_put_together() -> None:
    text = BASE[: BASE.index("gear hub")]
    assert made(text).blocked == ()


def _hung(name: str, low: float, high: float) -> Unit:
    gear = Solid("gear", name, name, 0.0 if name == "a" else 60.0, 0.0, 40.0, low, high)
    return Unit("hang_idler", f"pin.{name}", name, (name,), ((gear, "below"),))


def test_gears_in_mesh_slide_past_each_other() -> None:
    """The lower of two that share little height is in the way of the upper one, unless they are in mesh."""
    units = (_hung("a", -20.0, -2.0), _hung("b", -38.0, -18.5))
    assert set(blockers_of(units, frozenset(), 0.0, {})["pin.a"]) == {"pin.b"}
    assert blockers_of(units, frozenset({frozenset("ab")}), 0.0, {}) == {"pin.a": {}, "pin.b": {}}


def test_what_is_held_waits_for_what_holds_it() -> None:
    """A keeper can be taken off although it is listed first; its gear only then."""
    units = (Unit("fit_keeper", "k", "g", (), (), after="g"), Unit("place_gear", "g", "g", ("g",), ()))
    blockers = blockers_of(units, frozenset(), 0.0, {})
    assert blockers["g"] == {"k": ""} and take_off(units, blockers) == (("g", "k"), ())
