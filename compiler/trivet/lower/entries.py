"""Collects blocks from all files of a fixture: one entry for each declared name, with defaults and likenesses merged in."""

from __future__ import annotations

from collections.abc import Sequence

from trivet.diagnostics import Diagnostic, Label
from trivet.lower.forms import BlockForm
from trivet.lower.suggestions import Suggestions
from trivet.model.base import Ref
from trivet.record import record
from trivet.source import Span
from trivet.suggest import nearest
from trivet.syntax.nodes import Block, Document, Line, Name

# Each likeness is followed to its end, so a row of thousands would cost its square.
MOST_ALIKE = 60
# A heading with many names, or a default, gives its facts to each: a short file could ask for a product without end.
MOST_FACTS = 50_000


class Entry:
    """A declared thing before it is lowered: its own lines, then those it takes over from `like`, then its kind's defaults.

    `replaces`: the author's entry of this name, where the shop's file has another.
    """

    __slots__ = ("broken", "copied", "defaults", "from_shop", "heading", "kind", "like", "lines", "name", "replaces")

    def __init__(
        self, kind: str, name: Ref, heading: Line, lines: list[Line], broken: bool, like: Line | None = None, from_shop: bool = False
    ) -> None:
        self.kind = kind
        self.name = name
        self.heading = heading
        self.lines = lines
        self.broken = broken
        self.like = like
        self.copied: list[Line] = []
        self.defaults: list[Line] = []
        self.from_shop = from_shop
        self.replaces: Entry | None = None

    @property
    def span(self) -> Span:
        """Where the name stands."""
        assert isinstance(self.name.origin, Span)
        return self.name.origin


@record
class Part:
    """A document and its part in the fixture: the main file, a read one, or the shop's own."""

    document: Document
    role: str  # main, read or shop


class Collected:
    """All entries by name and by kind, in order of their names' first appearance; nameless blocks by kind."""

    def __init__(self) -> None:
        self.named: dict[str, Entry] = {}
        self.nameless: dict[str, list[Entry]] = {}
        self.defaults: dict[str, list[Line]] = {}
        self.found: list[Diagnostic] = []
        self.broken_headings = 0
        self.broken_defaults = False
        self.too_alike = False
        self.facts = 0
        self.suggestions = Suggestions()

    def takes(self, facts: int, name: Ref) -> bool:
        """Count facts of a name, shared ones again for each; False above `MOST_FACTS`, with one message."""
        before, self.facts = self.facts, self.facts + facts
        if before <= MOST_FACTS < self.facts and isinstance(name.origin, Span):
            message = f"names and the facts they share come to more than {MOST_FACTS:,} facts at `{name.text}`"
            self.found.append(Diagnostic("limit-exceeded", "error", message, name.origin, remedy="declare fewer names"))
        return self.facts <= MOST_FACTS

    def of_kind(self, kind: str) -> list[Entry]:
        """Entries of a kind in file order."""
        return [entry for entry in self.named.values() if entry.kind == kind]


def collect(parts: Sequence[Part], forms: dict[str, BlockForm]) -> Collected:
    """Group the blocks of all parts. A block of the shop's file replaces its namesake; any other pair of one name is an error."""
    result = Collected()
    for part in parts:
        result.broken_headings += part.document.broken_headings
        for block in part.document.blocks:
            _collect_block(block, part.role, forms, result)
    return result


def _collect_block(block: Block, role: str, forms: dict[str, BlockForm], result: Collected) -> None:
    kind = block.heading.word.text
    if kind == "default":
        _collect_default(block, forms, result)
        return
    if kind in ("read", "table"):
        return
    if kind == "fixture" and role != "main":
        message = "a file that another one reads has no `fixture` heading"
        result.found.append(Diagnostic("fixture-in-read-file", "error", message, block.heading.span, remedy="remove the heading"))
        return
    form = forms[kind]
    like = next((line for line in block.facts if line.word.text == "like"), None)
    facts = [line for line in block.facts if line is not like]
    bare = form.named == "maybe" and not block.heading.phrases[0].items
    _nothing_beyond_the_names(block, form, result)
    if form.named == "none" or bare:
        nameless = Entry(kind, Ref(kind, block.heading.word.span), block.heading, facts, block.broken)
        existing = result.nameless.setdefault(kind, [])
        if role == "shop" and not form.repeats:
            existing.clear()
        nameless.from_shop = role == "shop"
        existing.append(nameless)
        return
    for name in _declared(block, form, result):
        entry = Entry(kind, name, block.heading, list(facts), block.broken, like, from_shop=role == "shop")
        if not result.takes(len(facts), name):
            entry.lines, entry.broken = [], True
        _declare(entry, result)


def _declared(block: Block, form: BlockForm, result: Collected) -> list[Ref]:
    """The names that a heading declares; several only where the form says so."""
    names = []
    for index, phrase in enumerate(block.heading.phrases):
        items = phrase.items
        if index > 0 and form.named != "many":
            break
        if not items or not isinstance(items[0], Name) or "." in items[0].text:
            at = items[0].span if items else block.heading.word.span
            message = (
                f"`{block.heading.word.text}` is followed by a name" if not items else f"`{items[0].span.text[:40]}` is not a name"
            )
            result.found.append(Diagnostic("name-form", "error", message, at, remedy=f"for example `{form.example}`"))
            return []
        names.append(Ref(items[0].text, items[0].span))
        if form.named == "many":
            # Where the commas are left out, which is said elsewhere, the other names are declared all the same.
            names += [Ref(item.text, item.span) for item in items[1:] if isinstance(item, Name) and "." not in item.text]
    return names


def _nothing_beyond_the_names(block: Block, form: BlockForm, result: Collected) -> None:
    """A heading holds names and no more, save where its kind reads the rest of it; else the rest would have no effect."""
    if not form.facts or (form.named == "none" and form.heads != ("",)):
        return
    names = 0 if form.named == "none" else 1
    phrases = block.heading.phrases
    beyond = [item for phrase in phrases for item in phrase.items[names:]]
    if form.named != "many" and not beyond:
        beyond = [item for phrase in phrases[1:] for item in phrase.items]
    if beyond:
        message = f"`{beyond[0].span.text[:40]}` is one part too many"
        remedy = {"many": "put a comma between the names", "none": f"`{form.kind}` has no name"}.get(
            form.named, f"`{form.kind}` is followed by one name; all else stands below it"
        )
        words = phrases[0].items
        if form.named == "one" and len(phrases) == 1 and len(words) < 5 and all(isinstance(item, Name) for item in words):
            remedy = f"write `{form.kind} {'_'.join(item.span.text for item in words)}`"
        result.found.append(Diagnostic("unexpected-item", "error", message, beyond[0].span, remedy=remedy))


def _declare(entry: Entry, result: Collected) -> None:
    name = entry.name.text
    other = result.named.get(name)
    if other is None:
        result.named[name] = entry
        return
    if entry.from_shop and not other.from_shop and entry.kind == other.kind:
        result.named[name] = entry
        entry.replaces = other
        return
    if other.from_shop and not entry.from_shop and entry.kind == other.kind:
        other.replaces = entry
        return
    message = f"`{name}` is declared twice"
    if entry.kind != other.kind:
        message = f"`{name}` is declared twice: as a {other.kind} and as a {entry.kind}"
    label = Label(f"`{name}` is first declared here", other.span)
    result.found.append(
        Diagnostic("name-declared-twice", "error", message, entry.span, (label,), "one namespace holds all names: rename one")
    )


def _collect_default(block: Block, forms: dict[str, BlockForm], result: Collected) -> None:
    items = block.heading.phrases[0].items
    word = items[0] if items else None
    if not isinstance(word, Name) or word.text not in forms or len(items) != 1:
        at = word.span if word else block.heading.word.span
        near = nearest(word.text, forms) if isinstance(word, Name) else None
        kinds = ", ".join(sorted(kind for kind, form in forms.items() if form.named != "none"))
        result.broken_defaults = True
        result.found.append(
            Diagnostic(
                "unknown-kind",
                "error",
                "`default` is followed by the kind it is for",
                at,
                remedy=f"write `default {near}`" if near else f"one of {kinds}",
            )
        )
        return
    lines = result.defaults.setdefault(word.text, [])
    stated = {line.word.text: line for line in reversed(lines)}
    for line in block.facts:
        first = stated.setdefault(line.word.text, line)
        if first is not line:
            message = f"the default `{line.word.text}` for every {word.text} is stated twice"
            label = Label("first stated here", first.word.span)
            result.found.append(Diagnostic("fact-stated-twice", "error", message, line.word.span, (label,), "keep one of them"))
            continue
        lines.append(line)


def merge(result: Collected, forms: dict[str, BlockForm]) -> None:
    """Fill each entry's copied and default lines. Stated facts win over copied ones, copied ones over defaults."""
    for entry in result.named.values():
        form = forms[entry.kind]
        if entry.like is not None:
            entry.copied = _likeness(entry, form, forms, result)
        held = {line.word.text for line in entry.lines + entry.copied}
        sets = {form_fact.sets for word in held if (form_fact := form.fact(word)) is not None and form_fact.sets}
        if not result.takes(len(result.defaults.get(entry.kind, ())), entry.name):
            entry.broken = True
            continue
        for line in result.defaults.get(entry.kind, ()):
            fact = form.fact(line.word.text)
            if line.word.text not in held and not (fact is not None and fact.sets in sets):
                entry.defaults.append(line)
    for kind, entries in result.nameless.items():
        for entry in entries:
            held = {line.word.text for line in entry.lines}
            entry.defaults = [line for line in result.defaults.get(kind, ()) if line.word.text not in held]


def _likeness(entry: Entry, form: BlockForm, forms: dict[str, BlockForm], result: Collected) -> list[Line]:
    lines: list[Line] = []
    own = {line.word.text for line in entry.lines}
    sets = {fact.sets for word in own if (fact := form.fact(word)) is not None and fact.sets}
    seen = {entry.name.text}
    current = entry
    while current.like is not None:
        items = current.like.phrases[0].items
        if len(items) != 1 or not isinstance(items[0], Name):
            message = "`like` is followed by one name"
            result.found.append(Diagnostic("name-form", "error", message, current.like.span, remedy="for example `like near_n`"))
            entry.broken = True
            break
        target = result.named.get(items[0].text)
        if target is None or target.kind != entry.kind:
            what = f"`{items[0].text}` is no {entry.kind}" if target else f"`{items[0].text}` is not declared"
            kin = [] if result.suggestions.spent else result.of_kind(entry.kind)
            known = [other.name.text for other in kin if other is not entry]
            near = result.suggestions.near(items[0].text, known)
            remedy = f"did you mean `{near}`?" if near else ""
            result.found.append(Diagnostic("unknown-name", "error", what, items[0].span, remedy=remedy))
            entry.broken = True
            break
        if target.name.text in seen:
            message = f"`{entry.name.text}` is like itself"
            result.found.append(
                Diagnostic("cyclic-likeness", "error", message, current.like.span, remedy="state the facts of one of them")
            )
            entry.broken = True
            break
        if len(seen) > MOST_ALIKE:
            if not result.too_alike:
                message = f"more than {MOST_ALIKE} blocks in a row are like the next"
                remedy = "state the facts of one of them, or use `default`"
                result.found.append(Diagnostic("cyclic-likeness", "error", message, current.like.span, remedy=remedy))
            result.too_alike = entry.broken = True
            break
        seen.add(target.name.text)
        for line in target.lines:
            fact = form.fact(line.word.text)
            taken = line.word.text in own or (fact is not None and (fact.place or (fact.sets and fact.sets in sets)))
            if not taken:
                lines.append(line)
        own |= {line.word.text for line in target.lines}
        sets |= {fact.sets for line in target.lines if (fact := form.fact(line.word.text)) is not None and fact.sets}
        entry.broken = entry.broken or target.broken
        current = target
    return lines
