"""What cannot be kept is told where it stands, and what is said covers nothing that is read."""

from collections.abc import Callable

from playwright.sync_api import Page, expect

from tests.browser.conftest import Served, Windows


def test_a_blank_that_is_no_number_is_not_kept(own_served: Served, windows: Windows) -> None:
    """As long as a blank is marked as wrong, the foot says so and keeps nothing."""
    page = windows.open(f"{own_served.address}/workshop")
    foot, keep = page.locator("#shop-ways"), page.get_by_role("button", name="Keep these values")
    bed = page.get_by_role("group", name="Bed").get_by_label("width")
    bed.fill("abc")
    expect(foot).to_contain_text("1 blank is no figure")
    expect(keep).to_be_disabled()
    page.get_by_label("Name").first.fill("Our printer")
    expect(foot).to_contain_text("1 blank is no figure")
    expect(keep).to_be_disabled()
    bed.fill("610")
    expect(keep).to_be_enabled()
    bed.fill("abc")
    page.get_by_role("button", name="Drop the changes").click()
    expect(foot).not_to_contain_text("no figure")


def test_a_refusal_is_in_the_words_of_the_form(own_served: Served, windows: Windows) -> None:
    """And nothing beside it says that values were kept."""
    windows.expected.append("422")
    page = windows.open(f"{own_served.address}/workshop")
    page.get_by_label("Name").first.fill("Our printer")
    page.get_by_role("button", name="Keep these values").click()
    expect(page.get_by_text("Kept in the workshop file.")).to_be_visible()
    page.get_by_role("group", name="Margins").get_by_label("top").fill("-3")
    page.get_by_role("button", name="Keep these values").click()
    wrong = page.locator("#shop-wrong")
    expect(wrong).to_contain_text("Printer, margins it cannot print, top: must be at least 0")
    expect(page.get_by_text("Kept in the workshop file.")).to_have_count(0)


def test_what_is_said_leaves_the_foot_of_a_form_free(own_served: Served, windows: Windows) -> None:
    """The bar at the foot says whether something is kept; what was done stands above it."""
    page = windows.open(f"{own_served.address}/workshop")
    page.get_by_label("Name").first.fill("Our printer")
    page.get_by_role("button", name="Keep these values").click()
    said, bar = page.locator(".said-slip").bounding_box(), page.locator("#shop-ways").bounding_box()
    assert said
    assert bar
    assert said["y"] + said["height"] <= bar["y"] + 1


def test_another_template_is_chosen_without_a_long_way(new_docket: Callable[..., Page]) -> None:
    """The button that takes it is in sight as soon as they are."""
    page = new_docket("name\nAda Marram\n", "kite-tag")
    page.evaluate("location.hash = '#list'")
    page.get_by_text("Another template").click()
    cards = page.locator(".what-choice .choice-card")
    expect(cards).not_to_have_count(0)
    page.get_by_text("Another template").scroll_into_view_if_needed()
    first, take = cards.first.bounding_box(), page.get_by_role("button", name="Take this template")
    expect(take).to_be_visible()
    last = take.bounding_box()
    assert first
    assert last
    assert last["y"] + last["height"] - first["y"] < 700


def test_a_number_of_pieces_that_is_none_is_asked_for(new_docket: Callable[..., Page]) -> None:
    """No nought stands where the list has a word; keeping the line as it is says what is wanted."""
    page = new_docket("name\tquantity\nAda Marram\ttwo\n", "kite-tag")
    page.evaluate("location.hash = '#list'")
    box = page.locator("#mend-2-pieces")
    expect(box).to_have_value("")
    page.get_by_role("button", name="Keep line 2").click()
    expect(page.locator(".amend .wrong")).to_contain_text("how many")
    box.fill("2")
    page.get_by_role("button", name="Keep line 2").click()
    expect(page.locator("#look-figures")).not_to_contain_text("held")


def test_what_nobody_has_looked_at_is_said_before_the_sheets_are_filled(
    new_docket: Callable[..., Page],
) -> None:
    """A line that needs a look is made with the others; whoever fills the sheets is told."""
    page = new_docket("name\nAda Marram\nBo Fescue\nBo Fescue\n", "kite-tag")
    page.evaluate("location.hash = '#lay-out'")
    expect(page.locator("#filling")).to_contain_text("1 line that needs a look is among them")
