"""Violations of the rules of bolts, nuts, pivots, threads and of what is said beside the fixture. Borders are worked out beside each entry.

The base: the drive's bolt fills its jam nut and stays in its gear from 36.1 to 36.7 mm less the recess of its head; a pivot's stack
under the board is 17.8 mm of gear less the recess of 7 mm, two washers of 1.6 mm and 0.3 mm of play: 14.3 mm.
"""

from __future__ import annotations

from random import Random

from tests.laws.borders import Border, adds, swap

BOLT = "bolt ISO 4762, head recessed 9 mm"
JAM = "jam_nut ISO 4035, below gear, recessed 6 mm, round 24 mm"
PIN = "screw ISO 7049, head recessed 7 mm"
SLEEVE = "sleeve outside 8 mm"
WASHERS = "washers ISO 7093-1 M6, above and below"
SHEET = "size 1220 by 610 mm"
DRIVE_PLAY = "play 0.2 mm"


def _recess(rng: Random, value: float) -> str:
    return swap(BOLT, f"bolt ISO 4762, head recessed {value} mm")


def _stated(rng: Random, value: float) -> str:
    """`value`: how much longer the bolt is than the middle of what fits."""
    recess = round(rng.uniform(8.3, 10.8), 2)
    return swap(BOLT, f"bolt ISO 4762, head recessed {recess} mm, length {36.4 - recess + value:.3f} mm")


def _pin_length(rng: Random, value: float) -> str:
    return swap(PIN, f"{PIN}, length {value} mm")


def _jam(rng: Random, value: float) -> str:
    return swap(JAM, f"jam_nut ISO 4035, below gear, recessed {value} mm, round 24 mm")


def _round(rng: Random, value: float) -> str:
    return swap(JAM, f"jam_nut ISO 4035, below gear, recessed 6 mm, round {value} mm")


def _unlocked(rng: Random, value: float) -> str:
    return swap(JAM) + (swap("nut tee_nut, above gear", "nut ISO 4032, above gear") if rng.random() < 0.5 else "")


def _locked(rng: Random, value: float) -> str:
    return _jam(rng, value) if rng.random() < 0.7 else swap(JAM, "jam_nut ISO 4032, below gear, recessed 9 mm, round 24 mm")


def _turned_with(rng: Random, value: float) -> str:
    return swap(DRIVE_PLAY, DRIVE_PLAY, f"turned_with {rng.choice(('driver', 'hand'))}, torque {value} Nm")


def _driver(rng: Random, value: float) -> str:
    return swap(DRIVE_PLAY, DRIVE_PLAY, "turned_with driver")


def _bare_pivot(rng: Random, value: float) -> str:
    washers = rng.choice((WASHERS, "washers ISO 7093-1 M6, above", "washers ISO 7089 M6, above and below"))
    return swap(SLEEVE) + swap(WASHERS, washers)


def _plain_pivot(rng: Random, value: float) -> str:
    return swap(SLEEVE, rng.choice((f"sleeve outside {value:.2f} mm", "shoulder 8 mm")))


def _pivot_play(rng: Random, value: float) -> str:
    """Without a sleeve the play is what is stated, at every sheet."""
    return swap(SLEEVE) + swap("play 0.3 mm", f"play {value} mm")


def _bolt_size(rng: Random, value: float) -> str:
    """A screw of another thread than the one it runs in, or two threads nearly of one diameter."""
    return rng.choice(
        (
            swap(BOLT, f"bolt ISO 4762 {rng.choice(('M6', 'M10', 'M12'))}, head recessed 9 mm"),
            swap(
                "screw ISO 4017, length 30 mm, pocket 5.8 mm",
                f"screw ISO 4017 {rng.choice(('M6', 'M10'))}, length 30 mm, pocket 5.8 mm",
            ),
            swap("thread ST6.3", "thread 5/16-18")
            + swap(
                PIN,
                "bolt ASME B18.3 socket_head_cap_screw, head recessed 10 mm",
                "nut ASME B18.2.2 hex_nut, above board, recessed 9 mm",
            )
            + swap("drill 5 mm")
            + swap(WASHERS, "washers ASME B18.21.1 type_a_narrow, above and below")
            + swap(SLEEVE, "sleeve outside 10 mm"),
        )
    )


def _same_size(rng: Random, value: float) -> str:
    return rng.choice(
        (
            swap(BOLT, "bolt ISO 4762 M8, head recessed 9 mm"),
            adds(f"hole tie\n  into deck\n  clearance {rng.choice(('M4', 'M12'))}\n  at (240, 40) mm"),
        )
    )


def _stop(rng: Random, value: float) -> str:
    return swap(DRIVE_PLAY, DRIVE_PLAY, rng.choice(("stop", "stop ISO 4035", "stop ISO 4032"))) + swap(
        "pad dome, drop 3 mm", f"pad dome, drop {value} mm"
    )


def _no_stop(rng: Random, value: float) -> str:
    return swap(DRIVE_PLAY, DRIVE_PLAY, f"dial marks 10, diameter {value} mm")


def _helper(rng: Random, value: float) -> str:
    """A bar without a mesh in one board, a guide block without an insert."""
    if rng.random() < 0.5:
        return (
            "- mesh hub\n-   with west at 180 deg\n-   with east at 0 deg\n- mesh west\n-   with nw at 118 deg\n-   with sw at 242 deg\n"
            "- mesh east\n-   with ne at 62 deg\n-   with se at 298 deg\n+ helper centring_bar\n"
        )
    return "+ helper guide_block\n" + swap("carries corner", "turns_on pin")


def _used_helper(rng: Random, value: float) -> str:
    return f"+ helper {rng.choice(('guide_block', 'shims', 'centring_bar'))}\n"


def _unused(rng: Random, value: float) -> str:
    facts = rng.choice(("slot_width 6.1 mm", f"scale {1 + rng.randint(1, 20) / 10000:.4f}", f"slot_width {rng.randint(60, 64) / 10} mm", "skew 0.02 deg"))
    if rng.random() < 0.3:
        return swap(
            *rng.choice((("teeth 16", "teeth 16", "flip alternate"), ("carries corner", "carries corner", "flip alternate")))
        )
    return adds(f"machine router_{rng.randint(1, 9)}\n  {facts}")


def _used(rng: Random, value: float) -> str:
    return swap(SHEET, f"size 1220 by {value} mm", "face_grain along x")


def _empty(rng: Random, value: float) -> str:
    more = rng.sample(
        (
            "sheet ply\n  thickness 17.8 +/- 0.2 mm",
            "cutter straight\n  diameter 6 mm",
            "shop\n  inserts guide_block",
            "parameter slack 0.5 mm",
            "tooth_form coarse\n  module 6 mm\n  backlash 0.5 mm",
            "workpiece plank\n  thickness 18..20 mm",
        ),
        rng.randint(0, 4),
    )
    return "\n".join((f"fixture bare{rng.randint(1, 99)}", *more))


def _plain(rng: Random, value: float) -> str:
    return swap("hardware metric", "hardware metric", f'title "T{int(value)}"')


def _swelling(rng: Random, value: float) -> str:
    return swap("play 0.3 mm", f"play {value} mm")


def _damp(rng: Random, value: float) -> str:
    """From 6 to 12 percent take 0.37 mm of 17.8 mm: 0.062 mm a percent; 0.3 mm of play less the 0.2 mm that stay."""
    low = round(rng.uniform(5, 8), 2)
    return swap("inserts guide_block", "inserts guide_block", f"moisture {low}..{low + value:.2f} percent") + swap(
        "play 0.3 mm", "play 0.5 mm"
    )


HARDWARE: dict[str, tuple[Border, ...]] = {
    # It ends at the bench at the latest, 38.4 mm less the recess: 30 mm are sold, for heads 6.1 to 8.4 mm deep, 25 mm, for 11.1 to 13.4 mm.
    "bolt-not-sold": (Border(_recess, (8.7, 10.9), (6.2, 8.2)), Border(_recess, (8.7, 10.9), (11.3, 13.2))),
    # A stated bolt may stand out of its gear, but not as far as the bench: the pad stands 2.5 mm out of gears of the same level.
    "bolt-too-long": (Border(_stated, (2.2, 30), (-0.25, 1.3)),),
    # A pivot's screw wants 1.5 d = 9.45 mm of wood beside the stack of 14.3 mm, and 0.6 mm for what varies.
    "bolt-too-short": (Border(_stated, (-15, -0.4), (-0.25, 0.25)), Border(_pin_length, (11, 23.5), (24.6, 30))),
    # The point stays 1 mm under 17.8 mm of board: 31.1 mm, less what varies.
    "screw-through-board": (Border(_pin_length, (31.2, 50), (22, 29.8)),),
    # Between a filled nut and the end of the gear lie the recess less the nut's 4 mm, less 1.4 mm of spread.
    "no-bolt-fits": (Border(_jam, (4.1, 5.3), (5.5, 8)),),
    "drive-not-locked": (Border(_unlocked, (0, 1)), Border(_locked, None, (5.6, 8))),
    "driver-can-break-teeth": (Border(_turned_with, (20, 200), (0.2, 2)), Border(_driver, (0, 1))),
    "gear-on-thread": (Border(_bare_pivot, (0, 1)), Border(_plain_pivot, None, (7.5, 12))),
    "pivot-clamps-gear": (Border(_pivot_play, (0.01, 0.19), (0.21, 1)),),
    "swelling-takes-play": (Border(_swelling, (0.2, 0.54), (0.62, 1)), Border(_damp, (6.5, 12), (0.5, 4))),
    "look-alike-threads": (Border(_bolt_size, (0, 1)), Border(_same_size, None, (0, 1))),
    "stop-takes-travel": (Border(_stop, (0, 5), (35, 50)), Border(_no_stop, None, (30, 50))),
    "helper-without-use": (Border(_helper, (0, 1)), Border(_used_helper, None, (0, 1))),
    "statement-not-yet-used": (Border(_unused, (0, 1)), Border(_used, None, (500, 900))),
    "nothing-declared": (Border(_empty, (0, 1)), Border(_plain, None, (1, 99))),
    # M8 heads are 8 mm high.
    "head-proud": (Border(_recess, (1, 7.95), (8.2, 11)),),
    # 6 mm of 17.6 mm, or half of the sheet, which is more.
    "thin-under-head": (Border(_recess, (12.1, 16), (5, 11.5)),),
    # The root circle of 16 teeth: 6 · (16 - 2.5) = 81 mm; two modules are 12 mm on either side.
    "thin-gear-rim": (Border(_round, (57.2, 79), (24, 56.8)),),
}
