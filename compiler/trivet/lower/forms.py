"""What each block and fact takes, declared once: lowering matches it, messages quote it, tests hold the reference page to it.

A pattern is words, slots `{name:kind}` and optional groups `[...]`. Kinds: a dimension (length, angle, ratio, count, force, torque,
mass, per_length), `number` (any of them), spread (`17.8 +/- 0.2 mm` or a range or a length), deviation (`+/- 0.15 mm`), range, place, name, path,
text, standard, thread, rule, comparator, value (anything a parameter may hold), or words separated by `|`.
"""

from __future__ import annotations

from functools import cache

from trivet.record import record


@record
class FactForm:
    """One fact: its word, what its first phrase takes (alternatives), and the details that may follow after commas.

    `many`: the first pattern repeats over the phrases. `repeats`: the fact may stand more than once. `place`: not copied by `like`.
    `sets`: facts of the same set exclude each other, and a stated one replaces a copied one.
    """

    word: str
    heads: tuple[str, ...]
    details: tuple[str, ...] = ()
    example: str = ""
    many: bool = False
    repeats: bool = False
    place: bool = False
    sets: str = ""


@record(eq=False)
class BlockForm:
    """One kind of block: what its heading takes and its facts. `named`: how many names it declares (none, one or many)."""

    kind: str
    heads: tuple[str, ...]
    facts: tuple[FactForm, ...] = ()
    details: tuple[str, ...] = ()
    named: str = "one"
    example: str = ""
    repeats: bool = True

    def fact(self, word: str) -> FactForm | None:
        """The form of the fact called `word`."""
        return _index(self).get(word)

    def words(self) -> tuple[str, ...]:
        """The facts' words."""
        return tuple(_index(self))


@cache
def _index(form: BlockForm) -> dict[str, FactForm]:
    return {fact.word: fact for fact in form.facts}


@record
class Slot:
    """A place in a pattern for something the author writes."""

    name: str
    kind: str


Element = str | Slot


@cache
def alternatives(pattern: str) -> tuple[tuple[Element, ...], ...]:
    """A pattern with its optional groups multiplied out, longest first."""
    return tuple(sorted(_expand(pattern.strip()), key=len, reverse=True))


def _expand(pattern: str) -> list[tuple[Element, ...]]:
    opening = pattern.find("[")
    if opening < 0:
        return [tuple(_element(part) for part in pattern.split())]
    depth, index = 0, opening
    while True:
        depth += {"[": 1, "]": -1}.get(pattern[index], 0)
        if depth == 0:
            break
        index += 1
    before, group, after = pattern[:opening], pattern[opening + 1 : index], pattern[index + 1 :]
    return _expand(f"{before} {group} {after}") + _expand(f"{before} {after}")


def _element(part: str) -> Element:
    if not part.startswith("{"):
        return part
    name, _, kind = part[1:-1].partition(":")
    return Slot(name, kind)


_SHOWN = {
    "length": "LENGTH", "angle": "ANGLE", "ratio": "NUMBER", "count": "COUNT", "force": "FORCE", "torque": "TORQUE",
    "mass": "MASS", "per_length": "NUMBER per in", "number": "NUMBER", "spread": "LENGTH +/- LENGTH", "deviation": "+/- LENGTH",
    "range": "LEAST..MOST", "place": "PLACE", "name": "NAME", "path": "NAME", "text": '"TEXT"', "standard": "STANDARD",
    "thread": "THREAD", "rule": "RULE", "comparator": ">=", "value": "VALUE", "outline": "OUTLINE", "tilt": "ANGLE",
}  # fmt: skip


def shown(pattern: str) -> str:
    """A pattern as a message shows it: `head recessed LENGTH`."""
    words = []
    for part in pattern.replace("[", "[ ").replace("]", " ]").split():
        if part.startswith("{"):
            kind = part[1:-1].partition(":")[2]
            words.append(kind if "|" in kind else _SHOWN[kind])
        else:
            words.append(part)
    return " ".join(words).replace("[ ", "[").replace(" ]", "]")


def expected(slot: Slot) -> str:
    """What a slot wants, in words: LENGTH, or `by_hand`, `guide_block` or `drill_press`."""
    if "|" not in slot.kind:
        return _SHOWN[slot.kind]
    *others, last = (f"`{word}`" for word in slot.kind.split("|"))
    return f"{', '.join(others)} or {last}"
