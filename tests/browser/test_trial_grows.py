"""A picture that is given another size keeps what lies on it."""

from playwright.sync_api import expect

from tests.browser.conftest import Served, Windows
from tests.browser.test_trial import begin


def test_what_lies_on_a_picture_grows_with_it(served: Served, windows: Windows) -> None:
    """Half as wide: box and letters are half as large, and it is tried without a complaint."""
    page = begin(windows, served)
    width = page.get_by_label("Width of the picture")
    box = page.get_by_role("group", name="Box, from the left").get_by_role("textbox")
    most = page.get_by_role("group", name="Letters, height of capitals").get_by_label("at most")
    before = [float(one.input_value()) for one in [width, *box.all(), most]]
    half = round(before[0] / 2, 1)
    width.fill(str(half))
    after = [float(one.input_value()) for one in [width, *box.all(), most]]
    assert after[0] == half
    for was, now in zip(before[1:], after[1:], strict=True):
        assert abs(now - was * half / before[0]) < 0.06
    expect(width).to_be_focused()
    expect(page.locator(".trial-state")).to_contain_text("Tried:")
    expect(page.locator(".trial-held .note")).to_have_count(0)
    width.fill(str(before[0]))
    again = [float(one.input_value()) for one in [width, *box.all(), most]]
    assert again == before
