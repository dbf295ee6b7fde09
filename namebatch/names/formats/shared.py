"""How much text the cells of an XLSX file come to.

A text that stands in many cells is kept once in the file and once for each cell in memory, so a
small file could ask for more than any machine has.
"""

from array import array
from collections.abc import Iterable
from dataclasses import dataclass, field

from namebatch.names import limits
from namebatch.names.formats.extent import refuse_long
from namebatch.names.formats.markup import local_name, walk


@dataclass(slots=True)
class _Texts:
    """Lengths of the texts (`si` elements) of one part, in their order."""

    lengths: "array[int]" = field(default_factory=lambda: array("L"))
    inside: bool = False
    length: int = 0

    def start(self, tag: str, _: dict[str, str]) -> None:
        if local_name(tag) == "si":
            self.inside, self.length = True, 0

    def data(self, text: str) -> None:
        if self.inside:
            self.length += len(text)

    def end(self, tag: str) -> None:
        if local_name(tag) == "si":
            self.inside = False
            self.lengths.append(self.length)


@dataclass(slots=True)
class _Uses:
    """Adds up the lengths of shared texts over the cells of one part."""

    name: str
    lengths: "array[int]"
    total: int = 0
    shared: bool = False
    number: str = ""

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        if local_name(tag) == "c":
            self.shared, self.number = attributes.get("t") == "s", ""

    def data(self, text: str) -> None:
        if self.shared and len(self.number) < 20:
            self.number += text

    def end(self, tag: str) -> None:
        if local_name(tag) != "c" or not self.shared:
            return
        self.shared = False
        said = self.number.strip()
        if said.isdecimal() and int(said) < len(self.lengths):
            self.total += self.lengths[int(said)]
            refuse_long(self.total, self.name)


def check_shared(parts: Iterable[bytes], cells: int, name: str) -> None:
    """Refuse a workbook whose cells come to more text than is read.

    Args:
        parts: its XML parts.
        cells: how many cells have a shared text.
        name: of the file, for messages.

    Raises:
        ListError: they come to more than `limits.SHEET_CHARACTERS`.
    """
    # In bytes a text is at least a quarter as long as in characters; the usual file ends here.
    parts = [part for part in parts if part]
    if cells * max(map(len, parts), default=0) <= limits.SHEET_CHARACTERS:
        return
    lengths: array[int] = array("L")
    for part in parts:
        texts = _Texts()
        walk(part, name, texts.start, texts.end, texts.data)
        # whichever part the workbook names, no text is taken for shorter than it may be
        if len(texts.lengths) >= len(lengths):
            longer, other = texts.lengths, lengths
        else:
            longer, other = lengths, texts.lengths
        for at, length in enumerate(other):
            longer[at] = max(longer[at], length)
        lengths = longer
    if cells * max(lengths, default=0) <= limits.SHEET_CHARACTERS:
        return
    total = 0
    for part in parts:
        uses = _Uses(name, lengths, total)
        walk(part, name, uses.start, uses.end, uses.data)
        total = uses.total
