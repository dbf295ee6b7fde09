"""Headers of every answer: what a browser may do with it, and how long it may be kept."""

from starlette.datastructures import MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

PAGE_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; "
    "font-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; "
    "frame-ancestors 'none'"
)
PICTURE_POLICY = (
    "default-src 'none'; img-src data:; style-src 'unsafe-inline'; frame-ancestors 'none'; sandbox"
)
"""Of an SVG file opened by itself: it draws, and does nothing."""
FIXED = {
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
}
NOT_KEPT = "no-store"


class SafeHeaders:
    """Puts them on every answer, refusals too; what an answer says of keeping it goes before."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer as the application does, with these headers."""

        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                headers.update(FIXED)
                picture = headers.get("content-type", "").startswith("image/svg")
                headers["Content-Security-Policy"] = PICTURE_POLICY if picture else PAGE_POLICY
                headers.setdefault("Cache-Control", NOT_KEPT)
            await send(message)

        await self._app(scope, receive, with_headers if scope["type"] == "http" else send)
