"""A block's facts as read: each line matched once against its form, faults recorded, values asked for by word."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from trivet.diagnostics import Diagnostic, Edit, Label
from trivet.lower.entries import Entry
from trivet.lower.fault import Echo, Fault
from trivet.lower.forms import BlockForm
from trivet.lower.match import Reading, read_line
from trivet.lower.suggestions import joined
from trivet.lower.values import PlaceValue
from trivet.model.base import Point, Ref
from trivet.source import Span
from trivet.syntax.nodes import Line

if TYPE_CHECKING:
    from trivet.lower.context import Context


# Facts that name one thing, and the kind of that.
_NAMED = {"stock": "sheet", "cutter": "cutter", "tooth_form": "tooth_form"}


class Reader:
    """The facts of one entry. Lines that cannot be read are reported here and count as failed: what needs them gives no echo."""

    def __init__(self, entry: Entry, form: BlockForm, context: Context) -> None:
        self.entry = entry
        self.form = form
        self.context = context
        self.readings: dict[str, list[Reading]] = {}
        self.failed: set[str] = set()
        self._stated: dict[str, Line] = {}
        for line in entry.lines:
            self._read(line, own=True)
        for line in (*entry.copied, *entry.defaults):
            self._read(line, own=False)
        self._exclusive()

    @property
    def name(self) -> Ref:
        """The entry's name."""
        return self.entry.name

    @property
    def origin(self) -> Span:
        """Where the entry's name stands."""
        return self.entry.span

    def _read(self, line: Line, own: bool) -> None:
        word = line.word.text
        fact = self.form.fact(word)
        if fact is None:
            following = line.span.text.split(",")[0].split()
            glued = joined(following, self.form.words())
            near = glued or self.context.suggestions.near(word, self.form.words())
            remedy = f"did you mean `{near}`?" if near else f"the facts of a {self.form.kind} are " + ", ".join(self.form.words())
            named = self.context.collected.named.get(word)
            if self.form.kind == "mesh" and named is not None and named.kind == "gear":
                remedy = f"write `with {line.span.text.strip()[:60]}`"
            message = f"a {self.form.kind} has no fact `{word[:40]}`"
            edits = (Edit(line.word.span, near),) if near and not glued and remedy.startswith("did") else ()
            self.context.report(Diagnostic("unknown-fact", "error", message, line.word.span, remedy=remedy, edits=edits))
            if near:
                self.failed.add(near)
            self.failed.add("?")
            return
        if own and not fact.repeats and word in self._stated:
            message = f"`{word}` is stated twice for `{self.entry.name.text}`"
            label = Label("first stated here", self._stated[word].word.span)
            self.context.report(Diagnostic("fact-stated-twice", "error", message, line.word.span, (label,), "keep one of them"))
            return
        self._stated.setdefault(word, line)
        try:
            self.readings.setdefault(word, []).append(read_line(line, fact, self.context.resolve))
        except Fault as fault:
            self.context.report(fault.diagnostic)
            self.failed.add(word)
        except Echo:
            self.failed.add(word)

    def _exclusive(self) -> None:
        by_set: dict[str, Line] = {}
        for word, line in self._stated.items():
            fact = self.form.fact(word)
            if fact is None or not fact.sets:
                continue
            other = by_set.setdefault(fact.sets, line)
            if other is not line:
                message = f"`{other.word.text}` and `{word}` exclude each other"
                label = Label(f"`{other.word.text}` is stated here", other.word.span)
                self.context.report(Diagnostic("facts-exclude", "error", message, line.word.span, (label,), "keep one of them"))
                self.failed.add(word)

    def get(self, word: str) -> Reading | None:
        """The fact's reading, or None when it is not stated. Raises Echo when it is stated but could not be read."""
        if word in self.failed:
            raise Echo
        found = self.readings.get(word)
        return found[0] if found else None

    def all(self, word: str) -> list[Reading]:
        """All readings of a fact that may repeat."""
        if word in self.failed:
            raise Echo
        return self.readings.get(word, [])

    def value(self, word: str, slot: str, default: Any = None) -> Any:
        """One slot of a fact, or `default`."""
        reading = self.get(word)
        return default if reading is None else reading.get(slot, default)

    def span(self, word: str, slot: str) -> Span:
        """Where a slot of a stated fact was written."""
        return self.readings[word][0].span(slot)

    @property
    def _incomplete(self) -> bool:
        """Whether something that could not be read may have stated a fact that is missed."""
        return self.entry.broken or "?" in self.failed or self.context.collected.broken_defaults

    def need(self, *words: str, example: str = "") -> None:
        """Each of the facts must be stated: one message for each that is not, with an example that is the form's if none is given."""
        missing = [word for word in words if word not in self.readings]
        quiet = self._incomplete
        for word in missing:
            if quiet or word in self.failed:
                continue
            fact = self.form.fact(word)
            assert fact is not None
            message = f"the {self.form.kind} `{self.entry.name.text}` has no `{word}`"
            written = example or fact.example
            edits = self._added(word, written)
            remedy = f"add a line such as `{written}`"
            self.context.report(Diagnostic("missing-fact", "error", message, self.origin, remedy=remedy, edits=edits))
        if missing:
            raise Echo

    def _added(self, word: str, example: str) -> tuple[Edit, ...]:
        """A line below the block's last one, with a name that is declared where the fact names one thing of a kind."""
        kind = _NAMED.get(word, "")
        names = self.context.collected.of_kind(kind) if kind else []
        last = (self.entry.lines[-1] if self.entry.lines else self.entry.heading).span
        line = f"{word} {names[0].name.text}" if names else example
        return (Edit(Span(last.file, last.end, last.end), f"\n  {line}"),)

    def need_one(self, *words: str) -> str:
        """One of the facts must be stated; returns which."""
        for word in words:
            if word in self.failed:
                raise Echo
            if word in self.readings:
                return word
        if self._incomplete:
            raise Echo
        listed = ", ".join(f"`{word}`" for word in words[:-1]) + f" or `{words[-1]}`"
        examples = [f"`{fact.example}`" for word in words if (fact := self.form.fact(word)) is not None]
        shown = " or ".join([", ".join(examples[:-1]), examples[-1]] if len(examples) > 1 else examples)
        raise Fault(
            "missing-fact",
            f"the {self.form.kind} `{self.entry.name.text}` has none of {listed}",
            self.origin,
            remedy=f"add one line such as {shown}",
        )

    def world(self, place: PlaceValue, span: Span, board: str | None) -> Point:
        """A place in the world frame; a relative one lies in the frame of `board`."""
        return self.context.world(place, span, board)
