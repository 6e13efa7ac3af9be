"""Bolts of one set that are bought alike, what they are called, and stated lengths that do not fit."""

from __future__ import annotations

from collections.abc import Iterator

from trivet.checks._check import place, related
from trivet.diagnostics import Diagnostic, Rule
from trivet.model.design import Design
from trivet.model.foot import Foot
from trivet.model.train import Pivot
from trivet.solve.bolt_length import stock_text
from trivet.solve.derived import BoltChoice, Derived
from trivet.source import Origin
from trivet.units import length_text, two_lengths

SAME_MM = 1e-6


def alike(derived: Derived) -> Iterator[tuple[str, tuple[BoltChoice, ...]]]:
    """(name of the drive, pivot or foot; its bolts) for those with the same lengths, in the order they come."""
    found: dict[tuple[str, tuple[float, ...], float | None, float | None], list[BoltChoice]] = {}
    for bolt in derived.bolts:
        # Feet of one set have limits of their own but one stated length.
        own = () if isinstance(bolt.of, Foot) else (round(bolt.least_mm, 6), round(bolt.most_mm, 6))
        found.setdefault((bolt.of.name.text, own, bolt.buy_mm, bolt.cut_to_mm), []).append(bolt)
    for key, bolts in found.items():
        yield key[0], tuple(bolts)


def origin_of(bolt: BoltChoice) -> Origin | None:
    """The stated length, else the name of what it belongs to."""
    own: Origin | None = bolt.of.length.origin if bolt.of.length is not None else None
    name: Origin | None = bolt.of.name.origin
    return own or name


def parts_of(bolts: tuple[BoltChoice, ...]) -> tuple[str, ...]:
    """Ids for a finding."""
    return tuple(bolt.part for bolt in bolts)


def sold_as(bolt: BoltChoice) -> str:
    """Such as `ISO 4762 M8`."""
    return f"{bolt.standard} {bolt.designation}"


def sold_text(bolt: BoltChoice, length_mm: float) -> str:
    """A length as it is sold: inch hardware in inches, metric hardware in millimetres, whatever the fixture speaks."""
    screw = bolt.of.screw if isinstance(bolt.of, Pivot | Foot) else bolt.of.bolt
    return stock_text(screw, length_mm) if screw is not None else length_text(length_mm)


def is_wood_screw(bolt: BoltChoice) -> bool:
    """Whether it holds in the board itself: it has a point, is not cut, and must not come through."""
    return isinstance(bolt.of, Pivot) and bolt.of.nut is None


def row_of(bolt: BoltChoice) -> Origin | None:
    """The library row of the lengths that are sold."""
    screw = bolt.of.screw if isinstance(bolt.of, Pivot | Foot) else bolt.of.bolt
    origin: Origin | None = screw.stock_origin if screw is not None else None
    return origin


def too_long(rule: Rule, design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """Stated lengths over the room, or whose plain shank is too long. A wood screw's point is another finding."""
    for name, bolts in alike(derived):
        bolt = bolts[0]
        if bolt.fits or bolt.stated_mm is None or isinstance(bolt.of, Foot) or bolt.stated_mm < bolt.least_mm - SAME_MM:
            continue
        if bolt.stated_mm > bolt.most_mm + SAME_MM:
            if not is_wood_screw(bolt):
                measured, allowed = two_lengths(bolt.stated_mm, bolt.most_mm, design.units)
                yield _unfit(
                    rule, design, bolts, f"the bolt of `{name}` is {measured} long; at most {allowed} fits, which ends at {bolt.room_ends_at}"
                )
        else:
            long = length_text(bolt.stated_mm, design.units)
            yield _unfit(rule, design, bolts, f"the bolt of `{name}` is {long} long, and its plain shank reaches into its nut")


def too_short(rule: Rule, design: Design, derived: Derived) -> Iterator[Diagnostic]:
    """Stated lengths under the longest stack."""
    for name, bolts in alike(derived):
        bolt = bolts[0]
        if bolt.fits or bolt.stated_mm is None or isinstance(bolt.of, Foot) or bolt.stated_mm >= bolt.least_mm - SAME_MM:
            continue
        measured, allowed = two_lengths(bolt.stated_mm, bolt.least_mm, design.units)
        what = "screw" if is_wood_screw(bolt) else "bolt"
        yield _unfit(rule, design, bolts, f"the {what} of `{name}` is {measured} long; its longest stack takes {allowed}")


def _unfit(rule: Rule, design: Design, bolts: tuple[BoltChoice, ...], message: str) -> Diagnostic:
    bolt = bolts[0]
    stack = ", ".join(f"{what} {length_text(band.most, design.units)}" for what, band in bolt.stack)
    labels = related((f"under its head lie, at most: {stack}", bolt.of.name.origin))
    return Diagnostic(
        rule.slug, rule.severity, message, place(origin_of(bolt), bolt.of.origin), labels, bolt.remedy, parts=parts_of(bolts)
    )
