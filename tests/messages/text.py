"""Files that do not hold together: what is said before any check runs. Each edit of the base is one slip of a writer."""

from __future__ import annotations

from tests.laws.borders import adds, swap

THICKNESS = "thickness 17.8 +/- 0.2 mm"
SLIPS: tuple[tuple[str, str], ...] = (
    ("a unit forgotten", swap("size 1220 by 610 mm", "size 1220 by 610")),
    ("a space forgotten", swap("diameter 6 mm", "diameter 6mm")),
    ("a comma for a point", swap(THICKNESS, "thickness 17,8 +/- 0.2 mm")),
    ("a name misspelt", swap("turned_by crank", "turned_by cramk")),
    ("a name not declared", swap("turned_by crank", "turned_by handwheel")),
    ("a word misspelt", swap("teeth 16", "theeth 16")),
    ("a heading misspelt", "- gear hub\n+ geer hub\n"),
    ("a fact of another block", swap("teeth 16", "teeth 16", "backlash 0.5 mm")),
    ("a fact twice", swap("teeth 16", "teeth 16", "teeth 18")),
    ("a fact missing", swap("module 6 mm")),
    ("two facts that exclude each other", swap("turned_by crank", "turned_by crank", "turns_on pin")),
    ("a fraction of a tooth", swap("teeth 16", "teeth 16.5")),
    ("too few teeth", swap("teeth 16", "teeth 3")),
    ("a length below zero", swap("diameter 6 mm", "diameter -6 mm")),
    ("an angle for a length", swap("diameter 6 mm", "diameter 6 deg")),
    ("a sum of unlike things", swap("diameter 6 mm", "diameter 6 mm + 2")),
    ("a division by zero", swap("diameter 6 mm", "diameter 6 mm / 0")),
    ("one part too many", swap("turned_by crank", "turned_by crank, slowly")),
    ("hardware not in the library", swap("bolt ISO 4762, head recessed 9 mm", "bolt ISO 4711, head recessed 9 mm")),
    ("a size that its table lacks", swap("thread ST6.3", "thread ST6.2")),
    ("a row of its own table missing", swap("row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5", "row M10, 16.0 +/- 0.1, 15, 4, 15, 13.5")),
    ("a cell too few", swap("row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5", "row M8, 16.0 +/- 0.1, 15, 4, 15")),
    ("live thread outside its insert", swap("row M8, 16.0 +/- 0.1, 15, 4, 15, 13.5", "row M8, 16.0 +/- 0.1, 15, 4, 16, 13.5")),
    ("a name declared twice", adds("gear hub\n  teeth 20\n  turns_on pin")),
    ("a gear in mesh with itself", swap("with west at 180 deg", "with hub at 180 deg")),
    ("a foot whose kind lacks a fact", swap("screw ISO 4017, length 30 mm, pocket 5.8 mm")),
    ("a name that nothing uses", adds("sheet spare\n  thickness 12 +/- 0.2 mm")),
    ("a quote not closed", swap('source "measured: five of a box of fifty"', 'source "measured: five of a box of fifty')),
    ("a bracket not closed", adds("hole peg\n  into deck\n  diameter 12 mm\n  at (240, 40 mm")),
    ("a rule that does not exist", '+ accept few-teth because "tried"\n'),
    ("an acceptance that meets nothing", '+ accept thin-wall because "tried"\n'),
    ("a file that is not there", '+ read "shop.trivet"\n'),
)
