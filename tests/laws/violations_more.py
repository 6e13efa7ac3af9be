"""The same rules carried by other parts: idlers' bores, pockets from both faces, magnets, counterbores, keepers, spacers, shafts and rings."""

from __future__ import annotations

from math import cos, pi, sin
from random import Random

from tests.laws.borders import Border, adds, swap

SHEET = "size 1220 by 610 mm"
OUTLINE = "outline rectangle 480 by 350 mm, corner_radius 12 mm"
SPARE = "turns_on pin"


def _feature(rng: Random, kind: str, facts: str, place: str, face: str = "topside") -> str:
    return adds(f"{kind} thing\n  into deck, {face}\n" + "".join(f"  {fact}\n" for fact in facts.split("; ")) + f"  at {place}")


def _spare_place(rng: Random) -> str:
    """A place of the base far from all shafts and edges."""
    return f"({rng.randint(215, 265)}, {rng.choice((40, 310))}) mm"


def _bored(rng: Random, value: float) -> str:
    """An idler's hole: the root circle of 20 teeth is 105 mm wide, and 12 mm are wanted on either side."""
    return swap("turns_on pin", "turns_on pin", f"bore {value} mm")


def _pocketed_gear(rng: Random, value: float) -> str:
    """A pivot's washer of 18 mm is let in where its head is; the root circle of z teeth of 6 mm is 6 z - 15 mm wide."""
    return adds(f"gear spare\n  teeth {int(value)}\n  turns_on pin\nmesh hub\n  with spare at {rng.choice((90, 270))} deg")


def _opposed(rng: Random, value: float) -> str:
    """Pockets of both faces over one another leave `value` mm of 17.6 mm."""
    x, y = rng.randint(215, 265), rng.choice((40, 310))
    upper = round(rng.uniform(4, 9), 2)
    kind, facts = rng.choice((("pocket", "outline rectangle 40 by 24 mm"), ("hole", "diameter 16 mm")))
    word = "depth" if kind == "pocket" else "blind"
    return adds(
        f"{kind} upper\n  into deck, topside\n  {facts}\n  {word} {upper} mm\n  at ({x}, {y}) mm\n"
        f"pocket lower\n  into deck, underside\n  outline rectangle 30 by 20 mm\n  depth {17.6 - upper - value:.3f} mm\n  at ({x}, {y}) mm"
    )


def _deep_gear_recess(rng: Random, value: float) -> str:
    """The recess of the jam nut in a gear that is 17.6 mm at its thinnest."""
    return swap(
        "jam_nut ISO 4035, below gear, recessed 6 mm, round 24 mm",
        f"jam_nut ISO 4035, below gear, recessed {value} mm, round 24 mm",
    )


def _thin_counterbore(rng: Random, value: float) -> str:
    return _feature(rng, "hole", f"diameter 8 mm; counterbore diameter 16 mm, depth {value} mm, topside", _spare_place(rng))


def _thick_magnet(rng: Random, value: float) -> str:
    """The hole is 0.15 mm deeper than the magnet."""
    return _feature(rng, "magnet", f"disc 10 by {value - 0.15:.3f} mm", _spare_place(rng), rng.choice(("topside", "underside")))


def _pocket_on_fastener(rng: Random, value: float) -> str:
    """A through opening whose edge reaches over the hole of the drive at (240, 175) mm by `value` mm."""
    return adds(
        f"pocket slit\n  into deck\n  outline rectangle {2 * rng.randint(12, 20)} by 30 mm\n  through\n"
        f"  at (240, {175 + 15 + 4.2 - value:.3f}) mm"
    )


def _near_wall(rng: Random, value: float) -> str:
    """`value` mm of wood between a pocket and the edge, a pocket and a hole, or two openings."""
    y = rng.choice((40, 310))
    return rng.choice(
        (
            adds(
                f"pocket tray\n  into deck, topside\n  outline rectangle 40 by 20 mm\n  depth 8 mm\n  at (240, {10 + value:.3f}) mm"
            ),
            adds(
                f"pocket tray\n  into deck\n  outline rectangle 20 by 20 mm\n  through\n  at (230, {y}) mm\n"
                f"hole peg\n  into deck\n  diameter 10 mm\n  at ({230 + 10 + 5 + value:.3f}, {y}) mm"
            ),
            adds(
                f"pocket tray\n  into deck\n  outline rectangle 20 by 20 mm\n  through\n  at (220, {y}) mm\n  at ({240 + value:.3f}, {y}) mm"
            ),
            adds(f"magnet holder\n  into deck, topside\n  disc 10 by 3 mm\n  fit slide\n  at (240, {5.1 + value:.3f}) mm"),
        )
    )


def _hole_by_insert(rng: Random, value: float) -> str:
    """`value` mm of wood between the insert's hole of 13.5 mm at (75.66, 280.95) mm and another; 16 mm are wanted."""
    mine, turn = rng.uniform(3.5, 6), rng.uniform(-pi / 2, 0)
    apart = 6.75 + mine + value
    return adds(
        f"hole peg\n  into deck\n  diameter {2 * mine:.3f} mm\n  at ({75.6634 + apart * cos(turn):.4f}, {280.9537 + apart * sin(turn):.4f}) mm"
    )


def _slim(rng: Random, value: float) -> str:
    """What is cut with a cutter of 6 mm: a counterbore's hole, a dowel's, a magnet's, a slot, a spacer's bore."""
    place = _spare_place(rng)
    return rng.choice(
        (
            _feature(rng, "hole", f"diameter {value} mm; counterbore diameter 14 mm, depth 5 mm", place),
            _feature(rng, "magnet", f"disc {value - 0.3:.3f} by 2 mm", place),
            adds(f"hole thing\n  into deck\n  dowel {value - 0.5:.3f} mm\n  at {place}"),
            _feature(rng, "pocket", f"outline slot 40 by {value} mm; depth 4 mm", place),
            adds(f"spacer shim\n  stock ply18\n  cutter straight6\n  outline circle 30 mm\n  bore {value} mm"),
        )
    )


def _large_part(rng: Random, value: float) -> str:
    """`value` mm of length: a spacer or a keeper. The margin is 10 mm; sheets are 1220 by 610 mm."""
    if rng.random() < 0.5:
        return adds(
            f"spacer strip\n  stock ply18\n  cutter straight6\n  outline rectangle {rng.choice((f'{value} by 40', f'40 by {value}'))} mm"
        )
    return (
        swap(
            "kind riding",
            "kind sliding_hex",
            f"held_by keeper, stock ply18, outline rectangle {value} by 60 mm",
            "socket depth 12 mm",
        )
        + swap("screw ISO 4017, length 30 mm, pocket 5.8 mm", "screw ISO 4017, length 30 mm")
        + swap("pad dome, drop 3 mm", "post dome, drop 40 mm")
    )


def _against_grain(rng: Random, value: float) -> str:
    """A board that may not be turned for its grain: along x the sheet has `value` mm, and it needs 500 mm."""
    return swap(SHEET, f"size {value} by 1220 mm", "face_grain along x") + swap(OUTLINE, OUTLINE, "grain along x")


def _spaced_spacer(rng: Random, value: float) -> str:
    """A spacer cut by a cutter of 8 mm on the same sheet."""
    return swap(SHEET, SHEET, f"spacing {value} mm") + adds(
        "cutter wide\n  diameter 8 mm\nspacer shim\n  stock ply18\n  cutter wide\n  outline circle 30 mm"
    )


def _sharp_opening(rng: Random, value: float) -> str:
    place = _spare_place(rng)
    return rng.choice(
        (
            adds(f"pocket rest\n  into deck\n  outline rectangle 40 by 24 mm, corner_radius {value} mm\n  through\n  at {place}"),
            adds(
                f"pocket rest\n  into deck, underside\n  outline polygon, corner_radius {value} mm\n  point (0, 0) mm\n  point (40, 0) mm\n"
                f"  point (40, 24) mm\n  point (0, 24) mm\n  depth 5 mm\n  at {place}"
            ),
        )
    )


def _lost(rng: Random, value: float) -> str:
    return adds(f"gear lost\n  teeth {rng.randint(12, 30)}\n  turns_on pin")


def _two_distances(rng: Random, value: float) -> str:
    """A mesh says 120 mm, the places of its gears `value` mm more."""
    y = 175 + (120 + value) * sin(-62 * pi / 180)
    x = 348 + (120 + value) * cos(-62 * pi / 180)
    return (
        adds(f"gear se\n  teeth 20\n  at ({x:.6f}, {y:.6f}) mm\n  carries corner")
        + "- gear nw, sw, ne, se\n+ gear nw, sw, ne\n"
        + swap("with se at 298 deg", "with se, centre_distance 120 mm")
    )


def _two_at(rng: Random, value: float) -> str:
    """An idler that its mesh puts at (132, 175) mm."""
    turn = rng.uniform(0, 2 * pi)
    at = f"at ({132 + value * cos(turn):.6f}, {175 + value * sin(turn):.6f}) mm"
    return adds(f"gear west\n  teeth 20\n  {at}\n  turns_on pin") + "- gear west, east\n+ gear east\n"


def _facing(rng: Random, value: float) -> str:
    """Two magnets of 10 mm that face one another `value` mm off the middle: they overlap by half and more."""
    from tests.laws.violations_wood import PAIR

    pole = rng.choice(("north", "south"))
    text = PAIR.format(one=pole, other=pole, size=10, x=100, y=100)
    head, _, tail = text.rpartition("at lid (100, 100) mm")
    return f"{head}at lid ({100 + value:.3f}, 100) mm{tail}"


def _label(characters: str) -> Border:
    def make(rng: Random, value: float) -> str:
        word = "".join(rng.choice("ABCabc 0189-") for _ in range(rng.randint(1, 8))).strip() + rng.choice(characters)
        return adds(f'engrave label\n  into deck\n  text "{word}x"\n  height 8 mm\n  depth 0.5 mm\n  at deck.centre + (0, 150) mm')

    return Border(make, (0, 1))


def _plain_label(rng: Random, value: float) -> str:
    word = "".join(rng.choice("ABCxyz 0123456789-+./()") for _ in range(12))
    return adds(f'engrave label\n  into deck\n  text "T{word}"\n  height 8 mm\n  depth 0.5 mm\n  at deck.centre + (0, 150) mm')


def _closed_contour(rng: Random, value: float) -> str:
    """A hole cut where the drive's or an idler's hole is, or a board whose outline crosses itself."""
    if rng.random() < 0.5:
        return adds(
            "pocket one\n  into deck\n  outline circle 20 mm\n  through\n  at (240, 40) mm\nhole two\n  into deck\n  diameter 20 mm\n  at (240, 40) mm"
        )
    return adds(
        "spacer wedge\n  stock ply18\n  cutter straight6\n  outline polygon\n  point (0, 0) mm\n  point (60, 50) mm\n  point (60, 0) mm\n"
        f"  point ({rng.randint(0, 9)}, 40) mm"
    )


MORE: dict[str, tuple[Border, ...]] = {
    "thin-gear-rim": (Border(_bored, (81.5, 100), (10, 80.5)),),
    "thin-pocket-floor": (
        Border(_opposed, (0.2, 2.9), (3.5, 7)),
        Border(_thin_counterbore, (14.65, 17), (3, 14.3)),
        Border(_thick_magnet, (14.65, 17), (3, 14.3)),
    ),
    "cut-into-fastener": (Border(_pocket_on_fastener, (1, 8), (-30, -3)),),
    "thin-wall": (Border(_near_wall, (0.2, 1.95), (2.05, 8)),),
    "insert-near-edge": (Border(_hole_by_insert, (2.1, 15.8), (16.3, 40)),),
    "narrower-than-cutter": (Border(_slim, (2.5, 5.85), (6.6, 10)),),
    "part-larger-than-sheet": (Border(_large_part, (1201, 1600), (150, 589)), Border(_against_grain, (380, 499.5), (500.5, 800))),
    "parts-too-close": (Border(_spaced_spacer, (1, 7.9), (8.05, 20)),),
    "unrelieved-corner": (Border(_sharp_opening, (0.5, 2.9), (3.05, 9)),),
    "gear-without-place": (Border(_lost, (0, 1)),),
    "gear-places-differ": (Border(_two_distances, (0.02, 8), (-0.008, 0.008)), Border(_two_at, (0.02, 8), (0, 0.008))),
    "pole-mismatch": (Border(_facing, (0, 4)),),
    "letter-not-drawn": (_label("éöß½木Ж☃Å"), Border(_plain_label, None, (0, 1))),
    "faulty-contour": (Border(_closed_contour, (0, 1)),),
}
