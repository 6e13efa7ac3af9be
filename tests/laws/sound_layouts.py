"""Where the gears of generated sound fixtures stand: trees, lines, rings and compound shafts whose tips clear one another.

All places are worked out here, by distances between circles; nothing is asked of the compiler. Lengths in mm, angles in degrees.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import atan2, cos, degrees, hypot, pi, radians, sin
from random import Random

CLEAR_MM = 4.0


@dataclass
class Wheel:
    """One gear of a layout. `parent` with `angle_deg`: the gear that it meshes with and its direction from there; `level` counts downwards.

    `meshes`: how many meshes lie between it and the drive, which says which way it turns.
    """

    name: str
    teeth: int
    x: float
    y: float
    role: str
    parent: str = ""
    angle_deg: float = 0.0
    level: int = 0
    meshes: int = 0
    shaft_with: str = ""


@dataclass
class Layout:
    """Gears in the order of their making, the one that the drive turns first; `ring` names those of a ring in order."""

    kind: str
    module: float
    wheels: list[Wheel] = field(default_factory=list)
    ring: tuple[str, ...] = ()
    first_at_deg: float = 0.0

    def tip(self, wheel: Wheel) -> float:
        return self.module * (wheel.teeth + 2) / 2

    def named(self, name: str) -> Wheel:
        return next(wheel for wheel in self.wheels if wheel.name == name)

    @property
    def feet(self) -> list[Wheel]:
        return [wheel for wheel in self.wheels if wheel.role == "foot"]

    def beside(self, name: str, parent: str, teeth: int, angle_deg: float, role: str) -> Wheel:
        """A gear in mesh with another, in a direction from it."""
        old = self.named(parent)
        apart = self.module * (old.teeth + teeth) / 2
        angle = round(angle_deg, 2)
        x, y = old.x + apart * cos(radians(angle)), old.y + apart * sin(radians(angle))
        made = Wheel(name, teeth, x, y, role, parent, angle, old.level, old.meshes + 1)
        self.wheels.append(made)
        return made

    @property
    def clears(self) -> bool:
        """No two gears of a level that are not in mesh come near; nor does a gear come near a shaft of another level."""
        meshed = {frozenset((wheel.name, wheel.parent)) for wheel in self.wheels if wheel.parent}
        meshed |= {frozenset((one, self.ring[index - 1])) for index, one in enumerate(self.ring)}
        for index, one in enumerate(self.wheels):
            for other in self.wheels[:index]:
                if frozenset((one.name, other.name)) in meshed or one.name == other.shaft_with:
                    continue
                apart = hypot(one.x - other.x, one.y - other.y)
                near = self.tip(one) + self.tip(other) if one.level == other.level else max(self.tip(one), self.tip(other)) + 16
                if apart < near + CLEAR_MM:
                    return False
        return True

    @property
    def stands(self) -> bool:
        """The middle of the hub's box lies well inside the feet: no two feet next to each other are 160 deg apart as it sees them."""
        cx, cy = self.middle
        seen = sorted(degrees(atan2(foot.y - cy, foot.x - cx)) % 360 for foot in self.feet)
        gaps = [(after - before) % 360 for before, after in zip(seen, [*seen[1:], seen[0] + 360], strict=True)]
        return all(0 < gap < 160 for gap in gaps)

    @property
    def middle(self) -> tuple[float, float]:
        """The mean place of the feet."""
        return sum(f.x for f in self.feet) / len(self.feet), sum(f.y for f in self.feet) / len(self.feet)


def _cross(rng: Random, module: float) -> Layout:
    """Feet all round the hub, in mesh with it."""
    count = rng.choice((3, 3, 4, 4, 5, 6))
    made = Layout("cross", module)
    teeth = rng.randint(18, 24)
    made.wheels.append(Wheel("hub", rng.randint(20, 30) if count < 5 else rng.randint(26, 44), 0, 0, "drive"))
    begin = rng.choice((0, 30, 45, 90)) if rng.random() < 0.7 else rng.uniform(0, 90)
    for index in range(count):
        made.beside(f"f{index}", "hub", teeth, begin + index * 360 / count, "foot")
    return made


def _arms(rng: Random, module: float) -> Layout:
    """Chains of idlers from the hub, a foot at the end of each."""
    made = Layout("arms", module)
    made.wheels.append(Wheel("hub", rng.randint(18, 30), 0, 0, "drive"))
    count, teeth, long = rng.choice((3, 3, 4)), rng.randint(18, 24), rng.choice((1, 1, 2))
    begin = rng.uniform(0, 90)
    for index in range(count):
        at, last = begin + index * 360 / count, "hub"
        for step in range(long if rng.random() < 0.7 else 3 - long):
            last = made.beside(f"i{index}{'ab'[step]}", last, rng.randint(18, 26), at, "idler").name
            at += rng.uniform(-20, 20)
        made.beside(f"f{index}", last, teeth, at, "foot")
    return made


def _line(rng: Random, module: float) -> Layout:
    """A row of gears through the hub, and feet on both sides of some of them."""
    made = Layout("line", module)
    teeth = rng.randint(18, 24)
    made.wheels.append(Wheel("hub", teeth + rng.randint(-1, 4), 0, 0, "drive"))
    row = {0: "hub"}
    for side, angle in ((-1, 180), (1, 0)):
        for step in range(1, rng.choice((2, 3))):
            row[side * step] = made.beside(f"r{'w' if side < 0 else 'e'}{step}", row[side * (step - 1)], teeth, angle, "idler").name
    ends = (min(row), max(row))
    spread = rng.uniform(0, 30)
    for end in ends:
        outwards = 180 if end < 0 else 0
        for sign in (-1, 1):
            made.beside(f"f{'w' if end < 0 else 'e'}{'ns'[sign < 0]}", row[end], teeth, outwards + sign * (90 - spread), "foot")
    return made


def _ring(rng: Random, module: float) -> Layout:
    """Equal gears evenly round a circle, every second one on a foot, one of the others turned by the drive."""
    count, teeth = rng.choice((6, 8, 8, 10)), rng.randint(18, 24)
    made = Layout("ring", module, first_at_deg=round(rng.uniform(0, 90), 1))
    radius = module * teeth / 2 / sin(pi / count)
    names = [f"f{i // 2}" if i % 2 == 0 else ("hub" if i == count - 1 else f"i{i // 2}") for i in range(count)]
    for index, name in enumerate(names):
        turn = radians(made.first_at_deg + index * 360 / count)
        role = "drive" if name == "hub" else "foot" if index % 2 == 0 else "idler"
        steps = (index + 1) % 2
        made.wheels.append(Wheel(name, teeth, radius * cos(turn), radius * sin(turn), role, meshes=steps))
    made.ring = tuple(names)
    made.wheels.insert(0, made.wheels.pop())
    return made


def _compound(rng: Random, module: float) -> Layout:
    """The drive turns a wheel; a pinion below it on its shaft turns a sun, in mesh with all feet."""
    made = Layout("compound", module)
    made.wheels.append(Wheel("sun", rng.randint(36, 48), 0, 0, "idler", level=1, meshes=2))
    count, teeth, begin = rng.choice((3, 4)), rng.randint(18, 22), rng.uniform(0, 360)
    for index in range(count):
        made.beside(f"f{index}", "sun", teeth, begin + index * 360 / count, "foot")
    pinion = made.beside("pinion", "sun", rng.randint(18, 20), begin + 180 / count + rng.uniform(-8, 8), "shaft")
    sun = made.named("sun")
    sun.parent, sun.angle_deg = "pinion", round((pinion.angle_deg + 180) % 360, 2)
    wheel = Wheel("wheel", rng.randint(20, 32), pinion.x, pinion.y, "idler", level=0, meshes=1)
    pinion.parent, pinion.shaft_with, pinion.meshes = "", "wheel", 1
    made.wheels.append(wheel)
    hub = made.beside("hub", "wheel", rng.randint(18, 24), pinion.angle_deg + rng.uniform(-40, 40), "drive")
    wheel.parent, wheel.angle_deg, hub.meshes, hub.parent = "hub", round((hub.angle_deg + 180) % 360, 2), 0, ""
    return made


_KINDS = {"cross": _cross, "arms": _arms, "line": _line, "ring": _ring, "compound": _compound}


def layout(rng: Random, module: float, compound: bool = True) -> Layout:
    """A layout that clears and stands; one that does not is thrown away and drawn again."""
    kinds = sorted(kind for kind in _KINDS if compound or kind != "compound")
    kind = rng.choice(kinds)
    while True:
        made = _KINDS[kind](rng, module)
        if made.clears and made.stands:
            return made
