"""Drive, pivot, feet and tables of generated sound fixtures; every length is the sum that stands beside it. Lengths in mm."""

from __future__ import annotations

from math import ceil

from tests.laws.sound_choices import SPREAD_MM, Sound

# Tapping screws that are sold, ISO 7049.
SOLD_TAPPING_MM = (19.0, 22.0, 25.0, 32.0, 38.0, 45.0, 50.0)


def sold(length: float) -> float:
    """A length in steps of 5 mm, from 2 mm below the one that is wanted to 3 mm above."""
    return ceil((length - 2) / 5) * 5.0


def drive(made: Sound) -> str:
    """The bolt has to fill the jam nut and must not stand out of the gear. Between the two lie what the recess is deeper than the
    nut is high, less the spread of all sheets it goes through: the recess is chosen so that 1 mm is left, and the length, if it is
    stated, is the middle of the range. Longer screws of the kind have a plain shank, so none above 28 mm is stated."""
    rng, mm = made.rng, made.mm
    boards = made.board_layers + made.two_boards
    jam = float(made.sizes["jam"])
    recessed = jam + 1.6 + 2 * SPREAD_MM * (boards + made.gear_layers) + made.gear - made.sheet
    head = rng.uniform(9.2, 10.8)
    over = made.sheet * boards - head
    length = over + 0.2 + float(made.sizes["flange"]) + made.gear - (recessed - jam) / 2
    stated = f", length {mm(round(length, 1))}" if length < 28 and rng.random() < 0.6 and not made.inch_units else ""
    if made.inch_hardware:
        bolt, nut = "ASME B18.3 socket_head_cap_screw", "ASME B18.2.2 hex_jam_nut"
    else:
        bolt, nut = "ISO 4762", "ISO 4035"
    return (
        f"drive crank\n  thread {'5/16-18' if made.inch_hardware else 'M8'}\n  bolt {bolt}, head recessed {mm(head)}{stated}\n"
        f"  fit fine\n  nut tee_nut, above gear\n"
        f"  jam_nut {nut}, below gear, recessed {mm(recessed)}, round {mm(25)}\n  play {mm(0.2)}\n"
    )


def pivot(made: Sound) -> list[str]:
    """Under the board come two washers of 1.6 mm, 0.6 mm of play and the gears of the shaft. The wood takes 1.5 d = 9.45 mm at least
    and its thickness less 1 mm at most; the recess is such that a length that is sold ends halfway between."""
    if not any(wheel.role == "idler" for wheel in made.layout.wheels):
        return []
    gears = made.gear * (2 if made.layout.kind == "compound" else 1)
    middle = gears + 3.8 + (10 + min(made.board, 18) - 1.5) / 2
    length = max(length for length in SOLD_TAPPING_MM if middle - length >= 6.5)
    sleeve = f"  sleeve outside {made.mm(8)}\n" if made.rng.random() < 0.8 else ""
    return [
        f"pivot pin\n  thread ST6.3\n  screw ISO 7049, head recessed {made.mm(middle - length)}\n  drill {made.mm(5)}\n"
        f"  washers ISO 7093-1 M6, above and below\n{sleeve}  play {made.mm(0.6)}\n"
    ]


def feet(made: Sound, names: list[str]) -> list[str]:
    """The sets of feet; a name says the hand of the thread and which way the keeper lies."""
    longest = max(made.layout.tip(foot) for foot in made.layout.feet) + 14
    return [_foot(made, name, longest) for name in names]


def _foot(made: Sound, name: str, long: float) -> str:
    """A screw stands s out of its gear. At its lowest the tip stays under the topside; at the end of the travel one diameter is
    still in the live thread, which begins 1 mm above the underside: s - max(0, s - board) - 1 - d has to be 2 mm or more. On a lower
    level of gears it is longer by one gear, its washer and play."""
    mm, sizes = made.mm, made.sizes
    thread = f"{sizes['thread']}{'-LH' if name.startswith('left') else ''}"
    insert = "insert brass, driven_from topside, flush underside"
    keeper = made.by(2 * long, 50) if name.endswith("x") else made.by(50, 2 * long)
    lower = made.gear + 1 if made.layout.kind == "compound" else 0.0
    into = f"  into {made.over}\n" if made.over else ""
    held = f"held_by keeper, stock ply, outline rectangle {keeper}"
    if made.kind == "riding":
        pocket, length = riding_screw(made)
        screw = f"ASME B18.2.1 hex_cap_screw, length {_inches(length)}" if made.inch_hardware else f"ISO 4017, length {mm(length)}"
        return (
            f"foot {name}\n  kind riding\n{into}  thread {thread}\n  screw {screw}, pocket {mm(pocket)}\n"
            f"  pad dome, drop {mm(made.pad_drop)}\n  {insert}\n"
        )
    if made.kind == "captured_nut":
        length = made.board + made.gear + made.sheet + 8 + 2 * made.pad_drop + lower
        return (
            f"foot {name}\n  kind captured_nut\n  thread {thread}\n  rod DIN 976-1, length {mm(round(length))}\n"
            f"  nut ISO 4032, pocket underside\n  {held}\n  rod_stop cross_pin {mm(3)}\n  pad dome, drop {mm(3)}\n"
        )
    depth = 12 + made.gear - made.sheet
    length = sold(made.gear - depth + min(made.board, 18) - 0.5 + lower)
    return (
        f"foot {name}\n  kind sliding_hex\n  thread {thread}\n  screw ISO 4017, length {mm(length)}\n  socket depth {mm(depth)}\n"
        f"  post dome, drop {mm(depth + made.sheet + 2 * made.pad_drop)}\n  {held}\n  {insert}\n"
    )


def riding_screw(made: Sound) -> tuple[float, float]:
    """The depth of the pocket for the head, 0.5 mm deeper than it is high, and the length of the screw."""
    pocket = float(made.sizes["head"]) + 0.5
    length = made.gear - pocket + min(made.board, 18) - 0.5 + (made.gear + 1 if made.layout.kind == "compound" else 0)
    return pocket, round(length / 6.35) * 6.35 if made.inch_hardware else sold(length)


def _inches(length: float) -> str:
    """A whole number of quarters of an inch, as it is written."""
    whole, rest = divmod(round(length / 6.35), 4)
    return f"{whole}{['', '-1/4', '-1/2', '-3/4'][rest]} in"


def tables(made: Sound) -> list[str]:
    if made.kind == "captured_nut":
        return []
    unit = "in" if made.inch_units else "mm"
    scale = 25.4 if made.inch_units else 1.0
    thread = str(made.sizes["thread"])
    size = 2 * float(made.sizes["d"]) - 2
    cells = [f"{value / scale:.5f}" for value in (15, 2, 14, size - 1.5)]
    rows = [f"  row {name}, {size / scale:.5f} +/- {0.1 / scale:.5f}, {', '.join(cells)}" for name in (thread, f"{thread}-LH")]
    found = [
        f'table brass is insert\n  source "calipers, five of a box"\n'
        f"  columns thread, outside {unit}, length {unit}, live_from {unit}, live_to {unit}, hole {unit}\n" + "\n".join(rows) + "\n"
    ]
    if made.inch_hardware:
        found.append(
            'table my_tee_nut is tee_nut\n  source "two of a box of twenty"\n'
            "  columns thread, outside_diameter in, barrel_diameter in, length in, height in, flange_thickness in, hole in\n"
            "  row 5/16-18, 0.875, 0.372, 3/8, 0.437, 0.062, 3/8\n"
        )
    return found
