"""Random small fixtures as text: a hub, arms with or without an idler, feet of three kinds, and what they are made of.

All feet turn one way as far as the hands of their threads can bring that about, so that most of them can work; the rest is
for the checks to say. Blocks are kept apart, so that a test can move them.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from hypothesis import strategies as st

BOARD_MM = 600

_FEET = {
    "riding": """\
foot {name}
  kind riding
  thread {thread}
  screw ISO 4017, length {length} mm, pocket 6.8 mm
  pad dome, drop 3 mm
  insert brass, driven_from topside, flush underside
""",
    "captured_nut": """\
foot {name}
  kind captured_nut
  thread {thread}
  rod DIN 976-1, length 85 mm
  nut ISO 4032, pocket underside
  held_by keeper, stock ply, outline rectangle 120 by 60 mm
  rod_stop cross_pin 3 mm
  pad dome, drop 3 mm
""",
    "sliding_hex": """\
foot {name}
  kind sliding_hex
  thread {thread}
  screw ISO 4017, length {length} mm
  socket depth 12 mm
  post dome, drop 20 mm
  held_by keeper, stock ply, outline rectangle 120 by 60 mm
  insert brass, driven_from topside, flush underside
""",
}

_REST = (
    """\
sheet ply
  material birch_plywood
  thickness {thickness} +/- 0.2 mm
  size 1220 by 610 mm
  face_grain along x
""",
    """\
cutter straight
  diameter 4 mm
  reach 40 mm
""",
    """\
shop
  hole_position +/- 0.1 mm
  profile_offset +/- 0.05 mm
  bore_clearance 0.15 mm
  inserts drill_press
  depth +/- 0.2 mm
  moisture 7..11 percent
""",
    """\
parameter play {play} mm, within 0.3..1.2 mm
""",
    """\
tooth_form four
  module 4 mm
  backlash play
""",
    """\
default gear
  stock ply
  cutter straight
  tooth_form four
""",
    """\
board deck
  stock ply
  cutter straight
  outline rectangle 600 by 600 mm, corner_radius 12 mm
  layers {layers}
""",
    """\
drive crank
  thread M8
  bolt ISO 4762, head recessed {head} mm
  fit fine
  nut tee_nut, above gear
  jam_nut ISO 4035, below gear, recessed 6 mm, round 24 mm
  play 0.2 mm
""",
    """\
pivot pin
  thread ST4.8
  screw ISO 7049, head recessed 6 mm
  drill 3.5 mm
  washers ISO 7089 M5, above and below
  sleeve outside 8 mm
  play 0.5 mm
""",
    """\
table brass is insert
  source "calipers, five of each box"
  columns thread, outside mm, length mm, live_from mm, live_to mm, hole mm
  row M10, 14.0 +/- 0.1, 15, 2, 14, 13.5
  row M10-LH, 14.1 +/- 0.1, 15, 2, 14, 13.5
""",
    """\
hole dog
  into deck
  dowel 19 mm
  fit slide
  at (40, 520) mm
  also_mirrored left_right
""",
    """\
magnet key_holder
  into deck, topside
  disc 10 by 3 mm
  fit push
  at (300, 40) mm
""",
)


@dataclass(frozen=True)
class Arm:
    """One foot and its way from the hub: direction, teeth of the idler (0: none), the turn of the way at it, kind, hand."""

    angle_deg: int
    idler_teeth: int
    bend_deg: int
    foot_teeth: int
    kind: str
    left_hand: bool


@dataclass(frozen=True)
class Sketch:
    """What a fixture is drawn from; `mirrored` exchanges left and right in every place."""

    hub_teeth: int
    arms: tuple[Arm, ...]
    thickness_mm: str
    layers: int
    head_mm: str
    play_mm: str
    length_mm: int
    mirrored: bool = False

    def blocks(self) -> tuple[str, ...]:
        """Every block with its facts, the heading `fixture` first."""
        found = ["fixture law\n  hardware metric\n"]
        values = {"thickness": self.thickness_mm, "layers": self.layers, "head": self.head_mm, "play": self.play_mm}
        found += [text.format(**values) for text in _REST]
        found.append(
            f"gear hub\n  teeth {self.hub_teeth}\n  at {'(330, 300)' if not self.mirrored else '(270, 300)'} mm\n  turned_by crank\n"
        )
        sets = sorted({(arm.kind, arm.left_hand) for arm in self.arms})
        for kind, left in sets:
            thread = "M10-LH" if left else "M10"
            found.append(_FEET[kind].format(name=_set(kind, left), thread=thread, length=self.length_mm))
        hub = ["mesh hub"]
        for index, arm in enumerate(self.arms):
            first = self._seen(arm.angle_deg)
            found.append(f"gear f{index}\n  teeth {arm.foot_teeth}\n  carries {_set(arm.kind, arm.left_hand)}\n")
            if not arm.idler_teeth:
                hub.append(f"  with f{index} at {first} deg")
                continue
            found.append(f"gear i{index}\n  teeth {arm.idler_teeth}\n  turns_on pin\n")
            hub.append(f"  with i{index} at {first} deg")
            found.append(f"mesh i{index}\n  with f{index} at {self._seen(arm.angle_deg + arm.bend_deg)} deg\n")
        return (*found, "\n".join(hub) + "\n")

    def _seen(self, angle_deg: int) -> int:
        return (180 - angle_deg if self.mirrored else angle_deg) % 360

    @property
    def text(self) -> str:
        return "\n".join(self.blocks())

    def mirror(self) -> Sketch:
        return replace(self, mirrored=not self.mirrored)


def _set(kind: str, left: bool) -> str:
    return f"{kind}_{'left' if left else 'right'}_set"


@st.composite
def sketches(draw: st.DrawFn, wrong: bool = False) -> Sketch:
    """Feet that rise alike, or with `wrong` now and then one of other teeth or hand."""
    count = draw(st.integers(3, 4))
    begin = draw(st.integers(0, 89))
    foot_teeth = draw(st.integers(18, 22))
    kind = draw(st.sampled_from(sorted(_FEET)))
    arms = []
    for index in range(count):
        idler = draw(st.sampled_from((0, 0, 20, 24)))
        # An idler turns the motion round once more and so does a nut that turns; hands of thread make up for both.
        left = bool(idler) != (kind == "captured_nut")
        spoilt = wrong and draw(st.integers(0, 5)) == 0
        arms.append(
            Arm(
                angle_deg=begin + index * (360 // count),
                idler_teeth=idler,
                bend_deg=draw(st.integers(-20, 20)),
                foot_teeth=foot_teeth + (1 if spoilt and draw(st.booleans()) else 0),
                kind=kind,
                left_hand=left != (spoilt and draw(st.booleans())),
            )
        )
    return Sketch(
        hub_teeth=draw(st.integers(20, 28)),
        arms=tuple(arms),
        thickness_mm=draw(st.sampled_from(("17.8", "18", "18.3"))),
        layers=2 if kind == "captured_nut" else draw(st.sampled_from((1, 2))),
        head_mm=draw(st.sampled_from(("9", "10.5", "11.2"))),
        play_mm=draw(st.sampled_from(("0.6", "0.65", "0.7"))),
        length_mm=draw(st.sampled_from((25, 30, 35))),
    )
