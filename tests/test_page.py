"""The page as text: its policy, its words against the report, names that stay text, drafts, and the picture beside it."""

from __future__ import annotations

import base64
import hashlib
import math
import re
import xml.etree.ElementTree as ElementTree
from html.parser import HTMLParser
from pathlib import Path

import pytest
from tests.page_samples import NAMES, edited, facts_in, files_of, page_of, report_of
from tests.pictures import FOLDER, SHOWN

from trivet.products.all import PRODUCTS_FROM_REPORT
from trivet.products.page import page
from trivet.tables.page_lengths import both, nearest_64th

HOSTILE = "</script><img src=x onerror=alert(1)>{{ 7 * 7 }}"


class Elements(HTMLParser):
    """Every element with its attributes, and the text of scripts and styles."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.found: list[tuple[str, dict[str, str | None]]] = []
        self.raw: list[tuple[str, str]] = []
        self.words: list[str] = []
        self._inside = ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))
        self._inside = tag

    def handle_data(self, data: str) -> None:
        if self._inside in ("script", "style"):
            self.raw.append((self._inside, data))
        else:
            self.words.append(data)

    def handle_endtag(self, tag: str) -> None:
        self._inside = ""


@pytest.mark.parametrize("name", NAMES)
def test_the_policy_allows_what_is_there_and_nothing_else(name: str) -> None:
    """Hashes are computed again here from the text between the tags, as a browser does (Content Security Policy, W3C)."""
    parsed = Elements(page_of(name))
    policy = next(str(attrs["content"]) for tag, attrs in parsed.found if attrs.get("http-equiv") == "Content-Security-Policy")
    rules = dict(part.strip().split(" ", 1) for part in policy.split(";"))
    assert rules["default-src"] == "'none'"
    styles = [text for tag, text in parsed.raw if tag == "style"]
    scripts = [text for tag, text in parsed.raw if tag == "script" and not text.startswith(("{", "null"))]
    for rule, texts in (("style-src", styles), ("script-src", scripts)):
        assert len(texts) == 1
        digest = base64.b64encode(hashlib.sha256(texts[0].encode("utf-8")).digest()).decode("ascii")
        assert rules[rule] == f"'sha256-{digest}'"


@pytest.mark.parametrize("name", NAMES)
def test_nothing_is_loaded_and_no_attribute_runs(name: str) -> None:
    text = page_of(name)
    for tag, attrs in Elements(text).found:
        assert tag not in ("link", "img", "iframe", "object", "embed", "base"), tag
        for attribute, value in attrs.items():
            assert attribute not in ("src", "srcset", "style", "data") and not attribute.startswith("on"), (tag, attribute)
            if attribute == "href":
                assert str(value).startswith("#"), value
    assert "@import" not in text and not re.search(r"url\((?!#)", text)


@pytest.mark.parametrize("name", NAMES)
def test_ids_stand_once_and_every_link_has_its_end(name: str) -> None:
    found = Elements(page_of(name)).found
    ids = [attrs["id"] for _, attrs in found if "id" in attrs]
    assert len(ids) == len(set(ids))
    for _, attrs in found:
        for attribute in ("href", "aria-labelledby", "aria-describedby", "for"):
            for end in str(attrs.get(attribute) or "").split():
                assert end.removeprefix("#") in ids, (attribute, end)
        for end in str(attrs.get("data-targets") or "").split():
            assert end in ids, end


@pytest.mark.parametrize("name", NAMES)
def test_what_moves_is_what_the_report_says(name: str) -> None:
    facts, report = facts_in(page_of(name)), report_of(name)
    lift = report["lift"]
    shown = [facts[key] for key in ("low", "high", "perTurn", "turns")]
    keys = ("height_min_mm", "height_max_mm", "per_turn_mm", "turns_for_travel")
    assert shown == pytest.approx([lift[key] for key in keys], abs=2e-6)
    sense = {"clockwise": -1, "anticlockwise": 1}[lift["raises_when"]]
    turned = {gear["name"]: gear["degrees"] for gear in facts["gears"]}
    for gear in report["gears"]:
        expected = sense * gear["direction"] * gear["turns_per_drive_turn"] * 360
        assert turned[gear["id"]] == pytest.approx(expected, abs=1e-3), gear["id"]


@pytest.mark.parametrize("name", NAMES)
def test_every_finding_is_there_with_its_place_and_remedy(name: str) -> None:
    words = " ".join(" ".join(Elements(page_of(name)).words).split())
    for finding in report_of(name)["findings"]:
        place = f"{finding['file']}:{finding['line']}:{finding['column']}"
        for text in (finding["rule"], place, finding["because"], finding["remedy"], finding["message"]):
            plain = " ".join(re.sub("`", " ", text).split())
            assert plain in words or re.sub(r"\W", "", plain) in re.sub(r"\W", "", words), text


@pytest.mark.parametrize("name", NAMES)
def test_the_same_bytes_twice(name: str, tmp_path: Path) -> None:
    first, again = files_of(f"{name}.trivet"), edited(name, tmp_path)
    assert first["preview.svg"] == again["preview.svg"]
    # Findings name the file, which lies elsewhere here.
    place = re.compile(r"[\w./-]*\.trivet:")
    assert place.sub("", first["index.html"].decode()) == place.sub("", again["index.html"].decode())


def test_hostile_words_stay_words(tmp_path: Path) -> None:
    title = HOSTILE.replace('"', "")
    files = edited("outfeed_riser", tmp_path, ('title "Outfeed riser"', f'title "{title}"'), ("turned a few times a day", title))
    text = files["index.html"].decode("utf-8")
    parsed = Elements(text)
    assert not any(tag == "img" for tag, _ in parsed.found)
    assert text.count("</script>") == 2
    shown = "".join(parsed.words)
    assert shown.count(title) >= 3
    drawing = ElementTree.fromstring(files["preview.svg"])
    assert title in str(drawing[0].text)


def test_a_compilation_makes_the_page_from_the_report() -> None:
    assert page in PRODUCTS_FROM_REPORT


def test_a_draft_says_so_and_stands_still() -> None:
    files = files_of("failing/feet_turn_opposite.trivet", draft=True)
    text = files["DRAFT-index.html"].decode("utf-8")
    assert "<title>DRAFT" in text and "DRAFT, not for cutting." in text
    assert 'type="range"' not in text and facts_in(text) is None
    assert b"DRAFT, not for cutting" in files["DRAFT-preview.svg"]
    assert "DRAFT" not in page_of("outfeed_riser")


@pytest.mark.parametrize("name", NAMES)
def test_the_picture_is_drawn_at_mean_height(name: str) -> None:
    """Each gear stands where the report has it, turned by half the travel."""
    root = ElementTree.fromstring(files_of(f"{name}.trivet")["preview.svg"])
    space = "{http://www.w3.org/2000/svg}"
    drawn = [group for group in root.iter(f"{space}g") if str(group.get("class")).startswith("gear")]
    gears = {(round(gear["x_mm"], 2), round(-gear["y_mm"], 2), gear["kind"]): gear for gear in report_of(name)["gears"]}
    assert len(drawn) == len(report_of(name)["gears"])
    for group in drawn:
        x, y = (float(value) for value in re.findall(r"-?[\d.]+", str(group.get("transform"))))
        assert any(math.hypot(x - gx, y - gy) < 0.02 and kind in str(group.get("class")) for gx, gy, kind in gears)
    first = next(group for group in drawn if "drive" in str(group.get("class")))
    angle = float(re.findall(r"-?[\d.]+", str(first[0].get("transform")))[0])
    lift = report_of(name)["lift"]
    # y points down, so clockwise seen from above is a positive angle here.
    way = 1 if lift["raises_when"] == "clockwise" else -1
    assert angle == pytest.approx(way * 360 * lift["turns_for_travel"] / 2, abs=0.001)


@pytest.mark.parametrize(
    ("mm", "text"),
    [(25.4, "1"), (38.1, "1-1/2"), (12.7, "1/2"), (0.396875, "1/64"), (44.846875, "1-49/64"), (25.3, "1"), (25.0, "63/64")],
)
def test_fractions_of_an_inch(mm: float, text: str) -> None:
    """By hand: 1/64 in is 0.396875 mm, 1-49/64 in is 113/64 · 25.4 = 44.846875 mm; 25 mm is 62.99 64ths."""
    assert nearest_64th(mm) == text


def test_both_systems_the_fixtures_own_first() -> None:
    """By hand: 43.26 / 25.4 = 1.70315; 1.70315 · 64 = 109.0, which is 1-45/64; 0.51 / 25.4 = 0.02008."""
    assert both(43.26, "mm") == "43.26 mm (1.703 in)"
    assert both(43.26, "in") == "1-45/64 in (1.703 in, 43.26 mm)"
    assert both(0.51, "in") == "0.02 in (0.51 mm)"


@pytest.mark.parametrize("name", SHOWN)
def test_the_pictures_of_the_readme_are_as_compiled(name: str) -> None:
    """`python -m tests.pictures` writes them again."""
    assert (FOLDER / f"{name}.svg").read_bytes() == files_of(f"{name}.trivet")["preview.svg"]
