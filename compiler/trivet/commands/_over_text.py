"""What was tried over a plan's ranges, as lines for people and as JSON."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from trivet import __version__
from trivet.diagnostics import Diagnostic
from trivet.over import Case, Over, first_places, key_of
from trivet.over_ranges import Settings
from trivet.report.json import finding_rows, status
from trivet.report.terminal import terminal
from trivet.report.visible import visible
from trivet.units import length_text

if TYPE_CHECKING:
    from trivet.commands._input import Options
    from trivet.model.design import Design

# More rows than these are not read: then those that fail and the worst ones are shown.
MOST_ROWS = 40
MOST_FINDINGS = 12
# Columns for all settings together; where their names do not fit, they are numbered.
WIDEST_SETTINGS = 45
NOTHING = "-"


def text_lines(tried: Over, design: Design, options: Options, command: str) -> Iterator[str]:
    """The ranges, the table of corners, what fails and where, the worst figures, the verdict."""
    if not tried.ranges:
        yield f"`{design.name}` declares no range, so there is nothing to try but what `check` checks"
        yield "  remedy: `parameter NAME VALUE, within LEAST..MOST`, `for_sheets LEAST..MOST` in a sheet, `up_to LENGTH` in a cutter"
        return
    yield "over: " + ", ".join(item.words for item in tried.ranges)
    yield _counted(tried)
    # A place between is worth a row where it fails in a way that no corner does.
    at_corners = {key_of(item) for case in tried.corners for item in case.failing}
    first = first_places([case for case in tried.inside if any(key_of(item) not in at_corners for item in case.failing)])
    rows = [*tried.corners, *(case for case in tried.inside if case.settings in first)]
    shown = rows if len(rows) <= MOST_ROWS else _telling(tried, rows)
    yield from _table(tried, shown, design.units)
    if len(shown) < len(rows):
        yield f"{len(rows) - len(shown)} more rows are left out: `--report json` has all of them"
    yield from _worst(tried, design.units)
    yield from _failures(tried, command)
    yield tried.words


def _counted(tried: Over) -> str:
    if tried.every_corner:
        return f"{len(tried.corners)} corners, which are all, and {len(tried.inside)} places between are tried"
    return (
        f"{tried.corners_of} corners are more than the {len(tried.corners)} that are tried: all ranges low, all high, each range at its"
        f" ends with the others as written, then corners in order; and {len(tried.inside)} places between"
    )


def _telling(tried: Over, rows: Sequence[Case]) -> list[Case]:
    worst = (tried.least_travel, tried.least_backlash)
    return [case for case in rows if not case.holds or case in worst][:MOST_ROWS]


def _table(tried: Over, cases: Sequence[Case], unit: str) -> Iterator[str]:
    """One row a place; a place between the corners says so."""
    names = [item.name for item in tried.ranges]
    wide = [max(len(name), *(len(text) for case in cases for key, text in case.settings if key == name)) for name in names]
    if sum(wide) > WIDEST_SETTINGS:
        letters = [f"({index})" for index, _ in enumerate(names, 1)]
        yield "  " + ", ".join(f"{letter} {name}" for letter, name in zip(letters, names, strict=True))
        names = letters
    head = ["", *names, "travel", "lift/turn", "backlash", "fails"]
    rows = [head]
    corners = set(tried.corners)
    for case in cases:
        texts = [text for _, text in case.settings]
        figures = (case.travel_mm, case.lift_mm, case.backlash_mm)
        told = [length_text(mm, unit) if mm is not None else NOTHING for mm in figures]
        rows.append(["corner" if case in corners else "between", *texts, *told, str(len(case.failing)) if case.failing else "no"])
    widths = [max(len(row[column]) for row in rows) for column in range(len(head))]
    for row in rows:
        yield "  " + "  ".join(text.ljust(width) for text, width in zip(row, widths, strict=True)).rstrip()


def _worst(tried: Over, unit: str) -> Iterator[str]:
    for what, case, mm in (
        ("least travel with the worst sheets", tried.least_travel, tried.least_travel.travel_mm if tried.least_travel else None),
        ("least backlash with every error at its worst", tried.least_backlash,
         tried.least_backlash.backlash_mm if tried.least_backlash else None),
    ):  # fmt: skip
        if case is not None and mm is not None:
            where = ", ".join(f"{name} {text}" for name, text in case.settings)
            yield f"{what}: {length_text(mm, unit)}, at {where}"


def _failures(tried: Over, command: str) -> Iterator[str]:
    """Each finding once, at the first place where it stands, with the command that shows it."""
    places: dict[tuple[str, int], list[Case]] = {}
    first: dict[tuple[str, int], Diagnostic] = {}
    for case in tried.failing:
        for item in case.failing:
            key = key_of(item)
            first.setdefault(key, item)
            if case not in places.setdefault(key, []):
                places[key].append(case)
    for key, item in list(first.items())[:MOST_FINDINGS]:
        yield terminal((item,)).rstrip("\n").rpartition("\n")[0]
        found = places[key]
        yield visible(f"  to see it: {command}{settings_text(found[0].settings)}")
        if len(found) > 1:
            yield f"  it stands at {len(found)} of the {len(tried.corners) + len(tried.inside)} places tried"
    if len(first) > MOST_FINDINGS:
        yield f"{len(first) - MOST_FINDINGS} more findings are left out: `--report json` has all of them"


def settings_text(settings: Settings) -> str:
    """As the command line takes them."""
    return "".join(f' --set "{name}={text}"' for name, text in settings)


def json_text(tried: Over, design: Design, written: tuple[Diagnostic, ...], fixed: Mapping[str, str]) -> str:
    """The keys of `check --report json` for the plan as written, and `over` with everything that was tried."""

    def row(case: Case) -> dict[str, object]:
        return {
            "settings": dict(case.settings),
            "travel_worst_mm": _rounded(case.travel_mm),
            "per_turn_mm": _rounded(case.lift_mm),
            "backlash_min_mm": _rounded(case.backlash_mm),
            "holds": case.holds,
            "findings": finding_rows(case.failing),
        }

    named = {"name": design.name, "title": design.title, "revision": design.revision, "version": __version__}
    facts = {
        "fixture": {**named, "parameters": dict(fixed)},
        "status": status(written),
        "findings": finding_rows(written),
        "over": {
            "ranges": [
                {
                    "name": item.name,
                    "stated": item.stated,
                    "values": list(item.choices),
                    "whole": item.whole,
                    "choice": item.low is None,
                }
                for item in tried.ranges
            ],
            "corners_of": tried.corners_of,
            "proven": tried.proven,
            "words": tried.words,
            "corners": [row(case) for case in tried.corners],
            "between": [row(case) for case in tried.inside],
            "least_travel": row(tried.least_travel) if tried.least_travel is not None else None,
            "least_backlash": row(tried.least_backlash) if tried.least_backlash is not None else None,
        },
    }
    return json.dumps(facts, indent=2, allow_nan=False) + "\n"


def _rounded(mm: float | None) -> float | None:
    return round(mm, 6) + 0.0 if mm is not None else None
