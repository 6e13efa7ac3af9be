"""The rules of a filled inspection card."""

from __future__ import annotations

from trivet.diagnostics import Rule

HEADINGS = ("row", "measured")

NOT_A_CARD = Rule(
    "card-not-understood",
    "error",
    "a card of readings has a line of headings with `row` and `measured` among them",
    "readings are taken to their places by the names of their rows",
    "derived: what `compile` writes as `inspection.csv`",
)
UNKNOWN = Rule(
    "unknown-reading",
    "error",
    "each filled line of a card names a reading of this fixture",
    "a card of another fixture, or of another revision, would prove the wrong one",
    "common practice, no source",
)
FORM = Rule(
    "reading-form",
    "error",
    "a reading is a number with a decimal point or a fraction, in the unit of its line, or several with spaces or semicolons "
    "between them",
    "a guess at what was meant would change a figure unseen",
    "common practice, no source",
)
TWICE = Rule(
    "reading-given-twice",
    "error",
    "a card fills in each row once",
    "which of two counts cannot be known",
    "common practice, no source",
)
BELIEVED = Rule(
    "reading-not-believable",
    "error",
    "a reading lies within four widths of its limits, or half a millimetre, of what is expected",
    "one farther off is a slip of the unit, the row or the calipers, or a part of another plan",
    "common practice, no source",
)
LIMITS = Rule(
    "reading-out-of-limits",
    "warning",
    "a reading lies within its limits on the card",
    "the plan was checked with the shop's errors as stated; a part outside them is not the part that was checked",
    "derived: the errors that the file states for the shop",
)
OTHER = Rule(
    "card-of-another-plan",
    "error",
    "the figures that a card expects are those of the fixture that it is read for",
    "readings taken against other figures, of another revision, sheet or parameter, would be laid to the wrong account",
    "derived: what `compile` writes as `inspection.csv`",
)
RULES = (NOT_A_CARD, OTHER, UNKNOWN, FORM, TWICE, BELIEVED, LIMITS)
