"""`namebatch serve`: the page, on this computer alone."""

import os
from contextlib import closing, suppress
from pathlib import Path
from typing import Annotated

import typer

from namebatch.errors import SettingsError

PORT = 8417
MOST_PORT = 65535

Port = Annotated[
    int,
    typer.Option("--port", metavar="N", min=0, max=MOST_PORT, help="Port; 0 takes any free one."),
]
DataFolder = Annotated[
    str | None,
    typer.Option(
        "--data", metavar="DIR", help="Folder where dockets are kept; your own if not given."
    ),
]
NoBrowser = Annotated[bool, typer.Option("--no-browser", help="Open no browser.")]


def serve(port: Port = PORT, data: DataFolder = None, no_browser: NoBrowser = False) -> None:
    """Open the page: look at every piece before it is cut. Ctrl-C ends it."""
    from namebatch.store import open_store
    from namebatch.web.alone import alone_in
    from namebatch.web.port import address, open_port

    if data is not None and not data.strip():
        raise SettingsError('--data is empty. Name a folder, or "." for this one.')
    os.umask(0o077)  # names are nobody else's business, whatever rights the folder has
    with open_port(port) as taken, closing(open_store(_folder(data))) as store:
        page = address(taken.getsockname()[1])
        with alone_in(store.folder, page):
            # what takes long to load comes last: a refusal is told at once
            from namebatch.desk import Desk
            from namebatch.orphans import count_silently
            from namebatch.web.leaving import leave
            from namebatch.web.server import serve as serve_page

            count_silently()
            # the end may come before the server listens for it
            with suppress(KeyboardInterrupt), Desk(store) as desk:
                print(f"The page is at {page}")
                print(f"Dockets are kept in {store.folder}. Ctrl-C ends the program.", flush=True)
                serve_page(desk, taken, browser=not no_browser)
    print("namebatch is closed; all that was shown as saved is kept.", flush=True)
    leave()


def _folder(data: str | None) -> Path | None:
    return None if data is None else Path(data)
