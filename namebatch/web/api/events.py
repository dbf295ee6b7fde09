"""What happens to a docket, told to its page while it is open (server-sent events)."""

import asyncio
import json
from collections.abc import AsyncIterator, Callable
from contextlib import ExitStack
from dataclasses import asdict

from fastapi import APIRouter
from fastapi.responses import StreamingResponse
from starlette.concurrency import run_in_threadpool

from namebatch.desk.model import Event
from namebatch.web.depends import DocketNumber, TheDesk, TheEnding
from namebatch.web.problems import REFUSED

router = APIRouter(tags=["events"], responses=REFUSED)

BREATH_S = 15.0
"""Something is said at least so often, so that a line that broke is found out."""
MOST_WAITING = 1000
"""A page that hears so much later than it happens is hung up on, and asks for everything anew."""
SOON_MS = 1000
"""After which a browser rings again when the line was cut."""


@router.get(
    "/dockets/{number}/events",
    response_class=StreamingResponse,
    responses={200: {"content": {"text/event-stream": {}}, "description": "Kind and JSON data."}},
)
async def events(number: DocketNumber, desk: TheDesk, ending: TheEnding) -> StreamingResponse:
    """Events of a docket until the page hangs up.

    ``pieces`` {done, total, lines}; ``changed`` {revision, lines, or null for all}; ``make`` as
    ``GET …/make`` has it, first of all how it stands.
    """
    await run_in_threadpool(desk.work.state, number)  # refuses a docket that is not there
    line = _Line()

    def join() -> ExitStack:
        """Listen, and only then ask how it stands, so that nothing falls between."""
        leaving = ExitStack()
        leaving.callback(desk.hub.listen(number, line.hear_from_afar))
        leaving.callback(ending.listen(line.hang_up_from_afar))
        line.hear_from_afar(Event("make", asdict(desk.work.state(number))))
        return leaving

    return StreamingResponse(_told(line, join), media_type="text/event-stream")


class _Line:
    """News that wait to be sent to one page."""

    def __init__(self) -> None:
        self._loop = asyncio.get_running_loop()
        self._news: asyncio.Queue[Event | None] = asyncio.Queue()

    def hear(self, event: Event | None) -> None:
        """Keep an event; None is the end. Called in the event loop."""
        if self._news.qsize() > MOST_WAITING:
            event = None
        self._news.put_nowait(event)

    def hear_from_afar(self, event: Event | None) -> None:
        """The same, from any thread."""
        if not self._loop.is_closed():
            self._loop.call_soon_threadsafe(self.hear, event)

    def hang_up_from_afar(self) -> None:
        """No more is to come."""
        self.hear_from_afar(None)

    async def texts(self) -> AsyncIterator[str]:
        """Events as they are sent, and a breath where there are none for long."""
        yield f"retry: {SOON_MS}\n\n"
        while True:
            try:
                event = await asyncio.wait_for(self._news.get(), BREATH_S)
            except TimeoutError:
                yield ": still here\n\n"
                continue
            if event is None:
                return
            yield f"event: {event.kind}\ndata: {json.dumps(event.data)}\n\n"


async def _told(line: _Line, join: Callable[[], ExitStack]) -> AsyncIterator[str]:
    """Listen only while somebody is there to hear."""
    with await run_in_threadpool(join):
        async for text in line.texts():
            yield text
