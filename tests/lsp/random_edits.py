"""Edits as hands make them: letters typed and taken back, numbers changed, lines added, moved, commented out."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

_TYPED = "abcdeghmnorst0123456789 .,#\"()-+/_\n\té😋"
_LINES = (
    "  teeth 18", "  at deck.centre", "  play 0.2 mm", "# a comment", "  # among facts", "", "   ", "gear extra", "  carries corner",
    'accept few-teeth because "tried"', "require travel >= 5 mm", "  backlash 0.6 mm", "  thread M8", "  foo bar", "parameter p 3 mm",
    "  outline rectangle 200 by", 'read "shared/shop.trivet"', "\r", "  title \"a", "default gear", "  with hub at 30 deg",
)  # fmt: skip


def edits(text: str, seed: int, count: int) -> Iterator[str]:
    """`count` texts, each one edit after the one before; now and then the hand goes back to a text that was good."""
    random = Random(seed)
    good = text
    for _ in range(count):
        if random.random() < 0.3:
            text = good
        text = _one(random, text)
        yield text


def _one(random: Random, text: str) -> str:
    lines = text.split("\n")
    at = random.randrange(len(lines))
    choice = random.random()
    if choice < 0.25:
        place = random.randint(0, len(text))
        return text[:place] + random.choice(_TYPED) + text[place:]
    if choice < 0.35 and text:
        place = random.randrange(len(text))
        return text[:place] + text[place + random.randint(1, 3) :]
    if choice < 0.5:
        return _number(random, text)
    if choice < 0.65:
        lines.insert(at, random.choice(_LINES))
    elif choice < 0.72:
        del lines[at]
    elif choice < 0.8:
        lines[at] = f"# {lines[at]}"
    elif choice < 0.95:
        lines[at] = lines[at] + random.choice(("  # said", "   ", " mm", ","))
    else:
        other = random.randrange(len(lines))
        lines[at], lines[other] = lines[other], lines[at]
    return "\n".join(lines)


def _number(random: Random, text: str) -> str:
    """Another number in place of one, of the same size or not."""
    places = [index for index, letter in enumerate(text) if letter.isascii() and letter.isdigit()]
    if not places:
        return text + "1"
    place = random.choice(places)
    return text[:place] + str(random.randrange(10)) + text[place + 1 :]
