"""Names in other scripts than the page's own: their typefaces, their direction."""

from collections.abc import Callable

from playwright.sync_api import Page, expect

ROWS = "name\ttable\nסלעית שחף\tTide table\nमीरा सरकंडा\tDune table\n"
FETCHED = "performance.getEntriesByType('resource').map((one) => one.name.split('/').at(-1))"


def test_faces_are_fetched_for_the_scripts_that_are_there(new_docket: Callable[..., Page]) -> None:
    """A list with Hebrew and Devanagari names brings these two faces and no other script's."""
    page = new_docket(ROWS, "place-card")
    page.evaluate("location.hash = '#look'")
    expect(page.locator(".tile-name").first).to_be_visible()
    page.wait_for_function(
        "[...document.fonts].filter((face) => face.status === 'loaded'"
        " && face.family.includes('Names of the world')"
        " && /U\\+(590|900)-/i.test(face.unicodeRange)).length === 2"
    )
    fetched = set(page.evaluate(FETCHED))
    assert {"NotoSansHebrew.ttf", "NotoSansDevanagari.ttf"} <= fetched
    assert not {"NotoSansThai.ttf", "NotoSansArabic.ttf", "NotoSansCJK-VF.otf.ttc"} & fetched


def test_texts_keep_their_order_whatever_their_direction(new_docket: Callable[..., Page]) -> None:
    """The first text of a piece stands left of the second, on tile and slip, in Hebrew too."""
    page = new_docket(ROWS, "place-card")
    page.evaluate("location.hash = '#line-2'")
    for place in (".tile[data-line='2'] .tile-name", ".slip-title"):
        texts = page.locator(f"{place} bdi")
        expect(texts).to_have_count(2)
        name, table = texts.all()
        expect(name).to_have_text("סלעית שחף")
        expect(table).to_have_text("Tide table")
        assert name.evaluate("(one) => getComputedStyle(one).direction") == "rtl"
        lefts = [one.evaluate("(one) => one.getBoundingClientRect().left") for one in (name, table)]
        assert lefts[0] < lefts[1]
