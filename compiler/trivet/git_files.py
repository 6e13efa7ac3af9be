"""Files as they stood in a revision, read through git; nothing is checked out."""

from __future__ import annotations

import os
import posixpath
import subprocess
from collections.abc import Mapping

from trivet.diagnostics import Diagnostic
from trivet.files import Read, decode, joined, outside, unreadable, within
from trivet.source import Span

# A hung git (a prompt, a network file system) must not hang us.
LONGEST_S = 60


class GitFiles:
    """The files of one revision; paths are those of the working tree, relative to the folder that git is run in."""

    def __init__(self, revision: str) -> None:
        self.revision = revision

    def read(self, path: str, *, span: Span | None = None) -> Read:
        """The file as it stood, or why it cannot be read; the revision is part of the message."""
        # An option in place of a revision would be obeyed, so it is refused.
        if self.revision.startswith("-") or ":" in self.revision or not self.revision:
            return unreadable(path, f"`{self.revision}` is no revision", span)
        folder, name = os.path.split(path)
        found = git(("cat-file", "blob", f"{self.revision}:./{name}"), folder or ".")
        if isinstance(found, str):
            return unreadable(f"{path} at {self.revision}", found, span)
        return decode(path, found, span=span)

    def read_beside(self, base: str, relative: str, root: str | None = None, *, span: Span | None = None) -> Read:
        """As `Files.read_beside`; links in a revision are their own text and are not followed."""
        path = joined(base, relative, span)
        if isinstance(path, Diagnostic):
            return path
        top = (posixpath.dirname(base) if root is None else root) or "."
        if not within(posixpath.normpath(top), path):
            return outside(relative, "leads out of the project folder", span)
        return self.read(path, span=span)

    def write_outputs(self, folder: str, files: Mapping[str, bytes]) -> Diagnostic | None:
        """A revision is never written."""
        return Diagnostic("output-not-written", "error", f"`{folder}` lies in a revision, which is only read", None)


def git(arguments: tuple[str, ...], folder: str) -> bytes | str:
    """What git prints, or in one line why it cannot."""
    environment = {**os.environ, "LC_ALL": "C", "GIT_TERMINAL_PROMPT": "0", "GIT_OPTIONAL_LOCKS": "0"}
    try:
        done = subprocess.run(
            ("git", *arguments),
            cwd=folder,
            env=environment,
            stdin=subprocess.DEVNULL,
            capture_output=True,
            timeout=LONGEST_S,
            check=False,
        )
    except FileNotFoundError:
        return "git is not installed" if os.path.isdir(folder) else "its folder does not exist"
    except (OSError, ValueError, subprocess.TimeoutExpired) as error:
        return f"git could not be run: {type(error).__name__}"
    if done.returncode:
        words = done.stderr.decode("utf-8", "replace").strip().splitlines()
        return (words[0].removeprefix("fatal: ") if words else "git refused").rstrip(".")
    return done.stdout
