"""Round holes and pockets of all parts with the statement behind each: what it is called, where it was written, whether it is drilled."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place
from trivet.checks._train import gears_of
from trivet.model.design import Design
from trivet.record import record
from trivet.solve.derived import Derived
from trivet.solve.feature import Feature, Round
from trivet.solve.part_features import PartFeatures
from trivet.solve.parts import part_features
from trivet.source import Origin, Span

# Places are compared to this many decimals of a millimetre.
_DECIMALS = 6
Key = tuple[str, float, float]


@record
class Cut:
    """One feature of a part. `names`: ids that an acceptance may name, the part's own last."""

    part: PartFeatures
    feature: Feature
    names: tuple[str, ...]
    span: Span | None
    drilled: bool

    @property
    def title(self) -> str:
        """What is cut, without its size."""
        return self.feature.title.partition(", ")[0]

    @property
    def whole(self) -> str:
        """The part, or the laminated part that it is a layer of."""
        return self.part.belongs_to or self.part.part


@record
class _Stated:
    name: str
    set_name: str
    origin: Origin | None
    drilled: bool


def cuts_of(design: Design, derived: Derived) -> Iterator[Cut]:
    """Every feature of every part that has an inside: boards, gears, keepers and spacers."""
    stated, gears = _stated(design, derived), gears_of(design)
    boards = {board.name.text: board for board in design.boards}
    shaped = {place(item.name.origin): item.name.text for item in design.pockets}
    shaped |= {place(item.name.origin): item.name.text for item in design.engravings}
    for part in part_features(design, derived):
        whole = part.belongs_to or part.part
        board, gear = boards.get(whole), gears.get(whole)
        for feature in part.features:
            found = None
            if board is not None and isinstance(feature.shape, Round):
                there = stated.get(_key(whole, feature.shape.x_mm + board.x_mm, feature.shape.y_mm + board.y_mm), [])
                # Two things at one place are told apart by the id that the cut's title ends with.
                title = feature.title.partition(", ")[0].rpartition(" ")[2]
                found = next((item for item in there if item.name == title), there[0] if there else None)
            names = (found.name, found.set_name, whole) if found is not None else (whole,)
            if found is None and board is not None and (owner := shaped.get(place(feature.origin))) is not None:
                names = (feature.title.partition(", ")[0].rpartition(" ")[2], owner, whole)
            noun = gear.name.origin if gear is not None else board.name.origin if board is not None else None
            bore = gear.bore.origin if gear is not None and gear.bore is not None and feature.operation == "bore" else None
            yield Cut(
                part,
                feature,
                tuple(dict.fromkeys(names)),
                place(bore, found.origin if found is not None else None, feature.origin, noun, design.origin),
                feature.by_hand or (found is not None and found.drilled),
            )


def quoted(title: str) -> str:
    """A cut's title with the name that it ends with in quotes: hole `dog.2.1`."""
    what, _, name = title.rpartition(" ")
    return f"{what} `{name}`" if what else title


def part_places(design: Design) -> dict[str, Origin | None]:
    """Where each board, gear, spacer and set of feet is declared, by name."""
    cut = [*(board.name for board in design.boards), *(gear.name for gear in design.gears)]
    made = [*(spacer.name for spacer in design.spacers), *(foot.name for foot in design.feet)]
    return {name.text: name.origin for name in (*cut, *made)}


def _stated(design: Design, derived: Derived) -> dict[Key, list[_Stated]]:
    """What stands at each place of a board, by board and world place."""
    found: dict[Key, list[_Stated]] = {}
    pivots = {pivot.name.text: pivot for pivot in design.pivots}
    for state in derived.train.gears:
        pivot = pivots.get(state.gear.turns_on.text) if state.gear.turns_on is not None else None
        if pivot is not None:
            name = pivot.name.text
            item = _Stated(f"{name}.{state.id}", name, pivot.name.origin, pivot.drill is not None)
            found.setdefault(_key(state.gear.under.text, state.x_mm, state.y_mm), []).append(item)
        elif state.foot_id:
            item = _Stated(state.foot_id, state.foot_id.partition(".")[0], state.gear.name.origin, False)
            found.setdefault(_key(state.gear.under.text, state.x_mm, state.y_mm), []).append(item)
    for hole in design.holes:
        for at in hole.places:
            item = _Stated(at.id, hole.name.text, hole.name.origin, hole.drill_mm is not None)
            found.setdefault(_key(hole.into.text, at.x_mm, at.y_mm), []).append(item)
    for magnet in design.magnets:
        for at in magnet.places:
            found.setdefault(_key(magnet.into.text, at.x_mm, at.y_mm), []).append(
                _Stated(at.id, magnet.name.text, magnet.name.origin, False)
            )
    for dowel in design.dowels:
        for board, _ in dowel.into:
            for at in dowel.places:
                found.setdefault(_key(board, at.x_mm, at.y_mm), []).append(
                    _Stated(at.id, dowel.name.text, dowel.name.origin, False)
                )
    return found


def _key(board: str, x_mm: float, y_mm: float) -> Key:
    return board, round(x_mm, _DECIMALS), round(y_mm, _DECIMALS)
