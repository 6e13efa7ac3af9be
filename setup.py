"""Builds the wheel with the library as data beside its text, so that no run has to parse it."""

from __future__ import annotations

import sys
from pathlib import Path

from setuptools import setup
from setuptools.command.build_py import build_py

ROOT = Path(__file__).resolve().parent


class BuildWithData(build_py):
    """After the modules are copied, write what is made from the library."""

    def run(self) -> None:
        super().run()
        if getattr(self, "editable_mode", False):
            return
        sys.path.insert(0, str(ROOT / "compiler"))
        from trivet.generate import generate

        target = Path(self.build_lib) / "trivet"
        for name, text in generate().items():
            (target / name).write_text(text, encoding="utf-8", newline="\n")


setup(cmdclass={"build_py": BuildWithData})
