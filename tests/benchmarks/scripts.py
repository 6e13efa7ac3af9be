"""What the measured processes run, as text: each prints one JSON object."""

from __future__ import annotations

# The floor: nothing that reads a text with this parser and holds it in a validated model can cost less.
FLOOR = """\
import lark
from pydantic import BaseModel, ConfigDict


class Model(BaseModel):
    model_config = ConfigDict(frozen=True)
    name: str
    size: float


Model(name="a", size=1.0)
"""

_CHECK = """\
import json, sys, time
from trivet.files import DiskFiles, MemoryFiles
from trivet.pipeline import check
from trivet.source import SourceFile


def text_of(path):
    with open(path, encoding="utf-8") as stream:
        return stream.read()


def checked(text):
    result = check(SourceFile("many.trivet", text), MemoryFiles({}))
    assert result.derived is not None, result.findings
    return result
"""

# Argument: a fixture. The same text again in one process, as an editor asks for it.
AGAIN = (
    _CHECK
    + """
files = DiskFiles()
source = files.read(sys.argv[1])
times = []
for _ in range(6):
    begun = time.process_time()
    check(source, files)
    times.append(time.process_time() - begun)
print(json.dumps({"first": times[0], "second": times[1], "least": min(times[1:])}))
"""
)

# Arguments: fixtures. Least processor time of a check of each; the first is checked before, so that imports are no part of it.
TIMES = (
    _CHECK
    + """
texts = [text_of(path) for path in sys.argv[1:]]
checked(texts[0])
found = []
for text in texts:
    rounds = []
    while len(rounds) < 2 or sum(rounds) < 1.0 and len(rounds) < 20:
        begun = time.process_time()
        checked(text)
        rounds.append(time.process_time() - begun)
    found.append(min(rounds))
print(json.dumps(found))
"""
)

# Arguments: fixtures. Memory that Python holds for the outcome of a check of each, and the most it held during the check.
MEMORY = (
    _CHECK
    + """
import gc, tracemalloc

texts = [text_of(path) for path in sys.argv[1:]]
checked(texts[0])
tracemalloc.start()
kept, most = [], []
for text in texts:
    gc.collect()
    tracemalloc.reset_peak()
    before, _ = tracemalloc.get_traced_memory()
    result = checked(text)
    _, peak = tracemalloc.get_traced_memory()
    gc.collect()
    after, _ = tracemalloc.get_traced_memory()
    kept.append(after - before)
    most.append(peak - before)
    del result
print(json.dumps([kept, most]))
"""
)

# Argument: a fixture. Reading and formatting it, seconds for 1,000 lines.
LINES = """\
import json, sys, time
from trivet.fmt.format import format_text
from trivet.source import SourceFile
from trivet.syntax.parse import parse

with open(sys.argv[1], encoding="utf-8") as stream:
    source = SourceFile("many.trivet", stream.read())
lines = source.text.count("\\n")
found = {}
for name, work in (("parse", parse), ("format", format_text)):
    times = []
    for _ in range(5):
        begun = time.process_time()
        work(source)
        times.append(time.process_time() - begun)
    found[name] = min(times) * 1000 / lines
print(json.dumps({**found, "lines": lines}))
"""

# Arguments: fixtures. Vertices of all gear outlines as cut, and of polygons within the same distance of them.
VERTICES = """\
import json, sys
from trivet.files import DiskFiles
from trivet.pipeline import check
from trivet.solve.gear_outline import gear_outline

WITHIN_MM = 0.002
arcs = chords = 0
for path in sys.argv[1:]:
    files = DiskFiles()
    result = check(files.read(path), files)
    assert result.derived is not None, result.findings
    for state in result.derived.train.gears:
        contour = gear_outline(state.geometry, state.cutter_diameter_mm / 2).contour
        arcs += len(contour.vertices)
        chords += contour.chord_count(WITHIN_MM)
print(json.dumps({"arcs": arcs, "chords": chords}))
"""

# Argument: a fixture. Processor seconds of what only full runs do, the packages they need loaded: outlines turned, builds drawn.
FULL = (
    _CHECK
    + """
from trivet.solve.as_cut_proofs import as_cut_proofs
from trivet.solve.binding import binding
import numpy, shapely

result = checked(text_of(sys.argv[1]))
found = {"gears": len(result.derived.train.gears)}
for name, work in (
    ("as_cut", lambda: as_cut_proofs(result.derived)),
    ("draws", lambda: binding(result.design, result.derived, draws=100_000)),
):
    begun = time.process_time()
    work()
    found[name] = time.process_time() - begun
print(json.dumps(found))
"""
)
