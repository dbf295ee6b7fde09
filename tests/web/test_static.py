"""What the browser is given: nothing from elsewhere, nothing inline, every part of it there."""

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from namebatch.web.preloads import modules_of

WEB = Path(__file__).parents[2] / "namebatch" / "web"
STATIC = WEB / "static"
MODULES = sorted((STATIC / "js").glob("*.mjs"))
SHEETS = sorted((STATIC / "css").glob("*.css"))
PAGES = sorted((WEB / "pages").glob("*.html"))
IMPORT = re.compile(r'(?:from|import)\s*\(?\s*"(\./[\w.-]+)"')
MOST_LINES = 400


class _Tags(HTMLParser):
    """Collects start tags with their attributes, and whether a script has text in it."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.inline = ""
        self._script = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        self._script = tag in ("script", "style")

    def handle_endtag(self, tag: str) -> None:
        self._script = False

    def handle_data(self, data: str) -> None:
        if self._script:
            self.inline += data.strip()


def _page(path: Path) -> _Tags:
    tags = _Tags()
    tags.feed(path.read_text(encoding="utf-8"))
    return tags


def _named(paths: list[Path]) -> list[object]:
    return [pytest.param(path, id=path.name) for path in paths]


@pytest.mark.parametrize("path", _named(PAGES))
def test_pages_have_nothing_inline(path: Path) -> None:
    """No page has a script, a style or a listener in it that the security policy would refuse."""
    page = _page(path)
    names = {name for _, attrs in page.tags for name in attrs}
    assert not page.inline
    assert not {name for name in names if name == "style" or name.startswith("on")}
    assert "style" not in {tag for tag, _ in page.tags}


@pytest.mark.parametrize("path", _named(PAGES))
def test_pages_name_only_files_that_are_here(path: Path) -> None:
    """Every style sheet, script and picture of a page lies in the package."""
    for _, attrs in _page(path).tags:
        for value in (attrs.get("src"), attrs.get("href")):
            assert not re.match(r"(?:https?:)?//", value or ""), value
            if value and value.startswith("/static/") and "{{" not in value:
                assert (STATIC / value.removeprefix("/static/")).is_file(), value


@pytest.mark.parametrize("path", _named(MODULES))
def test_modules_import_what_is_here(path: Path) -> None:
    """Every module that a module imports lies beside it."""
    for name in IMPORT.findall(path.read_text(encoding="utf-8")):
        assert (path.parent / name).is_file(), name


def test_every_module_is_used() -> None:
    """No module lies about that no page starts or imports."""
    started = {
        str(attrs["src"]).removeprefix("/static/js/")
        for path in PAGES
        for tag, attrs in _page(path).tags
        if tag == "script"
    }
    reached = {name for first in started for name in modules_of(first)}
    assert {path.name for path in MODULES} == reached


def test_preloads_are_all_that_is_imported() -> None:
    """What a page fetches ahead is what its modules import, first things first."""
    names = modules_of("docket.mjs")
    assert names[0] == "docket.mjs"
    assert len(set(names)) == len(names)
    for name in names:
        text = (STATIC / "js" / name).read_text(encoding="utf-8")
        assert {each.removeprefix("./") for each in IMPORT.findall(text)} <= set(names)


@pytest.mark.parametrize("path", _named(MODULES))
def test_modules_never_read_text_as_markup(path: Path) -> None:
    """No module has a way for a name of the list to become an element or a program."""
    text = path.read_text(encoding="utf-8")
    found = re.findall(
        r"\.(?:inner|outer)HTML|insertAdjacentHTML|document\.write|\beval\(|new Function"
        r"|createContextualFragment|srcdoc|setHTMLUnsafe|https?://(?!www\.w3\.org/)",
        text,
    )
    assert not found


@pytest.mark.parametrize("path", _named([*MODULES, *SHEETS]))
def test_files_stay_short(path: Path) -> None:
    """One concept a file: none is longer than the limit of the house."""
    assert len(path.read_text(encoding="utf-8").splitlines()) <= MOST_LINES


@pytest.mark.parametrize("path", _named(SHEETS))
def test_sheets_fetch_nothing_from_elsewhere(path: Path) -> None:
    """A style sheet names only typefaces and pictures of this program."""
    for address in re.findall(r"url\(\"?([^)\"]+)", path.read_text(encoding="utf-8")):
        assert address.startswith(("/typefaces/", "/static/")), address


def _tokens(block: str) -> dict[str, str]:
    return dict(re.findall(r"--([\w-]+):\s*(#[0-9a-f]{6})", block))


def _themes() -> dict[str, dict[str, str]]:
    text = (STATIC / "css" / "base.css").read_text(encoding="utf-8")
    light, dark = re.findall(r":root \{(.*?)\n\s*\}", text, flags=re.DOTALL)[:2]
    return {"light": _tokens(light), "dark": _tokens(light) | _tokens(dark)}


def _luminance(colour: str) -> float:
    """Relative luminance of WCAG 2.2."""
    channels = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    r, g, b = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def _contrast(one: str, other: str) -> float:
    """Contrast ratio of WCAG 2.2."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_contrast_as_the_guidelines_have_it() -> None:
    """White on black is 21:1 and #767676 on white 4.54:1, as WCAG's own notes say (from memory)."""
    assert _contrast("#ffffff", "#000000") == pytest.approx(21.0)
    assert _contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("ground", ["bench", "card", "blank", "wash"])
@pytest.mark.parametrize("words", ["ink", "soft", "accent"])
def test_words_stand_out(theme: str, ground: str, words: str) -> None:
    """Text has at least 4.5:1 on every ground that it may stand on, in both themes."""
    tokens = _themes()[theme]
    assert _contrast(tokens[words], tokens[ground]) >= 4.5


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_edges_and_buttons_stand_out(theme: str) -> None:
    """Edges of what can be used have at least 3:1, words on the accent 4.5:1, in both themes."""
    tokens = _themes()[theme]
    for ground in ("card", "blank", "bench"):
        assert _contrast(tokens["edge"], tokens[ground]) >= 3.0
    assert _contrast(tokens["on-accent"], tokens["accent"]) >= 4.5
