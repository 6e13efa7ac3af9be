"""The wheel, built and installed elsewhere: it works in an empty folder, with the library as data, and without the checkout."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.hard_use import ROOT

from trivet.generate import generate

CODE_FOLDERS = ("compiler", "grammar", "library")


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel of a copy of the checkout, so that no build folder of a former run gets into it."""
    copy = tmp_path_factory.mktemp("copy")
    for folder in CODE_FOLDERS:
        shutil.copytree(ROOT / folder, copy / folder, ignore=shutil.ignore_patterns("__pycache__", "*.egg-info", "build"))
    shutil.copytree(ROOT / "tests", copy / "tests", ignore=shutil.ignore_patterns("__pycache__", "golden"))
    for name in ("pyproject.toml", "setup.py", "README.md"):
        shutil.copy(ROOT / name, copy / name)
    target = tmp_path_factory.mktemp("wheel")
    _run([sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(target), str(copy)], target)
    (made,) = target.glob("*.whl")
    return made


@pytest.fixture(scope="module")
def trivet(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The installed command in a new environment, which sees the packages of this one but not the checkout."""
    place = tmp_path_factory.mktemp("environment")
    _run([sys.executable, "-m", "venv", "--without-pip", str(place)], place)
    scripts = place / ("Scripts" if os.name == "nt" else "bin")
    asked = "import sysconfig; print(sysconfig.get_path('purelib'))"
    packages = Path(_run([str(scripts / "python"), "-c", asked], place).strip())
    _run(
        [
            sys.executable,
            "-m",
            "pip",
            "--python",
            str(scripts / "python"),
            "install",
            "--quiet",
            "--no-deps",
            "--no-index",
            str(wheel),
        ],
        place,
    )
    theirs = _run([sys.executable, "-c", asked], place).strip()
    # Behind the new environment's own packages, so that what is installed here comes first.
    (packages / "others.pth").write_text(theirs + "\n", encoding="utf-8")
    return scripts / "trivet"


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[Path]:
    """An empty folder outside the checkout."""
    assert ROOT not in tmp_path.parents
    yield tmp_path


def _run(command: list[str], folder: Path, code: int = 0) -> str:
    environment = {name: value for name, value in os.environ.items() if name not in ("PYTHONPATH", "PYTHONHOME", "PIP_TARGET")}
    done = subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, timeout=300, check=False)
    assert done.returncode == code, f"{command}\n{done.stdout[-3000:]}\n{done.stderr[-3000:]}"
    return done.stdout


def test_the_other_tests_test_the_checkout() -> None:
    """Where the wheel is installed as well, the folder that pytest is told of comes first."""
    import trivet as tested

    assert Path(tested.__file__).is_relative_to(ROOT / "compiler")


def test_what_the_wheel_holds(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        names = set(archive.namelist())
        data = {name: archive.read(f"trivet/{name}").decode("utf-8") for name in generate() if f"trivet/{name}" in names}
    assert data == generate()
    assert {"trivet/grammar/trivet.lark", "trivet/grammar/reference.md", "trivet/grammar/report.schema.json"} <= names
    assert {"trivet/grammar/start_metric.trivet", "trivet/grammar/start_inch.trivet"} <= names
    modules = {
        f"trivet/{path.relative_to(ROOT / 'compiler' / 'trivet').as_posix()}"
        for path in (ROOT / "compiler" / "trivet").rglob("*.py")
    }
    assert modules <= names
    tables = {f"trivet/library/{path.name}" for path in (ROOT / "library").glob("*.trivet")}
    assert len(tables) > 20 and tables <= names
    others = {name for name in names if not name.startswith("trivet/") and ".dist-info/" not in name}
    assert not others and not [name for name in names if "test" in name.rpartition("/")[2] or "conftest" in name]


def test_the_installed_command_works_in_an_empty_folder(trivet: Path, empty: Path) -> None:
    _run([str(trivet), "start", "my_riser.trivet"], empty)
    _run([str(trivet), "check", "my_riser.trivet", "--fail-from", "warning"], empty)
    _run([str(trivet), "compile", "my_riser.trivet"], empty)
    made = {path.relative_to(empty).as_posix() for path in empty.rglob("*") if path.is_file()}
    assert {"out/my_riser/report.json", "out/my_riser/manifest.json", "out/my_riser/hardware.csv"} <= made
    assert json.loads((empty / "out/my_riser/report.json").read_text(encoding="utf-8"))["status"] in ("clean", "findings")
    assert "ISO 4762" in _run([str(trivet), "library", "M8"], empty)
    assert "few-teeth" in _run([str(trivet), "explain"], empty)
    assert _run([str(trivet), "explain", "few-teeth"], empty).startswith("few-teeth (")
    assert _run([str(trivet), "format", "--check", "my_riser.trivet"], empty) == ""
    assert _run([str(trivet.parent / "python"), "-m", "trivet", "--version"], empty).startswith("trivet ")


def test_the_installed_command_is_not_the_checkout_and_reads_no_tables_as_text(trivet: Path, empty: Path) -> None:
    """The package lies in the new environment, and its library comes from the data in the wheel."""
    code = (
        "import trivet, trivet.inputs as inputs\n"
        "def refuse(name): raise SystemExit(f'{name} is parsed')\n"
        "inputs.parse_library = refuse\n"
        "from trivet.files import library_names\n"
        "print(sum(len(inputs.load_library(name)) for name in library_names()), trivet.__file__)\n"
    )
    number, place = _run([str(trivet.parent / "python"), "-c", code], empty).split(maxsplit=1)
    assert int(number) > 20
    assert Path(place.strip()).is_relative_to(trivet.parent.parent) and ROOT not in Path(place.strip()).parents
    _run([str(trivet), "start", "my_riser.trivet"], empty)
    checking = (
        "".join(code.splitlines(keepends=True)[:3])
        + "from trivet.cli import main\nraise SystemExit(main(['check', 'my_riser.trivet']))"
    )
    _run([str(trivet.parent / "python"), "-c", checking], empty)
