"""Fixtures whose screws, bolts, nuts and keepers do not fit, one for each way in which it is said."""

from __future__ import annotations

from tests.laws.borders import adds, swap
from tests.laws.violations_feet import PAD, SCREW
from tests.laws.violations_hardware import BOLT, JAM, PIN, SLEEVE, WASHERS
from tests.messages.case import Case

BOLTS = (
    "bolt-not-sold", "bolt-too-long", "bolt-too-short", "no-bolt-fits", "screw-through-board", "head-proud", "thin-under-head",
)  # fmt: skip
PIVOTS = (
    "drive-not-locked",
    "stop-nut-may-turn",
    "no-room-for-spanner",
    "pivot-clamps-gear",
    "swelling-takes-play",
    "hex-corner-not-cut",
)
KEEPERS = (
    "keeper-hangs-free", "keeper-overlaps", "keeper-screw-unfit", "no-room-for-keeper-screws", "assembly-blocked", "gear-hits-hardware",
    "leaning-gear-touches", "strikes-board-below", "dust-packs-in-pocket",
)  # fmt: skip
SHEET = "thickness 17.8 +/- 0.2 mm"
OUTLINE = "outline rectangle 480 by 350 mm, corner_radius 12 mm"
THICK = swap(SHEET, "thickness 18.5 +/- 0.2 mm")
NUTTED = (
    swap("thread ST6.3", "thread M8")
    + swap("drill 5 mm")
    + swap(WASHERS, "washers ISO 7089, above and below")
    + swap(SLEEVE, "sleeve outside 10 mm")
)


def bolted(words: str, nut: str = "nut ISO 4032, above board, recessed 9 mm") -> str:
    """Pivots whose bolts go through gear and board."""
    return NUTTED + swap(PIN, words, nut)


def drive(words: str) -> str:
    """Another bolt of the drive."""
    return swap(BOLT, words)


def kept(outline: str, *facts: str, drop: float = 40, board: str = "rectangle 620 by 500 mm, corner_radius 12 mm") -> str:
    """Feet that slide, with a keeper under each gear."""
    return (
        swap(OUTLINE, f"outline {board}")
        + swap(
            "kind riding",
            "kind sliding_hex",
            f"held_by keeper, stock ply18, outline rectangle {outline} mm",
            *facts,
            "socket depth 12 mm",
        )
        + swap(SCREW, "screw ISO 4017, length 30 mm")
        + swap(PAD, f"post dome, drop {drop} mm")
    )


def skirted(room: str, clear: float = 2, board: str = "rectangle 500 by 380 mm, corner_radius 12 mm") -> str:
    """A second board below the gears, with a pocket or an opening."""
    pocket = f"pocket room\n  into skirt{room}\n  at skirt (250, 190) mm\n\n" if room else ""
    return (
        adds(
            f"board skirt\n  stock ply18\n  cutter straight6\n  outline {board}\n  under deck, centred\n  clear {clear} mm\n\n{pocket}"
        )
        + "".join(swap(line, line, "under deck") for line in ("carries corner", "turns_on pin", "turned_by crank"))
        + swap("kind riding", "kind riding", "into deck")
    )


CASES = (
    Case("bolt-not-sold", "the shorter screw", drive("bolt ISO 4762, head recessed 10.4 mm"), True),
    Case("bolt-not-sold", "no recess helps", drive("bolt ISO 4762, head recessed 9 mm, length 27.4 mm"), True),
    Case(
        "bolt-not-sold", "feet's screws of a length of their own", swap(SCREW, "screw ISO 4017, length 32 mm, pocket 5.8 mm"), True
    ),
    Case("bolt-too-long", "a pivot's bolt", bolted("bolt ISO 4017, head recessed 6 mm, length 45 mm"), True),
    Case("bolt-too-short", "a pivot's screw", swap(PIN, f"{PIN}, length 16 mm"), True),
    Case(
        "bolt-too-short",
        "nothing fits",
        drive("bolt ISO 4762, head recessed 9 mm, length 20 mm")
        + swap(JAM, "jam_nut ISO 4035, below gear, recessed 2 mm, round 24 mm"),
    ),
    Case("no-bolt-fits", "a wood screw between two that are sold", swap(SLEEVE) + THICK, True),
    Case(
        "no-bolt-fits",
        "a board too thin for its wood screws",
        swap(SHEET, "thickness 9 +/- 0.2 mm") + swap(PIN, "screw ISO 7049, head recessed 2 mm"),
        True,
    ),
    Case("no-bolt-fits", "sheets that vary", swap(SHEET, "thickness 17.8 +/- 2.2 mm")),
    Case("no-bolt-fits", "a foot's screw longer than any", swap(SCREW, "screw ISO 4017, length 220 mm, pocket 5.8 mm"), True),
    Case(
        "no-bolt-fits",
        "a pivot's nut let in deeper",
        bolted("bolt ISO 4017, head recessed 6 mm", "nut ISO 4032, above board, recessed 3 mm"),
        True,
    ),
    Case("screw-through-board", "near the topside", swap(PIN, f"{PIN}, length 31.5 mm"), True),
    Case("head-proud", "no recess stated", drive("bolt ISO 4762"), True),
    Case("thin-under-head", "through the board", drive("bolt ISO 4762, head recessed 17.7 mm"), True),
    Case(
        "thin-under-head", "half a thin sheet", swap(SHEET, "thickness 9 +/- 0.2 mm") + drive("bolt ISO 4762, head recessed 5 mm")
    ),
    Case("no-room-for-spanner", "a hexagon recess", swap(JAM, "jam_nut ISO 4035, below gear, recessed 6 mm"), True),
    Case("no-room-for-spanner", "hexagon heads of two pivots", bolted("bolt ISO 4017, head recessed 7 mm"), True),
    Case("pivot-clamps-gear", "without a sleeve", swap(SLEEVE) + swap("play 0.3 mm", "play 0.05 mm"), True),
    Case("pivot-clamps-gear", "a shoulder", swap(SLEEVE, "shoulder 8 mm") + swap("play 0.3 mm", "play 0.1 mm")),
    Case("swelling-takes-play", "without a sleeve", swap(SLEEVE), True),
    Case(
        "swelling-takes-play",
        "a damp shop",
        swap("inserts guide_block", "inserts guide_block", "moisture 5..14 percent") + swap("play 0.3 mm", "play 0.4 mm"),
        True,
    ),
    Case("hex-corner-not-cut", "a head that slides", kept("170 by 70") + swap("diameter 6 mm", "diameter 7.9 mm"), True),
    Case(
        "hex-corner-not-cut",
        "a nut",
        swap("kind riding", "kind captured_nut")
        + swap(
            SCREW,
            "rod DIN 976-1, length 50 mm",
            "nut ISO 4032, pocket underside",
            "held_by keeper, stock ply18, outline rectangle 170 by 60 mm",
            "rod_stop cross_pin 3 mm",
        )
        + swap("insert my_insert, driven_from topside, flush underside")
        + swap("diameter 6 mm", "diameter 9 mm"),
    ),
    Case("keeper-hangs-free", "one side under the board", kept("170 by 70", board="rectangle 440 by 500 mm"), True),
    Case("keeper-screw-unfit", "too short", kept("170 by 70", "keeper_screws ISO 7049 ST4.2, length 22 mm"), True),
    Case(
        "keeper-screw-unfit", "the point close under the topside", kept("170 by 70", "keeper_screws ISO 7049 ST4.2, length 48.8 mm")
    ),
    Case(
        "keeper-screw-unfit", "a head let in too deep", kept("170 by 70", "keeper_screws ISO 7049 ST4.2, head recessed 15 mm"), True
    ),
    Case(
        "gear-hits-hardware", "near the head of a pivot", adds("gear spare\n  teeth 20\n  at (132, 102.2) mm\n  turns_on pin"), True
    ),
    Case("gear-hits-hardware", "a keeper", kept("260 by 150"), True),
    Case(
        "strikes-board-below",
        "near the wall",
        skirted(", topside\n  outline rectangle 461 by 350 mm, corner_radius 20 mm\n  through"),
        True,
    ),
    Case(
        "strikes-board-below", "into the wall", skirted("\n  outline rectangle 440 by 350 mm, corner_radius 20 mm\n  through"), True
    ),
    Case("strikes-board-below", "no pocket at all", skirted("", 20), True),
    Case("strikes-board-below", "a gear near the topside", skirted("", 18.2)),
)
