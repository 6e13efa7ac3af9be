"""Fixtures whose feet have no stroke, or too little, one for each way in which it is said."""

from __future__ import annotations

from tests.laws.borders import adds, swap
from tests.laws.violations_feet import INSERT, NO_TABLE, PAD, ROW, SCREW
from tests.messages.case import Case

STROKES = (
    "no-stroke", "teeth-part", "thread-leaves-insert", "tip-through-board", "screw-bottoms", "shank-in-insert", "head-hits-board",
    "hex-leaves-socket", "climber-shortens-travel", "stop-takes-travel", "workpiece-not-met", "short-engagement", "low-face-overlap",
)  # fmt: skip
FEET = (
    "insert-breaks-through", "insert-end-in-air", "insert-near-edge", "insert-presses-gear", "insert-wrong-way", "flange-lifts-off",
    "gear-rubs-bench", "gear-on-thread", "feet-rock", "thread-runs-back", "look-alike-threads", "nut-pushed-out", "split-between-faces",
)  # fmt: skip
SHEET = "thickness 17.8 +/- 0.2 mm"
OUTLINE = "outline rectangle 480 by 350 mm, corner_radius 12 mm"
THREAD = 'table odd_threads is thread\n  source "a rod"\n  columns thread, diameter mm, pitch mm, starts\n  row M8, 8, {}, {}'
CAPTURED = (
    "kind captured_nut", "rod DIN 976-1, length {} mm", "nut ISO 4032, pocket {}", "held_by keeper, stock ply18, outline rectangle 170 by 60 mm",
    "rod_stop cross_pin 3 mm",
)  # fmt: skip


def sliding(socket: float, length: float, post: str) -> str:
    """Feet whose heads slide in their gears."""
    return (
        swap("kind riding", "kind sliding_hex")
        + swap(SCREW, f"screw ISO 4017, length {length} mm", f"socket depth {socket} mm")
        + swap(PAD, post, "held_by keeper, stock ply18, outline rectangle 170 by 60 mm")
    )


def captured(length: float, pocket: str = "underside") -> str:
    """Feet whose nuts are held in their gears."""
    kind, *facts = (fact.format(length if "rod DIN" in fact else pocket) for fact in CAPTURED)
    return swap("kind riding", kind) + swap(SCREW, *facts) + swap(INSERT) + NO_TABLE


def climber(thread: str, length: float, start: float) -> str:
    """Idlers that ride a thread of their own."""
    rows = swap(ROW, ROW, f"row {thread}, 16.0 +/- 0.1, 15, 4, 15, 13.5") if thread != "M8" else ""
    return (
        adds(
            f"foot climber\n  kind riding\n  thread {thread}\n  screw ISO 4017, length {length} mm, pocket 5.8 mm\n"
            f"  insert my_insert, driven_from topside, flush underside\n  climbs from {start} mm"
        )
        + swap("turns_on pin", "carries climber")
        + rows
    )


def insert(words: str, row: str = "") -> str:
    """Another way to drive the insert, another row of its table."""
    return swap(INSERT, words) + (swap(ROW, row) if row else "")


def workpiece(thickness: str, more: str = "") -> str:
    """A workpiece that the board is to be flush with."""
    return adds(f"workpiece plank\n  thickness {thickness} mm" + (f"\n  {more}" if more else ""))


CASES = (
    Case(
        "no-stroke",
        "only at the worst sheets",
        swap(SCREW, "screw ISO 4017, length 22 mm, pocket 5.8 mm") + swap(SHEET, "thickness 17.8 +/- 0.9 mm"),
        True,
    ),
    Case(
        "teeth-part",
        "feet that stand lower",
        swap("backlash 0.5 mm", "backlash 0.5 mm", "face_overlap 17.8 mm") + swap(PAD, "pad dome, drop 2.5 mm"),
        True,
    ),
    Case(
        "tip-through-board",
        "a screw that nothing short of another replaces",
        swap(SCREW, "screw ISO 4017, length 150 mm, pocket 5.8 mm"),
        True,
    ),
    Case("thread-leaves-insert", "with a deeper pad", swap(SCREW, "screw ISO 4017, length 16 mm, pocket 5.8 mm"), True),
    Case(
        "shank-in-insert",
        "threaded up to its head",
        swap(SCREW, "screw ISO 4014, length 65 mm, pocket 5.8 mm") + swap(OUTLINE, OUTLINE, "layers 3"),
    ),
    Case("no-stroke", "an idler that climbs from too low", climber("M8-LH", 30, 5), True),
    Case("climber-shortens-travel", "another start leaves more", climber("M8-LH", 30, 0), True),
    Case("stop-takes-travel", "a little", swap("play 0.2 mm", "play 0.2 mm", "stop") + swap(PAD, "pad dome, drop 20 mm"), True),
    Case("workpiece-not-met", "thicker than it can reach", workpiece("60..61"), True),
    Case("workpiece-not-met", "partly met, on a riser", workpiece("15..22", "on riser 24 mm"), True),
    Case("workpiece-not-met", "a wide range", workpiece("10..30"), True),
    Case("workpiece-not-met", "a range too wide for blocks", workpiece("10..120")),
    Case("workpiece-not-met", "one thickness", workpiece("20")),
    Case(
        "insert-breaks-through",
        "a blind hole",
        insert("insert my_insert, driven_from topside, flush topside", "row M8, 16.0 +/- 0.1, 17.4, 4, 17.4, 13.5")
        + swap(PAD, PAD, "guide clearance 0.6 mm, length 2 mm"),
        True,
    ),
    Case(
        "insert-breaks-through",
        "out of the underside",
        insert("insert my_insert, driven_from topside, flush topside", "row M8, 16.0 +/- 0.1, 20, 4, 20, 13.5")
        + swap(PAD, PAD, "guide clearance 0.6 mm, length 2 mm"),
    ),
    Case(
        "insert-end-in-air",
        "deep enough to bare all of it",
        adds("hole sunk\n  into deck\n  diameter 20 mm\n  blind 16 mm\n  at (75.66341246569309, 280.9537111430713) mm")
        + swap("at deck.centre", "at (240, 175) mm"),
        True,
    ),
    Case(
        "insert-near-edge",
        "less than half its diameter",
        swap(OUTLINE, "outline rectangle 480 by 232 mm, corner_radius 12 mm"),
        True,
    ),
    Case(
        "insert-near-edge",
        "a cut beside it",
        adds(
            "hole peg\n  into deck\n  diameter 10 mm\n  at (90, 262) mm\nhole pin_hole\n  into deck\n  diameter 10 mm\n  at (404, 53) mm"
        ),
        True,
    ),
    Case(
        "insert-near-edge",
        "the edge of MDF",
        swap("size 1220 by 610 mm", "size 1220 by 610 mm", "material mdf")
        + swap(OUTLINE, "outline rectangle 480 by 238 mm, corner_radius 12 mm")
        + swap(ROW, "row M8, 10.0 +/- 0.1, 15, 4, 15, 9"),
    ),
    Case(
        "insert-wrong-way",
        "only because raising loosens it",
        insert("insert my_insert, driven_from underside, flush underside", "row M8, 16.0 +/- 0.1, 15, 0, 15, 13.5"),
        True,
    ),
    Case(
        "insert-wrong-way",
        "left-hand threads loosen it the other way",
        adds("foot left\n  like corner\n  thread M8-LH")
        + swap("carries corner", "carries left")
        + swap(ROW, ROW, "row M8-LH, 16.0 +/- 0.1, 15, 0, 15, 13.5"),
    ),
    Case("insert-wrong-way", "the live thread at the wrong end", swap(ROW, "row M8, 16.0 +/- 0.1, 15, 0, 10, 13.5"), True),
    Case(
        "insert-wrong-way",
        "turned round there is no travel",
        insert("insert my_insert, driven_from underside, flush underside", "row M8, 16.0 +/- 0.1, 15, 7, 15, 13.5"),
    ),
    Case(
        "flange-lifts-off",
        "a flanged insert",
        swap(
            "columns thread, outside mm, length mm, live_from mm, live_to mm, hole mm",
            "columns thread, outside mm, length mm, live_from mm, live_to mm, hole mm, flange_diameter mm, flange_thickness mm",
        )
        + swap(ROW, ROW + ", 22, 1.5"),
    ),
    Case("gear-rubs-bench", "with a pad that is too low", swap(PAD, "pad dome, drop 0.2 mm"), True),
    Case(
        "gear-on-thread",
        "a thinner screw",
        swap("sleeve outside 8 mm") + swap("thread ST6.3", "thread ST5.5") + swap("drill 5 mm", "drill 4.2 mm"),
    ),
    Case(
        "gear-on-thread",
        "part of a plain shank",
        swap("sleeve outside 8 mm")
        + swap("thread ST6.3", "thread M8")
        + swap("drill 5 mm")
        + swap("screw ISO 7049, head recessed 7 mm", "bolt ISO 4014, head recessed 2 mm", "nut ISO 4032, above board")
        + swap("washers ISO 7093-1 M6, above and below", "washers ISO 7089, above and below"),
        True,
    ),
    Case("thread-runs-back", "another thread's name", adds(THREAD.format(2, 3)), True),
    Case("look-alike-threads", "a foot's screw of another thread", swap(SCREW, "screw ISO 4017 M10, length 30 mm, pocket 5.8 mm")),
    Case(
        "look-alike-threads",
        "nearly one diameter",
        swap("thread ST6.3", "thread 5/16-18")
        + swap(
            "screw ISO 7049, head recessed 7 mm",
            "bolt ASME B18.3 socket_head_cap_screw, head recessed 10 mm",
            "nut ASME B18.2.2 hex_nut, above board, recessed 9 mm",
        )
        + swap("drill 5 mm")
        + swap("washers ISO 7093-1 M6, above and below", "washers ASME B18.21.1 type_a_narrow, above and below")
        + swap("sleeve outside 8 mm", "sleeve outside 10 mm"),
        True,
    ),
)
