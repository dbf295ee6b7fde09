"""What tells one job from another, in words."""

from collections.abc import Mapping

import pytest

from namebatch.output.difference import difference

SETTINGS: Mapping[str, object] = {
    "list": {"file": "kites.csv", "sha256": "aa"},
    "template_sha256": "bb",
    "workshop": {"name": "shed.toml", "sha256": "cc"},
    "sheet_mm": [210.0, 297.0],
    "gap_mm": 3.0,
    "columns": {"name": "Name"},
    "font": None,
    "fill": "fast",
    "keep_order": False,
}
THIS: Mapping[str, object] = {"template": "tag", "template_digest": "bb", "settings": SETTINGS}


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"list": {"file": "kites.csv", "sha256": "xx"}}, "the list has changed since"),
        ({"list": {"file": "old.csv", "sha256": "aa"}}, 'the list was called "old.csv"'),
        (
            {"list": {"file": "old.csv", "sha256": "xx"}},
            'the list was "old.csv" and is now "kites.csv"',
        ),
        ({"list": 7}, "the list is another one"),
        (
            {"sheet_mm": [148.0, 210.0]},
            "the sheet was 148 × 210 mm and is now 210 × 297 mm",
        ),
        ({"gap_mm": 2.5}, "the gap was 2.5 mm and is now 3 mm"),
        ({"font": "Dune"}, 'the typeface was "Dune" and is now the usual one'),
        ({"fill": "tight"}, 'the way to fill sheets was "tight" and is now "fast"'),
        ({"columns": {}}, "other columns of the list are used"),
        ({"keep_order": True}, "the order along the sheets is another one"),
        ({"workshop": None}, "the workshop file is another one or has changed since"),
        ({"glitter": 1}, 'the setting "glitter" is another one'),
        ({"gap_mm": "wide"}, "the gap was something else and is now 3 mm"),
        ({"gap_mm": 2.0, "fill": "x\x1b[2J"}, 'was "x<U+001B>[2J"'),
    ],
)
def test_one_setting(changed: Mapping[str, object], words: str) -> None:
    """Each setting in words of its own, said to be all that differs."""
    old = {**THIS, "settings": {**SETTINGS, **changed}}
    assert difference(old, THIS).startswith("the same template, but ")
    assert words in difference(old, THIS)


def test_several_at_once() -> None:
    """The list first, then the rest."""
    old = {**THIS, "settings": {**SETTINGS, "gap_mm": 2.0, "list": {"file": "kites.csv"}}}
    assert difference(old, THIS) == (
        "the same template, but the list has changed since; the gap was 2 mm and is now 3 mm"
    )


def test_templates() -> None:
    """Another template is named; one that was edited since is told apart from it."""
    assert difference({**THIS, "template": "medal"}, THIS) == 'this one has the template "tag"'
    edited = {**THIS, "template_digest": "xx"}
    assert "the template's files have changed since" in difference(edited, THIS)


@pytest.mark.parametrize("old", [{}, {"settings": 7}, {**THIS}])
def test_nothing_to_tell(old: Mapping[str, object]) -> None:
    """A manifest that makes no sense says nothing, nor does an equal one."""
    assert difference(old, THIS) == ""
