"""Pages filled in: text is escaped, and a name that a page does not know is a fault."""

from pathlib import Path

from fastapi.responses import HTMLResponse
from jinja2 import Environment, FileSystemLoader, StrictUndefined

from namebatch import __version__
from namebatch.web.guard import Door
from namebatch.web.preloads import modules_of

HERE = Path(__file__).resolve().parent

pages = Environment(
    loader=FileSystemLoader(HERE / "pages"),
    autoescape=True,
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
)
pages.globals["modules_of"] = modules_of


def page(door: Door, name: str, place: str, status: int = 200, **values: object) -> HTMLResponse:
    """A page, filled in.

    Args:
        door: whose token the page is given.
        name: of the file in ``pages/``.
        place: which page it is, for the navigation.
        status: of HTTP.
        values: for the page.
    """
    given = {"token": door.token, "version": __version__, "place": place, **values}
    return HTMLResponse(pages.get_template(name).render(given), status)
