"""What a feature sees: the text as it stands, its statements, and the last result that had no error."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from trivet.diagnostics import Diagnostic
from trivet.lsp.names import Declared, Use, declared, uses
from trivet.source import SourceFile
from trivet.syntax.nodes import Block, Document, Line

if TYPE_CHECKING:
    from trivet.lsp.known import Known
    from trivet.pipeline import Compilation


class View:
    """One file of a fixture at one moment; nothing in it changes.

    `document` is of the text as it stands, `documents` of all files of the fixture. `compilation` is the newest that is worked out and
    may be of an older text; `known` is the last one that was worked out, None where there never was one, and `reported` what was
    found of that.
    """

    def __init__(
        self,
        document: Document,
        documents: tuple[Document, ...],
        compilation: Compilation | None = None,
        known: Known | None = None,
        reported: tuple[Diagnostic, ...] = (),
    ) -> None:
        self.document = document
        self.documents = documents
        self.compilation = compilation
        self.known = known
        self.reported = reported

    @property
    def file(self) -> SourceFile:
        """The file as it stands."""
        return self.document.file

    @property
    def text(self) -> str:
        """The text as it stands."""
        return self.document.file.text

    @cached_property
    def declared(self) -> dict[str, Declared]:
        """Every declared name of the fixture."""
        return declared((self.document, *self.documents))

    @cached_property
    def uses(self) -> tuple[Use, ...]:
        """Where declared names stand in this file."""
        return tuple(use for use in uses(self.document) if use.name in self.declared)

    def use_at(self, offset: int) -> Use | None:
        """The declared name at an offset; just behind it counts too."""
        found = [use for use in self.uses if use.span.start <= offset <= use.span.end]
        return next((use for use in found if offset < use.span.end), found[0] if found else None)

    def statement_at(self, offset: int) -> tuple[Block, Line] | None:
        """The block and line that hold an offset."""
        for block in self.document.blocks:
            for line in (block.heading, *block.facts):
                if line.span.start <= offset <= line.span.end:
                    return block, line
        return None
