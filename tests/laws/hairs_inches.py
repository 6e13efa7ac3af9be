"""What the remedies of hairs say in inches: 64ths from 1/16 in on, thousandths below, on the side that works. Each worked out beside it."""

from __future__ import annotations

INCHES: dict[str, tuple[str, ...]] = {
    "thin-pocket-floor: pocket": ("a depth of 9/16 in",),  # 14.6 are 36.8 64ths
    "thin-wall: ring of a spacer": ("at least 0.079 in",),  # 2 mm
    "insert-end-in-air: hole over the insert": ("a depth of 7/64 in",),  # 2.8 are 7.06
    "narrower-than-cutter: hole": ("a cutter of 15/64 in (0.234 in) or less",),  # 5.99 are 15.09
    "cutter-too-short: edge of all parts: 18": ("reaches 23/32 in (0.719 in) or more",),  # 18 are 45.35
    "magnet-proud: stated depth": ("+/- 0.005 in is enough",),  # 0.15 are 5.9 thousandths
    "part-larger-than-sheet: along": ("at least 19-11/16 in by 14-37/64 in",),  # 500 are 1259.8, 370 are 932.3
    "part-larger-than-machine: hub": ("at least 5-3/64 in by 5-3/64 in",),  # 128 are 322.5
    "thin-under-head: 6 mm": ("`head recessed 7/16 in`",),  # 11.4 are 28.7
    "head-proud: socket head": ("`head recessed 21/64 in` (0.328 in)",),  # 8.2 are 20.7
    "no-room-for-spanner: socket round a jam nut": ("a recess 0.76 in wide or more",),  # 19.05 are 37.5 fiftieths
    "hex-corner-not-cut: glued head": ("a cutter of 9/32 in (0.281 in) or less",),  # 7.3148 are 18.4
    "split-between-faces: guide bore: 0.55": ("a guide clearance 0.001 in larger", "+/- 0.005 in or better"),  # 0.01 and 0.1475
    "gear-rubs-bench: bare head": ("`pad dome, drop 3/32 in`", "stands 0.079 in or more"),  # 2.01 are 2.5 32nds
    "pivot-clamps-gear: 0.2": ("`play 1/64 in` (0.016 in)",),  # 0.2
    "swelling-takes-play: 0.5738": ("`play 1/32 in` (0.031 in)",),  # 0.5738 are 1.4
    "gear-warp-rubs: drive: 5.88": ("0.001 in more in all",),  # 0.01
    "metal-in-cut-zone: depth: 2.6": ("cut no deeper than 3/32 in (0.094 in)",),  # 2.6 are 6.6
    "keeper-hangs-free: 152": ("an outline of 6 in or more",),  # 152 are 119.7 twentieths
    "loose-mesh: a fifth of 6": ("`backlash 0.047 in`",),  # 1.2 are 47.2 thousandths
    "gear-past-edge: 343.897": ("the edge 0.001 in farther out",),  # 0.009
    "mesh-binds: holes": ("`backlash 0.022 in`",),  # 0.55
}
