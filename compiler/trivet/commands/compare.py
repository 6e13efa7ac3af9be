"""`trivet compare`: two files, a file against a revision, or what git hands to a diff driver."""

from __future__ import annotations

from collections.abc import Mapping

from trivet.commands._input import FINE, MISUSE, print_fault, print_text
from trivet.compare.version import Version, version_of
from trivet.diagnostics import Diagnostic
from trivet.files import DiskFiles, Files
from trivet.record import field, record
from trivet.source import SourceFile

# Of git's two forms the second is for a renamed file; see "GIT_EXTERNAL_DIFF" in git's manual.
_DRIVER, _DRIVER_RENAMED = 7, 9
NOTHING = "/dev/null"


@record
class Wanted:
    """The options: form of the report, a folder for overlays, the shop's file, settings of parameters."""

    report: str = "text"
    overlay: str = ""
    shop: str = ""
    settings: Mapping[str, str] = field(default_factory=dict)


@record
class Side:
    """Where one version comes from: its label, the path of its file, and the files that it may read."""

    label: str
    source: SourceFile | Diagnostic | None
    files: Files


def run(files: tuple[str, ...], revision: str, wanted: Wanted) -> int:
    """Compare; returns 0 whatever is different, 2 for wrong use and what cannot be read or written."""
    if revision:
        if len(files) != 1:
            return _misuse("with --git name one file, as it is called now")
        sides = _revisions(revision, files[0])
    elif len(files) == 2:
        sides = tuple(_on_disk(path, path) for path in files)
    elif len(files) in (_DRIVER, _DRIVER_RENAMED):
        sides = _driver(files)
    else:
        return _misuse(f"name two files, the old one first; {len(files)} {'is' if len(files) == 1 else 'are'} named")
    return _compare(sides, wanted)


def _misuse(message: str) -> int:
    print_text(f"trivet: {message}\n", error=True)
    return MISUSE


def _on_disk(label: str, path: str, name: str = "") -> Side:
    disk = DiskFiles()
    found = disk.read(path)
    if name and isinstance(found, SourceFile):
        found = SourceFile(name, found.text)
    return Side(label, found, disk)


def _revisions(revision: str, path: str) -> tuple[Side, ...]:
    from trivet.git_files import GitFiles

    old, two, new = revision.partition("..")
    sides = []
    for name in (old or "HEAD", new or "HEAD") if two else (old,):
        there = GitFiles(name)
        sides.append(Side(f"{path} at {name}", there.read(path), there))
    if not two:
        sides.append(_on_disk(path, path))
    return tuple(sides)


def _driver(files: tuple[str, ...]) -> tuple[Side, ...]:
    """git's arguments: path, then file, hash and mode of the old and of the new; files that they read are taken as they are now."""
    path, old, old_hash, _, new, new_hash, _ = files[:_DRIVER]
    later = files[_DRIVER] if len(files) == _DRIVER_RENAMED else path
    sides = []
    for file, name, short, word in ((old, path, old_hash, "old"), (new, later, new_hash, "new")):
        label = f"{name}, {word}" if set(short) <= {"0", "."} else f"{name} {short[:7]}"
        sides.append(Side(label, None, DiskFiles()) if file == NOTHING else _on_disk(label, file, name))
    return tuple(sides)


def _compare(sides: tuple[Side, ...], wanted: Wanted) -> int:
    shop = DiskFiles().read(wanted.shop) if wanted.shop else None
    for read in (*(side.source for side in sides), shop):
        if isinstance(read, Diagnostic):
            print_fault(read)
            return MISUSE
    old, new = sides
    if old.source is None or new.source is None:
        word = "is new" if old.source is None else "is gone"
        print_text(_visible(f"{(new if old.source is None else old).label}: the fixture {word}\n"))
        return FINE
    versions = []
    for side in sides:
        assert isinstance(side.source, SourceFile)
        kept = shop if isinstance(shop, SourceFile) else None
        versions.append(version_of(side.label, side.source, side.files, wanted.settings, kept))
    for version in versions:
        if not _holds_a_fixture(version):
            print_text(_visible(f"{version.label} holds no fixture of its own: compare a fixture that reads it\n"))
            return FINE
    return _show(versions[0], versions[1], wanted)


def _holds_a_fixture(version: Version) -> bool:
    return any(block.heading.word.text == "fixture" for block in version.compilation.documents[0].blocks)


def _show(old: Version, new: Version, wanted: Wanted) -> int:
    from trivet.compare.compare import compare

    found = compare(old, new)
    if wanted.report == "json":
        from trivet.compare.data import comparison_data
        from trivet.report.json import ascii_json

        print_text(ascii_json(comparison_data(found), indent=2) + "\n")
    elif wanted.report == "markdown":
        from trivet.compare.text import comparison_markdown

        print_text(_visible(comparison_markdown(found)))
    else:
        from trivet.compare.text import comparison_lines

        print_text(_visible("\n".join(comparison_lines(found)) + "\n"))
    if not wanted.overlay or found.not_compared:
        return FINE
    from trivet.compare.overlay import overlay_files

    files = overlay_files(found, old, new)
    if not files:
        return FINE
    fault = DiskFiles().write_outputs(wanted.overlay, files)
    if fault is not None:
        print_fault(fault)
        return MISUSE
    if wanted.report == "text":
        print_text(_visible(f"wrote {len(files)} files into {wanted.overlay}\n"))
    return FINE


def _visible(text: str) -> str:
    from trivet.report.visible import visible

    return "".join(visible(line.rstrip("\n")) + "\n" for line in text.splitlines(keepends=True))
