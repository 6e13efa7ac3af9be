"""Chances, and what carries them, as a maker reads them."""

from __future__ import annotations

from trivet.solve.binding import Binding

# A chance below this rounds to nothing in print: the draws do not tell more.
LEAST = 0.0001
EVERY = "nearly every one"


def chance_words(chance: float) -> str:
    """`about 1 in 12`; from three in ten up, tenths: `about 4 in 10`."""
    if chance < LEAST:
        return "less than 1 in 10000"
    if chance < 0.3:
        return f"about 1 in {_two_digits(1.0 / chance)}"
    tenths = round(chance * 10.0)
    return f"about {tenths} in 10" if tenths < 10 else EVERY


# The nearest of these is said of a share.
PARTS = (
    (0.1, "a tenth"), (0.2, "a fifth"), (0.25, "a quarter"), (1 / 3, "a third"), (0.4, "two fifths"), (0.5, "half"),
    (0.6, "three fifths"), (2 / 3, "two thirds"), (0.75, "three quarters"), (0.8, "four fifths"), (0.9, "nine tenths"), (1.0, "nearly all"),
)  # fmt: skip
LEAST_SHARE = 0.05
# So many kinds of error are named.
NAMED = 3


def part_words(share: float) -> str:
    """`two thirds` of a share in 0..1; under a twentieth `a little`."""
    return min(PARTS, key=lambda part: abs(part[0] - share))[1] if share >= LEAST_SHARE else "a little"


def risk_words(found: Binding) -> str:
    """`without insert tilt two thirds of the risk would be gone, without hole position half`: such parts need not add to one."""
    shares = [(what, found.share(without)) for what, without in found.contributors]
    told = [(what, part_words(share)) for what, share in shares if share >= LEAST_SHARE][:NAMED]
    if not told:
        return ""
    (first, part), rest = told[0], told[1:]
    return ", ".join((f"without {first} {part} of the risk would be gone", *(f"without {what} {part}" for what, part in rest)))


def eased_words(found: Binding) -> str:
    """What carries most of the risk and the best cure against just that; the best of all where none is against it. Empty where nothing can be told."""
    shares = [(what, found.share(left)) for what, left in found.contributors]
    if not shares or shares[0][1] < LEAST_SHARE:
        return ""
    # Of errors that carry as much of the risk as the first, to a tenth, the one that has a cure of its own.
    leading = [what for what, share in shares if share >= shares[0][1] - 0.1]
    cures = [cure for cure in found.remedies if set(cure[2]) & set(leading)] or list(found.remedies)
    what, left, against = min(cures, key=lambda item: item[1])
    kind = next((kind for kind in leading if kind in against), leading[0])
    part = part_words(dict(shares)[kind])
    if chance_words(left) == chance_words(found.chance or 0.0):
        return f"{part} would be gone without {kind}"
    return f"{part} would be gone without {kind}; {what} would leave {chance_words(left)}"


def remedies_words(found: Binding, without: tuple[str, ...] = ()) -> tuple[str, ...]:
    """`a guide bore … would leave about 1 in 250`, the best cure first; those that hold a word of `without` left out.

    A cure that changes nothing that can be told is not one.
    """
    before = chance_words(found.chance or 0.0)
    best = sorted(found.remedies, key=lambda item: item[1])
    return tuple(
        f"{what} would leave {chance_words(left)}"
        for what, left, _ in best
        if chance_words(left) != before and left < (found.chance or 0.0) and not any(word in what for word in without)
    )


def percent_words(chance: float) -> str:
    """`8.27 percent`: with the digits that the draws give, or the writer."""
    return f"{chance * 100.0:.6g} percent"


def _two_digits(count: float) -> int:
    step: int = 10 ** max(0, len(str(int(count))) - 2)
    return round(count / step) * step
