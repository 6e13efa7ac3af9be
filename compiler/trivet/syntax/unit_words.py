"""Units as people write them and this language does not, and what they become."""

from __future__ import annotations

# lower-case word: the unit here.
SPELLED: dict[str, str] = {
    "mm": "mm", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "cm": "cm", "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
    "in": "in", "inch": "in", "inches": "in", "thous": "thou", "mil": "thou", "mils": "thou",
    "deg": "deg", "degs": "deg", "degree": "deg", "degrees": "deg", "percent": "percent", "percents": "percent", "pct": "percent",
    "n": "N", "newton": "N", "newtons": "N", "nm": "Nm", "newtonmetre": "Nm", "newtonmetres": "Nm",
    "kg": "kg", "kgs": "kg", "kilogram": "kg", "kilograms": "kg", "kilo": "kg", "kilos": "kg",
}  # fmt: skip

# Units with an exact factor to one that is known: 1 ft is 12 in, 1 µm is 0.001 mm. Both letters for micro are in use.
CONVERTED: dict[str, tuple[str, str]] = {
    "m": ("1000", "mm"), "metre": ("1000", "mm"), "metres": ("1000", "mm"), "meter": ("1000", "mm"), "meters": ("1000", "mm"),
    "ft": ("12", "in"), "feet": ("12", "in"), "yd": ("36", "in"),
    "µm": ("0.001", "mm"), "μm": ("0.001", "mm"), "um": ("0.001", "mm"), "micron": ("0.001", "mm"), "microns": ("0.001", "mm"),
}  # fmt: skip

# Rounded to what a load is worth: 1 lbf is 4.4482 N (0.45359237 kg by 9.80665 m/s2, exact), 1 ft lbf 1.3558 Nm.
ROUNDED: dict[str, tuple[str, str]] = {
    "lb": ("4.44822", "N"), "lbs": ("4.44822", "N"), "lbf": ("4.44822", "N"), "pound": ("4.44822", "N"), "pounds": ("4.44822", "N"),
    "ftlb": ("1.35582", "Nm"), "ftlbf": ("1.35582", "Nm"), "inlb": ("0.112985", "Nm"), "inlbf": ("0.112985", "Nm"),
    "kgf": ("9.80665", "N"), "oz": ("0.278014", "N"),
}  # fmt: skip

KNOWN_UNITS = "mm, cm, in, thou, deg, percent, N, Nm, kg and per in"
