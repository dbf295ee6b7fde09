"""Several PDF files as one: pages in order, pictures that all of them have stored once."""

from collections.abc import Callable, Sequence
from contextlib import ExitStack
from hashlib import sha256
from pathlib import Path
from typing import Any, Final

from pikepdf import Array, Dictionary, Name, ObjectStreamMode, Page, Pdf, Stream, String

from namebatch.streams import Listened

_KEPT: Final = ("/ViewerPreferences", "/Lang")
_ABOUT: Final = ("/Title", "/Subject", "/Author", "/Creator", "/Producer")
_SHARED: Final = ("/XObject", "/Font", "/Shading", "/Pattern", "/ExtGState")


def merge(
    sources: Sequence[Path],
    target: Path,
    progress: Callable[[int, int], None],
    untitled: str = "",
) -> None:
    """Put files one after the other; what stands in them is copied, not read into memory.

    The same files give the same bytes. Title, viewer preferences and language are the first one's.

    Args:
        sources: at least one; their pages have sizes and resources of their own, as ours do.
        target: the file that they become.
        progress: called with files done and files in all.
        untitled: words that the first one's title has and the whole file's has not.

    Raises:
        OSError: the file cannot be written, because the disk is full for one.
    """
    with ExitStack() as stack:
        whole = stack.enter_context(Pdf.new())
        known: dict[bytes, Any] = {}
        version = "1.3"
        nodes: list[Any] = []
        for done, source in enumerate(sources, start=1):
            part = stack.enter_context(Pdf.open(source))
            version = max(version, part.pdf_version)
            if done == 1:
                _as_first(whole, part, untitled)
            pages = [whole.copy_foreign(page.obj) for page in part.pages]
            _share(pages, known, {})
            nodes.append(_node(whole, pages))
            progress(done, len(sources))
        _hang(whole, nodes)
        # the library beneath ends the whole process where a write fails while it tidies up
        with Listened(target, "w") as file:
            whole.save(
                file,
                min_version=version,
                deterministic_id=True,
                object_stream_mode=ObjectStreamMode.disable,
                # pages are packed already: to pack them once more took a third of a long run
                compress_streams=False,
                fix_metadata_version=False,
            )
        if file.error is not None:
            raise file.error


def _node(whole: Pdf, pages: Sequence[Any]) -> Any:
    """A node of the page tree with the pages of one file below it.

    Pages that are put into the document's list one by one take time that grows with the square
    of their number: of 100,000 place cards all of putting together took 41 s.
    """
    node = whole.make_indirect(Dictionary(Type=Name.Pages, Count=len(pages), Kids=Array(pages)))
    for page in pages:
        page.Parent = node
    return node


def _hang(whole: Pdf, nodes: Sequence[Any]) -> None:
    """Let the root of the page tree have these nodes and nothing else."""
    root = whole.Root.Pages
    for node in nodes:
        node.Parent = root
    root.Kids = Array(nodes)
    root.Count = sum(int(node.Count) for node in nodes)


def _as_first(whole: Pdf, first: Pdf, untitled: str) -> None:
    """Take over what concerns the document and not a page."""
    for key in _KEPT:
        if key in first.Root:
            whole.Root[key] = whole.copy_foreign(_held(first, first.Root[key]))
    for key in _ABOUT:
        if key in first.docinfo:
            whole.docinfo[Name(key)] = String(bytes(first.docinfo[key]))
    if untitled and "/Title" in whole.docinfo:
        whole.docinfo[Name.Title] = str(whole.docinfo["/Title"]).replace(untitled, "", 1)


def _held(pdf: Pdf, value: Any) -> Any:
    """An object that can be copied: one with a number of its own."""
    return value if getattr(value, "is_indirect", False) else pdf.make_indirect(value)


Memo = dict[tuple[int, int], bytes]
"""Number of an object → digest of it."""


def _share(pages: Any, known: dict[bytes, Any], memo: Memo) -> None:
    """Let pages refer to what is known already in place of their own copies."""
    seen: set[tuple[int, int]] = set()
    for page in pages:
        resources = Page(page).resources
        for kind in _SHARED:
            table = resources.get(kind)
            if not isinstance(table, Dictionary) or table.objgen in seen:
                continue
            if table.is_indirect:
                seen.add(table.objgen)
            for name, value in list(table.items()):
                table[name] = _known(value, known, memo)


def _known(value: Any, known: dict[bytes, Any], memo: Memo) -> Any:
    """What is known that is the same, or the value itself, known from now on."""
    if not isinstance(value, Stream | Dictionary | Array) or not value.is_indirect:
        return value
    if value.objgen not in memo:
        memo[value.objgen] = _digest(value, 0)
    return known.setdefault(memo[value.objgen], value)


def _digest(value: Any, depth: int) -> bytes:
    """Of an object with all that it refers to."""
    if depth > 12:
        return repr(value.objgen).encode()
    digest = sha256(type(value).__name__.encode())
    if isinstance(value, Stream | Dictionary):
        for key in sorted(value.keys()):
            if key != "/Parent":
                digest.update(key.encode() + _digest(value[key], depth + 1))
        if isinstance(value, Stream):
            digest.update(sha256(value.read_raw_bytes()).digest())
    elif isinstance(value, Array):
        for one in value:
            digest.update(_digest(one, depth + 1))
    else:
        digest.update(repr(value).encode())
    return digest.digest()
