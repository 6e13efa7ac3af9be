"""What generated sound fixtures carry beside their train: holes, pockets, magnets, workpieces, loads. Lengths in mm."""

from __future__ import annotations

from math import hypot

from tests.laws.sound_choices import Sound
from tests.laws.sound_hardware import riding_screw


def _free(made: Sound, width: float, depth: float, taken: list[tuple[float, float]]) -> tuple[float, float] | None:
    """A place 50 mm from every shaft and every other feature, and 30 mm from every edge."""
    rng = made.rng
    for _ in range(40):
        x, y = rng.uniform(30, width - 30), rng.uniform(30, depth - 30)
        shafts = [(wheel.x, wheel.y) for wheel in made.layout.wheels]
        if all(hypot(x - a, y - b) > 50 for a, b in (*shafts, *taken)):
            taken.append((x, y))
            return x, y
    return None


def extras(made: Sound, width: float, depth: float) -> list[str]:
    """Blocks that go with any fixture; each is there now and then."""
    rng, mm = made.rng, made.mm
    found: list[str] = []
    taken: list[tuple[float, float]] = []
    on = made.on
    kinds = {
        "hole": f"  into deck\n  dowel {mm(rng.choice((12, 19, 20)))}\n  fit slide\n",
        "pocket": f"  into deck, topside\n  outline slot {made.by(24, 12)}\n  depth {mm(rng.uniform(3, 8))}\n",
        "magnet": f"  into deck, topside\n  disc {made.by(10, 3)}\n  fit push\n",
        "engrave": f'  into deck, topside\n  text "A1"\n  height {mm(8)}\n  depth {mm(0.5)}\n',
    }
    for kind, facts in kinds.items():
        for index in range(rng.choice((0, 0, 1, 2))):
            place = _free(made, width, depth, taken)
            if place is not None:
                found.append(f"{kind} {kind}_{index}\n{facts}  at {on}{made.pair(*place)}\n")
    if rng.random() < 0.3:
        found.append(f"load plank\n  force {rng.randint(20, 60)} N at {on}{made.pair(*made.layout.middle)}, down\n")
    if made.kind == "riding" and rng.random() < 0.3:
        # Any riding fixture here reaches 1 to 2 mm above its lowest: see the sums of its feet.
        found.append("require travel >= " + mm(1) + "\n")
    if made.two_boards and rng.random() < 0.5:
        places = [place for place in (_free(made, width, depth, taken), _free(made, width, depth, taken)) if place is not None]
        if places:
            lines = "".join(f"  at deck {made.pair(*place)}\n" for place in places)
            found.append(
                f"dowel register\n  diameter {mm(10)}\n  length {mm(30)}\n  into base, fit press\n  into deck, fit slide\n{lines}"
            )
    if rng.random() < 0.2:
        edge, wide = rng.choice(("left", "right", "near", "far")), rng.uniform(4, 10)
        on_deck = "  into deck\n" if made.on else ""
        found.append(f"cut_zone kerf\n{on_deck}  edge {edge}, width {mm(wide)}, depth {mm(8)}\n")
    found += _workpiece(made)
    if rng.random() < 0.1:
        found.append(f"spacer shim\n  stock ply\n  cutter straight\n  outline circle {mm(24)}\n  bore {mm(8.5)}\n  quantity 4\n")
    return found


def _workpiece(made: Sound) -> list[str]:
    """A range well inside what a riding foot reaches.

    Its screw stands s out of the gear: at the lowest its tip is under the topside, at the highest one diameter is in the thread and
    half the gear's face in mesh. Under the board hang the gear, then the pad less the 0.5 mm by which the head lies deeper. An idler
    hangs lower by its washer, 1 mm of play and the lean of its rim in a bore that is 0.15 mm wide and at most 10.5 mm short of the gear.
    """
    if made.kind != "riding" or made.layout.kind == "compound" or made.two_boards or made.rng.random() < 0.6:
        return []
    pocket, length = riding_screw(made)
    stands_out = length - made.gear + pocket
    rim = max(made.layout.tip(wheel) for wheel in made.layout.wheels)
    idler = 1.8 + 1.0 + rim * 0.15 / (made.gear - 10.5) - (made.pad_drop - 0.5)
    lowest = max(0.0, stands_out - made.board, idler) + 1.5
    highest = min(stands_out - 1 - float(str(made.sizes["d"])), made.gear / 2) - 1.5
    if lowest + 0.5 > highest:
        return []
    least, most = (made.board + made.gear + made.pad_drop - 0.5 + out for out in (lowest, highest))
    return [f"workpiece stock_piece\n  thickness {made.mm(least).split()[0]}..{made.mm(most)}\n"]
