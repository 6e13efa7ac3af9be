"""The project that a fixture belongs to, and checking it as the project says."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from trivet.diagnostics import Diagnostic, in_order
from trivet.files import Files
from trivet.project import Project
from trivet.record import record, replace
from trivet.source import SourceFile

if TYPE_CHECKING:
    from trivet.pipeline import Compilation


@record
class Belongs:
    """What `trivet.toml` says for a fixture, its library files, and what is wrong with either; `folder` is where it lies."""

    project: Project = Project()
    libraries: tuple[SourceFile, ...] = ()
    faults: tuple[Diagnostic, ...] = ()
    folder: str = ""
    path: str = ""


def belongs(path: str) -> Belongs:
    """The project of the fixture at `path` (`-`: of the working folder)."""
    from trivet.project_file import find_project

    found = find_project(path)
    if found is None:
        return Belongs()
    if isinstance(found, Diagnostic):
        return Belongs(faults=(found,))
    from trivet.project import project_of
    from trivet.project_file import library_files
    from trivet.rules import all_rules

    project, faults = project_of(found.source, all_rules())
    read = library_files(found.folder, project.libraries)
    libraries = tuple(item for item in read if isinstance(item, SourceFile))
    faults += tuple(item for item in read if isinstance(item, Diagnostic))
    return Belongs(project, libraries, faults, found.folder, found.source.name)


def checked(
    source: SourceFile, files: Files, settings: Mapping[str, str], shop: SourceFile | None, full: bool, to: Belongs
) -> Compilation:
    """The fixture checked, with the project's tables, unit and severities; faults of the project file are among the findings."""
    from trivet.pipeline import check

    result = check(source, files, settings, shop, full, to.libraries, to.project.units)
    if not to.faults and not to.project.severities:
        return result
    return replace(result, findings=in_order((*to.project.graver(result.findings), *to.faults)))
