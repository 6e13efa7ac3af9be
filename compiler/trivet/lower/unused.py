"""Names that nothing uses, and names that hide a library's: said once everything else is in order."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from trivet.catalog_rows import Table
from trivet.diagnostics import Diagnostic, Rule

if TYPE_CHECKING:
    from trivet.lower.context import Context

# Kinds that are of no use unless something names them.
_NAMED_TO_BE_USED = ("parameter", "sheet", "cutter", "machine", "tooth_form", "drive", "pivot", "foot")

UNUSED = Rule(
    "unused-name",
    "warning",
    "a parameter, sheet, cutter, tooth form, drive, pivot, foot or table that nothing names",
    "it is often the other half of a misspelling: the author believes that it has an effect",
    "common practice, no source",
)
SHADOWED = Rule(
    "shadowed-name",
    "note",
    "a table of the file that has the name of one of the library's",
    "its rows win over the library's rows of the same kind, which may surprise who reads only the fixture",
    "derived: user tables beat the library's rows",
)


def unused(context: Context, tables: Sequence[Table]) -> list[Diagnostic]:
    """Warnings for entries and tables that nothing used. Names in files that are read may serve other fixtures and are left alone."""
    main = next((entry.span.file for entry in context.collected.of_kind("fixture")), None)
    found = []
    for entry in context.collected.named.values():
        if entry.kind in _NAMED_TO_BE_USED and entry.name.text not in context.used and entry.span.file is main:
            message = f"nothing names the {entry.kind} `{entry.name.text}`"
            found.append(
                Diagnostic(
                    UNUSED.slug,
                    "warning",
                    message,
                    entry.span,
                    remedy="remove it, or name it where it should count",
                    parts=(entry.name.text,),
                )
            )
    found += _shop_in_vain(context)
    for table in tables:
        taken = table.name in context.catalog.used_tables or table.name in context.used
        if table.span is not None and table.span.file is main and not taken:
            message = f"no row of the table `{table.name}` is used"
            found.append(
                Diagnostic(
                    UNUSED.slug,
                    "warning",
                    message,
                    table.span,
                    remedy="remove it, or name it where it should count",
                    parts=(table.name,),
                )
            )
        library = {item.name for item in context.catalog.tables(table.kind) if not item.users_own}
        if table.name in library and table.span is not None:
            found.append(
                Diagnostic(
                    SHADOWED.slug,
                    "note",
                    f"the table `{table.name}` hides the library's",
                    table.span,
                    remedy="rename it if that is not meant",
                    parts=(table.name,),
                )
            )
    return found


def _shop_in_vain(context: Context) -> list[Diagnostic]:
    """A shop's file replaces sheets and cutters by name; where none of a kind has a name that is used, the author's stand unnoticed."""
    found = []
    for kind in ("sheet", "cutter"):
        entries = context.collected.of_kind(kind)
        brought = [entry for entry in entries if entry.from_shop]
        kept = [entry.name.text for entry in entries if not entry.from_shop and entry.name.text in context.used]
        if brought and kept and not any(entry.name.text in context.used for entry in brought):
            first = brought[0]
            message = f"no {kind} of the shop's file has a name that the fixture uses: it keeps its own"
            remedy = f"call it as the fixture does: {' or '.join(f'`{name}`' for name in kept[:4])}"
            found.append(Diagnostic(UNUSED.slug, "warning", message, first.span, remedy=remedy, parts=(first.name.text,)))
    return found
