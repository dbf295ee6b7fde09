"""How much may be sent: bytes of a request, files and parts of a form."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from fastapi import Request
from python_multipart.exceptions import FormParserError
from starlette.datastructures import Headers, UploadFile
from starlette.exceptions import HTTPException
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from namebatch.names.limits import FILE_BYTES
from namebatch.web.problem import problem_response

MIB = 1024 * 1024
FORM_BYTES = FILE_BYTES + MIB
"""A form with one file: the largest list, and room for what stands round it."""
PLAIN_BYTES = 8 * MIB
"""Anything else: changes and approvals of a hundred thousand lines."""
MOST_FIELDS = 16
MOST_PARTS_TOLD = 255
"""Longest file name that is kept, in characters, as file systems have it."""


class TooMuch(HTTPException):
    """More was sent than is taken."""

    def __init__(self, most: int) -> None:
        super().__init__(413, too_much(most))


def too_much(most: int) -> str:
    """What to tell whoever sent more than `most` bytes."""
    return (
        f"What was sent is larger than {most // MIB} MiB, more than is taken here. Save the list "
        "alone, without pictures, or split it."
    )


class BodyLimit:
    """Ends a request as soon as it is larger than it may be."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer, or refuse with 413 at the declared or the counted size."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        form = headers.get("content-type", "").lower().startswith("multipart/form-data")
        most = FORM_BYTES if form else PLAIN_BYTES
        declared = headers.get("content-length", "")
        if declared.isdecimal() and int(declared) > most:
            await problem_response(413, too_much(most))(scope, receive, send)
            return
        count = 0

        async def counted() -> Message:
            nonlocal count
            message = await receive()
            count += len(message.get("body", b""))
            if count > most:
                raise TooMuch(most)
            return message

        await self._app(scope, counted, send)


@dataclass(frozen=True, slots=True)
class Upload:
    """A form as it was sent.

    Attributes:
        fields: name → text; of several with one name the last.
        file_name: of the file, without any folder; empty if there is no file.
        data: bytes of the file; None if there is no file.
    """

    fields: Mapping[str, str] = field(default_factory=dict)
    file_name: str = ""
    data: bytes | None = None


async def read_upload(request: Request) -> Upload:
    """Read a form with at most one file; to be used with ``Depends``.

    Raises:
        HTTPException: it is no such form (422), or too large (413).
    """
    try:
        async with request.form(
            max_files=1, max_fields=MOST_FIELDS, max_part_size=FILE_BYTES
        ) as form:
            fields: dict[str, str] = {}
            name, data = "", None
            for key, value in form.multi_items():
                if isinstance(value, UploadFile):
                    name, data = bare_name(value.filename or ""), await value.read()
                else:
                    fields[key] = value
            return Upload(fields, name, data)
    # older starlettes let the error of a broken form pass as it is
    except (HTTPException, FormParserError) as error:
        if isinstance(error, HTTPException) and error.status_code != 400:
            raise
        raise HTTPException(
            422,
            "The form could not be read. Send one file at a time, or paste the list as text.",
        ) from error


def bare_name(name: str) -> str:
    """The name of a file without folders and signs that do nothing but harm; for showing only."""
    last = name.replace("\\", "/").rpartition("/")[2]
    return "".join(sign for sign in last if sign.isprintable()).strip()[:MOST_PARTS_TOLD]
