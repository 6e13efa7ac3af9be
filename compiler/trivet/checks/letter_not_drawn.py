"""A label with a character that has no strokes."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.engraved_letters import not_engraved

RULE = Rule(
    "letter-not-drawn",
    "warning",
    "a label is written in characters that can be engraved: letters and digits without accents, and the usual signs",
    "a small box is cut in place of every other character",
    "derived: the strokes that the drawings have",
    failing="""
+ engrave label
+   into deck
+   text "Höhe 3½"
+   height 8 mm
+   depth 0.5 mm
+   at deck.centre + (0, 150) mm
""",
    passing="""
+ engrave label
+   into deck
+   text "Hoehe 3-1/2″"
+   height 8 mm
+   depth 0.5 mm
+   at deck.centre + (0, 150) mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding for each label."""
    for label in design.engravings:
        missing = not_engraved(label.text)
        if not missing:
            continue
        listed = ", ".join(f"`{character}`" for character in missing)
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"the label `{label.name}` has {listed}, which {'is' if len(missing) == 1 else 'are'} cut as a small box",
            place(label.origin, label.name.origin),
            remedy="write it in other characters; inches may be marked by \N{DOUBLE PRIME} or by `in`",
            parts=(label.name.text,),
        )
