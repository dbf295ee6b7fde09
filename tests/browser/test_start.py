"""From the hook to a docket, and part 1: the list."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import DESK, PHONE, TABLET, Served, Windows, ready

ROWS = (
    "name\tvillage\tquantity\nAda Marram\tSandreed\t2\nBo Fescue\t\t1\n"
    "Søren Tidewrack\tSaltcote\tx\n"
)


def show_list(page: Page) -> None:
    """Open part 1."""
    page.evaluate("location.hash = '#list'")
    expect(page.locator("#list-came")).to_be_visible()


def test_an_empty_hook_says_what_to_do(own_served: Served, windows: Windows) -> None:
    """With nothing on the hook the form of a new docket lies open, and says what a docket is."""
    page = windows.open(own_served.address)
    expect(page.get_by_role("heading", name="New docket")).to_be_visible()
    expect(page.get_by_text("Nothing hangs here yet.")).to_be_visible()
    expect(page.get_by_role("button", name="Start the docket")).to_be_disabled()


def test_a_sample_is_one_click_from_its_picture(served: Served, windows: Windows) -> None:
    """A template's sample list is on a docket after one click, and its count adds up."""
    page = windows.open(served.address)
    if not page.get_by_role("heading", name="New docket").is_visible():
        page.get_by_role("button", name="Start a new docket").click()
    page.get_by_role("radio", name="Medal").check()
    page.get_by_role("button", name="Try it with a sample list").click()
    page.wait_for_url("**/dockets/*")
    expect(page.locator("#list-figures")).to_contain_text("medal.csv")
    expect(page.locator(".stub-sum")).to_contain_text("lines in")
    expect(page.locator(".stub-figures progress")).to_have_count(0)
    made, held, lines = (int(text) for text in page.locator(".stub-sum dd").all_text_contents())
    assert made + held == lines
    assert made > 0


def test_a_list_that_cannot_be_read_is_told_in_place(served: Served, windows: Windows) -> None:
    """What is no list is refused with its reason where it was given; another takes its place."""
    windows.expected.append("422")
    page = windows.open(f"{served.address}/?template=key-fob#new")
    page.get_by_label("or choose its file").set_input_files(
        {"name": "names.xlsx", "mimeType": "application/zip", "buffer": b"PK\x03\x04 no workbook"}
    )
    page.get_by_role("button", name="Start the docket").click()
    expect(page.locator("main")).to_contain_text('"names.xlsx" is damaged')
    page.get_by_label("or choose its file").set_input_files(
        {"name": "names.csv", "mimeType": "text/csv", "buffer": b"name\nAda Marram\n"}
    )
    page.get_by_role("button", name="Start the docket").click()
    page.wait_for_url("**/dockets/*")
    ready(page)
    expect(page.locator("#list-figures")).to_contain_text("1 line")


def test_columns_are_guessed_and_can_be_said(new_docket: Callable[..., Page]) -> None:
    """A wrong guess is put right with one choice, and taken back with Undo."""
    page = new_docket("name\tvillage\nAda Marram\tSandreed\nBo Fescue\tSaltcote\n", "bag-tag")
    show_list(page)
    box = page.locator("#column-name")
    expect(box).to_have_value("name")
    box.select_option("village")
    expect(page.locator("#column-name-hint")).to_have_text("as you said")
    expect(page.locator(".ruled thead th.used").filter(has_text="village")).to_contain_text("name")
    page.locator("#said").get_by_role("button", name="Undo").click()
    expect(box).to_have_value("name")


def test_a_column_is_said_away(new_docket: Callable[..., Page]) -> None:
    """A guessed quantity is none in this list, and is guessed again."""
    page = new_docket("name\tqty\nInka\t7\nMarlo\t5\n", "kite-tag")
    show_list(page)
    page.get_by_label("quantity").select_option("none in this list")
    expect(page.locator("#said")).to_contain_text("Nothing in this list is quantity.")
    expect(page.locator(".stub-figures")).to_contain_text("pieces ordered2")
    page.get_by_label("quantity").select_option("leave it to be guessed")
    expect(page.locator(".stub-figures")).to_contain_text("pieces ordered12")


def test_a_line_is_mended_where_it_stands(new_docket: Callable[..., Page]) -> None:
    """A quantity that is no number is corrected in the list, and the line is told as mended."""
    page = new_docket(ROWS, "bag-tag")
    show_list(page)
    row = page.locator(".amend[data-line='4']")
    expect(row).to_contain_text("x")
    row.get_by_label("pieces").fill("3")
    row.get_by_role("button", name="Keep line 4").click()
    expect(page.locator("#said")).to_contain_text("Line 4 is corrected.")
    expect(row).to_contain_text("mended")
    expect(row.get_by_label("pieces")).to_have_value("3")
    expect(page.locator(".stub-sum .sum")).to_contain_text("3")
    expect(page.locator("#list-figures")).not_to_contain_text("to mend")


def test_a_line_that_cannot_be_mended_is_left_out(new_docket: Callable[..., Page]) -> None:
    """Left out it needs no mending, and is taken in again with the same button."""
    page = new_docket("name\tquantity\nInka\t1\nMarlo\tsome\n", "kite-tag")
    show_list(page)
    expect(page.locator("#list-mend")).to_have_text("Lines to mend: 1")
    page.get_by_role("button", name="Leave this line out").click()
    expect(page.locator("#list-mend")).to_have_text("Nothing left to mend (1 left out)")
    expect(page.locator(".amend")).to_contain_text("left out")
    page.get_by_role("button", name="Take it in again").click()
    expect(page.locator("#list-mend")).to_have_text("Lines to mend: 1")


def test_another_list_takes_its_place(new_docket: Callable[..., Page]) -> None:
    """Another list is counted at once; Undo brings the former one back, with its lines."""
    page = new_docket("name\nAda\nBo\n", "key-fob")
    show_list(page)
    page.get_by_text("Another list").click()
    page.get_by_text("or paste it").click()
    page.get_by_label("Lines as they come").fill("name\nAda\nBo\nIdris\n")
    page.get_by_role("button", name="Take this list").click()
    expect(page.locator("#list-figures")).to_contain_text("3 lines")
    expect(page.locator(".stub-sum .sum")).to_contain_text("3")
    page.locator("#said").get_by_role("button", name="Undo").click()
    expect(page.locator("#list-figures")).to_contain_text("2 lines")
    expect(page.locator(".stub-sum .sum")).to_contain_text("2")


def test_another_template_and_typeface_can_be_taken_back(new_docket: Callable[..., Page]) -> None:
    """Template and typeface are chosen in part 1; Undo brings the former ones back."""
    page = new_docket("name\nAda Marram\n", "key-fob")
    show_list(page)
    page.get_by_text("Another template").click()
    page.get_by_role("radio", name="Kite tag").check()
    page.get_by_role("button", name="Take this template").click()
    expect(page.locator(".what-now")).to_contain_text("Kite tag")
    page.get_by_label("Typeface tried first").select_option(label="Lobster (script)")
    expect(page.locator("#stub-undone")).to_contain_text("Lobster")
    page.locator("#stub").get_by_role("button", name="Undo").click()
    expect(page.get_by_label("Typeface tried first")).to_have_value("")
    page.locator("#stub").get_by_role("button", name="Undo").click()
    expect(page.locator(".what-now")).to_contain_text("Key fob")
    page.locator("#stub").get_by_role("button", name="Do it again").click()
    expect(page.locator(".what-now")).to_contain_text("Kite tag")


def test_only_deletion_asks(new_docket: Callable[..., Page], served: Served) -> None:
    """A copy is made at once; a docket is deleted when that was agreed to, and not before."""
    page = new_docket("name\nAda Marram\n", "key-fob")
    number = page.url.rsplit("/", 1)[-1].split("#")[0]
    page.get_by_role("button", name="Rename").click()
    page.get_by_label("Name of this docket").fill("<b>Flags & poles</b>")
    page.get_by_role("dialog").get_by_role("button", name="Rename").click()
    expect(page.locator("#stub-title")).to_have_text("<b>Flags & poles</b>")
    page.locator("#said").get_by_role("button", name="Undo").click()
    expect(page.locator("#stub-title")).to_have_text("Key fob, engraved")
    page.locator("#stub").get_by_role("button", name="Do it again").click()
    expect(page.locator("#stub-title")).to_have_text("<b>Flags & poles</b>")
    page.goto(served.address)
    ready(page)
    of_number = f"docket {int(number):04d}"
    page.get_by_role("button", name=f"Copy {of_number}", exact=True).click()
    expect(page.locator("#said")).to_contain_text("Copied with its list")
    expect(page.get_by_role("dialog")).to_have_count(0)
    delete = page.get_by_role("button", name=f"Delete {of_number}", exact=True)
    delete.click()
    page.get_by_role("button", name="Keep it").click()
    expect(delete).to_be_visible()
    delete.click()
    page.get_by_role("button", name="Delete it").click()
    expect(delete).to_have_count(0)
    expect(page.locator("#said")).to_contain_text("deleted with all its data")


def test_a_docket_is_started_by_keyboard(served: Served, windows: Windows) -> None:
    """Without a mouse: n opens the form, arrows choose the template, Tab reaches the sample."""
    page = windows.open(served.address)
    if page.locator("#new").is_hidden():
        page.keyboard.press("n")
    expect(page.get_by_role("radio").first).to_be_visible()
    page.get_by_role("radio").first.focus()
    page.keyboard.press("Space")
    page.keyboard.press("ArrowRight")
    expect(page.get_by_role("radio").nth(1)).to_be_checked()
    for _ in range(12):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.textContent") == "Try it with a sample list":
            break
    page.keyboard.press("Enter")
    page.wait_for_url("**/dockets/*")


def test_keys_are_told_and_can_be_turned_off(new_docket: Callable[..., Page]) -> None:
    """? shows the keys; turned off there, keys of one sign do nothing any more."""
    page = new_docket("name\nAda\n", "key-fob")
    page.locator("h1").click()
    page.keyboard.press("1")
    expect(page.locator("#list")).to_have_attribute("open", "")
    page.keyboard.press("?")
    page.get_by_label("Keys of one letter or sign are on").uncheck()
    page.get_by_role("dialog").get_by_role("button", name="Close").click()
    page.locator("h1").click()
    page.keyboard.press("4")
    page.keyboard.press("?")
    expect(page.get_by_role("dialog")).to_have_count(0)
    expect(page.locator("#make")).not_to_have_attribute("open", "")


@pytest.mark.parametrize("size", [PHONE, TABLET, DESK], ids=["phone", "tablet", "desk"])
def test_nothing_runs_out_sideways(
    new_docket: Callable[..., Page], served: Served, size: dict[str, int]
) -> None:
    """Hook and docket fit every width, and the stub stays in view when the page is scrolled."""
    page = new_docket(ROWS, "bag-tag", size)
    show_list(page)
    expect(page.locator(".ruled")).to_be_visible()
    beyond = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
    assert page.evaluate(beyond) == 0
    page.evaluate("window.scrollTo(0, document.body.scrollHeight)")
    expect(page.locator(".stub-next")).to_be_in_viewport()
    page.goto(f"{served.address}/?template=medal#new")
    ready(page)
    page.get_by_text("or paste it").click()
    assert page.evaluate(beyond) == 0


def test_values_of_a_list_are_never_markup(new_docket: Callable[..., Page]) -> None:
    """Headers and names that look like markup are shown as they are written."""
    evil = "<img src=x onerror=alert(1)>"
    page = new_docket(f"name\t{evil}\tquantity\n{evil}\t<script>1</script>\t1\n", "key-fob")
    show_list(page)
    expect(page.locator(".ruled tbody td").first).to_have_text(evil)
    expect(page.locator(".ruled thead th").nth(2)).to_contain_text(evil)
    assert page.locator("img[src=x]").count() == 0
