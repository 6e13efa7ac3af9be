"""Names of files made from names of parts, and the manifest that lists them."""

from __future__ import annotations

import hashlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trivet.tables.file_names import file_names, is_safe_file_name, safe_file_name
from trivet.tables.manifest import manifest


@pytest.mark.parametrize(
    ("part", "name"),
    [
        ("corner.nw", "corner.nw"),
        ("füße", "füße"),
        ("fu\u0308ße", "füße"),
        ("хаб", "хаб"),
        ("a b:c\x1b\u202e😋", "a_b_c___"),
        ("con", "con_"),
        ("NUL.nw", "NUL_.nw"),
        ("lpt9", "lpt9_"),
        ("console", "console"),
        ("-rf", "_-rf"),
        (".a", "_.a"),
        ("a.", "a._"),
    ],
)
def test_file_name_of_a_part(part: str, name: str) -> None:
    assert safe_file_name(part) == name


@pytest.mark.parametrize("part", ["", ".", "..", "a/b", "a\\b"])
def test_no_file_name(part: str) -> None:
    with pytest.raises(ValueError, match="not a file name"):
        safe_file_name(part)


@given(st.text(min_size=1, max_size=200).filter(lambda text: not {"/", "\\"} & set(text) and text not in (".", "..")))
def test_file_names_are_safe(part: str) -> None:
    name = safe_file_name(part)
    assert is_safe_file_name(name) and safe_file_name(name) == name
    assert is_safe_file_name(name + ".underside.svg") and len(name.encode()) <= 121


def test_long_names_stay_apart() -> None:
    names = file_names(["ö" * 100_000, "ö" * 100_001])
    assert len(set(names.values())) == 2


@given(st.sets(st.text(alphabet="aAbB_2ßs", min_size=1, max_size=4), max_size=12))
def test_file_names_differ_on_every_disk(parts: set[str]) -> None:
    names = file_names(parts)
    assert set(names) == parts
    assert len({name.casefold() for name in names.values()}) == len(parts)


def test_manifest() -> None:
    # SHA-256 of the three bytes `abc`: FIPS 180-2 (2002), appendix B.1; from memory.
    abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    rows = manifest(
        {"z": b"abc", "a": b"", "manifest.json": b"{}"}, inputs={"m": "abc"}, parameters={"b": "1", "a": "2"}, version="3"
    )
    assert rows["written_by"] == "trivet" and rows["version"] == "3"
    assert rows["inputs"] == [{"name": "m", "sha256": abc}]
    assert list(rows["parameters"]) == ["a", "b"]
    assert rows["files"] == [
        {"path": "a", "sha256": hashlib.sha256(b"").hexdigest(), "bytes": 0},
        {"path": "z", "sha256": abc, "bytes": 3},
    ]
