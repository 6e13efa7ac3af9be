"""Laws of the gear train: order plays no part, rings close as their angles say, work grows with the gears."""

from __future__ import annotations

import math
import sys
from types import FrameType
from typing import Any

from hypothesis import assume, given, settings
from hypothesis import strategies as st
from tests.designs import design, gear, mesh, ring

from trivet.model.design import Design
from trivet.solve.train import solve_train

SETTINGS = settings(derandomize=True, max_examples=60, deadline=None)


@st.composite
def trees(draw: st.DrawFn) -> Design:
    """A random tree of meshes and shafts, some gears without a place, some meshes beyond the tree."""
    count = draw(st.integers(2, 9))
    gears, meshes = [gear("g0", draw(st.integers(12, 40)), (0, 0), drive=True)], []
    for k in range(1, count):
        parent = f"g{draw(st.integers(0, k - 1))}"
        shaft = draw(st.integers(0, 3)) == 0
        gears.append(gear(f"g{k}", draw(st.integers(12, 40)), shaft=parent if shaft else ""))
        if not shaft:
            meshes.append(mesh(parent, f"g{k}", draw(st.one_of(st.none(), st.integers(0, 359)))))
    for _ in range(draw(st.integers(0, 2))):
        a, b = draw(st.integers(0, count - 1)), draw(st.integers(0, count - 1))
        if a != b:
            meshes.append(mesh(f"g{a}", f"g{b}"))
    return design(tuple(gears), tuple(meshes))


@SETTINGS
@given(trees(), st.randoms(use_true_random=False))
def test_the_order_of_blocks_changes_nothing(sample: Design, random: Any) -> None:
    gears, meshes = list(sample.gears), list(sample.meshes)
    random.shuffle(gears)
    random.shuffle(meshes)
    assert solve_train(sample.model_copy(update={"gears": tuple(gears), "meshes": tuple(meshes)})) == solve_train(sample)


@SETTINGS
@given(st.sampled_from((4, 6, 8)).flatmap(lambda n: st.lists(st.integers(14, 40), min_size=n, max_size=n)), st.integers(0, 359))
def test_rings_leave_what_their_angles_say(teeth: list[int], first_at: int) -> None:
    """The alternating sum of the pitches that each gear spans between its two meshes, less the nearest whole number."""
    names = tuple(f"g{k}" for k in range(len(teeth)))
    train = solve_train(
        design(
            tuple(gear(n, z, drive=n == "g0") for n, z in zip(names, teeth, strict=True)),
            rings=(ring("r", names, (50, 20), float(first_at)),),
        )
    )
    assume(not train.faults)
    at = [(train.gear(n).x_mm, train.gear(n).y_mm) for n in names]
    total = 0.0
    for k, z in enumerate(teeth):
        (x, y), (px, py), (nx, ny) = at[k], at[k - 1], at[(k + 1) % len(at)]
        cosine = ((px - x) * (nx - x) + (py - y) * (ny - y)) / math.dist(at[k], at[k - 1]) / math.dist(at[k], at[(k + 1) % len(at)])
        total += (-1) ** k * z * math.acos(cosine) / (2.0 * math.pi)
    (loop,) = train.loops
    left = abs(total - round(total))
    assert abs(loop.residual_mm - left * math.pi * 4.0) < 1e-6
    assert len(loop.gears) == len(teeth) and not loop.odd


def _steps(sample: Design) -> int:
    """Lines run in solving a design."""
    count = 0

    def trace(frame: FrameType, event: str, _: Any) -> Any:
        nonlocal count
        count += event == "line"
        return trace

    before = sys.gettrace()
    sys.settrace(trace)
    try:
        solve_train(sample)
    finally:
        sys.settrace(before)
    return count


def _chain(count: int) -> Design:
    """A chain of gears, each with a wheel on its shaft, closed into rings at every fourth gear."""
    gears = [gear(f"g{k}", 20, (80.0 * (k // 2), 80.0 * (k % 2)), drive=k == 0) for k in range(count)]
    meshes = [mesh(f"g{k}", f"g{k + 1}") for k in range(0, count - 1, 2)] + [mesh(f"g{k}", f"g{k + 2}") for k in range(count - 2)]
    return design(tuple(gears), tuple(meshes))


def test_twice_the_gears_take_twice_the_steps() -> None:
    solve_train(_chain(20))
    assert _steps(_chain(80)) <= 2.3 * _steps(_chain(40))
