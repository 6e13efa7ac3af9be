"""`python -m tests.pictures` writes the pictures of examples that the README shows, one for each kind of foot."""

from __future__ import annotations

from tests.page_samples import EXAMPLES, files_of

FOLDER = EXAMPLES / "pictures"
SHOWN = ("outfeed_riser", "tripod", "fine_lift")


def main() -> None:
    """Plan and section of each, as compiled."""
    for name in SHOWN:
        (FOLDER / f"{name}.svg").write_bytes(files_of(f"{name}.trivet")["preview.svg"])
        print(f"examples/pictures/{name}.svg")


if __name__ == "__main__":
    main()
