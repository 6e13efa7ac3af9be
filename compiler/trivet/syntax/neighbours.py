"""The items of a line from left to right: tokens that are never right, limits, and what may stand beside what."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from trivet.syntax.fault import Fault
from trivet.syntax.tokens import WRONG, Token
from trivet.syntax.unit_words import CONVERTED, KNOWN_UNITS, ROUNDED, SPELLED
from trivet.units import number_text

MOST_ITEMS = 5_000
DEEPEST = 50
LONGEST_NAME = 100
MOST_DIGITS = 40

_OPERATORS = frozenset({"PLUS", "MINUS", "STAR", "SLASH", "PLUS_MINUS", "COMPARATOR"})
_GLUED_BEFORE = frozenset({"OPEN", "NEGATIVE", "RANGE"})
_GLUED_AFTER = frozenset({"CLOSE", "COMMA", "RANGE"})
# Words after which a name stands, and never a number with a unit.
_NAMED = frozenset({"fixture", "sheet", "cutter", "machine", "tooth_form", "board", "gear", "drive", "pivot", "foot", "stock"})
_STANDARD_BODIES = frozenset({"ISO", "DIN", "EN", "ASME"})


def first_fault(items: Sequence[Token]) -> Fault | None:
    """The leftmost fault that can be seen without parsing, or None."""
    previous: Token | None = None
    opened: list[Token] = []
    minuses = 0
    for index, item in enumerate(items):
        kind = item.kind
        if kind in WRONG:
            return _wrong(item)
        if len(item.text) > MOST_DIGITS and (found := _too_long(item)):
            return found
        if previous is not None:
            glued = previous.end == item.start
            if glued and previous.kind not in _GLUED_BEFORE and kind not in _GLUED_AFTER:
                following = items[index + 1] if index + 1 < len(items) else None
                return _missing_space(previous, item, following, items[0] if index == 2 else None)
            if not glued and (found := _apart(items, index)):
                return found
        if kind == "NAME" and not item.text.isascii() and (found := _odd_letter(item)):
            return found
        minuses = minuses + 1 if kind == "NEGATIVE" else 0
        if kind == "OPEN":
            opened.append(item)
        elif kind == "CLOSE":
            if not opened:
                return Fault("unclosed-bracket", item.start, item.end, "`)` closes no bracket", "")
            opened.pop()
        elif kind == "NUMBER" and "/" in item.text and (found := _fraction(item)):
            return found
        if len(opened) > DEEPEST or minuses > DEEPEST:
            what = "brackets stand" if len(opened) > DEEPEST else "minus signs stand"
            message = f"more than {DEEPEST} {what} inside each other"
            return Fault("limit-exceeded", item.start, item.end, message, hint="give a part of the sum a name with `parameter`")
        previous = item
    if opened:
        return _unclosed(opened[-1], items)
    return None


def _wrong(item: Token) -> Fault:
    if item.kind == "UNCLOSED_STRING":
        at = item.text.find(" # ")
        end = item.start + (len(item.text) if at < 0 else at)
        end -= len(item.text[: end - item.start]) - len(item.text[: end - item.start].rstrip())
        message = "the quote that opens here is not closed on its line"
        if not item.text[1:].strip():
            return Fault("unclosed-quote", item.start, item.start + 1, message, hint="remove it, or put a text between two quotes")
        return Fault("unclosed-quote", item.start, item.start + 1, message, '"', end, end)
    if item.kind == "GLUED_STANDARD":
        body = next(body for body in sorted(_STANDARD_BODIES) if item.text.startswith(body))
        fix = f"{body} {item.text[len(body) :].lstrip('-')}"
        message = f"a space is missing between `{body}` and the standard's number"
        return Fault("missing-space", item.start, item.end, message, fix)
    shown = item.shown if item.text.isprintable() else "this character"
    code = f" (U+{ord(item.text):04X})" if len(item.text) == 1 and not item.text.isascii() else ""
    message = f"`{shown}`{code} has no meaning outside quotes and comments"
    return Fault("stray-character", item.start, item.end, message, hint="remove it, or put the text in double quotes")


def _odd_letter(item: Token) -> Fault | None:
    """Fractions, raised digits and the like count as letters for the lexer and are none."""
    for index, letter in enumerate(item.text):
        sign = letter == "Ø" and index == 0 and item.text[1:].isdecimal()
        if sign or not (letter == "." or f"a{letter}".isidentifier()):
            at = item.start + index
            message = f"`{letter}` (U+{ord(letter):04X}) is no letter of a name"
            return Fault("stray-character", at, at + 1, message, hint="names are letters, digits and `_`")
    return None


def _too_long(item: Token) -> Fault | None:
    digits = sum(letter.isdigit() for letter in item.text)
    if item.kind in ("NUMBER", "DESIGNATION", "STANDARD") and digits > MOST_DIGITS:
        message = f"this number has {digits} digits; {MOST_DIGITS} are allowed"
        return Fault("limit-exceeded", item.start, item.end, message, hint="round it")
    if item.kind not in ("STRING", "NUMBER", "STANDARD") and len(item.text) > LONGEST_NAME:
        message = f"this name has {len(item.text)} letters; {LONGEST_NAME} are allowed"
        return Fault("limit-exceeded", item.start, item.end, message, hint="shorten it")
    return None


def _missing_space(left: Token, right: Token, following: Token | None, named: Token | None) -> Fault:
    """The fault of two items that touch; what follows decides whether an operator has its second space, `named` is the line's word before them."""
    if right.kind == "NAME" and left.kind == "NUMBER" and right.text[0] == "_":
        return Fault(
            "number-form", left.start, right.end, f"`{left.shown}{right.shown}` is not a number", hint="write its digits together"
        )
    if left.kind in _OPERATORS:
        message = f"`{left.shown}` needs a space on each side"
        return Fault("missing-space", left.start, left.end, message, " ", right.start, right.start)
    if right.kind in _OPERATORS:
        message = f"`{right.shown}` needs a space on each side"
        second = " " if following is not None and following.start == right.end else ""
        return Fault("missing-space", right.start, right.end, message, f" {right.text}{second}")
    if left.kind == "COMMA":
        return Fault("missing-space", left.start, left.end, "a space is missing after the comma", ", ")
    if left.kind == "NUMBER" and named is not None and named.text in _NAMED and right.kind in ("UNIT", "NAME"):
        shown = f"{left.shown}{right.shown}"
        fix = f"{named.text}_" + "".join(letter if letter.isalnum() else "_" for letter in shown)
        return Fault("name-form", left.start, right.end, f"`{shown}` is not a name: a name begins with a letter", fix)
    message = f"a space is missing between `{left.shown}` and `{right.shown}`"
    return Fault("missing-space", left.start, right.end, message, " ", right.start, right.start)


def _apart(items: Sequence[Token], index: int) -> Fault | None:
    """A fault of two items with space between them; `index` is that of the second."""
    left, right = items[index - 1], items[index]
    pair = (left.kind, right.kind)
    if index == 1 and right.text == "=":
        message = "`=` stands between a word and what it says"
        return Fault("stray-character", right.start, right.end, message, "")
    if pair == ("NUMBER", "NUMBER") and not right.text.startswith("-"):
        message = f"two numbers stand side by side: `{left.shown}` and `{right.shown}`"
        return Fault("number-form", left.start, right.end, message, hint="put a comma, `by`, a unit or an operator between them")
    value_before = left.kind in ("NUMBER", "UNIT", "CLOSE") or (left.kind == "NAME" and "." in left.text)
    if value_before and index > 1 and (right.kind == "NEGATIVE" or (right.kind == "NUMBER" and right.text[0] == "-")):
        message = "`-` has a space before it and none after it"
        return Fault("missing-space", right.start, right.start + 1, message, "- ")
    if pair == ("DESIGNATION", "UNIT") and left.text[0].isdigit():
        message = f"`{left.shown}` is a thread, and no unit follows one"
        return Fault("number-form", left.start, right.end, message, hint="write `..` for a range, ` - ` for a difference")
    if right.kind == "NAME" and left.text == "per" and right.text.casefold() in ("inch", "inches"):
        return Fault("unit-form", right.start, right.end, f"`{right.shown}` is written `in` here", "in")
    if right.kind == "NAME" and left.kind in ("NUMBER", "CLOSE"):
        return _spelled(left, right)
    if pair == ("NAME", "NUMBER") and left.text in ("x", "X") and index > 2 and items[index - 2].kind in ("NUMBER", "UNIT"):
        return Fault("number-form", left.start, left.end, f"a pair is joined by the word `by`, not by `{left.shown}`", "by")
    if pair == ("NAME", "NUMBER") and left.text.upper() in _STANDARD_BODIES:
        message = f"`{left.shown} {right.shown}` is not a standard's designation"
        return Fault("unexpected-item", left.start, right.end, message, left.text.upper(), left.start, left.end)
    return None


def _spelled(left: Token, right: Token) -> Fault | None:
    word = right.text.casefold()
    if word in SPELLED and right.text != SPELLED[word]:
        return Fault("unit-form", right.start, right.end, f"`{right.shown}` is written `{SPELLED[word]}` here", SPELLED[word])
    if word in CONVERTED or right.text in CONVERTED:
        factor, unit = CONVERTED.get(right.text) or CONVERTED[word]
        message = f"`{right.shown}` is not a unit here"
        if left.kind != "NUMBER" or len(left.text) > MOST_DIGITS or "-" in left.text or "/" in left.text:
            return Fault("unit-form", right.start, right.end, message, hint=f"the units are {KNOWN_UNITS}")
        fix = f"{number_text(Fraction(left.text) * Fraction(factor), 9)} {unit}"
        return Fault("unit-form", right.start, right.end, message, fix, left.start, right.end)
    if word in ROUNDED:
        factor, unit = ROUNDED[word]
        message = f"`{right.shown}` is not a unit here"
        if left.kind != "NUMBER" or len(left.text) > MOST_DIGITS or "-" in left.text or "/" in left.text:
            return Fault("unit-form", right.start, right.end, message, hint=f"the units are {KNOWN_UNITS}")
        value = Fraction(left.text) * Fraction(factor)
        fix = f"{number_text(value, 0 if value >= 100 else 1 if value >= 10 else 2)} {unit}"
        return Fault("unit-form", right.start, right.end, message, fix, left.start, right.end)
    return None


def _fraction(item: Token) -> Fault | None:
    whole, _, rest = item.text.lstrip("-").rpartition("-")
    upper, _, lower = rest.partition("/")
    if int(lower) == 0:
        return Fault(
            "number-form", item.start, item.end, f"`{item.shown}` divides by zero", hint="write another number below the line"
        )
    if whole and int(upper) >= int(lower):
        message = f"`{item.shown}` is not a mixed number: its fraction is not below one"
        return Fault("number-form", item.start, item.end, message, hint=f"for a difference write `{whole} - {rest}`")
    return None


def _unclosed(opening: Token, items: Sequence[Token]) -> Fault:
    last = items[-1]
    before_unit = last.kind == "UNIT" and len(items) > 1
    at = items[-2].end if before_unit else last.end
    message = "`)` is missing at the end of the line"
    return Fault("unclosed-bracket", last.start, last.end, message, ")", at, at, opening.start)
