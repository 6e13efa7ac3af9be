"""Which trivet is measured: a wheel built for the run, the one installed in the interpreter, or the checkout."""

from __future__ import annotations

import importlib.util
import shutil
import subprocess
import sys
from pathlib import Path

from tests.benchmarks.children import Program

ROOT = Path(__file__).resolve().parents[2]
SOURCES = ("compiler", "grammar", "library", "pyproject.toml", "setup.py", "README.md")


def program(folder: Path, checkout: bool, installed: bool) -> Program:
    """The package to measure.

    By default a wheel is built in `folder` from a copy of the sources and unpacked there, so that it holds what users get: the
    library as data. Raises RuntimeError when that fails, and when `installed` is wished and nothing is.
    """
    if checkout:
        return Program(str(ROOT / "compiler"), "the checkout (the library is parsed on every run)")
    if installed:
        if importlib.util.find_spec("trivet") is None:
            raise RuntimeError("no trivet is installed in this interpreter")
        return Program("", "the package installed in this interpreter")
    source, wheels, target = (folder / name for name in ("source", "wheels", "target"))
    source.mkdir()
    for name in SOURCES:
        path = ROOT / name
        if path.is_dir():
            shutil.copytree(path, source / name, ignore=shutil.ignore_patterns("__pycache__", "*.egg-info"))
        else:
            shutil.copy2(path, source / name)
    # What builds the wheel is taken from here where it is, else fetched.
    here = all(importlib.util.find_spec(name) for name in ("setuptools", "wheel", "pydantic"))
    _pip("wheel", "--no-deps", *(("--no-build-isolation",) if here else ()), "--wheel-dir", str(wheels), str(source))
    (wheel,) = wheels.glob("*.whl")
    _pip("install", "--no-deps", "--no-index", "--target", str(target), str(wheel))
    return Program(str(target), f"{wheel.name}, built for this run")


def _pip(*arguments: str) -> None:
    command = [sys.executable, "-m", "pip", "--disable-pip-version-check", "-q", *arguments]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    if done.returncode:
        raise RuntimeError(f"{' '.join(command)}\n{done.stdout}{done.stderr}\n(--checkout measures without a wheel)")
