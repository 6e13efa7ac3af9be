"""Whether a figure is within a requirement, and how an unmet one is said."""

from __future__ import annotations

from trivet.checks._check import place, related
from trivet.checks._stroke import ends
from trivet.diagnostics import Diagnostic, Label
from trivet.model.design import Design
from trivet.model.intent import Require
from trivet.solve.derived import Derived, Limit
from trivet.units import two_lengths

SLUG = "require-not-met"
# Sums of decimals in floats come out a hair beside the decimal.
SAME = 1e-9
MEAN = "at mean thickness"


def too_small(require: Require, value: float) -> bool:
    """Whether `value` (the program's own unit) is under the requirement's lower side."""
    if require.low is None:
        return False
    return value <= require.low + SAME if require.strict else value < require.low - SAME


def too_great(require: Require, value: float) -> bool:
    """Whether `value` is over the upper side."""
    if require.high is None:
        return False
    return value >= require.high - SAME if require.strict else value > require.high + SAME


def met(require: Require, value: float) -> bool:
    """Whether `value` is within both sides."""
    return not too_small(require, value) and not too_great(require, value)


def side_of(require: Require, upper: bool) -> float:
    """The side that is missed, which is stated then."""
    side = require.high if upper else require.low
    assert side is not None
    return side


def required(require: Require, allowed: str, upper: bool) -> str:
    """The second half of the message."""
    word = ("less than " if upper else "more than ") if require.strict else "at most " if upper else ""
    return f"{word}{allowed} is required"


def unit_of(require: Require, design: Design) -> str:
    """The unit the requirement was written in."""
    return require.unit if require.unit in ("mm", "in", "thou") else design.units


def unmet(
    require: Require,
    design: Design,
    what: str,
    value_mm: float,
    bound_mm: float,
    labels: tuple[Label, ...],
    remedy: str,
    parts: tuple[str, ...],
    *,
    where: str,
    upper: bool = False,
) -> Diagnostic:
    """The finding for a length. `where`: which figure it is; `upper`: whether `bound_mm` is the requirement's upper side."""
    measured, allowed = two_lengths(value_mm, bound_mm, unit_of(require, design))
    figure = f"{measured} {where}" if where else measured
    message = f"{what} is {figure}; {required(require, allowed, upper)}"
    return Diagnostic(SLUG, "error", message, place(require.origin), labels, remedy, parts=(require.kind, *parts))


def label(limit: Limit) -> tuple[Label, ...]:
    """A bound of the stroke as the other party."""
    word = "beginning" if limit.end == "least" else "end"
    return related((f"{limit.sentence}, the {word} of the travel {MEAN}", limit.origin))


def ending_labels(derived: Derived) -> tuple[Label, ...]:
    """Both bounds of the stroke, the end first."""
    found = ends(derived)
    return (*label(found[1]), *label(found[0])) if found is not None else ()


def ending_sets(derived: Derived) -> tuple[str, ...]:
    """The foot sets whose bounds end the stroke, that of the most end first."""
    found = ends(derived)
    if found is None:
        return ()
    sets = {foot.id: foot.foot.name.text for foot in derived.feet}
    return tuple(dict.fromkeys(sets[limit.parts[0]] for limit in reversed(found)))
