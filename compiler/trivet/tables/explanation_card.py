"""The inspection card, explained: what each row expects, and its limits."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

import trivet.tables.explanation_features as features
import trivet.tables.explanation_mesh as meshes
import trivet.tables.explanation_teeth as teeth
from trivet.solve.feature import Feature, Round
from trivet.solve.inspection import DRILL_OVER_MM, DRILL_UNDER_MM, SAWN_MM, SLEEVE_MM, readings
from trivet.solve.inspection_reading import Reading
from trivet.solve.part_features import PartFeatures
from trivet.solve.parts import part_features
from trivet.tables.explanation import DERIVED, PRACTICE, Entry, Number, computed, found, given
from trivet.tables.explanation_backlash import cutting_error
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_hardware import cut_length
from trivet.tables.explanation_stack import stack_limits
from trivet.tables.hardware_schedule import schedule

CARD = "inspection.csv and inspection.md: row"
_WAYS = (("card_expect", ""), ("card_least", "−"), ("card_most", "+"))


def card_entries(facts: Facts) -> Iterator[Entry]:
    """What to expect, the least and the most of each row, by its id."""
    card = _Card(facts)
    for row in readings(facts.design, facts.derived):
        for quantity, sign in _WAYS:
            place = f"{CARD} {row.row}, {quantity.removeprefix('card_')}"
            yield Entry(quantity, (row.row,), (), partial(card.number, row, sign), elsewhere=place)


class _Card:
    """Rows of one fixture's card."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self.features: dict[tuple[str, str], tuple[PartFeatures, Feature]] = {}
        for part in part_features(facts.design, facts.derived):
            for item in part.features:
                self.features.setdefault((part.part, item.title), (part, item))

    def number(self, row: Reading, sign: str) -> Number:
        """What is expected, or with a sign a limit."""
        if row.kind == "thickness":
            return self.facts.sheet(row.of[0], {"": 0, "−": -1, "+": 1}[sign])
        expect = self._expect(row)
        value = {"": row.nominal_mm, "−": row.least_mm, "+": row.most_mm}[sign]
        if not sign:
            return expect
        words = f"the {'least' if sign == '−' else 'most'} that `{row.row}` may read"
        made = self._limit(row, sign, expect, words)
        if made is not None and abs(made.value - value) < 1e-6:
            return made
        return found("limit", words, value, row.why, DERIVED, expect)

    def _expect(self, row: Reading) -> Number:
        made = self._known(row)
        if made is not None and abs(made.value - row.nominal_mm) < 1e-6:
            return made
        return given("expect", row.measure, row.nominal_mm, source="as drawn")

    def _known(self, row: Reading) -> Number | None:
        facts = self.facts
        if row.kind == "span":
            return teeth.span(facts, row.of[0], meshes.thinning(facts, row.of[0]))
        if row.kind == "tip":
            return self._tips(row)
        if row.kind == "spacing":
            return self._spacing(row)
        if row.kind == "length":
            lines = [item for item in schedule(facts.design, facts.derived).lines if row.of[0] in item.where and item.piece.cut_to_mm]
            line = next((item for item in lines if (item.piece.kind == "sleeve") == row.row.endswith(".sleeve")), None)
            return cut_length(facts, line) if line is not None else None
        held = self.features.get((row.part, row.title)) if row.title else None
        if held is None:
            return self._aid(row)
        part, item = held
        if row.kind == "depth":
            return features.depth(facts, part, item)
        return features.flats(facts, part, item) if row.kind == "flats" else features.diameter(facts, part, item)

    def _aid(self, row: Reading) -> Number | None:
        for (part, _), (_, item) in self.features.items():
            if part == row.part and isinstance(item.shape, Round) and row.measure.startswith(item.title.split(", ")[0]):
                return given("D", row.measure, item.shape.diameter_mm, origin=item.origin, source=item.because)
        return None

    def _tips(self, row: Reading) -> Number:
        da, z = meshes.tip(self.facts, row.of[0]), teeth.teeth(self.facts, row.of[0])
        if int(z.value) % 2 == 0:
            return computed("over", row.measure, da.symbol, "derived: two tips lie opposite", da)
        shape = self.facts.states[row.of[0]].geometry
        half = found("half", "half the angle that a tip takes", math.degrees(max(0.0, shape.half_angle_at(shape.reached_tip_radius_mm))),
                     "the tooth's thickness at the tip, by the involute", DERIVED, da, unit="deg")  # fmt: skip
        formula = f"{da.symbol} / 2 · (1 + cos(180 / {z.symbol} − half))"
        return computed("over", row.measure, formula, "derived: the second jaw rests on the near corners of two tips", da, z, half)

    def _spacing(self, row: Reading) -> Number | None:
        state = next((item for item in self.facts.derived.train.meshes if item.id == row.of[0]), None)
        holes = [self.features.get((row.part, title)) for title in row.of[1:]]
        if state is None or len(holes) != 2:
            return None
        apart, numbers = meshes.distance(self.facts, state.a, state.b), []
        for name, held in zip((state.a, state.b), holes, strict=True):
            if held is None or not isinstance(held[1].shape, Round):
                return None
            item = held[1]
            numbers.append(given(f"D_{name}", f"{item.title.split(', ')[0]}: diameter", held[1].shape.diameter_mm, origin=item.origin, source=item.because))
        formula = f"{apart.symbol} + ({numbers[0].symbol} + {numbers[1].symbol}) / 2"
        return computed("over", row.measure, formula, DERIVED, apart, *numbers)

    def _limit(self, row: Reading, sign: str, expect: Number, words: str) -> Number | None:
        facts, shop = self.facts, self.facts.design.shop
        if row.why.startswith("common practice"):
            return self._either(row, sign, expect, words, given("sawn", "a sawn and filed tube, either way", SLEEVE_MM, source=PRACTICE))
        if row.kind == "length":
            bolt = next((item for item in facts.derived.bolts if item.part == row.of[0]), None)
            if bolt is None:
                return None
            if bolt.part in facts.stroked.specs:
                if sign == "−":
                    return self._either(row, sign, expect, words, given("sawn", "a saw and a file", SAWN_MM, source=PRACTICE))
                how = "its tip stays that far below the topside at the least extension, at every combination of thin and thick sheets"
                room = found("L_room", f"longest that ends {bolt.room_ends_at}", bolt.most_mm, how, DERIVED)
                return computed("limit", words, f"max({room.symbol}, {expect.symbol})", DERIVED, room, expect)
            ends = stack_limits(facts, bolt)
            return computed("limit", words, f"{'min' if sign == '−' else 'max'}({ends[sign == '+'].symbol}, {expect.symbol})", DERIVED,
                            ends[sign == "+"], expect)  # fmt: skip
        if row.why.startswith("what a sharp drill"):
            mm = DRILL_UNDER_MM if sign == "−" else DRILL_OVER_MM
            return self._either(row, sign, expect, words, given("drill", "what a sharp drill leaves", mm, source=PRACTICE))
        if row.kind == "depth":
            return self._either(row, sign, expect, words, facts.shop("depth", "depth_error", "error of depths, either way", shop.depth_mm))
        if row.kind in ("span", "tip"):
            profile, run_out = (cutting_error(facts, row.of[0], kind) for kind in ("profile_offset", "run_out"))
            formula = f"{expect.symbol} {sign} 2 · ({profile.symbol} + {run_out.symbol} / 2)"
            return computed("limit", words, formula, "derived: a flank that is off moves one end of the reading by as much", expect, profile, run_out)
        if sign == "−" and row.why.startswith("below, bore_clearance"):
            room = facts.shop("bore_clearance", "bore_clearance", "clearance of bores, diametral", shop.bore_clearance_mm)
            return self._either(row, sign, expect, words, room)
        profile = self._profile(row)
        formula = f"{expect.symbol} {sign} 2 · {profile.symbol}"
        inputs = [expect, profile]
        if row.kind == "spacing" or row.row.endswith(".centres"):
            position = self._position(row)
            formula += f" {sign} 2 · {position.symbol}"
            inputs.append(position)
        return computed("limit", words, formula, row.why, *inputs)

    def _either(self, row: Reading, sign: str, expect: Number, words: str, error: Number) -> Number:
        return computed("limit", words, f"{expect.symbol} {sign} {error.symbol}", row.why, expect, error)

    def _profile(self, row: Reading) -> Number:
        owner = row.of[0] if row.of[0] in self.facts.graph.gears else ""
        if owner:
            return cutting_error(self.facts, owner, "profile_offset")
        return self._of_board(row, "profile_offset", "error of each cut edge, either way", self.facts.design.shop.profile_offset_mm)

    def _position(self, row: Reading) -> Number:
        return self._of_board(row, "hole_position", "error of a hole's place, either way", self.facts.design.shop.hole_position_mm)

    def _of_board(self, row: Reading, kind: str, words: str, shop_mm: float) -> Number:
        """An error of what cuts the row's board: its machine's, else the shop's."""
        held = next((part for (name, _), (part, _) in self.features.items() if name == row.part), None)
        board = self.facts.parts.boards.get(held.belongs_to or held.part) if held is not None else None
        machine = self.facts.parts.machines[board.machine.text] if board is not None and board.machine is not None else None
        stated = getattr(machine, kind) if machine is not None else None
        if machine is not None and stated is not None:
            return given(kind, f"{words}, of `{machine.name}`", stated.mm, origin=stated.origin)
        return self.facts.shop(kind, kind, words, shop_mm)
