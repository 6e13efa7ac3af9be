"""Words and figures of the schedules: lengths inch first for inch fixtures, threads, screws and where data come from."""

from __future__ import annotations

import math

from trivet.model.base import Band
from trivet.model.hardware import Screw, Thread
from trivet.source import LibraryRow, Origin
from trivet.units import length_text

# Hardware and cutters are sold in fractions down to this one (common practice, no source).
INCH_STEPS = 64
# A length this near a fraction is that fraction, in: tables print sixteenths to three decimals (9/16 as .562), finer ones to four.
SAME_SIXTEENTH = 0.0006
SAME_INCH = 0.0001
# Far more than the error of a binary fraction, far less than any size.
HALF_UP_MM = 1e-9

STATUS_WORDS = {
    "found": "published",
    "partly_found": "partly from memory: measure",
    "from_memory": "from memory: measure",
    "derived": "derived",
    "derived_from_memory": "derived from figures from memory: measure",
    "measured": "measured",
}

_SCREW_WORDS = {
    "socket": "socket head cap screw",
    "pan": "pan head tapping screw",
    "countersunk": "countersunk head screw",
    "button": "button head screw",
    "wood": "wood screw",
}


def sold_length(mm: float, unit: str) -> str:
    """A length as it is sold or cut: `60 mm`; for an inch fixture `2-1/4 in (57.15 mm)`, three decimals where it is no 64th."""
    if unit != "in":
        return metric_text(mm)
    return f"{inch_text(mm)} ({metric_text(mm)})"


def metric_text(mm: float) -> str:
    """A length in mm to two decimals, halves upwards: 1/8 in is 3.18 mm, though its binary fraction lies under 3.175."""
    return length_text(mm + HALF_UP_MM)


def inch_text(mm: float) -> str:
    """A length in inches: a whole number and a fraction down to 64ths where it is one, else three decimals."""
    inches = mm / 25.4
    parts = round(inches * 16) * (INCH_STEPS // 16)
    if abs(inches - parts / INCH_STEPS) > SAME_SIXTEENTH:
        parts = round(inches * INCH_STEPS)
        if abs(inches - parts / INCH_STEPS) > SAME_INCH:
            return length_text(mm, "in")
    if parts <= 0:
        return length_text(mm, "in")
    whole, rest = divmod(parts, INCH_STEPS)
    if not rest:
        return f"{whole} in"
    shared = math.gcd(rest, INCH_STEPS)
    fraction = f"{rest // shared}/{INCH_STEPS // shared}"
    return f"{whole}-{fraction} in" if whole else f"{fraction} in"


def band_text(band: Band, unit: str) -> str:
    """A length with its limits: `15.9 to 16.1 mm`; one figure where it does not vary."""
    return range_text(band.least, band.most, unit) if band.spread > 0.0 else sold_length(band.mean, unit)


def range_text(least_mm: float, most_mm: float, unit: str) -> str:
    """Two limits: `15.9 to 16.1 mm`, `0.626 to 0.634 in (15.9 to 16.1 mm)`."""
    metric = f"{metric_text(least_mm).rpartition(' ')[0]} to {metric_text(most_mm)}"
    if unit != "in":
        return metric
    return f"{length_text(least_mm, unit).rpartition(' ')[0]} to {length_text(most_mm, unit)} ({metric})"


def thread_text(thread: Thread) -> str:
    """Designation, pitch and hand: `M8, pitch 1.25 mm, right hand`."""
    hand = "left hand" if thread.hand < 0 else "right hand"
    if thread.system == "unified" or thread.designation.startswith("no_"):
        per_inch, tapping = 25.4 / thread.pitch_mm, " tapping" if thread.system == "tapping" else ""
        return f"{thread.designation}{tapping}, {per_inch:g} threads per inch (pitch {length_text(thread.pitch_mm)}), {hand}"
    kind = " tapping" if thread.system == "tapping" else ""
    return f"{thread.designation}{kind}, pitch {length_text(thread.pitch_mm)}, {hand}"


def screw_words(screw: Screw) -> str:
    """What a screw is called: by its head, and whether its standard has a plain shank; never empty."""
    if screw.head.form == "hexagon":
        return "hexagon head screw" if screw.threaded.full else "hexagon head bolt"
    return _SCREW_WORDS[screw.head.form]


def standard_words(standard: str) -> str:
    """A standard with its product word as words: `ASME B18.2.1 hex cap screw`."""
    return standard.replace("_", " ")


def asked_for(words: str, standard: str) -> str:
    """Our words and the standard; a standard with a product word is asked for by that: `hex cap screw ASME B18.2.1`.

    A product word that does not say what it is stands behind: `pan head tapping screw ASME B18.6.4 type ab pan`.
    """
    publisher, number, *product = standard.split(" ") if standard.count(" ") else (standard, "")
    told = standard_words(" ".join(product))
    if told.startswith("type ") and words.endswith("screw"):
        return f"{words} {publisher} {number} {told}"
    return f"{told or words} {publisher} {number}".rstrip()


def source_text(origin: Origin | None) -> str:
    """The table, row, publication and status of a figure; `derived` or `stated` where it is no row."""
    if origin is None:
        return "derived from the model"
    if not isinstance(origin, LibraryRow):
        return "stated in the file"
    words = STATUS_WORDS.get(origin.status, origin.status)
    return f"{origin.source or origin.table} [{origin.table}, {origin.key}]" + (f"; {words}" if words else "")


def listed(names: tuple[str, ...]) -> str:
    """Names in a row, each once, in order."""
    return ", ".join(dict.fromkeys(names))


def near_fraction(mm: float) -> str:
    """The nearest 64th of an inch, for a rule: `1-51/64`; `about` leads where it is not that length itself."""
    parts = math.floor(mm / 25.4 * INCH_STEPS + 0.5)
    whole, rest = divmod(parts, INCH_STEPS)
    shared = math.gcd(rest, INCH_STEPS)
    fraction = f"{rest // shared}/{INCH_STEPS // shared}" if rest else ""
    text = f"{whole}-{fraction}" if whole and rest else fraction or str(whole)
    return text if abs(mm / 25.4 - parts / INCH_STEPS) <= SAME_INCH else f"about {text}"
