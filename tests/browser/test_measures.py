"""Boxes for measures and counts: what is typed is what counts, everywhere alike."""

from collections.abc import Callable

from playwright.sync_api import Page, expect

from tests.browser.conftest import Served, Windows

ROWS = "name\tvillage\tquantity\nZoë Marram\tSandreed\t2\nBo Fescue\tSandreed\tx\n"
KEPT = "Kept. Ctrl Z or Undo takes it back."
CASES = [
    ("1,5", 1.5),
    ("1.5", 1.5),
    ("+0,25 mm", 0.25),
    ("−3", -3),
    ("", None),
    ("12", 12),
]
WIDTHS = [320, 390, 640, 820, 1100, 1280, 1600]
NONE = ["abc", "1,2,3", "1.234,5", "2 3", "1e3", "-", "NaN"]


def lay_out(new_docket: Callable[..., Page]) -> Page:
    """Start a docket and open part 3."""
    page = new_docket(ROWS, "bag-tag")
    page.evaluate("location.hash = '#lay-out'")
    expect(page.locator("#layout-gap")).to_be_visible()
    return page


def figures_of(page: Page, texts: list[str]) -> list[object]:
    """What the page takes texts for; "none" for what is no number."""
    found: list[object] = page.evaluate(
        """(texts) => import("/static/js/measures.mjs").then(({ figureOf }) => texts.map((text) => {
          const found = figureOf(text);
          return Number.isNaN(found) ? "none" : found;
        }))""",
        texts,
    )
    return found


def test_a_comma_is_a_point(served: Served, windows: Windows) -> None:
    """Both signs part the decimals; what is ambiguous or no number is never guessed at."""
    page = windows.open(served.address)
    assert figures_of(page, [text for text, _ in CASES]) == [value for _, value in CASES]
    assert figures_of(page, NONE) == ["none"] * len(NONE)


def test_the_gap_takes_a_comma_and_says_what_is_no_number(new_docket: Callable[..., Page]) -> None:
    """1,5 is 1.5 mm; "abc", or more than can be, is told and changes nothing."""
    page = lay_out(new_docket)
    gap = page.locator("#layout-gap")
    gap.fill("3,5")
    gap.press("Enter")
    expect(page.locator("#stub-undone")).to_contain_text("3.5")
    expect(gap).to_have_value("3.5")
    for text, told in (("abc", "“abc” is no number"), ("400", "Give 0")):
        gap.fill(text)
        gap.press("Enter")
        expect(page.locator("#lay-out .wrong").first).to_contain_text(told)
        expect(gap).to_have_attribute("aria-invalid", "true")
    expect(page.locator("#stub-undone")).to_contain_text("3.5")


def test_keys_step_and_the_wheel_does_not(new_docket: Callable[..., Page]) -> None:
    """An arrow is one step, told to those who cannot see it; scrolling changes no figure."""
    page = lay_out(new_docket)
    gap = page.locator("#layout-gap")
    gap.fill("5")
    gap.press("Enter")
    expect(page.locator("#stub-undone")).to_contain_text("5.0")
    gap.hover()
    gap.focus()
    page.mouse.wheel(0, 240)
    page.mouse.wheel(0, -240)
    expect(gap).to_have_value("5")
    gap.press("ArrowDown")
    expect(gap).to_have_value("4.9")
    expect(gap).to_have_attribute("aria-valuenow", "4.9")
    expect(page.locator("#stub-undone")).to_contain_text("4.9")
    expect(gap).to_be_focused()


def test_a_slip_takes_commas(new_docket: Callable[..., Page]) -> None:
    """Moved by 0,5 is half a millimetre; letters 4,2 high; words are not taken for figures."""
    page = new_docket(ROWS, "bag-tag")
    page.evaluate("location.hash = '#line-2'")
    page.locator("[name='text.name.x']").fill("0,5")
    page.locator("[name='text.name.x']").press("Enter")
    expect(page.locator(".slip-findings")).to_contain_text("moved 0.5 mm right")
    page.locator("[name='text.name.size']").select_option("at most")
    page.locator("[name='text.name.mm']").fill("4,2")
    page.locator("[name='text.name.mm']").press("Enter")
    expect(page.locator(".slip-findings")).to_contain_text("at most 4.2 mm high")
    page.get_by_label("How many").fill("two")
    page.get_by_label("How many").press("Tab")
    expect(page.locator(".slip-said")).to_contain_text("“two” is no number")
    page.get_by_label("How many").fill("1,5")
    expect(page.locator(".slip-said")).to_contain_text("Give a whole number 1 to 9999.")


def test_pieces_of_a_line_to_mend_are_a_whole_number(new_docket: Callable[..., Page]) -> None:
    """What is no number of pieces is told beside the line and not kept."""
    page = new_docket(ROWS, "bag-tag")
    page.evaluate("location.hash = '#list'")
    line = page.locator(".amend[data-line='3']")
    line.get_by_label("pieces").fill("1,5")
    line.get_by_role("button", name="Keep line 3").click()
    expect(line.get_by_role("alert")).to_contain_text("Give a whole number 1 to 9999. Not kept.")
    line.get_by_label("pieces").fill("4")
    line.get_by_role("button", name="Keep line 3").click()
    expect(line).to_contain_text("mended")


def test_a_changed_slip_is_never_cut_off_sideways(new_docket: Callable[..., Page]) -> None:
    """With "Do the same to others" open, long groups and all, no part is wider than its place."""
    long = ROWS.replace("Sandreed", "Sandreed on the shingle spit beyond the old lifeboat house")
    page = new_docket(long, "bag-tag")
    page.evaluate("location.hash = '#line-2'")
    page.locator("[name='text.name.size']").select_option("at most")
    expect(page.locator(".slip-said")).to_have_text(KEPT)
    expect(page.locator(".slip-like select")).to_be_visible()
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 800})
        over = page.evaluate(
            """() => [...document.querySelectorAll(".slip, .slip *")]
              .filter((each) => each.checkVisibility() && !each.closest("select, svg")
                && !each.matches(".visually-hidden, input, bdi"))
              .filter((each) => each.scrollWidth > each.clientWidth + 1 && each.clientWidth > 0
                && getComputedStyle(each).display !== "inline")
              .map((each) => `${each.className} ${each.scrollWidth} in ${each.clientWidth}`)"""
        )
        assert (width, over) == (width, [])
