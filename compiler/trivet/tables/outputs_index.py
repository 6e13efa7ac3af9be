"""The `outputs` of report.json: every file that was written and what it holds."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

Output = tuple[str, str, str | None, str | None, Sequence[str]]


def outputs_index(written: Iterable[Output]) -> list[dict[str, object]]:
    """(path, kind, part, face, layers) to records, sorted by path; part and face are None where a file is of no one part or face."""
    return [
        {"path": path, "kind": kind, "part": part, "face": face, "layers": list(layers)}
        for path, kind, part, face, layers in sorted(written, key=lambda item: item[0])
    ]
