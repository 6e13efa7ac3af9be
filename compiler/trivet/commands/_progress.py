"""A bar on one line of standard error, for work that takes longer than a second on a terminal."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable

WIDTH = 30
FIRST_AFTER_S = 1.0
EVERY_S = 0.1


class Progress:
    """Called with how many are done and how many there are; silent where standard error is no terminal, and within the first second."""

    def __init__(self, what: str, clock: Callable[[], float] = time.monotonic) -> None:
        self._what = what
        self._clock = clock
        self._next = clock() + FIRST_AFTER_S
        self._shown = 0
        self.done = 0
        self.of = 0

    def __call__(self, done: int, of: int) -> None:
        """Draw the bar anew, at most ten times a second."""
        self.done, self.of = done, of
        now = self._clock()
        if now < self._next or sys.stderr is None or not sys.stderr.isatty():
            return
        self._next = now + EVERY_S
        full = WIDTH * done // max(of, 1)
        line = f"[{'#' * full}{'.' * (WIDTH - full)}] {done} of at most {of} {self._what}"
        sys.stderr.write("\r" + line.ljust(self._shown))
        sys.stderr.flush()
        self._shown = len(line)

    def clear(self) -> None:
        """Leave the line as it was found."""
        if self._shown and sys.stderr is not None:
            sys.stderr.write("\r" + " " * self._shown + "\r")
            sys.stderr.flush()
            self._shown = 0
