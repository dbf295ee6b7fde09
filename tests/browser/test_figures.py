"""Figures as the page says them."""

from playwright.sync_api import Page

from tests.browser.conftest import Served, Windows

CASES = [
    ("mm(12.5)", "12.5 mm"),
    ("mm(100)", "100 mm"),
    ("mm(10.5, 2)", "10.5 mm"),
    ("mm(0.04)", "0 mm"),
    ("size([85, 54.04])", "85 × 54 mm"),
    ("count(1, 'piece')", "1 piece"),
    ("count(1204, 'piece')", "1,204 pieces"),
    ("percent(0.784)", "78 %"),
    ("duration(59.4)", "59 s"),
    ("duration(59.6)", "1 min"),
    ("duration(3599)", "1 h"),
    ("duration(7500)", "2 h 5 min"),
    ("docketNumber(42)", "0042"),
    ("sum({counts: {lines: 118, made: 115, held: 3}})", "118 in = 115 can be made + 3 held"),
    (
        "sum({latest_job: 'current', counts: {lines: 1000, made: 9, held: 1, waiting: 990}})",
        "1,000 in = 9 made + 1 held + 990 to come",
    ),
]


def _say(page: Page) -> list[str]:
    body = ", ".join(f"f.{call}" for call, _ in CASES)
    found: list[str] = page.evaluate(
        f"import('/static/js/figures.mjs').then((f) => "
        f"[{body}].map((text) => text.replaceAll('\\xa0', ' ')))"
    )
    return found


def test_figures_have_their_units(served: Served, windows: Windows) -> None:
    """Measures end without noughts, counts with the right noun, and times in whole units."""
    page = windows.open(served.address)
    assert dict(zip([call for call, _ in CASES], _say(page), strict=True)) == dict(CASES)
