"""The fixture that the tests of features write in."""

from __future__ import annotations

from pathlib import Path

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
RISER = (EXAMPLES / "outfeed_riser.trivet").read_text(encoding="utf-8")


def with_mark(before: str, after: str = "", text: str = RISER) -> str:
    """The text with the cursor between `before` and `after`, which stand together in it once."""
    assert text.count(before + after) == 1, (before + after, text.count(before + after))
    return text.replace(before + after, f"{before}‸{after}")
