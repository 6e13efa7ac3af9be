"""How a number of the report comes about: what the file and the library give, the formulas, and the numbers put in."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from trivet.record import field, record
from trivet.source import Origin
from trivet.tables.formula import put_in, work_out

DERIVED = "derived"
PRACTICE = "common practice, no source"


@record(eq=False)
class Number:
    """One number. Given: `origin` is its place or row, `source` what else must be said (a default, a default's source).

    Computed: `formula` in plain symbols over `inputs`, its published `source`. Found: `formula` is empty and `how` says what search or
    comparison gave it. `value` in `unit`: mm, deg, or a count or ratio with an empty unit.
    """

    symbol: str
    words: str
    value: float
    unit: str = "mm"
    origin: Origin | None = None
    formula: str = ""
    how: str = ""
    source: str = ""
    inputs: tuple[Number, ...] = ()

    @property
    def with_numbers(self) -> str:
        """The formula with the numbers put in."""
        return put_in(self.formula, {item.symbol: item.value for item in self.inputs})


def given(symbol: str, words: str, value: float, unit: str = "mm", origin: Origin | None = None, source: str = "") -> Number:
    """A number that the file or the library gives, or a default."""
    return Number(symbol, words, float(value), unit, origin, source=source)


def computed(symbol: str, words: str, formula: str, source: str, *inputs: Number, unit: str = "mm") -> Number:
    """A number worked out from the formula as it is printed."""
    value = work_out(formula, {item.symbol: item.value for item in inputs})
    return Number(symbol, words, float(value), unit, None, formula, "", source, inputs)


def found(symbol: str, words: str, value: float, how: str, source: str, *inputs: Number, unit: str = "mm") -> Number:
    """A number that no short formula gives."""
    return Number(symbol, words, float(value), unit, None, "", how, source, inputs)


def in_order(number: Number) -> tuple[Number, ...]:
    """The number after all that it stands on, each once. Without recursion: a chain is as long as the train."""
    done: dict[int, Number] = {}
    waiting: list[tuple[Number, bool]] = [(number, False)]
    while waiting:
        item, entered = waiting.pop()
        if id(item) in done:
            continue
        if entered:
            done[id(item)] = item
            continue
        waiting.append((item, True))
        waiting.extend((other, False) for other in reversed(item.inputs))
    return tuple(done.values())


@record
class Entry:
    """A number that can be explained: its name, the parts it is about, where the report has it (empty: nowhere), its explanation.

    `also`: other names of its one part. `some`: whether some of its parts are enough to ask for it. `elsewhere`: where else it is printed.
    """

    quantity: str
    parts: tuple[str, ...]
    path: tuple[str | int, ...]
    explain: Callable[[], Number] = field(compare=False)
    also: tuple[str, ...] = ()
    some: bool = False
    elsewhere: str = ""


def reported(report: object, path: Iterable[str | int]) -> object:
    """What the report holds at a path; None where it holds nothing there."""
    for step in path:
        if isinstance(report, dict) and isinstance(step, str):
            report = report.get(step)
        elif isinstance(report, (list, tuple)) and isinstance(step, int) and step < len(report):
            report = report[step]
        else:
            return None
    return report


def path_text(path: Iterable[str | int]) -> str:
    """A path as the report's keys: `meshes[0].backlash_mm.min`."""
    text = ""
    for step in path:
        text += f"[{step}]" if isinstance(step, int) else f".{step}" if text else step
    return text
