"""Where the writing of the page's drawings stands, so that nothing lies over anything at a phone's width."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from trivet.drawing.plan_view import PlanGear, PlanView
from trivet.drawing.section_view import SectionView
from trivet.drawing.text_width import text_width_mm
from trivet.emit.page_room import Room
from trivet.record import record

# Width of a drawing on a phone of 375 px, less the page's margins, px; and where it is widest in one and in two columns.
PHONE_PX, TABLET_PX, WIDE_PX, COLUMN_PX = 325.0, 480.0, 700.0, 560.0
# Writing on the drawings, px, and height of capitals over it (common practice, no source).
FONT_PX, CAPITALS = 11.5, 0.72
LINE = 1.3


@record
class Label:
    """Writing in a drawing, its middle at (x, y) with y down, mm; `target` is the element it names."""

    text: str
    x: float
    y: float
    target: str = ""


@record
class Writing:
    """Size of the writing in a drawing's own mm at each width of the page."""

    phone: float
    tablet: float
    wide: float
    column: float


def writing(width_mm: float) -> Writing:
    """For a drawing of that width: the same size in px everywhere."""
    return Writing(*(FONT_PX * width_mm / px for px in (PHONE_PX, TABLET_PX, WIDE_PX, COLUMN_PX)))


def width_of(text: str, font_mm: float) -> float:
    """Room for a line of writing, mm."""
    return text_width_mm(text, CAPITALS * font_mm)


@record
class PlanLayout:
    """`names` stand in the gears where they fit, on a phone or on a wide page; else `numbers`, of the list beside the plan, do.

    `numbered`: never, on a narrow page, or always. `flags`: numbers of findings, or a mark alone where those do not fit.
    """

    names: tuple[Label, ...]
    numbers: tuple[Label, ...]
    flags: tuple[Label, ...]
    numbered: Literal["never", "narrow", "always"]
    writing: Writing


def plan_layout(plan: PlanView, tokens: dict[str, str], flags: dict[str, tuple[int, ...]], numbers: dict[str, int]) -> PlanLayout:
    """Names of gears, and under them the numbers of findings about each. `flags`: by gear; `numbers`: its place in the list."""
    size = writing(plan.bounds.x_max - plan.bounds.x_min)
    phone, wide = ([width_of(gear.id, font) < _width(gear, font) for gear in plan.gears] for font in (size.phone, size.column))
    numbered: Literal["never", "narrow", "always"] = "never" if all(phone) else "narrow" if all(wide) else "always"
    # What stands apart on a phone stands apart everywhere.
    room = Room(4.0 * size.phone)
    names, short, marks = [], [], []
    for gear in plan.gears:
        token, number = tokens[f"gear:{gear.id}"], str(numbers[gear.id])
        spots = (_below(gear), -_below(gear), 0.0, _below(gear) + LINE * size.phone, -_below(gear) - LINE * size.phone)
        y = _place(room, gear.id if numbered == "never" else number, gear, spots, size.phone) or 0.0
        names.append(Label(gear.id, gear.x_mm, y - gear.y_mm, token))
        short.append(Label(number, gear.x_mm, y - gear.y_mm, token))
    for gear in plan.gears:
        if flags.get(gear.id):
            # Where there is no room for a mark the list of gears has it alone.
            for text in ("△ " + " ".join(map(str, flags[gear.id])), "△"):
                fits = width_of(text, size.phone) < _width(gear, size.phone)
                spot = _place(room, text, gear, (-_below(gear),), size.phone) if fits else None
                if spot is not None:
                    marks.append(Label(text, gear.x_mm, spot - gear.y_mm, tokens[f"gear:{gear.id}"]))
                    break
    return PlanLayout(
        tuple(names) if numbered != "always" else (), tuple(short) if numbered != "never" else (), tuple(marks), numbered, size
    )


def _place(room: Room, text: str, gear: PlanGear, spots: Sequence[float], font: float) -> float | None:
    """The first spot under (or over) a gear's centre where its writing is alone, and takes it; None where there is none."""
    half, high = width_of(text, font) / 2.0, 0.65 * font
    for spot in spots:
        box = (gear.x_mm - half, spot - gear.y_mm - high, gear.x_mm + half, spot - gear.y_mm + high)
        if room.free(box):
            room.take(box)
            return spot
    return None


def _below(gear: PlanGear) -> float:
    return 0.58 * gear.root_mm


def _width(gear: PlanGear, font: float) -> float:
    """Width of a gear's disc at the height of its name."""
    away = min(_below(gear) + font / 2.0, gear.root_mm)
    return float(2.0 * (gear.root_mm**2 - away**2) ** 0.5)


@record
class SectionLayout:
    """A section's box (left, top, width, height; y down), its names over the board in one line or two, and the same for the detail.

    `ruler`: words at heights beside the detail, as (words, height of the mark, height of the words). `core_mm`: width of the detail
    without its ruler.
    """

    box: tuple[float, float, float, float]
    names: tuple[Label, ...]
    writing: Writing
    detail: tuple[float, float, float, float]
    detail_writing: Writing
    core_mm: float
    ruler: tuple[tuple[str, float, float], ...]


BENCH_MM = 5.0
# Room for the ruler beside the detail on a phone, without its words, px.
RULER_PX = 34.0


def section_layout(view: SectionView, travel_mm: float, words: Sequence[tuple[str, float]]) -> SectionLayout:
    """`words`: what the ruler says at which height, ascending."""
    width = view.right_mm - view.left_mm
    size = writing(width)
    names, lines = [], 1
    ends: list[float] = []
    for axis in view.axes:
        half = width_of(axis.name, size.phone) / 2.0
        line = next((index for index, end in enumerate(ends) if axis.at_mm - half > end + size.phone / 2.0), len(ends))
        ends[line : line + 1] = [axis.at_mm + half]
        lines = max(lines, line + 1)
        x = min(max(axis.at_mm, view.left_mm + half), view.right_mm - half)
        names.append((axis.name, x, line))
    high = view.top_mm + travel_mm
    top = high + lines * LINE * size.phone + 0.6 * size.phone
    labels = tuple(Label(name, x, -(high + (line + 0.75) * LINE * size.phone)) for name, x, line in names)
    box = (view.left_mm, -top, width, top + BENCH_MM)
    core_left, core_right = _core(view)
    core = core_right - core_left
    longest = max((width_of(text, FONT_PX) for text, _ in words), default=0.0)
    whole = core / (1.0 - min((longest + RULER_PX) / PHONE_PX, 0.6)) if words else core
    beside = writing(whole)
    ruled = _spread(words, LINE * beside.phone)
    roof = max([high, *(height for _, height in words), *(at for _, _, at in ruled)]) + beside.phone
    floor = min([-BENCH_MM, *(at - beside.phone for _, _, at in ruled)])
    return SectionLayout(box, labels, size, (core_left, -roof, whole, roof - floor), beside, core, ruled)


def _core(view: SectionView) -> tuple[float, float]:
    """From a little before the last mesh to a little past the foot's screw."""
    at = view.axes[-1].at_mm
    metal = max((box[2] - at for item in view.metals if item.at_mm == at for box in item.boxes), default=10.0)
    left = min((overlap.left_mm for overlap in view.overlaps[-1:]), default=view.left_mm + 12.0) - 14.0
    return max(left, view.left_mm), min(at + metal + 8.0, view.right_mm)


def _spread(words: Sequence[tuple[str, float]], gap: float) -> tuple[tuple[str, float, float], ...]:
    """The words moved apart, no nearer to each other than `gap`, each as near to its mark as that allows."""
    groups: list[list[int]] = []
    places = [height for _, height in words]
    for index in range(len(words)):
        groups.append([index])
        while len(groups) > 1 and _start(groups[-2], places, gap) + len(groups[-2]) * gap > _start(groups[-1], places, gap):
            last = groups.pop()
            groups[-1] += last
    found: list[tuple[str, float, float]] = []
    for group in groups:
        start = _start(group, places, gap)
        found += [(words[index][0], words[index][1], start + step * gap) for step, index in enumerate(group)]
    return tuple(found)


def _start(group: Sequence[int], places: Sequence[float], gap: float) -> float:
    """Lowest place of a group whose middle stands at the middle of its marks."""
    return sum(places[index] for index in group) / len(group) - (len(group) - 1) * gap / 2.0
