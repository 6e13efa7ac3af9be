"""Coarse threads by their lead, for a remedy that names one. Tests hold them to the library's rows."""

from __future__ import annotations

from collections.abc import Callable, Iterable

# ISO 261 coarse pitches, mm.
METRIC = {"M5": 0.8, "M6": 1.0, "M8": 1.25, "M10": 1.5, "M12": 1.75, "M14": 2.0, "M16": 2.0}
# ASME B1.1 coarse, threads an inch.
UNIFIED = {"10-24": 24, "1/4-20": 20, "5/16-18": 18, "3/8-16": 16, "7/16-14": 14, "1/2-13": 13, "5/8-11": 11}


def leads_mm(system: str) -> dict[str, float]:
    """Single-start leads of the coarse threads of a system, `metric` or `unified`."""
    return {name: 25.4 / count for name, count in UNIFIED.items()} if system == "unified" else dict(METRIC)


def thread_that(systems: Iterable[str], now_mm: float, meets: Callable[[float], bool]) -> tuple[str, float] | None:
    """The coarse thread nearest to the lead in use whose lead does, and that lead, mm; None where none does."""
    found = {name: lead for system in systems for name, lead in leads_mm(system).items() if meets(lead)}
    return min(found.items(), key=lambda item: (abs(item[1] - now_mm), item[0]), default=None)
