"""A part that its machine cannot cut at one setting."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.checks._round import up_text
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.solve.derived import Derived
from trivet.solve.nest_job import margin_mm, on_machine, stocks_of, turns_deg
from trivet.solve.work_area import area_of, boxes_of, fits, machines_of
from trivet.units import length_text

RULE = Rule(
    "part-larger-than-machine",
    "error",
    "a part whose box is larger than the `work_area` of the machine that cuts it, less the margin along the edges of the panel that it is cut from",
    "it cannot be cut at one setting, and what is cut at two settings is no truer than the second setting",
    "derived: the boxes of part and work area",
    failing="""
- teeth 16
+   teeth 16
+   machine small
- backlash 0.5 mm
+   backlash 0.5 mm
+ 
+ machine small
+   work_area 100 by 200 mm
""",
    passing="""
- teeth 16
+   teeth 16
+   machine small
- backlash 0.5 mm
+   backlash 0.5 mm
+ 
+ machine small
+   work_area 130 by 200 mm
""",
)


def check(design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """One finding a part; what does not fit on its sheet either is another rule's."""
    machines = machines_of(design)
    origins = {board.name.text: (board.machine, board.name) for board in design.boards}
    origins |= {gear.name.text: (gear.machine, gear.name) for gear in design.gears}
    tips = {state.id: 2.0 * state.tip_radius_mm for state in derived.train.gears}
    said: set[str] = set()
    for part in derived.parts if machines else ():
        whole, unit = part.belongs_to or part.part, design.units
        machine, stocks, margin = machines.get(whole), stocks_of(part.sheet), margin_mm(part.sheet)
        if machine is None or whole in said:
            continue
        boxes = boxes_of(part, turns_deg(part), tips.get(whole))
        if not any(fits(boxes, stock, margin) for stock in stocks):
            continue
        if any(fits(boxes, stock, margin) for stock in on_machine(stocks, machine, [part])):
            continue
        said.add(whole)
        box, area = min(boxes), area_of(machine)
        size, room = (" by ".join(length_text(side, unit) for side in sides) for sides in (box, area))
        edge = f" less an edge margin of {length_text(margin, unit)} all round" if margin > 0.0 else ""
        helps = any(sorted(box)[0] <= sorted(area)[0] and sorted(box)[1] <= sorted(area)[1] for box in boxes)
        needed = " by ".join(up_text(side + 2.0 * margin, unit) for side in box)
        assert machine.work_area_width is not None
        yield Diagnostic(
            RULE.slug,
            RULE.severity,
            f"`{whole}` takes {size}; the work area of `{machine.name}` is {room}{edge}, and it does not fit, turned or not",
            place(*(ref.origin for ref in origins[whole] if ref is not None)),
            related((f"the work area of `{machine.name}` is stated here", machine.work_area_width.origin)),
            f"a machine with a work area of at least {needed}, or a smaller part"
            + (", or `edge_margin 0 mm` where the sheet's edges are true" if helps else ""),
            (whole, machine.name.text),
        )
