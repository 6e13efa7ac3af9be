"""The validated model read anew for the second calculation: who hangs where, how thick, at what height. Nothing of the solver is used.

Lengths mm. Signs −1, 0, 1 pick the least, mean or most of a band.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache, cached_property, lru_cache
from typing import Any

from tests.oracles.second_corpus import design_of

from trivet.model.base import Band
from trivet.model.design import Design
from trivet.model.train import Gear


def at(band: Band, sign: float) -> float:
    return {-1: band.least, 0: band.mean, 1: band.most}[int(sign)]


class Facts:
    """One fixture by names."""

    def __init__(self, design: Design) -> None:
        self.design = design
        self.shop = design.shop
        self.gears: dict[str, Gear] = {gear.name.text: gear for gear in design.gears}
        self.named: dict[str, dict[str, Any]] = {
            kind: {item.name.text: item for item in getattr(design, kind)}
            for kind in ("sheets", "boards", "drives", "pivots", "feet", "cutters", "machines", "tooth_forms")
        }
        # Each is asked for over and over.
        self.stack, self.down, self.boards = (lru_cache(maxsize=None)(m) for m in (self._stack, self._down, self._boards))

    @cached_property
    def pairs(self) -> dict[frozenset[str], Any]:
        """Who meshes with whom: as stated, and neighbours in rings (None)."""
        found: dict[frozenset[str], Any] = {}
        for ring in self.design.rings:
            names = [gear.text for gear in ring.gears]
            for index, name in enumerate(names):
                found[frozenset((name, names[index - 1]))] = None
        for mesh in self.design.meshes:
            found[frozenset((mesh.a.text, mesh.b.text))] = mesh
        return found

    def mates(self, gear: str) -> list[str]:
        return sorted(next(iter(pair - {gear})) for pair in self.pairs if gear in pair)

    def root(self, gear: str) -> str:
        """The gear of the shaft that is turned, turns or carries."""
        while (on := self.gears[gear].on_shaft_with) is not None:
            gear = on.text
        return gear

    def held(self, gear: str) -> tuple[str, Any]:
        """What holds a gear's axis: drive, pivot, foot or climber, and its block."""
        root = self.gears[self.root(gear)]
        if root.turned_by is not None:
            return "drive", self.named["drives"][root.turned_by.text]
        if root.turns_on is not None:
            return "pivot", self.named["pivots"][root.turns_on.text]
        assert root.carries is not None
        foot = self.named["feet"][root.carries.text]
        return ("climber" if foot.climbs_from is not None else "foot"), foot

    def form(self, gear: str) -> Any:
        return self.named["tooth_forms"][self.gears[gear].tooth_form.text]

    def sheet(self, part: Any) -> Any:
        return self.named["sheets"][part.stock.text]

    def width(self, gear: str, sign: float = 0) -> float:
        made = self.gears[gear]
        return made.layers * at(self.sheet(made).thickness, sign)

    def thick(self, board: str, sign: float = 0) -> float:
        made = self.named["boards"][board]
        return made.layers * at(self.sheet(made).thickness, sign)

    def _stack(self, gear: str) -> list[str]:
        """All gears of a gear's shaft, the uppermost first."""
        return sorted((name for name in self.gears if self.root(name) == self.root(gear)), key=self.level)

    def level(self, gear: str) -> int:
        return self.levels[gear]

    @cached_property
    def levels(self) -> dict[str, int]:
        """Level 0 hangs under the board; what is joined by teeth is level, what is fixed below another is one further down."""
        free, found = set(self.gears), dict[str, int]()
        while free:
            group = {min(free): 0}
            while (more := self._joined(group)).keys() - group.keys():
                group = more | group
            top = min(group.values())
            found |= {name: level - top for name, level in group.items()}
            free -= set(group)
        return found

    def _joined(self, group: dict[str, int]) -> dict[str, int]:
        found = {}
        for name, level in group.items():
            for other, gear in self.gears.items():
                if frozenset((name, other)) in self.pairs:
                    found[other] = level
                step = 1 if gear.on_shaft_side == "below" else -1
                if gear.on_shaft_with is not None and gear.on_shaft_with.text == name:
                    found[other] = level + step
                if gear.on_shaft_with is not None and other == name:
                    found[gear.on_shaft_with.text] = level - step
        return found

    def _down(self, level: int, sign: float = 0) -> float:
        """How far a level hangs: each level above is as thick as its thickest gear that has another below it on its shaft."""
        total = 0.0
        for upper in range(level):
            carriers = [name for name in self.gears if self.level(name) == upper and self.stack(name)[-1] != name]
            total += max((self.width(name, sign) for name in carriers), default=0.0)
        return total

    @property
    def feet(self) -> list[str]:
        """Gears that carry a foot that stands."""
        return [name for name in sorted(self.gears) if self.gears[name].carries is not None and self.held(name)[0] == "foot"]

    @property
    def climbers(self) -> list[str]:
        return [name for name in sorted(self.gears) if self.gears[name].carries is not None and self.held(name)[0] == "climber"]

    def rides(self, gear: str) -> bool:
        """Whether it travels along its axis with a screw."""
        kind, foot = self.held(gear)
        return kind == "climber" or (kind == "foot" and foot.kind == "riding")

    def first_board(self) -> str:
        """The board whose underside is z = 0: what the feet act on."""
        carried = {gear.carries.text for gear in self.gears.values() if gear.carries is not None}
        return str(next(foot.into.text for foot in self.design.feet if foot.name.text in carried))

    def _boards(self, sign: float) -> dict[str, tuple[float, float]]:
        """(underside, topside) of each board, laid on each other from the one that the feet act on."""
        first = self.first_board()
        found = {first: (0.0, self.thick(first, sign))}
        while True:
            for name, board in self.named["boards"].items():
                if board.under is None:
                    continue
                gap, over = (board.clear.mm if board.clear is not None else 0.0), board.under.text
                if name in found and over not in found:
                    found[over] = (found[name][1] + gap, found[name][1] + gap + self.thick(over, sign))
                elif over in found and name not in found:
                    found[name] = (found[over][0] - gap - self.thick(name, sign), found[over][0] - gap)
                else:
                    continue
                break
            else:
                return found

    def over(self, board: str) -> list[str]:
        """A board and all that lie on it, upwards."""
        found = [board]
        while (upper := self.named["boards"][found[-1]].under) is not None:
            found.append(upper.text)
        return found

    @property
    def drive_gear(self) -> str:
        return next(name for name, gear in self.gears.items() if gear.turned_by is not None)

    @cached_property
    def speeds(self) -> dict[str, Fraction]:
        """Signed turns for a turn of the drive: teeth that pass are as many on both sides of a mesh."""
        found = {self.drive_gear: Fraction(1)}
        while len(found) < len(self.gears):
            for name in list(found):
                for mate in self.mates(name):
                    found.setdefault(mate, -found[name] * self.gears[name].z / self.gears[mate].z)
                for other in self.stack(name):
                    found.setdefault(other, found[name])
        return found

    def lead(self, gear: str) -> float:
        return float(self.held(gear)[1].thread.lead_mm)

    def rise(self, gear: str) -> float:
        """mm that the board rises at a foot for one turn of the drive, seen from above clockwise.

        A right-hand screw so turned goes down out of what stands still; a right-hand nut so turned draws its rod up.
        """
        foot = self.held(gear)[1]
        way = foot.thread.hand * (-1 if foot.kind == "captured_nut" else 1)
        return way * self.lead(gear) * float(self.speeds[gear])


@cache
def facts(name: str) -> Facts:
    return Facts(design_of(name))
