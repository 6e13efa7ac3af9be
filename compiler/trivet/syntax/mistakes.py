r"""Known mistakes: what was written, the plain sentence that says so, and what to write instead.

The patterns see a line without its comment and with the insides of quoted texts blanked. They are consulted only where a line is
already known to be faulty, so each may assume a mistake; the leftmost match wins, and of two at one place the first in the table.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from functools import cache

from trivet.record import record
from trivet.syntax.fault import Fault
from trivet.units import number_text

# What stands for a character inside a quoted text.
BLANK = "\x01"

_UNIT = r"(?:per in|percent|thou|deg|mm|cm|in|Nm|N|kg)(?!\w)"
_NUMBER = r"(?<![\w.])(?:[0-9]+-[0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+(?:\.[0-9]+)?)"
_INTEGER = r"(?<![\w./-])[0-9]{1,40}"
_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅕": "1/5", "⅙": "1/6", "⅚": "5/6", "⅛": "1/8",
    "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip

Found = dict[str, str]


@record
class Mistake:
    """`message` and `fix` take the groups of `pattern` in braces; `fix` may also be a function of them, or None for no guess.

    The message points at the group `at` if there is one, else at all that matched; `fix` stands for all that matched.
    """

    slug: str
    pattern: str
    message: str
    fix: str | Callable[[Found], str] | None
    hint: str = ""


def known_mistake(masked: str, line: str, offset: int) -> Fault | None:
    """The leftmost known mistake in a line; `masked` is the line as the patterns see it, `offset` where it starts in the file."""
    best: tuple[int, Mistake, re.Match[str]] | None = None
    for mistake, pattern in _compiled():
        match = pattern.search(masked)
        if match is not None and (best is None or match.start() < best[0]):
            best = match.start(), mistake, match
    if best is None:
        return None
    _, mistake, match = best
    groups = {name: line[slice(*match.span(name))] if match[name] is not None else "" for name in match.re.groupindex}
    groups["all"] = line[match.start() : match.end()]
    fix = mistake.fix.format(**groups) if isinstance(mistake.fix, str) else mistake.fix(groups) if mistake.fix else None
    start, end = match.span("at") if "at" in groups else match.span()
    fixed = (offset + match.start(), offset + match.end())
    return Fault(mistake.slug, offset + start, offset + end, mistake.message.format(**groups), fix, *fixed, hint=mistake.hint)


@cache
def _compiled() -> tuple[tuple[Mistake, re.Pattern[str]], ...]:
    return tuple((mistake, re.compile(mistake.pattern)) for mistake in MISTAKES)


def _plain_number(found: Found) -> str:
    """`1e3` without its power of ten; the pattern bounds the power."""
    return number_text(Fraction(found["mantissa"]) * Fraction(10) ** int(found["power"]), 24)


def _vulgar(found: Found) -> str:
    fraction = _VULGAR[found["sign"]]
    return f"{found['whole']}-{fraction}" if found["whole"] else fraction


def _feet_and_inches(found: Found) -> str:
    return f"{int(found['feet']) * 12 + int(found['inches'])} in"


def _range_or_difference(found: Found) -> str:
    low, high, unit = found["low"], found["high"], found["unit"]
    return f"{low}..{high}{unit}" if Fraction(low) < Fraction(high) else f"{low} {unit.strip()} - {high}{unit}"


def _feet(found: Found) -> str:
    return f"{number_text(Fraction(found['number']) * 12)} in"


MISTAKES: tuple[Mistake, ...] = (
    # Comments of other languages.
    Mistake("stray-character", r"(?<!\S)//+[ \t]*(?P<rest>.*)$", "`//` starts no comment", "# {rest}"),
    Mistake("stray-character", r"/\*+[ \t]*(?P<rest>.*?)[ \t]*(?:\*+/)?[ \t]*$", "`/*` starts no comment", "# {rest}"),
    Mistake("stray-character", r"(?<!\S)(?:--|%|')[ \t]+(?P<rest>[^']*)$", "`{all}` is no comment", "# {rest}"),
    Mistake("stray-character", r"(?<!\S)#(?P<size>[0-9]+-[0-9]+)(?!\w)", "a numbered thread has no `#`", "{size}"),
    Mistake("stray-character", r"(?<!\S)#(?=[^\s#])", "a comment has a space after its `#`", "# "),
    Mistake("stray-character", r"(?<=\S)#(?=\s|#|$)", "a comment has a space before its `#`", " #"),
    # Quotes.
    Mistake("stray-character", r"(?P<at>[“”„‟«»])(?P<text>[^\"“”„‟«»]*)[“”‟«»]",
            "`{at}` does not quote; texts stand in straight double quotes", '"{text}"'),
    Mistake("stray-character", r"[“”„‟«»]", "`{all}` does not quote; texts stand in straight double quotes", '"'),
    Mistake("unit-form", r"(?<![\w./])(?P<feet>[0-9]{1,9})['’′] ?(?P<inches>[0-9]{1,9})(?:\"|”|″|'')",
            "`{all}`: feet are not a unit here", _feet_and_inches),
    Mistake("unit-form", rf"(?P<number>{_NUMBER}) ?(?:\"|”|″|'')", "`{all}`: inches are written with the word", "{number} in"),
    Mistake("unit-form", r"(?P<number>(?<![\w./-])[0-9]+(?:\.[0-9]+)?)['’′]", "`{all}`: feet are not a unit here", _feet),
    Mistake("stray-character", r"['‘‚](?P<text>[^'’‘]*)['’]", "texts stand in double quotes", '"{text}"'),
    Mistake("stray-character", r"`(?P<text>[^`]*)`", "backquotes quote nothing", "{text}"),
    # Signs that look like others.
    Mistake("stray-character", "[\u00a0\u2000-\u200a\u202f\u205f\u3000]", "this space is not the ordinary one", " "),
    Mistake("stray-character", r"(?P<at>±)[ \t]*", "`±` is written `+/-`", "+/- "),
    Mistake("stray-character", r"[ \t]*(?P<at>\+-|-/\+|\+/−)[ \t]*(?=[\w(])", "`{at}` is written `+/-`", " +/- "),
    Mistake("stray-character", r"…", "`…` is one character; a range has two points", ".."),
    Mistake("stray-character", r"\.{3,}", "`{all}` is written `..`", ".."),
    Mistake("stray-character", r"[−–—‐‑]", "`{all}` is not the minus sign of the keyboard", "-"),
    Mistake("stray-character", r"[ \t]*(?P<at>÷)[ \t]*", "`÷` is written `/`", " / "),
    Mistake("unit-form", r"[ \t]*(?P<at>[°º])", "`°` is written `deg`", " deg"),
    Mistake("unit-form", r"(?<=[\w)])[ \t]*(?P<at>%)", "`%` is written `percent`", " percent"),
    Mistake("unit-form", r"N[ \t]?[·•⋅*]?[ \t]?m(?!\w)", "`{all}` is written `Nm`", "Nm"),
    Mistake("unit-form", r"(?P<at>[Ø⌀∅])[ \t]*(?=[0-9])", "`{at}` is no word; the fact's own word says diameter", ""),
    Mistake("unit-form", rf"(?P<unit>{_UNIT})\.(?=[\s,)]|$)", "a unit has no point after it", "{unit}"),
    Mistake("unit-form", r"(?P<unit>mm|cm|in)[²³]", "`{all}` is not a unit here", None),
    # Comparison.
    Mistake("stray-character", r"[ \t]*(?P<at>=<|≤|⩽)[ \t]*", "`{at}` is written `<=`", " <= "),
    Mistake("stray-character", r"[ \t]*(?P<at>=>|≥|⩾)[ \t]*", "`{at}` is written `>=`", " >= "),
    Mistake("stray-character", r"(?<=\w)[ \t]*(?P<at>:=|={1,3})[ \t]*$", "nothing stands after `{at}`", ""),
    Mistake("stray-character", r"^(?P<head>[ \t]*\w+)[ \t]*(?P<at>:=|={1,3}|:)[ \t]*", "`{at}` stands between a word and what it says", "{head} "),
    Mistake("stray-character", r"[ \t]*(?P<at>={2,})[ \t]*", "`{at}` is written `=`", " = "),
    # Numbers.
    Mistake("number-form", rf"(?P<left>{_NUMBER})[ \t]*[x×X*][ \t]*(?P<right>(?:[0-9]+/)?[0-9]+(?:\.[0-9]+)?)(?=[xX×]|[^\w/]|$)",
            "`{all}`: a pair is joined by the word `by`", "{left} by {right}"),
    Mistake("stray-character", r"[ \t]*(?P<at>×)[ \t]*", "`×` is written `*`", " * "),
    Mistake("number-form", rf"(?<![,(\w.])(?P<whole>[0-9]+),(?P<part>[0-9]+)(?= by | ?{_UNIT}|[ \t]*\+/-|\.\.)",
            "`{all}` has a comma; decimals have a point", "{whole}.{part}"),
    Mistake("number-form", r"(?<![\w.])(?P<size>M[0-9]{1,3}(?:\.[0-9]{1,3})?)[ \t]*[x×X][ \t]+(?P<pitch>[0-9]{1,3}(?:\.[0-9]{1,3})?)(?![\w./])",
            "`{all}`: a thread is one word", "{size}x{pitch}"),
    Mistake("number-form", r"(?<![\w.])0,(?P<part>[0-9]+)", "`{all}` has a comma; decimals have a point", "0.{part}"),
    Mistake("number-form", rf"(?P<whole>{_INTEGER})[ \t]+(?P<part>[0-9]+/[0-9]+)(?![\w/-])",
            "`{all}`: a mixed number is joined by a hyphen", "{whole}-{part}"),
    Mistake("number-form", rf"(?P<whole>(?<![\w./])[0-9]*)[ \t]?(?P<sign>[{''.join(_VULGAR)}])",
            "`{sign}` is written with ordinary digits", _vulgar),
    Mistake("number-form", r"(?P<mantissa>(?<![\w.])[0-9]{1,20}(?:\.[0-9]{1,20})?)[eE](?P<power>[+-]?[0-9])(?!\w)",
            "`{all}`: numbers are written out, without a power of ten", _plain_number),
    Mistake("number-form", r"(?<![\w.])(?P<first>[0-9]{1,3})(?:[_'](?P<rest>[0-9]{3}))(?![\w'])",
            "`{all}`: digits are not grouped", "{first}{rest}"),
    Mistake("number-form", r"(?<![\w.)])\.(?P<part>[0-9]+)", "`{all}`: a digit stands before the point", "0.{part}"),
    Mistake("number-form", rf"(?P<whole>{_INTEGER})\.(?![\w.])", "`{all}`: a digit stands after the point, or there is no point",
            "{whole}"),
    Mistake("number-form", r"(?<![^\s(])\+(?P<number>[0-9])", "a number has no plus sign", "{number}"),
    Mistake("number-form", rf"(?P<low>(?<![\w./-])[0-9]+)-(?P<high>[0-9]+)(?P<unit> ?{_UNIT})",
            "`{low}-{high}` is the shape of a thread; a range has two points", "{low}..{high}{unit}"),
    Mistake("number-form", rf"(?P<low>(?<![\w./-])[0-9]{{1,9}}\.[0-9]{{1,9}})-(?P<high>[0-9]{{1,9}}\.[0-9]{{1,9}})(?P<unit> ?{_UNIT})",
            "`{low}-{high}`: a range has two points, a difference a space on each side", _range_or_difference),
    # Punctuation.
    Mistake("stray-character", r",(?:[ \t]*,)+", "two commas with nothing between them", ","),
    Mistake("stray-character", r"[ \t]*(?P<at>,)[ \t]*$", "a comma ends the line and nothing follows it", ""),
    Mistake("stray-character", r"[ \t]*(?P<at>[;:])[ \t]*$", "`{at}` ends the line; a line has no mark at its end", ""),
    Mistake("stray-character", r"(?<=\w)(?P<at>\.)[ \t]*$", "a point ends the line; a line has no mark at its end", ""),
    Mistake("stray-character", r";", "`;` separates nothing", None, "write each fact on a line of its own"),
    Mistake("stray-character", r"[ \t]*(?P<at>[{}])[ \t]*", "no braces are used: the indent says what belongs to a heading", ""),
    Mistake("stray-character", r"\[", "`[` is no bracket here", "("),
    Mistake("stray-character", r"\]", "`]` is no bracket here", ")"),
    Mistake("stray-character", r"[ \t]*(?P<at>\\)[ \t]*$", "a line is not continued on the next", None, "write the fact on one line"),
    Mistake("stray-character", r"!=|≠|<>", "`{all}` compares nothing here", None, "write >=, <=, >, < or ="),
    Mistake("unexpected-item", r"(?<![\w-])LH-(?P<size>M[0-9]{1,3}(?:x[0-9.]{1,4})?)(?![\w.])",
            "`{all}`: left hand stands after the size", "{size}-LH"),
    Mistake("unexpected-item", r"(?P<name>(?<![\w-])[^\W\d_]+)-(?P<other>[^\W\d_]+)(?=[ \t]+[-+*/][ \t])",
            "`{all}` is one name with a hyphen", "{name} - {other}"),
)  # fmt: skip
