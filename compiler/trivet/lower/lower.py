"""The whole lowering: the parts of a fixture to one design, with every finding on the way."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from itertools import pairwise
from re import split
from typing import Any

from trivet.catalog import Catalog
from trivet.catalog_rows import Table, table_of
from trivet.diagnostics import Diagnostic, Edit, Label, in_order
from trivet.lower.context import Context
from trivet.lower.declared_ranges import outside_the_plan, setting_of, undeclared
from trivet.lower.entries import Collected, Entry, Part, collect, merge
from trivet.lower.fixture import ParameterNoun
from trivet.lower.reader import Reader
from trivet.lower.unused import unused
from trivet.lower.vocabulary import FIELDS, FORMS, LOWERS, OTHER_HEADINGS
from trivet.model.design import Design
from trivet.record import replace
from trivet.source import Span
from trivet.suggest import nearest
from trivet.syntax.nodes import Block, Document, Line, Name

# After so many the file is something else than a fixture.
MOST_UNKNOWN = 200

Loaded = tuple[Design | None, tuple[Diagnostic, ...]]


def lower(parts: Sequence[Part], load: Callable[[str], Iterable[Table]], settings: Mapping[str, str]) -> Loaded:
    """Nodes to model. The design is None when an error stands; every finding is given once."""
    found: list[Diagnostic] = []
    known = [Part(_known(part.document, found), part.role) for part in parts]
    faults = len(found)
    tables = _tables(parts, found)
    broken_tables = len(found) > faults or any(
        block.broken for part in parts for block in part.document.blocks if block.heading.word.text == "table"
    )
    collected = collect(known, FORMS)
    collected.broken_defaults |= _defaults_lost(parts)
    _tables_are_names(tables, collected)
    merge(collected, FORMS)
    catalog = Catalog(load, tuple(tables), broken_tables)
    context = Context(collected, FORMS, LOWERS, catalog, settings)
    _settings_known(settings, context)
    gathered = _gather(context)
    header = _header(context, parts)
    found += context.found
    errors = any(item.severity == "error" for item in found)
    if errors or header is None or collected.broken_headings:
        return None, in_order(found)
    if not any(block.broken for part in parts for block in part.document.blocks):
        # What a broken line would have named counts as named.
        found += unused(context, tables)
        found += outside_the_plan(context)
    from trivet.model.shop import Shop

    shop = gathered.pop("shop", None) or Shop()
    return Design(**header, shop=shop, **gathered), in_order(found)


def _defaults_lost(parts: Sequence[Part]) -> bool:
    """Whether a heading that could not be read may have been a `default`: then facts that are missing may be an echo."""
    if any(part.document.broken_headings for part in parts):
        return True
    words = {block.heading.word.text for part in parts for block in part.document.blocks}
    return any(word not in FORMS and word not in OTHER_HEADINGS and nearest(word, ["default"]) for word in words)


def _at_the_margin(document: Document, found: list[Diagnostic]) -> list[Block]:
    """The blocks, with headings that are indented by mistake, which are reported, as headings of their own."""
    blocks: list[Block] = []
    for block in document.blocks:
        form = FORMS.get(block.heading.word.text)
        starts = [
            index
            for index, line in enumerate(block.facts)
            if form is not None and line.word.text in FORMS and form.fact(line.word.text) is None and _heads(line)
        ]
        for line in (block.facts[index] for index in starts):
            message = f"`{line.word.text}` is a heading, and it is indented"
            remedy = "let it begin at the margin, its facts indented below it"
            found.append(Diagnostic("unknown-fact", "error", message, line.word.span, remedy=remedy))
        ends = [*starts, len(block.facts)]
        blocks.append(replace(block, facts=block.facts[: ends[0]]))
        blocks += [
            Block(block.facts[start], block.facts[start + 1 : end], block.broken, block.facts[start].span)
            for start, end in pairwise(ends)
        ]
    return blocks


def _heads(line: Line) -> bool:
    """Whether a line holds what a heading does: a name, or nothing where its kind has none."""
    form = FORMS[line.word.text]
    items = line.phrases[0].items if line.phrases else ()
    return form.named == "none" or (len(items) == 1 and isinstance(items[0], Name)) or (not items and form.named == "maybe")


def _known(document: Document, found: list[Diagnostic]) -> Document:
    """The document without blocks of unknown kinds, which are reported."""
    kept: list[Block] = []
    unknown = 0
    for block in _at_the_margin(document, found):
        word = block.heading.word.text
        if word in FORMS or word in OTHER_HEADINGS:
            kept.append(block)
            continue
        unknown += 1
        if unknown >= MOST_UNKNOWN:
            if unknown == MOST_UNKNOWN:
                message = f"this is unknown heading number {unknown}; the others are passed over"
                found.append(Diagnostic("limit-exceeded", "error", message, block.heading.word.span))
            continue
        near = nearest(word, [*FORMS, *OTHER_HEADINGS])
        facts = [form.kind for form in FORMS.values() if form.fact(word) is not None]
        if facts and near != word:
            remedy = f"it is a fact of a {facts[0]}: indent it below its heading"
        else:
            remedy = f"did you mean `{near}`?" if near else "the headings are " + ", ".join([*FORMS, *OTHER_HEADINGS])
        at = block.heading.word.span
        edits = (Edit(at, near),) if near and remedy.startswith("did") else ()
        found.append(Diagnostic("unknown-heading", "error", f"`{word[:40]}` is not a heading", at, remedy=remedy, edits=edits))
    return Document(document.file, tuple(kept), document.broken_headings + unknown)


def _tables(parts: Sequence[Part], found: list[Diagnostic]) -> list[Table]:
    tables: list[Table] = []
    for part in sorted(parts, key=lambda item: item.role != "shop"):
        for block in part.document.blocks:
            if block.heading.word.text == "table":
                table = table_of(block, found.append, users_own=True)
                other = next((item for item in tables if table is not None and item.name == table.name), None)
                if table is None:
                    continue
                if other is not None and part.role != "shop" and other.span is not None and other.span.file is not table.span.file:  # type: ignore[union-attr]  # a table of a file has a place
                    continue
                if other is not None:
                    label = Label(f"`{table.name}` is first declared here", other.span)
                    found.append(
                        Diagnostic(
                            "name-declared-twice",
                            "error",
                            f"the table `{table.name}` is declared twice",
                            table.span,
                            (label,),
                            "rename one",
                        )
                    )
                    continue
                tables.append(table)
    return tables


def _tables_are_names(tables: list[Table], collected: Collected) -> None:
    for table in tables:
        other = collected.named.get(table.name)
        if other is not None and table.span is not None:
            message = f"`{table.name}` is declared twice: as a table and as a {other.kind}"
            label = Label(f"`{table.name}` is declared here", other.span)
            collected.found.append(
                Diagnostic(
                    "name-declared-twice", "error", message, table.span, (label,), "one namespace holds all names: rename one"
                )
            )


def _settings_known(settings: Mapping[str, str], context: Context) -> None:
    parameters = [entry.name.text for entry in context.collected.of_kind("parameter")]
    parameters += [name for entry in context.collected.named.values() if (name := setting_of(entry))]
    for name in settings:
        if name not in parameters:
            near = nearest(name, parameters)
            remedy = undeclared(name, context.collected.named) or (
                f"did you mean `{near}`?"
                if near
                else f"the parameters are {', '.join(parameters)}"
                if parameters
                else "the file has no parameters"
            )
            context.report(
                Diagnostic(
                    "unknown-name", "error", f"`--set {' '.join(name.split())[:60]}` names no parameter", None, remedy=remedy
                )
            )


def _gather(context: Context) -> dict[str, Any]:
    """All nouns by the design's fields, in file order."""
    gathered: dict[str, Any] = {field: [] for field in FIELDS.values()}
    gathered |= {"parameters": [], "meshes": []}
    for entry in list(context.collected.named.values()):
        noun = context.try_noun(entry)
        if noun is None or entry.kind == "fixture":
            continue
        if isinstance(noun, ParameterNoun):
            gathered["parameters"].append(noun.record)
        else:
            gathered[FIELDS[entry.kind]].append(noun)
    for kind, entries in context.collected.nameless.items():
        for entry in entries:
            noun = _nameless(entry, context)
            if noun is None:
                continue
            if kind == "mesh":
                gathered["meshes"] += noun
            elif kind == "shop":
                gathered["shop"] = noun
            else:
                gathered[FIELDS[kind]].append(noun)
    if len(context.collected.nameless.get("shop", ())) > 1:
        first, second = context.collected.nameless["shop"][:2]
        label = Label("the first one is here", first.span)
        context.report(
            Diagnostic("name-declared-twice", "error", "a fixture has one `shop`", second.span, (label,), "merge the two")
        )
    return {field: _by_name(value) if isinstance(value, list) else value for field, value in gathered.items()}


def _by_name(nouns: list[Any]) -> tuple[Any, ...]:
    """Named things by name, numbers in names by value: the order of blocks in the file means nothing. Nameless ones stay as they are."""
    if not all(hasattr(noun, "name") for noun in nouns):
        return tuple(nouns)
    return tuple(
        sorted(
            nouns,
            key=lambda noun: [
                (not part.isdigit(), int(part) if part.isdigit() else 0, part) for part in split("([0-9]+)", noun.name.text)
            ],
        )
    )


def _nameless(entry: Entry, context: Context) -> Any:
    reader = Reader(entry, FORMS[entry.kind], context)
    return context.guarded(lambda: LOWERS[entry.kind](reader, context), reader)


def _header(context: Context, parts: Sequence[Part]) -> dict[str, Any] | None:
    fixtures = context.collected.of_kind("fixture")
    main = next(part.document for part in parts if part.role == "main")
    headings = [block.heading.word.span for block in main.blocks if block.heading.word.text == "fixture"]
    if len(headings) > 1:
        label = Label("the first one is here", headings[0])
        context.report(
            Diagnostic(
                "name-declared-twice",
                "error",
                "a file holds one `fixture`",
                headings[1],
                (label,),
                "put the other in a file of its own",
            )
        )
    if not fixtures:
        if not headings and not main.broken_headings:
            at = main.blocks[0].heading.word.span if main.blocks else Span(main.file, 0, 0)
            context.report(
                Diagnostic(
                    "missing-fixture", "error", "the file has no `fixture` heading", at, remedy="begin it with `fixture my_riser`"
                )
            )
        return None
    return context.try_noun(fixtures[0])  # type: ignore[no-any-return]  # nouns are looked up by kind, untyped there
