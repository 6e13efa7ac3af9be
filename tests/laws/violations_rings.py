"""Violations of the rules of closed rings: triangles, kites whose phase is sought, rings of the sound fixtures."""

from __future__ import annotations

from math import acos, degrees, radians, sin, sqrt
from random import Random

from tests.laws.borders import Border, adds
from tests.laws.sound_texts import sound_text


def _triangle(rng: Random, value: float) -> str:
    """A gear in mesh with the hub and with an idler: three centres from the cosine rule."""
    teeth = int(value)
    at_hub, at_idler = 3 * (16 + teeth), 3 * (20 + teeth)
    angle = degrees(acos((108**2 + at_hub**2 - at_idler**2) / (2 * 108 * at_hub))) * rng.choice((-1, 1))
    idler, seen = rng.choice((("west", 180 - angle), ("east", angle)))
    return adds(
        f"gear extra\n  teeth {teeth}\n  turns_on pin\nmesh hub\n  with extra at {seen:.4f} deg\nmesh {idler}\n  with extra"
    )


def _tree(rng: Random, value: float) -> str:
    return adds(f"gear extra\n  teeth {int(value)}\n  turns_on pin\nmesh hub\n  with extra at {rng.choice((90, 270))} deg")


KITE = """\
fixture kite
sheet ply18
  thickness 17.8 +/- 0.2 mm
cutter straight4
  diameter 4 mm
tooth_form four
  module 4 mm
  backlash 0.8 mm
default gear
  stock ply18
  cutter straight4
  tooth_form four
board deck
  stock ply18
  cutter straight4
  outline rectangle 620 by 500 mm
gear hub
  teeth {hub}
  at (110, 250) mm
  turned_by crank
gear near_one, near_two
  teeth {near}
  turns_on pin
gear last
  teeth {last}
  at ({x:.6f}, 250) mm
  turns_on pin
mesh hub
  with near_one at {angle:.6f} deg
  with near_two at {minus:.6f} deg
mesh last
  with near_one
  with near_two
drive crank
  thread M8
  bolt ISO 4762
  nut tee_nut, above gear
pivot pin
  thread ST6.3
  screw ISO 7049
  drill 5 mm
  sleeve outside 8 mm
"""


def kite(rng: Random, value: float) -> str:
    """A ring of four whose alternating sum of z · phi / 360 deg is `value` off a whole number: the distance of its ends is sought.

    At the hub phi = 2a, at the far gear 2b, at the two between 180 deg - a - b; a and b from the cosine rule.
    """
    while True:
        hub, near, last = rng.randint(16, 24), rng.randint(26, 34), rng.randint(30, 44)
        one, two = 2.0 * (hub + near), 2.0 * (near + last)

        def angles(apart: float, one: float = one, two: float = two) -> tuple[float, float]:
            return (
                degrees(acos((apart**2 + one**2 - two**2) / (2 * apart * one))),
                degrees(acos((apart**2 + two**2 - one**2) / (2 * apart * two))),
            )

        def off(apart: float, hub: int = hub, near: int = near, last: int = last) -> float:
            a, b = angles(apart)
            return (hub * 2 * a + last * 2 * b - 2 * near * (180 - a - b)) / 360

        # The two between may not meet, nor the ends: apart a little more than both their tips.
        low, high = 2.0 * (hub + last) + 12, sqrt(one**2 + two**2)
        whole = [n for n in range(-60, 60) if off(high) < n + value < off(low)]
        if not whole:
            continue
        target = rng.choice(whole) + value
        for _ in range(60):
            middle = (low + high) / 2
            low, high = (middle, high) if off(middle) > target else (low, middle)
        a, _ = angles(low)
        if one * sin(radians(a)) * 2 < 4 * (near + 2) + 3:
            continue
        return KITE.format(hub=hub, near=near, last=last, x=110 + low, angle=a, minus=-a)


def _ring_of_sound(rng: Random, value: float) -> str:
    """A ring from the sound fixtures, or any other of their layouts."""
    while True:
        text = sound_text(rng.randint(0, 10**6))
        if ("ring train" in text) == (value > 0.5):
            return text


RINGS: dict[str, tuple[Border, ...]] = {
    "odd-ring": (Border(_triangle, (10, 30), whole=True), Border(_tree, None, (10, 30), whole=True)),
    # 0.8 mm of 12.57 mm is 0.064 of a pitch; what is shared out to four meshes is a fraction of a pitch in any case.
    "ring-out-of-phase": (Border(kite, (0.3, 0.7), (-0.003, 0.003)),),
    "closed-ring": (Border(kite, (-0.003, 0.003), (0.3, 0.7)), Border(_ring_of_sound, (0.6, 1), (0, 0.4))),
}
