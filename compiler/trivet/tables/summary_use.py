"""Page one on use: what lies past the travel and, where asked for, how far off flush and what a stop allows."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.model.design import Design
from trivet.solve.beyond import beyond_of
from trivet.solve.derived import Derived
from trivet.solve.drive_stop import stop_plan
from trivet.solve.flush import flush_of
from trivet.units import length_text


def use_lines(design: Design, derived: Derived) -> Iterator[str]:
    """At most one line each; flush where it is required, the stop where a drive has one."""
    first: dict[str, str] = {}
    for item in beyond_of(derived):
        word = "down" if item.end == "least" else "up"
        when = "at once" if item.turns < 0.05 else f"after {item.turns:.1f} turns"
        first.setdefault(word, f"{word} {when} {_what_happens(item.cause)}")
    if first:
        yield f"past the travel: {'; '.join(first.values())}"
    flush = flush_of(design, derived) if any(item.kind == "flush_within" for item in design.requires) else None
    if flush is not None:
        parts = ", ".join(f"{part.key.replace('_', ' ')} {length_text(part.mm, design.units)}" for part in flush.parts[:3])
        yield f"flush: within {length_text(flush.worst_mm, design.units)} at worst: {parts}"
    for state in derived.drives:
        plan = stop_plan(derived, state)
        if plan is not None:
            at = length_text(plan.end_nut_mm, design.units)
            yield f"stop: {plan.turns:.1f} turns; lock its end nut {at} under the head"


# What happens first beyond an end, by the cause of the limit; a cause that is not here is said in its own words.
_HAPPENS = (
    ("bench", "the bench"),
    ("teeth_part", "teeth part"),
    ("thread_leaves_insert", "the thread is out"),
    ("nut_not_full", "the rod is out"),
    ("stop_leaves_slot", "the pin is out"),
    ("hex_leaves_socket", "the head is out"),
    ("tip_through", "a tip shows"),
    ("tip_meets_board", "a tip jams"),
    ("gear_meets_board", "a gear jams"),
    ("tilted_rim", "a rim jams"),
    ("insert_proud", "a gear jams"),
    ("shank_in_insert", "a shank jams"),
    ("shank_in_nut", "a shank jams"),
    ("keeper", "a foot jams"),
    ("hex_at_socket_floor", "a head jams"),
    ("post_meets_gear", "a post jams"),
)


def _what_happens(cause: str) -> str:
    plain = cause.removeprefix("climber_")
    return next((words for key, words in _HAPPENS if plain.startswith(key)), plain.replace("_", " "))
