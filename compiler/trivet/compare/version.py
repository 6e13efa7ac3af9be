"""Version: one of the two fixtures that are compared, checked in full."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from trivet.files import Files
from trivet.pipeline import Compilation, check
from trivet.record import record
from trivet.source import SourceFile

if TYPE_CHECKING:
    from trivet.model.design import Design
    from trivet.solve.derived import Derived


@record
class Version:
    """A fixture as it stood; `label` is what the comparison calls it."""

    label: str
    compilation: Compilation

    @property
    def pair(self) -> tuple[Design, Derived] | None:
        """What there is to compare, None where errors keep the fixture from being worked out."""
        design, derived = self.compilation.design, self.compilation.derived
        return None if design is None or derived is None else (design, derived)


def version_of(
    label: str,
    source: SourceFile,
    files: Files,
    settings: Mapping[str, str] | None = None,
    shop: SourceFile | None = None,
    full: bool = True,
) -> Version:
    """The fixture checked, with `full` its slow checks too. Never raises on a user's text."""
    return Version(label, check(source, files, settings, shop, full))
