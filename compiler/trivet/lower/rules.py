"""The rules of names, numbers and facts: what `explain` prints for findings that lowering raises.

Examples are edits to the base fixture (see the checks' examples).
"""

from __future__ import annotations

from trivet.diagnostics import Rule
from trivet.lower.declared_ranges import OUTSIDE
from trivet.lower.unused import SHADOWED, UNUSED

_LANGUAGE = "derived: the language, grammar/reference.md"


def _rule(slug: str, what: str, why: str, failing: str, passing: str, source: str = _LANGUAGE) -> Rule:
    return Rule(slug, "error", what, why, source, failing, passing)


RULES: tuple[Rule, ...] = (
    UNUSED,
    SHADOWED,
    OUTSIDE,
    _rule("cyclic-likeness", "a block that is like itself, directly or through others", "its facts have no beginning",
          "- gear hub\n+ gear hub\n+   like hub", "+ gear spare\n+   like hub\n+   at (60, 60) mm\n+ mesh nw\n+   with spare"),
    _rule("cyclic-names", "a name whose value needs itself", "no number comes out of a circle",
          "+ parameter a b + 1 mm\n+ parameter b a + 1 mm\n- play 0.3 mm\n+   play a",
          "+ parameter a b + 0.1 mm\n+ parameter b 0.2 mm\n- play 0.3 mm\n+   play a"),
    _rule("division-by-zero", "a division by zero", "no number comes out of it",
          "- backlash 0.5 mm\n+   backlash 0.5 mm / 0", "- backlash 0.5 mm\n+   backlash 1 mm / 2"),
    _rule("fact-of-other-kind", "a fact that belongs to a foot of another kind", "each kind of foot holds its screw in another way",
          "- pad dome, drop 3 mm\n+   pad dome, drop 3 mm\n+   socket depth 20 mm", "- pad dome, drop 3 mm\n+   pad dome, drop 4 mm"),
    _rule("fact-stated-twice", "a fact that a block states twice", "the reader cannot know which one holds",
          "- teeth 16\n+   teeth 16\n+   teeth 16", "- teeth 16\n+   teeth 16"),
    _rule("facts-exclude", "two facts of which only one can hold", "a gear is driven, or turns on a pivot, or carries a foot",
          "- turned_by crank\n+   turned_by crank\n+   turns_on pin", "- turned_by crank\n+   turned_by crank"),
    _rule("fixture-in-read-file", "a `fixture` heading in a file that another one reads", "a read file serves several fixtures and is none",
          "", "+ parameter spare 1 mm\n- play 0.3 mm\n+   play spare"),
    _rule("incomplete-fact", "a fact that breaks off", "the rest would have to be guessed",
          "- teeth 16\n+   teeth", "- teeth 16\n+   teeth 16"),
    _rule("missing-fact", "a block without a fact that it cannot do without", "nothing sensible can be assumed for it",
          "- diameter 6 mm", "- diameter 6 mm\n+   diameter 6 mm"),
    _rule("missing-fixture", "a file without a `fixture` heading", "the heading names the outputs",
          "# nothing here\nparameter play 0.5 mm", "- hardware metric\n+   hardware metric"),
    _rule("mixed-dimensions", "a sum or product of things that do not add or multiply", "`2 + 3 mm` has no meaning: one unit is missing",
          "- backlash 0.5 mm\n+   backlash 0.2 + 0.3 mm", "- backlash 0.5 mm\n+   backlash 0.2 mm + 0.3 mm"),
    _rule("name-declared-twice", "a name that is declared twice", "one namespace holds all names, so that a name means one thing",
          "+ cutter deck\n+   diameter 4 mm", "- reach 25 mm\n+   reach 24 mm"),
    _rule("name-form", "a place for a name that holds something else", "names are letters, digits and `_`, and begin with a letter",
          "- gear hub\n+ gear 16", "- gear hub\n+ gear hub"),
    _rule("no-such-hardware", "hardware that neither the library nor a table of the file has", "its sizes would be guesses: measure yours and add a table",
          "- thread ST6.3\n+   thread ST7.7", "- thread ST6.3\n+   thread ST6.3"),
    _rule("not-a-count", "a number of pieces that is no whole number", "a gear has whole teeth",
          "- teeth 16\n+   teeth 16.5", "- teeth 16\n+   teeth 16"),
    _rule("number-too-large", "a number that is far out of reach", "no part is longer than 100 m: a slip of the keyboard",
          "- outline rectangle 480 by 350 mm, corner_radius 12 mm\n+   outline rectangle 480000000 by 350 mm", "- reach 25 mm\n+   reach 30 mm"),
    _rule("parameter-out-of-range", "a parameter outside the range that it states", "the author has tried the plan only inside it",
          "+ parameter slack 0.9 mm, within 0.1..0.5 mm\n- play 0.3 mm\n+   play slack",
          "+ parameter slack 0.3 mm, within 0.1..0.5 mm\n- play 0.3 mm\n+   play slack"),
    _rule("range-reversed", "a range that runs downwards", "the smaller number stands first", "- thickness 17.8 +/- 0.2 mm\n+   thickness 18..17.6 mm",
          "- thickness 17.8 +/- 0.2 mm\n+   thickness 17.6..18 mm"),
    _rule("said-twice", "a detail that stands twice in one line", "the reader cannot know which one holds",
          "- pad dome, drop 3 mm\n+   pad dome, drop 3 mm, drop 4 mm", "- pad dome, drop 3 mm\n+   pad dome, drop 3 mm"),
    _rule("setting-form", "a `--set` that cannot be read", "it must hold what the parameter's own line could hold", "", "- play 0.3 mm\n+   play 0.3 mm"),
    _rule("setting-out-of-range", "a `--set` outside the parameter's range or choice", "the author has tried the plan only inside it",
          "", "- play 0.3 mm\n+   play 0.3 mm"),
    _rule("table-form", "a table whose rows do not match its columns", "each cell takes its column's name and unit",
          "- row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5\n+   row M8, 16.0 +/- 0.1, 15, 4, 15",
          "- row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5\n+   row M8, 16.0 +/- 0.2, 15, 4, 15, 13.5"),
    _rule("too-many-instances", "a grid or a count that asks for more than 10,000 things", "repetition is bounded",
          "+ hole dog\n+   into deck\n+   diameter 8 mm\n+   grid 100000 by 100000, every 20 by 20 mm, first_at (20, 20) mm",
          "+ hole dog\n+   into deck\n+   diameter 8 mm\n+   at (30, 175) mm"),
    _rule("unit-missing", "a length or an angle without a unit", "24 could be millimetres or inches",
          "- diameter 6 mm\n+   diameter 6", "- diameter 6 mm\n+   diameter 6 mm"),
    _rule("unit-on-count", "a unit at a number that is a count or a ratio", "teeth are counted, not measured",
          "- teeth 16\n+   teeth 16 mm", "- teeth 16\n+   teeth 16"),
    _rule("unknown-detail", "a detail that a fact does not have", "it would have no effect",
          "- pad dome, drop 3 mm\n+   pad dome, dorp 3 mm", "- pad dome, drop 3 mm\n+   pad dome, drop 3 mm"),
    _rule("unknown-fact", "a fact that a block does not have", "it would have no effect",
          "- teeth 16\n+   tooth 16", "- teeth 16\n+   teeth 16"),
    _rule("unknown-heading", "a line at the margin that begins with no known heading", "it would have no effect",
          "- gear hub\n+ gaer hub", "- gear hub\n+ gear hub"),
    _rule("unknown-kind", "a kind that does not exist, after `default` or `is`", "it would have no effect",
          "- default gear\n+ default gaer", "- default gear\n+ default gear"),
    _rule("unknown-name", "a name that is not declared", "what it stands for is not known",
          "- turned_by crank\n+   turned_by cranck", "- turned_by crank\n+   turned_by crank"),
    _rule("unknown-part", "a dotted name whose part does not exist", "a board has a centre, a width, a depth and a thickness",
          "- at deck.centre\n+   at deck.middle", "- at deck.centre\n+   at deck.centre"),
    _rule("value-not-allowed", "a number outside what can be", "a gear has at least 4 teeth, a length is more than 0",
          "- teeth 16\n+   teeth 2", "- teeth 16\n+   teeth 16"),
    _rule("vee-cutter-for-outline", "a vee cutter named for an outline", "its diameter changes with the depth",
          "- diameter 6 mm\n+   tip_angle 60 deg", "- diameter 6 mm\n+   diameter 6 mm"),
    _rule("wrong-dimension", "a number of another kind than the fact takes", "an angle is no length",
          "- diameter 6 mm\n+   diameter 6 deg", "- diameter 6 mm\n+   diameter 6 mm"),
    _rule("wrong-kind", "a name of another kind than the fact takes", "a gear turns on a pivot, not on a sheet",
          "- turned_by crank\n+   turned_by ply18", "- turned_by crank\n+   turned_by crank"),
)  # fmt: skip
