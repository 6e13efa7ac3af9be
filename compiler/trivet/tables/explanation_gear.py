"""Numbers of a gear as the report has them: turns without sign, direction, phase within a tooth."""

from __future__ import annotations

from trivet.tables.explanation import DERIVED, Number, computed, found
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_teeth import teeth
from trivet.tables.report_train import phase_deg


def speed_reported(signed: Number) -> Number:
    """Turns per drive turn, without sign."""
    return computed("speed", "turns for a turn of the drive, without sign", f"abs({signed.symbol})", DERIVED, signed, unit="")


def direction(signed: Number) -> Number:
    """1 with the drive, −1 against it."""
    return computed(
        "direction", "1 with the drive, −1 against it", f"{signed.symbol} / abs({signed.symbol})", DERIVED, signed, unit=""
    )


def phase_reported(facts: Facts, gear: str, phase: Number) -> Number:
    """The first tooth centre at or after +x."""
    from math import radians

    z = teeth(facts, gear)
    number = computed(
        "phase",
        f"the first tooth centre of `{gear}` at or after +x",
        f"mod({phase.symbol}, 360 / {z.symbol})",
        DERIVED,
        phase,
        z,
        unit="deg",
    )
    value = phase_deg(radians(phase.value), int(z.value))
    if abs(number.value - value) < 1e-9:
        return number
    return found("phase", number.words, value, "a whole pitch is none", DERIVED, phase, z, unit="deg")


def step_of_a_tooth(lead: Number, z: Number) -> Number:
    """Height of one step when a gear is moved on by a tooth."""
    return computed(
        "zero_step", "height of one step when the gear is set on by a tooth", f"{lead.symbol} / {z.symbol}", DERIVED, lead, z
    )
