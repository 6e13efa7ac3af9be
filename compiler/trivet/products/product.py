"""Product: one file of the output folder; Context: what products are made from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Literal

from trivet.record import field, record, replace
from trivet.tables.rows import Rows
from trivet.tables.substitutes import Substitute

if TYPE_CHECKING:
    from trivet.diagnostics import Diagnostic
    from trivet.model.design import Design
    from trivet.solve.derived import Derived
    from trivet.solve.nest_records import Nest


@record
class Wanted:
    """What to write: `plain` adds copies without reference layers, `draft` marks every file, findings or not.

    `polyline`: outlines as chords, for readers that know no arcs. `nest`: how the parts lie, where that is known already.
    `paper`: the size of paper for templates, None for none.
    """

    plain: bool = False
    draft: bool = False
    polyline: bool = False
    nest: Nest | None = None
    paper: Literal["A4", "Letter"] | None = None


@record
class Context:
    """A checked fixture and what was asked for. `facts` is report.json's content, empty for products made before it.

    `substitutes`: what neighbouring hardware would change. `inputs`: the plan's own files by their path from its folder, the main one first.
    """

    design: Design
    derived: Derived
    findings: tuple[Diagnostic, ...]
    settings: Mapping[str, str]
    wanted: Wanted
    facts: Mapping[str, object] = field(default_factory=dict)
    substitutes: Sequence[Substitute] = ()
    inputs: Mapping[str, str] = field(default_factory=dict)

    @property
    def nest(self) -> Nest:
        """How the parts lie on their sheets."""
        from trivet.solve.nest import nest

        return self.wanted.nest if self.wanted.nest is not None else nest(self.design, self.derived)

    @property
    def mark(self) -> str:
        """What the names of a draft's files begin with."""
        return "DRAFT-" if self.wanted.draft else ""

    def marked(self, rows: Rows) -> Rows:
        """Rows whose title says that they are a draft's, where they are."""
        return replace(rows, title=f"DRAFT, not for cutting: {rows.title}") if self.wanted.draft else rows


@record
class Product:
    """A file by its path in the output folder; `part` and `face` where it is of one part and face, `layers` where it is a drawing."""

    path: str
    kind: str
    data: bytes
    part: str | None = None
    face: str | None = None
    layers: Sequence[str] = ()
