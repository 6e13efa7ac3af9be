"""Characters that cannot be seen or that change how the text around them is seen: refused everywhere, comments included."""

from __future__ import annotations

import re

from trivet.source import SourceFile
from trivet.syntax.fault import Fault
from trivet.syntax.tokens import TokenLine

# The bidirectional formatting characters are those of Unicode Standard Annex 9, table 4 and section 2 (from memory).
DIRECTION = "\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069"
INVISIBLE = "\u00ad\u180e\u200b-\u200d\u2060-\u2065\u206a-\u206f\ufeff\ufff9-\ufffb\U000e0000-\U000e007f"
CONTROL = "\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff"
HIDDEN = f"[{DIRECTION}{INVISIBLE}{CONTROL}]|\r(?!\n)"


def hidden_fault(file: SourceFile, line: TokenLine, pattern: re.Pattern[str]) -> Fault | None:
    """The first hidden character in a line, or None; a byte order mark at the very start of the file is no fault."""
    start = 1 if line.start == 0 and file.text.startswith("\ufeff") else line.start
    end = file.text.find("\n", line.start) + 1 or len(file.text)
    match = pattern.search(file.text, start, end)
    if match is None:
        return None
    sign = match[0]
    code = f"U+{ord(sign):04X}"
    if re.match(f"[{DIRECTION}]", sign):
        message = f"the character {code} changes the direction in which the line is shown"
    elif re.match(f"[{INVISIBLE}]", sign):
        message = f"the character {code} cannot be seen"
    elif sign == "\r":
        message = f"the control character {code} stands inside the line; lines end with LF or CR LF"
    else:
        message = f"the control character {code} stands in the text"
    return Fault("hidden-character", match.start(), match.end(), message, "", hint="remove it")
