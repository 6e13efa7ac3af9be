"""The door to disk: sources in, outputs out (by `output_folder`), and the library that ships with the package."""

from __future__ import annotations

import errno
import os
import posixpath
import stat
from collections.abc import Mapping
from typing import TYPE_CHECKING, BinaryIO, Protocol

from trivet.diagnostics import Diagnostic, Rule
from trivet.source import SourceFile, Span

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

# A fixture of 10,000 statements is well under 1 MB; common practice, no source.
LARGEST_BYTES = 2_000_000
EDITOR_FILES = ("editor_setup.md", "trivet.tmLanguage.json")

UNREADABLE = Rule(
    "unreadable-file",
    "error",
    "a file that is named is an ordinary file of at most 2 MB that holds UTF-8 text",
    "what cannot be read in full cannot be checked; a guess at the encoding would change names and numbers unseen",
    "common practice, no source",
)
OUTSIDE = Rule(
    "read-outside-project",
    "error",
    "`read` names a file inside the project folder, by a relative path with `/` between its parts",
    "a plan from a stranger must not be able to read other files of yours, and it must mean the same on each machine",
    "common practice, no source",
)
RULES = (UNREADABLE, OUTSIDE)

Read = SourceFile | Diagnostic


class Files(Protocol):
    """Where sources come from and outputs go. `span` is the place that names the file, if a file does."""

    def read(self, path: str, *, span: Span | None = None) -> Read:
        """The file at `path`, named as given, or why it cannot be read (`unreadable-file`)."""

    def read_beside(self, base: str, relative: str, root: str | None = None, *, span: Span | None = None) -> Read:
        """The file that the one at `base` calls `relative`; never outside `root` (by default the folder of `base`)."""

    def write_outputs(self, folder: str, files: Mapping[str, bytes]) -> Diagnostic | None:
        """Make `folder` hold exactly `files`, or say why not and leave it as it was."""


class DiskFiles:
    """Files on disk."""

    def read(self, path: str, *, span: Span | None = None) -> Read:
        """An ordinary file of at most `LARGEST_BYTES`; devices and pipes are refused, never waited for."""
        try:
            data = _ordinary_bytes(path)
        except ValueError:
            return unreadable(path, "its name holds a character that no file name can hold", span)
        except OSError as error:
            return unreadable(path, _reason(error), span)
        return decode(path, data, span=span)

    def read_stream(self, stream: BinaryIO, name: str) -> Read:
        """Standard input or another open stream, to its end or `LARGEST_BYTES`."""
        return decode(name, stream.read(LARGEST_BYTES + 1))

    def read_beside(self, base: str, relative: str, root: str | None = None, *, span: Span | None = None) -> Read:
        """As `Files.read_beside`; links are followed only as far as they stay inside.

        A hard link cannot be told from the file itself, and a folder changed during the call is not guarded against.
        """
        path = joined(base, relative, span)
        if isinstance(path, Diagnostic):
            return path
        top = (os.path.dirname(base) if root is None else root) or "."
        if not within(_slashed(os.path.abspath(top)), _slashed(os.path.abspath(path))):
            return outside(relative, "leads out of the project folder", span)
        if not within(_slashed(os.path.realpath(top)), _slashed(os.path.realpath(path))):
            return outside(relative, "leads out of the project folder through a link", span)
        return self.read(path, span=span)

    def write_outputs(self, folder: str, files: Mapping[str, bytes]) -> Diagnostic | None:
        """As `write_folder`."""
        from trivet.output_folder import write_folder

        return write_folder(folder, files)

    def create_text(self, path: str, text: str) -> Diagnostic | None:
        """Write a new file; one that exists is never touched."""
        try:
            with open(path, "x", encoding="utf-8", newline="") as stream:
                stream.write(text)
        except FileExistsError:
            return Diagnostic(
                "output-not-written", "error", f"`{path}` exists already", None, remedy="name a file that does not exist"
            )
        except (OSError, ValueError) as error:
            return Diagnostic("output-not-written", "error", f"`{path}` cannot be written: {_why(error)}", None)
        return None

    def replace_text(self, path: str, text: str) -> Diagnostic | None:
        """Put `text` in place of a file's text in one step: a killed run leaves the old or the new text, whole."""
        beside = f"{path}.new-{os.getpid()}"
        try:
            target = os.path.realpath(path)
            beside = f"{target}.new-{os.getpid()}"
            with open(beside, "x", encoding="utf-8", newline="") as stream:
                stream.write(text)
                stream.flush()
                os.fsync(stream.fileno())
            os.chmod(beside, stat.S_IMODE(os.stat(target).st_mode))
            os.replace(beside, target)
        except (OSError, ValueError) as error:
            if os.path.exists(beside):
                os.unlink(beside)
            return Diagnostic("output-not-written", "error", f"`{path}` cannot be written: {_why(error)}", None)
        return None


class MemoryFiles:
    """Files in memory, for tests and for text that is on no disk; `written` holds the outputs by folder."""

    def __init__(self, files: Mapping[str, bytes | str]) -> None:
        self._files = {name: data.encode("utf-8") if isinstance(data, str) else data for name, data in files.items()}
        self.written: dict[str, dict[str, bytes]] = {}

    def read(self, path: str, *, span: Span | None = None) -> Read:
        """As `DiskFiles.read`."""
        if path in self._files:
            return decode(path, self._files[path], span=span)
        return unreadable(path, "there is no such file", span)

    def read_beside(self, base: str, relative: str, root: str | None = None, *, span: Span | None = None) -> Read:
        """As `DiskFiles.read_beside`; memory has no links."""
        path = joined(base, relative, span)
        if isinstance(path, Diagnostic):
            return path
        if not within(posixpath.normpath(posixpath.dirname(base) if root is None else root), path):
            return outside(relative, "leads out of the project folder", span)
        return self.read(path, span=span)

    def write_outputs(self, folder: str, files: Mapping[str, bytes]) -> Diagnostic | None:
        """Always succeeds."""
        from trivet.output_folder import check_names

        check_names(files)
        self.written[folder] = dict(files)
        return None


def _why(error: OSError | ValueError) -> str:
    return _reason(error) if isinstance(error, OSError) else "its name holds a character that no file name can hold"


def template_text(name: str) -> str:
    """A commented fixture to begin with: `metric` or `inch`."""
    return (_package("grammar") / f"start_{name}.trivet").read_text(encoding="utf-8")


def editor_files() -> dict[str, str]:
    """What an editor needs, by file name: a grammar that colours text, and how to set an editor up."""
    folder = _package("grammar") / "editors"
    return {name: (folder / name).read_text(encoding="utf-8") for name in EDITOR_FILES}


def decode(name: str, data: bytes, *, span: Span | None = None) -> Read:
    """The text of `data`, byte for byte (line ends and a byte order mark stay), or where its first wrong byte is."""
    if len(data) > LARGEST_BYTES:
        return unreadable(name, f"it is larger than {LARGEST_BYTES} bytes", span)
    if _looks_like_utf16(data):
        return unreadable(name, "it is not UTF-8; it looks like UTF-16", span, "save it as UTF-8")
    try:
        return SourceFile(name, data.decode("utf-8"))
    except UnicodeDecodeError as error:
        reason = f"it is not UTF-8: byte {error.start} (counted from 0) is 0x{data[error.start]:02x}"
        guess = "Latin-1 or Windows-1252" if data.count(0) == 0 else "no text at all"
        return unreadable(name, f"{reason}; it may be {guess}", span, "save it as UTF-8")


def library_names() -> tuple[str, ...]:
    """The names of the library's tables, sorted, without `.trivet`."""
    return tuple(sorted(_tables()))


def library_text(name: str) -> str:
    """The text of one of `library_names()`; KeyError for another name."""
    return _tables()[name].read_bytes().decode("utf-8")


def library_data(name: str) -> bytes | None:
    """One of `library_names()` as data, where the installed package carries it."""
    path = os.path.join(os.path.dirname(__file__), "library", f"{name}.json")
    try:
        with open(path, "rb") as stream:
            return stream.read()
    except OSError:
        return None


def _tables() -> dict[str, Traversable]:
    return {item.name.removesuffix(".trivet"): item for item in _package("library").iterdir() if item.name.endswith(".trivet")}


def _package(name: str) -> Traversable:
    """A folder of package data as installed, else the folder of that name at the top of the checkout."""
    from importlib.resources import files
    from pathlib import Path

    try:
        return files(f"trivet.{name}")
    except ModuleNotFoundError:
        return Path(__file__).resolve().parents[2] / name


def _ordinary_bytes(path: str) -> bytes:
    """At most one byte more than `LARGEST_BYTES`; looked at before opening too, which has effects on some devices."""
    _must_be_ordinary(os.stat(path).st_mode)
    flags = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    with os.fdopen(os.open(path, flags), "rb") as stream:
        _must_be_ordinary(os.fstat(stream.fileno()).st_mode)
        return stream.read(LARGEST_BYTES + 1)


def _must_be_ordinary(mode: int) -> None:
    if stat.S_ISDIR(mode):
        raise IsADirectoryError
    if not stat.S_ISREG(mode):
        raise OSError(errno.EINVAL, "it is a device, a pipe or a socket")


def _reason(error: OSError) -> str:
    known: tuple[tuple[type[OSError], str], ...] = (
        (FileNotFoundError, "there is no such file"),
        (IsADirectoryError, "it is a folder"),
        (NotADirectoryError, "a part of its path is not a folder"),
        (PermissionError, "reading it is not permitted"),
    )
    for kind, words in known:
        if isinstance(error, kind):
            return words
    if error.errno == errno.ELOOP:
        return "its links lead in a circle"
    return (error.strerror or "the disk refused").lower()


def _looks_like_utf16(data: bytes) -> bool:
    """A byte order mark, or every second byte nearly always zero, which text in Latin letters has in UTF-16."""
    start = data[:1000]
    halves = (start[0::2], start[1::2])
    zeros = any(len(half) >= 4 and half.count(0) > 0.9 * len(half) for half in halves) and start.count(0) < len(start)
    return data.startswith((b"\xff\xfe", b"\xfe\xff")) or zeros


def joined(base: str, relative: str, span: Span | None) -> str | Diagnostic:
    """The path that the file at `base` means by `relative`, made plain without following links."""
    if not relative or "\0" in relative:
        return unreadable(relative, "that names no file", span)
    if "\\" in relative:
        return outside(relative, "is written with `\\`", span, f"write `{relative.replace(chr(92), '/')}`")
    if relative.startswith("/") or relative[1:2] == ":":
        return outside(relative, "is not a path relative to the file that reads it", span)
    return posixpath.normpath(posixpath.join(posixpath.dirname(_slashed(base)), relative))


def within(top: str, path: str) -> bool:
    """Whether a plain path lies inside a plain folder, both relative or both absolute."""
    if top == ".":
        return path != ".." and not path.startswith(("../", "/"))
    return path.startswith(top.rstrip("/") + "/")


def _slashed(path: str) -> str:
    return path.replace(os.sep, "/")


def unreadable(name: str, reason: str, span: Span | None, remedy: str = "") -> Diagnostic:
    """The finding for a file that cannot be read."""
    return Diagnostic(UNREADABLE.slug, UNREADABLE.severity, f"`{name}` cannot be read: {reason}", span, remedy=remedy)


def outside(relative: str, reason: str, span: Span | None, remedy: str = "") -> Diagnostic:
    """The finding for a path that a fixture may not read."""
    remedy = remedy or "keep the file inside the project folder and name it by a relative path"
    return Diagnostic(OUTSIDE.slug, OUTSIDE.severity, f"`{relative}` {reason}", span, remedy=remedy)
