"""`trivet serve`: the server for editors."""

from __future__ import annotations

import os
import sys

from trivet.commands._input import FINDINGS, FINE, MISUSE, print_text


def run() -> int:
    """Serve until the editor ends it; 1 when it leaves without asking for the end, as the protocol has it."""
    if sys.stdin is None or sys.stdout is None:
        print_text("trivet: an editor's server needs standard input and output\n", error=True)
        return MISUSE
    from trivet.lsp.server import serve

    # A check runs beside the answers: what waits for its turn waits 1 ms, not the usual 5.
    sys.setswitchinterval(0.001)
    # The protocol has the stream to itself: what anything else prints goes to the editor's log.
    with os.fdopen(os.dup(sys.stdout.fileno()), "wb") as outgoing:
        sys.stdout = sys.stderr
        return FINE if serve(sys.stdin.buffer, outgoing) else FINDINGS
