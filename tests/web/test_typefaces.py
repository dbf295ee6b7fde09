"""The typefaces of the page: its own, and those for scripts that it lacks."""

import re
from pathlib import Path
from typing import cast

import pytest
from fontTools.ttLib import TTFont
from starlette.testclient import TestClient

from namebatch.desk import Desk
from namebatch.resources import bundled
from namebatch.template import bundled_templates
from namebatch.web import typefaces
from namebatch.web.app import make_app
from namebatch.web.guard import Door
from namebatch.web.rendering import HERE
from namebatch.web.typefaces import OWN, files, ranges_of, script_faces, script_sheet

LISTS = [bundled("examples") / f"{name}.csv" for name in bundled_templates()]
# Names invented for this test, one for each script of the catalogue beside Latin.
NAMES = {
    "Grek": "Θάλεια", "Cyrl": "Тамара", "Arab": "سلمى،", "Hebr": "נֹעָה", "Armn": "Ծովիկ",
    "Geor": "ზღვა", "Ethi": "ፀሐይ", "Deva": "मीरा।", "Beng": "মীরা", "Guru": "ਮੀਰਾ",
    "Gujr": "મીરા", "Orya": "ମୀରା", "Taml": "மணல்", "Telu": "మీరా", "Knda": "ಮೀರಾ",
    "Mlym": "മീര", "Sinh": "මීරා", "Thai": "ใบบัว", "Laoo": "ຊາຍ", "Khmr": "ខ្សាច់", "Mymr": "သဲ",
    "Latn": "Lê Cồn Kāʻai", "Zsym": "★✓▲", "Zsye": "\N{CIRCUS TENT}",
}  # fmt: skip


@pytest.fixture
def client() -> TestClient:
    """Pages that need no desk."""
    app = make_app(cast(Desk, None), Door(8417, "the-token"))
    return TestClient(app, base_url="http://127.0.0.1:8417")


def _characters(path: Path) -> frozenset[int]:
    with TTFont(path, fontNumber=0, lazy=True) as font:
        return frozenset(font.getBestCmap())


def _shown(text: str) -> list[str]:
    """Characters of a text that neither the page's face nor one offered for them has."""
    own = _characters(files()["AtkinsonHyperlegible-Regular.ttf"])
    offered = [(face.ranges, _characters(face.path)) for face in script_faces()]
    return [
        character
        for character in text
        if ord(character) not in own
        and not any(
            ord(character) in has and any(a <= ord(character) <= b for a, b in ranges)
            for ranges, has in offered
        )
    ]


@pytest.mark.parametrize("name", sorted(OWN))
def test_typeface_of_the_page_is_served_from_here(client: TestClient, name: str) -> None:
    """All styles of the page's own typeface lie in its package and come as TrueType files."""
    answer = client.get(f"/typefaces/{name}")
    assert answer.headers["content-type"] == "font/ttf"
    assert answer.content.startswith(b"\x00\x01\x00\x00")


def test_sheet_offers_only_files_that_are_served(client: TestClient) -> None:
    """Every address in the style sheet for scripts is one that the program answers."""
    answer = client.get("/typefaces/scripts.css")
    assert answer.headers["content-type"] == "text/css; charset=utf-8"
    named = re.findall(r'url\("/typefaces/([^"]+)"\)', answer.text)
    assert len(named) == len(set(named)) == len(script_faces())
    assert set(named) | OWN == set(files())
    assert all(re.fullmatch(r"[\w.-]+", name) for name in named)
    small = min(script_faces(), key=lambda face: face.path.stat().st_size)
    assert client.get(f"/typefaces/{small.name}").content == small.path.read_bytes()


@pytest.mark.parametrize("tag", NAMES)
def test_names_in_every_script_of_the_catalogue_are_shown(tag: str) -> None:
    """A name in a script that pieces can be set in has a face on the page, signs included."""
    assert _shown(NAMES[tag].replace(" ", "")) == []


@pytest.mark.parametrize("path", LISTS, ids=lambda path: path.stem)
def test_names_of_the_examples_are_shown(path: Path) -> None:
    """No character of a template's example list is left to what the computer happens to have."""
    text = path.read_text(encoding="utf-8-sig")
    assert _shown(re.sub(r"\s", "", text)) == []


def test_sheet_leaves_out_what_is_not_installed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without the extra for Han characters none is offered, so that no browser asks in vain."""
    known = {"Hebr": ("Noto Sans Hebrew SemiBold",), "Hani": ("A face that nobody has",)}
    monkeypatch.setattr(typefaces, "BY_SCRIPT", known)
    script_faces.cache_clear()
    try:
        assert [face.name for face in script_faces()] == ["NotoSansHebrew.ttf"]
    finally:
        script_faces.cache_clear()


def test_ranges_are_whole_blocks_where_no_other_script_has_letters() -> None:
    """Thai has its block; Hebrew its own and its part of the presentation forms (Unicode)."""
    assert ranges_of(frozenset({"Thai"})) == ((0x0E00, 0x0E7F),)
    hebrew = ranges_of(frozenset({"Hebr"}))
    assert hebrew[0] == (0x0590, 0x05FF)
    assert all(0xFB1D <= first <= last <= 0xFB4F for first, last in hebrew[1:])


def test_latin_of_the_page_is_its_own() -> None:
    """No other face is offered for what every page consists of, so none is fetched for it."""
    assert all(first > 0xFF for face in script_faces() for first, _ in face.ranges)


def test_page_names_the_family_after_its_own() -> None:
    """The family of the other scripts comes second wherever the page says what it is set in."""
    css = (HERE / "static" / "css" / "base.css").read_text(encoding="utf-8")
    wanted = f'"Atkinson Hyperlegible", "{typefaces.FAMILY}"'
    assert css.count(f"--face: {wanted}") == css.count(f"--figures: {wanted}") == 1
    assert f'font-family: "{typefaces.FAMILY}"' in script_sheet()
