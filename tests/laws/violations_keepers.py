"""Violations of the rules of what holds a keeper and of what joins the gears of a shaft. Where a border lies is worked out beside each entry.

The base: board, gears and keeper of 17.8 +/- 0.2 mm; the feet's gears have 20 teeth of module 6 mm, tips 66 mm from their axes.
A stand-off is 18 + 0.3 = 18.3 mm high. Heads of ISO 7049 ST4.2 are 3.1 mm high at most and 8 mm wide: they lie 4 +/- 0.2 mm deep.
"""

from __future__ import annotations

from random import Random

from tests.laws.borders import Border, swap

OUTLINE = "outline rectangle 480 by 350 mm, corner_radius 12 mm"


def _kept(outline: str, *more: str) -> str:
    return (
        swap(OUTLINE, "outline rectangle 620 by 500 mm, corner_radius 12 mm")
        + swap(
            "kind riding",
            "kind sliding_hex",
            f"held_by keeper, stock ply18, outline rectangle {outline} mm",
            "socket depth 12 mm",
            *more,
        )
        + swap("screw ISO 4017, length 30 mm, pocket 5.8 mm", "screw ISO 4017, length 30 mm")
        + swap("pad dome, drop 3 mm", "post dome, drop 40 mm")
    )


def _length(rng: Random, value: float) -> str:
    """From 18 - 3.8 + 18.3 + 1.5 · 4.22 = 38.83 mm to 17.6 - 4.2 + 18.3 + 17.6 - 1 = 48.3 mm."""
    return _kept("170 by 70", f"keeper_screws ISO 7049 ST4.2, length {value} mm")


def _deep(rng: Random, value: float) -> str:
    """17.6 mm of keeper less the recess and 0.2 mm: 6 mm are left at 11.4 mm. A screw of 38 mm then has 10 mm and more in the board."""
    return _kept("170 by 70", f"keeper_screws ISO 7049 ST4.2, length 38 mm, head recessed {value} mm")


def _narrow(rng: Random, value: float) -> str:
    """The recess for the smaller head, ST3.5, is 7 + 1 = 8 mm wide and wants 2 mm of wood either side: 12 mm."""
    return _kept(f"170 by {value}")


def _short(rng: Random, value: float) -> str:
    """66 mm over the teeth, 1 mm, half a sleeve of 8 mm, half a recess of 9 mm and 2 mm of wood: 77.5 mm, twice that along a narrow plate."""
    return _kept(f"{value} by 14", "keeper_screws ISO 7049 ST4.2")


def _near_teeth(rng: Random, value: float) -> str:
    """A stand-off of 8 mm has its middle at 66 + 1 + 4 = 71 mm or more."""
    return _kept("170 by 70", f"stand_off_at ({value}, 0) mm", "stand_off_at (-74, 0) mm", "stand_offs sleeve outside 8 mm")


def _dowels(rng: Random, value: float) -> str:
    """Roots of 20 and 25 teeth: the smaller has 60 - 7.5 = 52.5 mm, less two modules: 40.5 mm. The pivot's head lies in a recess for its
    washer, 18 + 1 mm wide: 9.5 + 3 = 12.5 mm. In a ring of 28 mm two dowels take their diameter and 2.05 mm.
    """
    return (
        "- gear west, east\n+ gear low_w\n+   teeth 25\n+   on_shaft_with west, below\n"
        f"+   joined_by dowels {value} mm\n+ \n+ gear west, east\n"
    )


def _clamped(rng: Random, value: float) -> str:
    """An idler's pivot has no nuts that clamp: `value` is the number of teeth."""
    return (
        f"- gear west, east\n+ gear low_w\n+   teeth {int(value)}\n+   on_shaft_with west, below\n+   joined_by clamped\n+ \n"
        "+ gear west, east\n"
    )


def _stop(rng: Random, value: float) -> str:
    """Nothing is stated, whatever the play."""
    return swap("play 0.2 mm", f"play {value} mm", rng.choice(("stop", "stop ISO 4032", "stop ISO 4035")))


def _locked(rng: Random, value: float) -> str:
    lock = f"locked_by {rng.choice(('thread_locker', 'jam_nut', 'cross_pin'))}"
    return swap("play 0.2 mm", f"play {value} mm", rng.choice((f"stop {lock}", f"stop ISO 4032, {lock}")))


KEEPER_RULES: dict[str, tuple[Border, ...]] = {
    "gears-joined-by-nothing": (Border(_dowels, (26, 60), (3, 25.9)), Border(_clamped, (18, 40))),
    "stop-nut-may-turn": (Border(_stop, (0.1, 0.5)), Border(_locked, None, (0.1, 0.5))),
    "keeper-screw-unfit": (
        Border(_length, (48.4, 70), (38.9, 48.2)),
        Border(_length, (12, 38.7), (38.9, 48.2)),
        Border(_deep, (11.5, 17), (5, 11.3)),
    ),
    "no-room-for-keeper-screws": (
        Border(_narrow, (8, 11.9), (12.1, 90)),
        Border(_short, (152.1, 154.9), (155.1, 200)),
        Border(_near_teeth, (60, 70.9), (71.1, 78)),
    ),
}
