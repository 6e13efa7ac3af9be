"""Laws of whole fixtures, on random ones: how they move, and what must not matter."""

from __future__ import annotations

import math
import re
from dataclasses import fields, is_dataclass
from fractions import Fraction
from random import Random
from typing import Any

from hypothesis import HealthCheck, Phase, assume, given, settings
from hypothesis import strategies as st
from tests.laws.fixture_texts import Sketch, sketches
from tests.laws.whole import NAME, Whole, checked, whole

from trivet.fmt.format import format_text
from trivet.source import SourceFile
from trivet.units import Quantity

# Without shrinking: a fixture takes about half a second, and a failing one is short enough to read.
BOUNDED = settings(
    max_examples=8,
    derandomize=True,
    database=None,
    deadline=None,
    phases=(Phase.generate,),
    suppress_health_check=[HealthCheck.too_slow],
)
SAME = 1e-9
STEP = 1e-6  # the report's numbers have six decimals, so two of them may differ by one step for nothing


def _turned(report: dict[str, Any], turns: Fraction) -> dict[str, Fraction]:
    """Turns of each gear, anticlockwise seen from above, when the drive has been turned clockwise: meshes walked from the drive.

    Teeth that pass a mesh are equal in number on both gears and pass in opposite senses.
    """
    teeth = {gear["id"]: gear["teeth"] for gear in report["gears"]}
    (drive,) = (gear["id"] for gear in report["gears"] if gear["kind"] == "drive")
    found = {drive: -turns}
    waiting = [drive]
    while waiting:
        here = waiting.pop()
        for mesh in report["meshes"]:
            if here in mesh["gears"]:
                (there,) = (name for name in mesh["gears"] if name != here)
                passed = -found[here] * Fraction(teeth[here], teeth[there])
                if there in found:
                    assert found[there] == passed
                else:
                    found[there] = passed
                    waiting.append(there)
    return found


def _rise_mm(report: dict[str, Any], turns: Fraction) -> dict[str, float]:
    """How far each foot has pushed the board up.

    A right-hand screw turned clockwise seen from above moves down through its insert, so the board rises on it; a nut turned
    clockwise sends its screw up.
    """
    turned = _turned(report, turns)
    found = {}
    for foot in report["feet"]:
        clockwise = -turned[foot["gear"]]
        hand = -1 if foot["thread"].endswith("-LH") else 1
        moving = -1 if foot["kind"] == "captured_nut" else 1
        found[foot["id"]] = float(clockwise * hand * moving) * foot["lead_mm"]
    return found


def _teeth_stand_in_spaces(report: dict[str, Any], turns: Fraction) -> None:
    """Along each line of centres a tooth of one gear faces a space of the other, also after turning: half a pitch apart."""
    turned = _turned(report, turns)
    gears = {gear["id"]: gear for gear in report["gears"]}
    for mesh in report["meshes"]:
        a, b = (gears[name] for name in mesh["gears"])
        towards = math.degrees(math.atan2(b["y_mm"] - a["y_mm"], b["x_mm"] - a["x_mm"]))
        pitches = 0.0
        for gear, direction in ((a, towards), (b, towards + 180.0)):
            phase = gear["phase_deg"] + 360.0 * float(turned[gear["id"]])
            pitches += gear["teeth"] * (direction - phase) / 360.0
        # Six decimals of a degree times the teeth, and the places' six decimals over the centre distance.
        assert abs(pitches % 1.0 - 0.5) < 1e-5, (mesh["gears"], pitches)


@BOUNDED
@given(sketches(wrong=True), st.fractions(min_value=-3, max_value=3, max_denominator=16))
def test_height_is_the_same_function_of_turns_at_every_foot(sketch: Sketch, turns: Fraction) -> None:
    """Where no error stands the feet rise alike, as the report says; where they do not, an error stands."""
    result = checked(sketch.text)
    assert result.derived is not None, result.findings
    found = whole(sketch.text)
    one = _rise_mm(found.report, Fraction(1))
    alike = max(one.values()) - min(one.values()) < SAME
    if not alike:
        assert {item.rule for item in found.errors} & {"feet-rise-differently", "feet-turn-opposite"}, one
    if found.errors:
        return
    lift = found.report["lift"]
    assert alike
    for turn in (Fraction(1), turns):
        sign = 1 if lift["raises_when"] == "clockwise" else -1
        for rise in _rise_mm(found.report, turn).values():
            assert math.isclose(rise, sign * lift["per_turn_mm"] * float(turn), abs_tol=STEP * (1 + abs(turn)))
        _teeth_stand_in_spaces(found.report, turn)
    turned = lift["turns_for_travel"]
    assert math.isclose(turned * lift["per_turn_mm"], lift["travel_mm"], abs_tol=STEP * (1 + turned + lift["per_turn_mm"]))
    assert math.isclose(lift["height_max_mm"] - lift["height_min_mm"], lift["travel_mm"], abs_tol=2 * STEP)


def test_the_simulation_tells_a_foot_that_rises_differently() -> None:
    gears = [
        {"id": "hub", "teeth": 20, "kind": "drive"},
        {"id": "a", "teeth": 20, "kind": "foot"},
        {"id": "b", "teeth": 25, "kind": "foot"},
    ]
    feet = [{"id": f"f.{name}", "gear": name, "kind": "riding", "thread": "M8", "lead_mm": 1.25} for name in ("a", "b")]
    meshes = [{"gears": ["hub", name]} for name in ("a", "b")]
    rises = _rise_mm({"gears": gears, "meshes": meshes, "feet": feet}, Fraction(2))
    # By hand: two turns at 20/20 and 20/25 of 1.25 mm; one mesh turns a right-hand screw anticlockwise, which lowers.
    assert rises == {"f.a": -2.5, "f.b": -2.0}


def _same_but_for_places(left: Whole, right: Whole) -> None:
    """Equal findings, reports and bytes."""
    assert left.said == right.said
    assert left.facts == right.facts
    assert left.products.keys() == right.products.keys()
    for path, data in left.products.items():
        assert data == right.products[path], path


def _without_places(value: Any) -> Any:
    """The design as plain data; what says where a value was written is left out."""
    if isinstance(value, tuple):
        return [_without_places(item) for item in value]
    if isinstance(value, Quantity):
        return (value.number, value.unit)
    names = [field.name for field in fields(value)] if is_dataclass(value) else list(getattr(type(value), "model_fields", ()))
    if not names:
        return value
    return {name: _without_places(getattr(value, name)) for name in names if not name.endswith(("origin", "origins"))}


@BOUNDED
@given(sketches(wrong=True), st.integers(0, 10**6))
def test_the_order_of_blocks_changes_nothing(sketch: Sketch, seed: int) -> None:
    """Nor that of facts in a block, save the rows of a table."""
    random, blocks = Random(seed), []
    for block in sketch.blocks():
        heading, *facts = block.splitlines()
        if not heading.startswith("table"):
            random.shuffle(facts)
        blocks.append("\n".join([heading, *facts]) + "\n")
    random.shuffle(blocks)
    _same_but_for_places(whole("\n".join(blocks)), whole(sketch.text))


def _padded(text: str, random: Random) -> str:
    """More space wherever a space stands outside quotes, comments after facts and between blocks, other line ends."""
    lines = []
    for line in text.splitlines():
        if line.strip() and random.random() < 0.2:
            lines += [random.choice(("", "# a remark: 3 mm, (", "    # gear hub"))]
        indent = line[: len(line) - len(line.lstrip())]
        pieces = re.split(r'("[^"]*")', line.strip())
        body = "".join(
            piece if piece.startswith('"') else re.sub(" ", lambda _: " " * random.randint(1, 4), piece) for piece in pieces
        )
        tail = random.choice(("", "   ", "  # why not", " #")) if body else ""
        lines.append((indent + " " * random.randint(0, 5) if indent else "") + body + tail)
    return random.choice(("\n", "\r\n")).join(lines) + random.choice(("", "\n", "\n\n\n"))


@BOUNDED
@given(sketches(wrong=True), st.integers(0, 10**6))
def test_space_and_remarks_change_nothing(sketch: Sketch, seed: int) -> None:
    padded = _padded(sketch.text, Random(seed))
    formatted = format_text(SourceFile(NAME, padded))
    assert formatted != padded
    plain = whole(sketch.text)
    for text in (padded, formatted):
        other = whole(text)
        assert _without_places(other.design) == _without_places(plain.design)
        _same_but_for_places(other, plain)


def _mirror_of(values: dict[str, Any]) -> dict[str, Any]:
    return {**values, "x_mm": 600.0 - values["x_mm"]}


@BOUNDED
@given(sketches())
def test_a_fixture_seen_in_a_mirror_is_as_good(sketch: Sketch) -> None:
    """Places are exchanged left and right; sizes, heights, meshes, purchases and findings are the same."""
    assume(sketch.hub_teeth % 2 == 0)  # an odd drive gear's tooth on +x has no mirror image on itself
    plain, mirrored = whole(sketch.text).report, whole(sketch.mirror().text).report
    for kind in ("gears", "feet"):
        assert [item["id"] for item in plain[kind]] == [item["id"] for item in mirrored[kind]]
        for one, other in zip(plain[kind], mirrored[kind], strict=True):
            wanted = _mirror_of(one)
            if kind == "gears":
                pitch = 360.0 / one["teeth"]
                apart = (180.0 - one["phase_deg"] - other["phase_deg"]) / pitch
                assert abs(apart - round(apart)) < 1e-6, one["id"]
                wanted["phase_deg"] = other["phase_deg"]
            _close(wanted, other)
    for key in ("meshes", "lift", "hardware", "cut_list", "loops"):
        _close(plain[key], mirrored[key])
    assert [(item["rule"], item["severity"]) for item in plain["findings"]] == [
        (item["rule"], item["severity"]) for item in mirrored["findings"]
    ]


def _close(left: Any, right: Any) -> None:
    """Equal, numbers to the last digits that sums in another order may change."""
    assert type(left) is type(right) or (isinstance(left, int | float) and isinstance(right, int | float))
    if isinstance(left, dict):
        assert left.keys() == right.keys()
        for key, value in left.items():
            _close(value, right[key])
    elif isinstance(left, list):
        assert len(left) == len(right)
        for one, other in zip(left, right, strict=True):
            _close(one, other)
    elif isinstance(left, float):
        assert math.isclose(left, right, rel_tol=SAME, abs_tol=2 * STEP), (left, right)
    else:
        assert left == right


def test_a_hole_also_mirrored_is_two_holes() -> None:
    """Drawn at the same places as one stated twice."""
    sketch = _first()
    stated = sketch.text.replace("  also_mirrored left_right\n", "  at (560, 520) mm\n")
    assert stated != sketch.text
    places = re.compile(rb'<circle cx="([^"]+)" cy="([^"]+)" r="([^"]+)"')
    for path, data in whole(sketch.text).products.items():
        if path.endswith(".svg"):
            assert sorted(places.findall(data)) == sorted(places.findall(whole(stated).files[path])), path


def _first() -> Sketch:
    from hypothesis import find

    return find(sketches(), lambda sketch: sketch.arms[0].kind == "riding", settings=settings(derandomize=True, database=None))


@BOUNDED
@given(sketches(), st.integers(1, 20))
def test_looser_play_is_looser_by_as_much(sketch: Sketch, hundredths: int) -> None:
    """Backlash is stated at the nominal centres and is proportional to the distance where these are off: jt = (2 A/(z1 + z2)) (…).

    So the least backlash gains as much, less the share that the worst radial error, under 3 mm here, has of the distance.
    """
    gained = hundredths / 100
    looser = str(round(float(sketch.play_mm) + gained, 2))
    changed = sketch.text.replace(f"parameter play {sketch.play_mm} mm", f"parameter play {looser} mm")
    for one, other in zip(whole(sketch.text).report["meshes"], whole(changed).report["meshes"], strict=True):
        more = {key: other["backlash_mm"][key] - one["backlash_mm"][key] for key in ("nominal", "min", "max")}
        assert math.isclose(more["nominal"], gained, abs_tol=2 * STEP)
        assert gained * (1 - 3 / one["centre_distance_mm"]) - 2 * STEP <= more["min"] <= gained + 2 * STEP
        assert math.isclose(more["min"] + more["max"], 2 * gained, abs_tol=4 * STEP)
        assert other["centre_distance_mm"] == one["centre_distance_mm"]


@BOUNDED
@given(sketches())
def test_purchases_are_counted_from_gears_and_feet(sketch: Sketch) -> None:
    """From the kinds in the report and what each kind is made of: drive, pivot and foot of this fixture, piece by piece."""
    report = whole(sketch.text).report
    idlers = sum(1 for gear in report["gears"] if gear["kind"] == "idler")
    wanted = {"crank-bolt": 1, "crank-nut": 1, "crank-jam_nut": 1, "key_holder-magnet": 1}
    if idlers:
        wanted |= {"pin-screw": idlers, "pin-washer": 2 * idlers, "pin-sleeve": idlers}
    pieces = {
        "riding": ("screw", "insert", "pad"),
        "captured_nut": ("rod", "nut", "pad", "cross_pin"),
        "sliding_hex": ("screw", "insert", "post"),
    }
    for foot in report["feet"]:
        for piece in pieces[foot["kind"]]:
            item = f"{foot['id'].partition('.')[0]}-{piece}"
            wanted[item] = wanted.get(item, 0) + 1
    for keeper in report["keepers"]:
        assert len(keeper["places"]) in (0, 2, 3, 4)
        for piece in ("keeper_screw", "stand_off") if keeper["places"] else ():
            item = f"{keeper['id'].partition('.')[0]}-{piece}"
            wanted[item] = wanted.get(item, 0) + len(keeper["places"])
    found: dict[str, int] = {}
    for line in report["hardware"]:
        # Dowels between glued layers depend on the room in each gear; lines that share a purchase name all of their items.
        # A keeper of the set that takes another screw has lines of its own.
        item = re.sub(r"((keeper_screw|stand_off))-\d+$", r"\1", line["item"])
        found[item] = found.get(item, 0) + line["quantity"]
    assert found == wanted
    gears = sum(row["quantity"] for row in report["cut_list"] if set(row["ids"]) <= {gear["id"] for gear in report["gears"]})
    assert gears == len(report["gears"])
