"""What lowering knows while it works: entries, the catalogue, nouns lowered so far, and the findings."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Any

from trivet.catalog import Catalog
from trivet.diagnostics import Diagnostic, Edit, Label
from trivet.lower.entries import Collected, Entry
from trivet.lower.fault import Echo, Fault
from trivet.lower.forms import BlockForm
from trivet.lower.invalid import invalid
from trivet.lower.reader import Reader
from trivet.lower.values import PlaceValue, Value
from trivet.model.base import Band, Point, Ref
from trivet.source import Span
from trivet.syntax.nodes import Name
from trivet.units import Quantity

Lower = Callable[[Reader, "Context"], Any]
_FAILED = object()
# Deep enough for any plan, and far from the depth at which Python itself stops.
MOST_IN_A_ROW = 60
_RUNNING = object()

# What may follow the point after a name of each kind.
PARTS = {
    "board": ("centre", "width", "depth", "thickness"),
    "sheet": ("thickness",),
    "cutter": ("diameter", "reach"),
    "tooth_form": ("module",),
    "gear": ("teeth",),
}


class Context:
    """Lowers entries on demand, each once; a name is resolved by lowering what it names. `used` collects the names that something used."""

    def __init__(
        self,
        collected: Collected,
        forms: Mapping[str, BlockForm],
        lowers: Mapping[str, Lower],
        catalog: Catalog,
        settings: Mapping[str, str],
    ) -> None:
        self.collected = collected
        self.forms = forms
        self.lowers = lowers
        self.catalog = catalog
        self.settings = settings
        self.found: list[Diagnostic] = list(collected.found)
        self.used: set[str] = set()
        self.instances = 0
        self.suggestions = collected.suggestions
        self._nouns: dict[str, Any] = {}
        self._stack: list[str] = []
        # How many names each name needs in a row, itself included: a bound on the stack that does not depend on the order of blocks.
        self._depths: dict[str, int] = {}
        self._deep = False

    def report(self, diagnostic: Diagnostic) -> None:
        """Keep a finding."""
        self.found.append(diagnostic)

    def noun(self, entry: Entry) -> Any:
        """The lowered noun of an entry; Echo when it failed (its own message stands already)."""
        name = entry.name.text
        known = self._nouns.get(name)
        if known is _RUNNING:
            chain = " needs ".join(f"`{part}`" for part in [*self._stack[self._stack.index(name) :], name])
            raise Fault("cyclic-names", f"{chain}: a circle", entry.span, remedy="give one of them a number")
        if known is _FAILED:
            raise Echo
        if known is not None:
            self._needs(entry)
            return known
        if len(self._stack) >= MOST_IN_A_ROW:
            raise self._too_deep(entry)
        self._nouns[name] = _RUNNING
        self._depths[name] = 1
        self._stack.append(name)
        lowered: Any = _FAILED
        try:
            reader = Reader(entry, self.forms[entry.kind], self)
            lowered = self.guarded(lambda: self.lowers[entry.kind](reader, self), reader)
            if lowered is None:
                lowered = _FAILED
        finally:
            self._stack.pop()
            self._nouns[name] = lowered
        if lowered is _FAILED:
            raise Echo
        self._needs(entry)
        return lowered

    def _needs(self, entry: Entry) -> None:
        if self._stack:
            above = self._stack[-1]
            self._depths[above] = max(self._depths[above], self._depths[entry.name.text] + 1)
            if self._depths[above] > MOST_IN_A_ROW:
                raise self._too_deep(entry)

    def _too_deep(self, entry: Entry) -> Fault | Echo:
        if self._deep:
            return Echo()
        self._deep = True
        message = f"more than {MOST_IN_A_ROW} names depend on each other in a row"
        return Fault("cyclic-names", message, entry.span, remedy="give one of them a number")

    def guarded(self, work: Callable[[], Any], reader: Reader) -> Any:
        """Run `work`; a fault becomes a finding and None."""
        try:
            return work()
        except Fault as fault:
            self.report(fault.diagnostic)
        except Echo:
            pass
        except ValueError as error:
            from pydantic import ValidationError

            if not isinstance(error, ValidationError):
                raise
            for diagnostic in invalid(error, reader):
                self.report(diagnostic)
        return None

    def try_noun(self, entry: Entry) -> Any:
        """The noun, or None when it failed."""
        try:
            return self.noun(entry)
        except Echo:
            return None
        except Fault as fault:
            self.report(fault.diagnostic)
            return None

    def refer(self, name: Ref | Name, *kinds: str) -> Entry:
        """The entry that a fact names; it must be of one of the kinds."""
        text = name.text
        span = name.span if isinstance(name, Name) else name.origin
        assert isinstance(span, Span)
        entry = self.collected.named.get(text)
        if entry is None:
            if self.collected.broken_headings:
                raise Echo
            remedy, edits = self._near(text, kinds, span)
            raise Fault("unknown-name", f"`{text}` is not declared", span, remedy=remedy, edits=edits)
        self.used.add(text)
        if kinds and entry.kind not in kinds:
            wanted = " or a ".join(kinds)
            label = Label(f"`{text}` is declared here as a {entry.kind}", entry.span)
            remedy, edits = self._near(text, kinds, span)
            raise Fault(
                "wrong-kind",
                f"`{text}` is a {entry.kind}; a {wanted} is expected",
                span,
                related=(label,),
                remedy=remedy,
                edits=edits,
            )
        return entry

    def _near(self, text: str, kinds: tuple[str, ...], span: Span) -> tuple[str, tuple[Edit, ...]]:
        """What to write for a name that is not declared as one of the kinds, and the edit that writes it where that is one name."""
        if self.suggestions.spent:
            return "", ()
        known = [entry.name.text for entry in self.collected.named.values() if not kinds or entry.kind in kinds]
        near = self.suggestions.near(text, known)
        if near:
            return f"did you mean `{near}`?", (Edit(span, near),)
        if kinds and len(kinds) == 1 and len(known) == 1:
            return f"write `{known[0]}`, the only {kinds[0]}, or declare another", (Edit(span, known[0]),)
        if kinds and len(kinds) == 1:
            return f"declare it: `{self.forms[kinds[0]].example}`", ()
        return "", ()

    def resolve(self, name: Name) -> Value:
        """The value of a name in arithmetic."""
        first, *rest = name.text.split(".")
        head = Name(first, Span(name.span.file, name.span.start, name.span.start + len(first)))
        entry = self.refer(head, "parameter", *PARTS)
        if entry.kind != "parameter":
            self._has_part(entry, rest, name)
        noun = self.noun(entry)
        if entry.kind == "parameter":
            if rest:
                raise Fault(
                    "unknown-part", f"the parameter `{first}` has no part `{'.'.join(rest)}`", name.span, remedy=f"write `{first}`"
                )
            return noun.value  # type: ignore[no-any-return]  # nouns are looked up by kind, untyped there
        value = self._part(entry, noun, rest, name)
        return value.at(name.span) if isinstance(value, Quantity) else value

    def _has_part(self, entry: Entry, rest: list[str], name: Name) -> None:
        parts = PARTS[entry.kind]
        word = rest[0] if rest else ""
        if word not in parts:
            listed = ", ".join(f"`{entry.name.text}.{part}`" for part in parts)
            near = self.suggestions.near(word, parts) if word else None
            remedy = f"did you mean `{entry.name.text}.{near}`?" if near else f"it has {listed}"
            what = (
                f"the {entry.kind} `{entry.name.text}` has no part `{word}`"
                if word
                else f"`{entry.name.text}` is a {entry.kind}, not a number"
            )
            edits = (Edit(name.span, f"{entry.name.text}.{near}"),) if near else ()
            raise Fault("unknown-part", what, name.span, remedy=remedy, edits=edits)

    def _part(self, entry: Entry, noun: Any, rest: list[str], name: Name) -> Value:
        word = rest[0]
        if word == "thickness":
            sheet = noun if entry.kind == "sheet" else self.noun(self.refer(noun.stock, "sheet"))
            layers = 1 if entry.kind == "sheet" else noun.layers
            return self._limit(sheet.layered(layers), rest[1:], name)
        if len(rest) > 1:
            raise Fault("unknown-part", f"`{first_two(rest, entry)}` has no part `{rest[1]}`", name.span)
        if entry.kind == "board":
            if word == "centre":
                x, y = noun.x_mm + noun.outline.width_mm / 2, noun.y_mm + noun.outline.height_mm / 2
                return PlaceValue(Fraction(x), Fraction(y), True)
            return Quantity(Fraction(str(noun.outline.width_mm if word == "width" else noun.outline.height_mm)), "mm")
        if entry.kind == "tooth_form":
            return Quantity(Fraction(str(noun.module_mm)), "mm")
        value = getattr(noun, word)
        if value is None:
            raise Fault("missing-fact", f"`{entry.name.text}` states no {word}", name.span)
        return value  # type: ignore[no-any-return]  # nouns are looked up by kind, untyped there

    @staticmethod
    def _limit(band: Band, rest: list[str], name: Name) -> Quantity:
        chosen = {"": band.mean, "least": band.least, "most": band.most}.get(rest[0] if rest else "")
        if chosen is None or len(rest) > 1:
            raise Fault(
                "unknown-part", f"a thickness has no part `{'.'.join(rest)}`", name.span, remedy="it has `.least` and `.most`"
            )
        return Quantity(Fraction(repr(chosen)).limit_denominator(10**9), "mm")

    def frame(self, board: str | None, span: Span) -> tuple[float, float]:
        """World place of a board's frame origin; the only board's when none is named."""
        boards = self.collected.of_kind("board")
        if board is None and len(boards) > 1:
            text = span.text
            names = " or ".join(f"`{entry.name.text} {text}`" for entry in boards[:3])
            raise Fault("missing-fact", f"`{text}` does not say in the frame of which board it lies", span, remedy=f"write {names}")
        if board is None and not boards:
            return 0.0, 0.0
        noun = self.noun(self.collected.named[board] if board is not None else boards[0])
        return noun.x_mm, noun.y_mm

    def board_of(self, name: Ref) -> str:
        """The board that a place names as its frame."""
        return self.refer(name, "board").name.text

    def world(self, place: PlaceValue, span: Span, board: str | None) -> Point:
        """A place in the world frame."""
        if place.absolute:
            return Point(float(place.x), float(place.y), span)
        x0, y0 = self.frame(board, span)
        return Point(float(place.x) + x0, float(place.y) + y0, span)

    def count_instances(self, number: int, span: Span) -> None:
        """Repetition is bounded: 10,000 instances a file."""
        shown = number if number > 10_000 else self.instances + number
        if shown > 10_000:
            raise Fault("too-many-instances", f"{shown} instances are asked for; at most 10000 a file are allowed", span)
        self.instances += number


def first_two(rest: list[str], entry: Entry) -> str:
    """A dotted name of an entry and its part."""
    return f"{entry.name.text}.{rest[0]}"
