"""The chance that a train binds: against figures worked out by hand, against a slow run of its own, and its laws."""

from __future__ import annotations

import json
import math
import random
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from tests.designs import HEX_NUT, design, drive, foot, gear, mesh, mm, tooth_form

from trivet.model.base import Ref
from trivet.model.design import Design
from trivet.model.shop import Cutter, Shop
from trivet.solve.binding import DRAWS, SEED, Binding, _run, binding
from trivet.solve.binding_words import chance_words
from trivet.solve.solve import solve
from trivet.tables.report_train import train_record
from trivet.tables.summary import summary_lines

SCHEMA = Path(__file__).resolve().parents[1] / "grammar" / "report.schema.json"
HUB = gear("hub", 20, (0, 0), drive=True)
# The same moisture all year round.
DRY = {"moisture_least": 8.0, "moisture_most": 8.0}
PERFECT = Shop(hole_position_mm=0.0, profile_offset_mm=0.0, bore_clearance_mm=0.0, insert_tilt_deg=0.0, **DRY)
TIGHT = drive(hole_mm=8.0)
ALPHA = math.radians(20)
BASE = 80 * math.cos(ALPHA)
PAIR = (HUB, gear("b", 20))


def run(sample: Design, **facts: Any) -> Binding:
    return binding(sample, solve(sample), **facts)


def two(backlash: float, shop: Shop, **facts: Any) -> Design:
    """Two gears of 20 teeth, module 4, 80 mm apart."""
    return design(PAIR, (mesh("hub", "b", 0),), shop=shop, tooth_forms=(tooth_form(backlash=backlash),), **facts)


def near(chance: float) -> Any:
    """Five standard errors of so many draws, and half the last digit."""
    return pytest.approx(chance, abs=5 * math.sqrt(chance * (1 - chance) / DRAWS) + 0.00005)


def lost_at(backlash: float) -> float:
    """How much nearer than 80 mm the axes take all of it, by halving: the exact formula, worked out here from cos aw = base/A."""

    def left(distance: float) -> float:
        at = math.acos(BASE / distance)
        spread = math.tan(at) - at - math.tan(ALPHA) + ALPHA
        return backlash / 80 + 2 * spread

    low, high = 0.0, 80 - BASE
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if left(80 - middle) > 0 else (low, middle)
    return low


def test_no_errors_no_chance() -> None:
    found = run(two(0.1, PERFECT, drives=(TIGHT,)))
    assert found.chance == 0.0 and found.contributors == () and found.remedies == ()


def test_one_profile_error() -> None:
    """Uniform in ±q, the backlash gone at q = j cos a/4: half of the share beyond it."""
    shop = PERFECT.model_copy(update={"profile_offset_mm": 0.05})
    limit = 0.1 * math.cos(ALPHA) / 4
    assert run(two(0.1, shop, drives=(TIGHT,))).chance == near((1 - limit / 0.05) / 2)


def test_a_cutter_errs_alike_on_all_that_it_cuts() -> None:
    """Then a second mesh adds nothing: both bind or neither does."""
    shop = PERFECT.model_copy(update={"profile_offset_mm": 0.05})
    three = design(
        (*PAIR, gear("c", 20)),
        (mesh("hub", "b", 0), mesh("b", "c", 60)),
        shop=shop,
        drives=(TIGHT,),
        tooth_forms=(tooth_form(backlash=0.1),),
    )
    found = run(three)
    assert dict(found.meshes) == {"hub-b": found.chance, "b-c": found.chance}
    assert found.chance == near((1 - 0.1 * math.cos(ALPHA) / 4 / 0.05) / 2)


def test_two_cutters_err_on_their_own() -> None:
    """The sum of two uniform errors is a triangle: ((2 - limit/q)²)/8 lies beyond the limit."""
    shop = PERFECT.model_copy(update={"profile_offset_mm": 0.05})
    gears = (HUB, gear("b", 20, cutter=Ref("other")))
    cutters = tuple(Cutter(name=Ref(name), diameter=mm(4)) for name in ("straight", "other"))
    sample = design(
        gears, (mesh("hub", "b", 0),), shop=shop, drives=(TIGHT,), cutters=cutters, tooth_forms=(tooth_form(backlash=0.1),)
    )
    limit = 0.1 * math.cos(ALPHA) / 2
    assert run(sample).chance == near((2 - limit / 0.05) ** 2 / 8)


def test_play_of_one_axis_in_any_direction() -> None:
    """A bolt of 8 mm in a hole of 8.8: 0.4 mm any way. What is beyond the limit is a segment of the circle."""
    near_by, radius = lost_at(0.2), 0.4
    angle = 2 * math.acos(near_by / radius)
    segment = (angle - math.sin(angle)) / (2 * math.pi)
    assert 0.05 < segment < 0.3
    # The axes' slant moves the limit by up to 0.4²/(2 · 80) mm of 0.4.
    assert run(two(0.2, PERFECT, drives=(drive(hole_mm=8.8),))).chance == pytest.approx(segment, abs=0.006)


def test_a_gear_clamped_off_centre_comes_round_to_its_mate() -> None:
    """On a plain nut: 0.4 mm of play as well, but it turns. Beyond the limit lies all the ring outside it, 1 - (d/r)²."""
    sample = two(0.5, PERFECT, drives=(drive(nut=HEX_NUT, hole_mm=8.8),))
    parts = {what: without for what, without in run(sample).contributors}
    # Without the hole's play only the ring is left.
    assert parts["clearance of the bolt's hole"] == 0.0
    sample = two(0.2, PERFECT, drives=(drive(nut=HEX_NUT, hole_mm=8.8),))
    parts = {what: without for what, without in run(sample).contributors}
    assert parts["clearance of the bolt's hole"] == near(1 - (lost_at(0.2) / 0.4) ** 2)


def slow_run(draws: int) -> float:
    """Hub 20, b 30, c 20 in a line of 30°, c carried by a tilted insert: one train at a time, the turn and the face in steps.

    Plywood of unknown grain: 0.0138 or 0.0208 % for each of six percent of moisture, made somewhere in the range and used in all of it.
    """
    dice = random.Random(7)
    angle = math.radians(30)
    ux, uy = math.cos(angle), math.sin(angle)
    bases = 100 * math.cos(ALPHA)

    def in_circle(radius: float) -> tuple[float, float]:
        while True:
            x, y = dice.uniform(-1, 1), dice.uniform(-1, 1)
            if x * x + y * y <= 1:
                return radius * x, radius * y

    def half_gaps(a: tuple[float, float], b: tuple[float, float], q: float) -> tuple[float, float]:
        """Room on one flank and on the other between axes at a and b."""
        distance = math.hypot(b[0] - a[0], b[1] - a[1]) - swelling
        at = math.acos(min(1.0, bases / distance))
        play = distance * (0.4 / 100 + 2 * (math.tan(at) - at - math.tan(ALPHA) + ALPHA)) + 4 * q / math.cos(at)
        aside = ux * (b[1] - a[1]) - uy * (b[0] - a[0])
        return play / 2 - aside, play / 2 + aside

    bound = 0
    for _ in range(draws):
        q = dice.uniform(-0.05, 0.05)
        made = dice.uniform(6, 12)
        swelling = 100 * (0.000208 - 0.000138) * max(made - 6, 12 - made)
        hub, b, c = in_circle(0.3), in_circle(0.3), in_circle(0.3)
        play_hub, play_b = in_circle(0.25), in_circle(0.15)
        off = math.hypot(*in_circle(0.25))
        hub = hub[0] + play_hub[0], hub[1] + play_hub[1]
        b = 100 * ux + b[0] + play_b[0], 100 * uy + b[1] + play_b[1]
        c = 200 * ux + c[0], 200 * uy + c[1]
        tilt, way = dice.uniform(0, math.radians(1)), dice.uniform(0, 2 * math.pi)
        lean = math.tan(tilt) * math.cos(way), math.tan(tilt) * math.sin(way)
        # Only the two flanks' least room anywhere counts: the gear may turn to use both.
        turn = [2 * math.pi * k / 24 for k in range(24)]
        first = min(sum(half_gaps((hub[0] + off * math.cos(t), hub[1] + off * math.sin(t)), b, q)) for t in turn)
        depths = [7.5 + 17.8 * k / 4 for k in range(5)]
        rooms = [half_gaps(b, (c[0] + z * lean[0], c[1] + z * lean[1]), q) for z in depths]
        second = min(room[0] for room in rooms) + min(room[1] for room in rooms)
        bound += first <= 0 or second <= 0
    return bound / draws


def test_against_a_slow_run() -> None:
    """Shares no code. The insert's mid-length is 7.5 mm above the underside; the gears are 17.8 mm thick right under it."""
    sample = design(
        (HUB, gear("b", 30), gear("c", 20, foot=True)),
        (mesh("hub", "b", 30), mesh("b", "c", 30)),
        shop=Shop(hole_position_mm=0.3, profile_offset_mm=0.05, bore_clearance_mm=0.3, insert_tilt_deg=1.0),
        drives=(drive(nut=HEX_NUT, hole_mm=8.5),),
        tooth_forms=(tooth_form(backlash="0.4"),),
        feet=(foot(),),
    )
    count = 8000
    slow = slow_run(count)
    assert 0.1 < slow < 0.5
    assert run(sample).chance == pytest.approx(slow, abs=4 * math.sqrt(slow * (1 - slow) / count))


def chain(backlash: float, **facts: Any) -> Design:
    """Hub, two idlers and two feet."""
    gears = (HUB, gear("west", 24), gear("east", 24), gear("nw", 20, foot=True), gear("ne", 20, foot=True))
    meshes = (mesh("hub", "west", 170), mesh("hub", "east", 5), mesh("west", "nw", 110), mesh("east", "ne", 60))
    return design(gears, meshes, tooth_forms=(tooth_form(backlash=backlash),), **facts)


def test_more_backlash_never_binds_more() -> None:
    chances = [run(chain(step / 20), draws=20_000).chance or 0.0 for step in range(4, 24)]
    assert chances == sorted(chances, reverse=True) and chances[0] > 0.4 and chances[-1] == 0.0


def test_the_chance_with_more_backlash_is_that_of_such_a_train() -> None:
    found = run(chain(0.4))
    assert list(found.with_more) == sorted(found.with_more, reverse=True) and found.with_more[-1] == 0.0
    assert found.with_more[0] == found.chance
    more = found.more_backlash_mm(0.05)
    assert more > 0.0 and found.more_backlash_mm(1.0) == 0.0
    after = run(chain(0.4 + more)).chance
    assert after == pytest.approx(found.with_more[round(more / 0.01)], abs=0.0005) and after is not None and after <= 0.0505
    thinner = next(left for what, left, _ in found.remedies if "0.1 mm more backlash" in what)
    assert thinner == pytest.approx(run(chain(0.5)).chance, abs=0.0005)


def test_remedies_are_what_such_a_shop_gives() -> None:
    """On other draws of the same errors where an error is gone, so only to within the draws."""
    found = run(chain(0.4))
    remedies = {what: left for what, left, _ in found.remedies}
    guided = run(chain(0.4, shop=Shop(insert_tilt_deg=0.5))).chance
    assert remedies["inserts driven with a guide block (0.5°, assumed)"] == pytest.approx(guided, abs=0.0002)
    halved = run(chain(0.4, shop=Shop(bore_clearance_mm=0.1))).chance
    assert remedies["bores with half the clearance"] == pytest.approx(halved, abs=0.0002)
    straight = run(chain(0.4, shop=Shop(insert_tilt_deg=0.0))).chance or 0.0
    assert dict(found.contributors)["insert tilt"] == pytest.approx(straight, abs=0.01)
    assert all(0.0 <= found.share(without) <= 1.0 for _, without in found.contributors)
    assert [without for _, without in found.contributors] == sorted(without for _, without in found.contributors)


def test_nothing_binds_where_the_worst_case_does_not() -> None:
    """At the least backlash that leaves some with every error at its worst; just below it the draws are made."""
    for step in range(60, 160):
        sample = chain(step / 100)
        if min(item.backlash.min_mm for item in solve(sample).train.meshes) > 0.0:
            break
    assert run(sample).chance == 0.0
    tight = run(chain(step / 100 - 0.05))
    assert tight.chance is not None and tight.chance < 0.0005


def test_a_train_binds_as_soon_as_one_mesh_does() -> None:
    found = run(chain(0.4))
    assert found.chance is not None
    alone = [chance for _, chance in found.meshes]
    assert max(alone) <= found.chance <= sum(alone) and alone == sorted(alone, reverse=True)


def test_names_and_order_change_nothing() -> None:
    sample = chain(0.4)
    turned = sample.model_copy(update={"gears": sample.gears[::-1], "meshes": sample.meshes[::-1]})
    assert run(turned) == run(sample)
    other = design(
        (gear("zz", 20, (0, 0), drive=True), gear("a1", 24), gear("b", 24), gear("k", 20, foot=True), gear("c", 20, foot=True)),
        (mesh("zz", "a1", 170), mesh("zz", "b", 5), mesh("a1", "k", 110), mesh("b", "c", 60)),
        tooth_forms=(tooth_form(backlash=0.4),),
    )
    renamed, before = run(other), run(sample)
    assert (renamed.chance, renamed.contributors, renamed.remedies) == (before.chance, before.contributors, before.remedies)


def test_same_seed_same_figures() -> None:
    sample = chain(0.4)
    first = run(sample)
    _run.cache_clear()
    assert run(sample) == first and (first.draws, first.seed) == (DRAWS, SEED)
    other = run(sample, seed=SEED + 1)
    assert other != first and other.chance == pytest.approx(first.chance, abs=0.01)


def test_without_meshes_there_is_nothing_to_draw() -> None:
    found = run(design((HUB,)))
    assert found.chance is None and found.meshes == ()


def test_the_report_holds_what_was_drawn() -> None:
    found = run(chain(0.4))
    row = train_record(found)
    schema = json.loads(SCHEMA.read_text("utf-8"))["properties"]["train"]
    jsonschema.validate(row, schema)
    assert set(row) == set(schema["properties"])
    assert (row["binding_probability"], row["draws"], row["seed"]) == (found.chance, DRAWS, SEED)
    assert train_record(None) == {"binding_probability": None, "draws": None, "seed": None}
    chance = chance_words(found.chance or 0.0)
    assert any(line.startswith(f"binds: {chance} (") for line in summary_lines(chain(0.4), solve(chain(0.4)), found))
