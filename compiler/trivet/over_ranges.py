"""What a plan may vary in: its parameters' ranges and choices, the sheets and cutters that it is declared for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from itertools import islice, product
from math import prod
from typing import TYPE_CHECKING

from trivet.record import record
from trivet.units import Quantity, number_text

if TYPE_CHECKING:
    from trivet.model.design import Design

# (name, text) as `--set` takes them, in the order of the ranges.
Settings = tuple[tuple[str, str], ...]
# Places along one range that are looked at between its ends.
BETWEEN = 7
# A setting is written with so many decimals, so that what is printed is what was solved.
DECIMALS = 4


@record
class Varied:
    """One range or choice. `choices` are the texts of all values to try at corners: both ends, or every choice.

    `low`, `high`: the ends as written, None for a choice of threads; `whole`: a count, which takes whole numbers only.
    """

    name: str
    stated: str
    choices: tuple[str, ...]
    low: Quantity | None = None
    high: Quantity | None = None
    whole: bool = False

    @property
    def words(self) -> str:
        """Such as `play 0.4 mm to 0.8 mm` or `thread M8 or 5/16-18`."""
        if self.low is None:
            return f"{self.name} {' or '.join(self.choices)}"
        return f"{self.name} {self.low} to {self.high}" + (" (whole numbers)" if self.whole else "")

    def at(self, share: float) -> str:
        """The value at a share of the way from the low end to the high one, as text."""
        assert self.low is not None and self.high is not None
        if share in (0.0, 1.0):
            return self.choices[int(share) if len(self.choices) > 1 else 0]
        unit = self.low.unit
        start, end = self.low.number, Quantity(self.high.number, self.high.unit).base / Quantity(Fraction(1), unit).base
        value = start + (end - start) * Fraction(share)
        return _text(Fraction(round(value)) if self.whole else value, unit)

    def between(self) -> tuple[float, ...]:
        """Shares of the way to look at between the ends; a count stops at whole numbers."""
        if self.low is None or self.high is None or len(self.choices) < 2:
            return ()
        steps = BETWEEN + 1
        if self.whole:
            steps = min(steps, int(self.high.base - self.low.base))
        return tuple(k / steps for k in range(1, steps))


def varied(design: Design, settings: Mapping[str, str]) -> tuple[Varied, ...]:
    """Every range and choice of a plan that no setting fixes: parameters, then sheets, then cutters, each by name."""
    found: list[Varied] = []
    for parameter in design.parameters:
        name = parameter.name.text
        if parameter.bounds is not None:
            whole = parameter.unit == "" and all(end.number.denominator == 1 for end in parameter.bounds)
            found.append(_range(name, parameter.text, parameter.bounds, whole and "." not in parameter.text))
        elif len(parameter.choices) > 1:
            found.append(Varied(name, parameter.text, tuple(dict.fromkeys(parameter.choices))))
    for sheet in design.sheets:
        if sheet.for_sheets is not None:
            unit = sheet.for_sheets[0].unit
            stated = _text(Fraction(repr(sheet.thickness.mean)) / Quantity(Fraction(1), unit).base, unit)
            found.append(_range(f"{sheet.name.text}.thickness", stated, sheet.for_sheets, False))
    for cutter in design.cutters:
        if cutter.for_cutters is not None and cutter.diameter is not None:
            found.append(_range(f"{cutter.name.text}.diameter", str(cutter.diameter), cutter.for_cutters, False))
    return tuple(item for item in found if item.name not in settings)


def corners(ranges: tuple[Varied, ...], most: int) -> tuple[tuple[Settings, ...], int]:
    """All combinations of ends and choices, and how many there are. Above `most` a subset: everything as stated but one range
    or choice at each of its values in turn, then all low and all high, then combinations in order.
    """
    total = prod(len(item.choices) for item in ranges)
    every: Iterator[tuple[str, ...]] = product(*(item.choices for item in ranges))
    if total > most:
        every = islice(dict.fromkeys((*_one_at_a_time(ranges), *islice(every, most))), most)
    return tuple(tuple((item.name, text) for item, text in zip(ranges, texts, strict=True)) for texts in every), total


def _one_at_a_time(ranges: tuple[Varied, ...]) -> Iterator[tuple[str, ...]]:
    stated = tuple(item.stated for item in ranges)
    yield tuple(item.choices[0] for item in ranges)
    yield tuple(item.choices[-1] for item in ranges)
    for index, item in enumerate(ranges):
        for text in item.choices:
            yield (*stated[:index], text, *stated[index + 1 :])


def _range(name: str, stated: str, bounds: tuple[Quantity, Quantity], whole: bool) -> Varied:
    low, high = bounds
    return Varied(name, stated, tuple(dict.fromkeys((str(low), str(high)))), low, high, whole)


def _text(number: Fraction, unit: str) -> str:
    text = number_text(number, DECIMALS)
    return f"{text} {unit}" if unit else text
