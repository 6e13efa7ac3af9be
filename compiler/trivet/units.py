"""Quantities: an exact number with the unit it was written in."""

from __future__ import annotations

from fractions import Fraction

from trivet.record import field, record, replace
from trivet.source import Origin

_INCH = Fraction(254, 10)

# unit: (dimension, factor to the program's own unit). Exact: 1 in is 25.4 mm by definition (international yard, 1959).
UNITS: dict[str, tuple[str, Fraction]] = {
    "mm": ("length", Fraction(1)),
    "cm": ("length", Fraction(10)),
    "in": ("length", _INCH),
    "thou": ("length", _INCH / 1000),
    "deg": ("angle", Fraction(1)),
    "percent": ("ratio", Fraction(1, 100)),
    "N": ("force", Fraction(1)),
    "Nm": ("torque", Fraction(1)),
    "kg": ("mass", Fraction(1)),
    "per in": ("per length", 1 / _INCH),
    "": ("ratio", Fraction(1)),
    "mm2": ("area", Fraction(1)),
}

# What a dimension is called in a message.
DIMENSION_WORDS: dict[str, str] = {
    "length": "a length, such as `18 mm` or `3/4 in`",
    "angle": "an angle, such as `20 deg`",
    "ratio": "a bare number",
    "force": "a force, such as `60 N`",
    "torque": "a torque, such as `2 Nm`",
    "mass": "a mass, such as `4 kg`",
    "per length": "teeth per inch of diameter, such as `5 per in`",
    "area": "an area",
}


@record
class Quantity:
    """`number` in `unit`; `origin` says where it was written or which row it came from and takes no part in equality."""

    number: Fraction
    unit: str = ""
    origin: Origin | None = field(default=None, compare=False)

    @property
    def dimension(self) -> str:
        """length, angle, ratio, force, torque, mass or per length."""
        return UNITS[self.unit][0]

    @property
    def base(self) -> Fraction:
        """The exact value in the program's own unit of the dimension (mm, deg, 1, N, Nm, kg)."""
        return self.number * UNITS[self.unit][1]

    @property
    def mm(self) -> float:
        """A length in millimetres."""
        dimension, factor = UNITS[self.unit]
        assert dimension == "length", self
        return _product(self.number, factor)

    @property
    def value(self) -> float:
        """The value in the program's own unit, as a float."""
        return _product(self.number, UNITS[self.unit][1])

    def at(self, origin: Origin | None) -> Quantity:
        """The same quantity with another origin."""
        return replace(self, origin=origin)

    def __str__(self) -> str:
        text = number_text(self.number)
        return f"{text} {self.unit}" if self.unit else text


def _product(left: Fraction, right: Fraction) -> float:
    """float(left * right), without reducing the product: dividing whole numbers rounds correctly whatever they have in common."""
    return (left.numerator * right.numerator) / (left.denominator * right.denominator)


def number_text(number: Fraction, decimals: int = 6) -> str:
    """A number as a maker reads it: exact decimals when short, else rounded to `decimals`, trailing zeros stripped."""
    scaled = round(number * 10**decimals)
    sign = "-" if scaled < 0 else ""
    whole, rest = divmod(abs(scaled), 10**decimals)
    digits = f"{rest:0{decimals}d}".rstrip("0")
    return f"{sign}{whole}.{digits}" if digits else f"{sign}{whole}"


def length_text(mm: float, unit: str = "mm", decimals: int | None = None) -> str:
    """A length for a message, in the unit the writer used: two decimals in mm, three in inches."""
    if unit in ("in", "thou"):
        places = 3 if decimals is None else decimals
        return f"{_trim(mm / 25.4, places)} in"
    places = 2 if decimals is None else decimals
    return f"{_trim(mm, places)} mm"


def made_text(mm: float, unit: str = "mm") -> str:
    """A length that a maker buys or sets, as it is written in a file: in inches a fraction where it is a whole 64th, `1-9/64 in`."""
    if unit not in ("in", "thou"):
        return length_text(mm, unit)
    count = round(mm / 25.4 * 64)
    if count <= 0 or abs(mm / 25.4 - count / 64) > 1e-6:
        return length_text(mm, unit)
    whole, rest = divmod(count, 64)
    fraction = Fraction(rest, 64)
    return f"{whole} in" if not rest else f"{whole}-{fraction} in" if whole else f"{fraction} in"


def decimal_beside(text: str) -> str:
    """` (1.141 in)` for `1-9/64 in`; empty for what is no fraction."""
    number, _, unit = text.partition(" ")
    whole, dash, fraction = number.rpartition("-")
    if unit != "in" or "/" not in fraction:
        return ""
    upper, lower = fraction.split("/")
    return f" ({_trim((int(whole) if dash else 0) + int(upper) / int(lower), 3)} in)"


def told_text(mm: float, unit: str = "mm") -> str:
    """The same with the decimal beside a fraction: `1-9/64 in (1.141 in)`."""
    text = made_text(mm, unit)
    return text + decimal_beside(text)


def two_lengths(left_mm: float, right_mm: float, unit: str = "mm") -> tuple[str, str]:
    """Two lengths with enough digits that they differ in print when they differ at all (to 6 digits)."""
    start = 3 if unit in ("in", "thou") else 2
    for decimals in range(start, 7):
        left, right = length_text(left_mm, unit, decimals), length_text(right_mm, unit, decimals)
        if left != right:
            return left, right
    return length_text(left_mm, unit), length_text(right_mm, unit)


def _trim(number: float, decimals: int) -> str:
    text = f"{number:.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
