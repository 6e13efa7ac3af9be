"""What is worked out of the last result without errors when an editor asks: explanations and what is bought, each made once."""

from __future__ import annotations

from functools import cached_property

from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.tables.explanation import Entry
from trivet.tables.hardware_lines import HardwareLine


class Known:
    """A design with what follows from it. Places inside may be those of an older text."""

    def __init__(self, design: Design, derived: Derived) -> None:
        self.design = design
        self.derived = derived

    @cached_property
    def entries(self) -> dict[str, list[Entry]]:
        """All numbers that can be explained, by quantity."""
        from trivet.tables.explanation_entries import entries

        found: dict[str, list[Entry]] = {}
        for entry in entries(self.design, self.derived):
            found.setdefault(entry.quantity, []).append(entry)
        return found

    @cached_property
    def bought(self) -> tuple[HardwareLine, ...]:
        """The lines of the hardware schedule."""
        from trivet.tables.hardware_schedule import schedule

        return tuple(schedule(self.design, self.derived).lines)

    def entry(self, quantity: str, *parts: str) -> Entry | None:
        """One number, its parts in any order; a name of its own that the number answers to will do."""
        for entry in self.entries.get(quantity, ()):
            if sorted(entry.parts) == sorted(parts) or (len(parts) == 1 and parts[0] in entry.also):
                return entry
        return None
