"""The project that an open fixture belongs to: its tables, its unit and its severities, as `trivet check` takes them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from trivet.diagnostics import Diagnostic, in_order
from trivet.project import Project, project_of
from trivet.project_file import NAME, find_project, library_files
from trivet.record import record, replace
from trivet.rules import all_rules
from trivet.source import SourceFile

if TYPE_CHECKING:
    from trivet.pipeline import Compilation

PROJECT_FILE = NAME


@record(eq=False)
class Belonging:
    """What `trivet.toml` says, the files of its library folders, and what is wrong with either."""

    project: Project = Project()
    libraries: tuple[SourceFile, ...] = ()
    faults: tuple[Diagnostic, ...] = ()

    @property
    def key(self) -> tuple[object, ...]:
        """What a result depends on beside the statements of its files."""
        return self.project, tuple(item.message for item in self.faults)

    def seen(self, compilation: Compilation) -> Compilation:
        """A result with the project's severities and the faults of its file."""
        if not self.faults and not self.project.severities:
            return compilation
        return replace(compilation, findings=in_order((*self.project.graver(compilation.findings), *self.faults)))


def belonging(path: str, buffers: Mapping[str, SourceFile]) -> Belonging:
    """The project of the fixture at a path; library files that are open are taken from their buffers."""
    found = find_project(path)
    if found is None:
        return Belonging()
    if isinstance(found, Diagnostic):
        return Belonging(faults=(found,))
    project, faults = project_of(found.source, all_rules())
    read = library_files(found.folder, project.libraries)
    libraries = tuple(buffers.get(item.name, item) for item in read if isinstance(item, SourceFile))
    return Belonging(project, libraries, (*faults, *(item for item in read if isinstance(item, Diagnostic))))
