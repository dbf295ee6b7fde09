"""Going through the XML of a spreadsheet as a stream, within limits."""

from collections.abc import Callable
from typing import Final
from xml.parsers import expat

from namebatch.names import limits
from namebatch.names.formats.package import damaged

_STEP: Final = 2**20
_LONGEST: Final = 8 * 2**20
"""Longest tag or comment, in bytes; programs write none of a thousandth of that."""

Start = Callable[[str, dict[str, str]], None]


def local_name(tag: str) -> str:
    """An element's name without its prefix."""
    return tag.rpartition(":")[2]


def walk(
    part: bytes,
    name: str,
    start: Start,
    end: Callable[[str], None],
    data: Callable[[str], None] | None = None,
) -> None:
    """Call back for the elements of one part, and for the text in them.

    Args:
        part: XML in any encoding.
        name: of the file, for messages.
        start: gets tag and attributes.
        end: gets the tag.
        data: gets text, in pieces; None where it does not matter.

    Raises:
        ListError: it is not well-formed, nested too deeply, or has a document type.
    """
    depth = 0

    def begin(tag: str, attributes: dict[str, str]) -> None:
        nonlocal depth
        depth += 1
        if depth > limits.XML_DEPTH:
            raise damaged(name)
        start(tag, attributes)

    def finish(tag: str) -> None:
        nonlocal depth
        depth -= 1
        end(tag)

    def refuse(*_: object) -> None:
        # No spreadsheet program writes a document type; it is where entities hide.
        raise damaged(name)

    parser = expat.ParserCreate()
    parser.buffer_text = True
    parser.StartElementHandler = begin
    parser.EndElementHandler = finish
    parser.CharacterDataHandler = data
    parser.StartDoctypeDeclHandler = refuse
    try:
        for at in range(0, len(part), _STEP):
            parser.Parse(part[at : at + _STEP], False)
            # what is not whole yet is looked through again at each step
            if at + _STEP - max(parser.CurrentByteIndex, 0) > _LONGEST:
                raise damaged(name)
        parser.Parse(b"", True)
    except (expat.ExpatError, ValueError, LookupError) as error:
        raise damaged(name) from error
