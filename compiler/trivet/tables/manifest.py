"""What an output folder holds and what it was made from."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping

WRITTEN_BY = "trivet"
MANIFEST_NAME = "manifest.json"


def manifest(
    files: Mapping[str, bytes], *, inputs: Mapping[str, str], parameters: Mapping[str, str], version: str
) -> dict[str, object]:
    """Plain data for `manifest.json`: each file and input with the SHA-256 (FIPS 180-4) of its bytes, sorted by name.

    `files` are paths in the folder and their bytes, without the manifest itself; `inputs` are names as shown to the
    user and their text, hashed as UTF-8, which is what the disk holds. `written_by` marks a folder that may be
    replaced.
    """
    listed = sorted(item for item in files.items() if item[0] != MANIFEST_NAME)
    return {
        "written_by": WRITTEN_BY,
        "version": version,
        "inputs": [{"name": name, "sha256": sha256(text.encode("utf-8"))} for name, text in sorted(inputs.items())],
        "parameters": dict(sorted(parameters.items())),
        "files": [{"path": path, "sha256": sha256(data), "bytes": len(data)} for path, data in listed],
    }


def sha256(data: bytes) -> str:
    """The SHA-256 of `data` in lower-case hexadecimal."""
    return hashlib.sha256(data).hexdigest()
