"""The live thread of a foot's nut or tee nut, explained: where it lies in its gear or board, through its whole height."""

from __future__ import annotations

from trivet.model.hardware import Insert
from trivet.solve.corner import Corner
from trivet.tables.explanation import DERIVED, Number, computed, found, given
from trivet.tables.explanation_facts import Facts
from trivet.tables.explanation_fixed import fixed_top
from trivet.tables.explanation_levels import SAME

HOW = "where it lies, through its whole height"


def nut_ends(facts: Facts, corner: Corner, foot: str, ends: tuple[float, float]) -> tuple[Number, Number]:
    """z of the low and the high end; `ends` as they were solved."""
    spec = facts.stroked.specs[foot]
    use = spec.foot.insert
    part = spec.foot.nut if use is None else use.hardware
    assert not isinstance(part, Insert)
    what = "nut" if use is None else "tee nut"
    words = [f"{end} end of the {what} of `{foot}`" for end in ("low", "high")]
    if part is None:
        return found(f"low_{foot}", words[0], ends[0], HOW, DERIVED), found(f"high_{foot}", words[1], ends[1], HOW, DERIVED)
    tall = given(f"m_{foot}", f"height of the {what}", part.height_mm, origin=part.origin)
    low = _low(facts, corner, foot, tall, words[0]) if use is None and spec.foot.kind == "captured_nut" else None
    if low is None or abs(low.value - ends[0]) > SAME:
        return (
            found(f"low_{foot}", words[0], ends[0], HOW, DERIVED, tall),
            found(f"high_{foot}", words[1], ends[1], HOW, DERIVED, tall),
        )
    high = computed(f"high_{foot}", words[1], f"{low.symbol} + {tall.symbol}", DERIVED, low, tall)
    return low, high


def _low(facts: Facts, corner: Corner, foot: str, tall: Number, words: str) -> Number:
    """The nut's pocket opens at one of its gear's faces, as deep as stated; without a pocket it lies flush."""
    spec = facts.stroked.specs[foot]
    top = fixed_top(facts, corner, spec.gear.id)
    topside = spec.foot.nut_pocket == "topside"
    inputs, text = [top], top.symbol
    if spec.pocket_mm > 0.0:
        stated = spec.foot.pocket
        deep = given(f"p_{foot}", "depth of the nut's pocket", spec.pocket_mm, origin=stated.origin if stated is not None else spec.foot.origin)
        depth, depth_inputs = deep.symbol, [deep]
        if corner.depth:
            error = facts.shop("depth", "depth", "error of depths, either way", facts.design.shop.depth_mm)
            depth = f"({deep.symbol} {'+' if corner.depth > 0 else '−'} {error.symbol})"
            depth_inputs.append(error)
    else:
        depth, depth_inputs = tall.symbol, [tall]
    if topside:
        text += f" − {depth}"
    else:
        width = facts.gear_width(spec.gear.id, corner.gear)
        inputs.append(width)
        text += f" − {width.symbol} + {depth} − {tall.symbol}"
    return computed(f"low_{foot}", words, text, DERIVED, *dict.fromkeys((*inputs, *depth_inputs, tall)))
