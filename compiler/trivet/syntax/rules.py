"""The rules of the lines themselves, for `explain`: the same for every fact."""

from __future__ import annotations

from trivet.diagnostics import Rule

_SOURCE = "derived: the language's lexical rules, grammar/reference.md"

# `file-too-large` has no examples: the failing one would be a million characters.
RULES: tuple[Rule, ...] = (
    Rule(
        "missing-space",
        "error",
        "operators stand between spaces, and so do all neighbours but brackets, commas and `..`",
        "what is glued is one thing: `span-2` or `3mm` can be read in two ways",
        _SOURCE,
        "board deck\n  thickness 3mm\n",
        "board deck\n  thickness 3 mm\n",
    ),
    Rule(
        "number-form",
        "error",
        "a number is digits, digits with a point between them, or a fraction",
        "`17,8`, `1 1/2` and `24x16` mean different things to different readers",
        _SOURCE,
        "board deck\n  thickness 17,8 mm\n",
        "board deck\n  thickness 17.8 mm\n",
    ),
    Rule(
        "unit-form",
        "error",
        "a length carries one of the known units, spelled as here",
        "one spelling for each unit keeps files comparable",
        _SOURCE,
        'board deck\n  thickness 3/4"\n',
        "board deck\n  thickness 3/4 in\n",
    ),
    Rule(
        "unclosed-quote",
        "error",
        "a quoted text ends on its line",
        "a text without an end would swallow what follows it",
        _SOURCE,
        'board deck\n  title "Riser\n',
        'board deck\n  title "Riser"\n',
    ),
    Rule(
        "unclosed-bracket",
        "error",
        "each bracket opens and closes on one line",
        "where a bracket is meant to end cannot be guessed safely",
        _SOURCE,
        "board deck\n  at (120, 80 mm\n",
        "board deck\n  at (120, 80) mm\n",
    ),
    Rule(
        "stray-character",
        "error",
        "a line has no marks but those of the language",
        "ornament that means nothing hides what means something",
        _SOURCE,
        "board deck\n  thickness = 18 mm\n",
        "board deck\n  thickness 18 mm\n",
    ),
    Rule(
        "hidden-character",
        "error",
        "no invisible, direction-changing or control character stands anywhere in the file",
        "with them a reviewer sees another text than the compiler",
        _SOURCE,
        "board deck\n  thickness 1\u200b8 mm\n",
        "board deck\n  thickness 18 mm\n",
    ),
    Rule(
        "unexpected-item",
        "error",
        "a sum has a value on each side of its operators, and a phrase has something in it",
        "a fact with a piece missing would be read as another fact",
        _SOURCE,
        "board deck\n  thickness 18 mm +\n",
        "board deck\n  thickness 18 mm + 1 mm\n",
    ),
    Rule(
        "fact-before-heading",
        "error",
        "an indented line stands below a heading",
        "a fact belongs to the heading above it; without one it says nothing about anything",
        _SOURCE,
        "  thickness 18 mm\nboard deck\n",
        "board deck\n  thickness 18 mm\n",
    ),
    Rule(
        "limit-exceeded",
        "error",
        "a line holds at most 5,000 items, 50 nested brackets or minus signs, names of 100 characters and numbers of 40 digits",
        "beyond that a file is a mistake or an attack, and the answer must still come at once",
        _SOURCE,
        "board deck\n  thickness 11111111111111111111111111111111111111111 mm\n",
        "board deck\n  thickness 18 mm\n",
    ),
    Rule(
        "file-too-large",
        "error",
        "a file has at most 1,000,000 characters",
        "the answer must come at once for any file",
        _SOURCE,
    ),
)
