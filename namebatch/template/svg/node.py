"""SVG text as a small tree, with limits kept while it is being parsed."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from xml.etree.ElementTree import ParseError

from defusedxml.common import DefusedXmlException
from defusedxml.ElementTree import DefusedXMLParser

from namebatch.template.problems import FileProblem

SVG_NAMESPACE = "http://www.w3.org/2000/svg"
XLINK_HREF = "{http://www.w3.org/1999/xlink}href"
LARGEST_BYTES = 16 * 1024 * 1024
MOST_NODES = 200_000
DEEPEST = 64


@dataclass(slots=True, eq=False)
class Node:
    """One element.

    Attributes:
        tag: its name without the SVG namespace; ``{namespace}name`` for any other.
        attributes: as written; ``xlink:href`` is found under ``href``.
        line: where it begins in the file.
        children: elements inside it.
        text: characters directly inside it (kept for ``style`` only).
        number: which of those of its tag that begin on its line; 0 where it is the only one.
    """

    tag: str
    attributes: dict[str, str]
    line: int
    children: list["Node"] = field(default_factory=list)
    text: str = ""
    number: int = 0

    def get(self, name: str) -> str | None:
        """An attribute, trimmed; None when it is missing or empty."""
        return self.attributes.get(name, "").strip() or None

    @property
    def label(self) -> str:
        """What a person finds it by."""
        name = self.get("id")
        shown = f' id="{name[:40]}"' if name and name.isprintable() else ""
        which = "" if shown or not self.number else f"{_ordinal(self.number)} "
        return f"line {self.line}, {which}<{self.tag[:60]}{shown}>"

    def walk(self) -> Iterator["Node"]:
        """This element and all inside it, in file order, without recursion."""
        stack = [self]
        while stack:
            node = stack.pop()
            yield node
            stack.extend(reversed(node.children))


def _ordinal(number: int) -> str:
    """1st, 2nd, 3rd, 4th … 11th."""
    teen = number % 100 in (11, 12, 13)
    return f"{number}{'th' if teen else {1: 'st', 2: 'nd', 3: 'rd'}.get(number % 10, 'th')}"


class _Builder:
    """What the parser reports to; it stops early at the limits."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.root: Node | None = None
        self.line = 1
        self._stack: list[Node] = []
        self._count = 0
        self._line = 0
        self._first: dict[str, Node] = {}
        self._many: Counter[str] = Counter()
        self.parser: DefusedXMLParser | None = None

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        """An element begins."""
        self._count += 1
        if self._count > MOST_NODES:
            raise FileProblem(self.name, f"has more than {MOST_NODES} elements; simplify it.")
        if len(self._stack) >= DEEPEST:
            raise FileProblem(
                self.name, f"has groups nested more than {DEEPEST} deep; ungroup some."
            )
        if XLINK_HREF in attributes:
            attributes.setdefault("href", attributes.pop(XLINK_HREF))
        short = tag.removeprefix(f"{{{SVG_NAMESPACE}}}")
        line = self.parser.parser.CurrentLineNumber if self.parser else 0
        node = Node(short if short != tag else f"?{tag}", attributes, line)
        self._tell_apart(node)
        if self._stack:
            self._stack[-1].children.append(node)
        else:
            self.root = node
        self._stack.append(node)

    def _tell_apart(self, node: Node) -> None:
        """Number elements of one tag that begin on one line."""
        if node.line != self._line:
            self._line = node.line
            self._first.clear()
            self._many.clear()
        first = self._first.setdefault(node.tag, node)
        self._many[node.tag] += 1
        if first is not node:
            first.number, node.number = 1, self._many[node.tag]

    def end(self, tag: str) -> None:
        """An element ends."""
        self._stack.pop()

    def data(self, text: str) -> None:
        """Characters; only those of a style element matter."""
        if self._stack and self._stack[-1].tag == "style":
            self._stack[-1].text += text

    def pi(self, target: str, data: str | None = None) -> None:
        """A processing instruction; a style sheet from outside would change the look."""
        if target == "xml-stylesheet":
            raise FileProblem(
                self.name, "takes its style from another file; put the styles into the SVG itself."
            )

    def close(self) -> Node | None:
        """The tree."""
        return self.root


def parse(data: bytes, name: str) -> Node:
    """An SVG file as a tree.

    Args:
        data: the file's bytes.
        name: of the file, for messages.

    Raises:
        FileProblem: not well-formed, not SVG, with a DTD or entities, or past the limits.
    """
    if len(data) > LARGEST_BYTES:
        raise FileProblem(name, f"is larger than {LARGEST_BYTES >> 20} MiB; simplify it.")
    builder = _Builder(name)
    parser = DefusedXMLParser(target=builder, forbid_dtd=True)
    builder.parser = parser
    try:
        parser.feed(data)
        root = parser.close()
    except FileProblem:
        raise
    except DefusedXmlException:
        raise FileProblem(
            name,
            "begins with a DOCTYPE or holds entities, which can pull in other files; delete the "
            "<!DOCTYPE …> part, or save as plain SVG.",
        ) from None
    except ParseError as error:
        line, column = error.position
        reason = str(error).split(":")[0]
        raise FileProblem(
            f"{name} line {line}",
            f"is not well-formed XML ({reason}, column {column + 1}); save the drawing again.",
        ) from None
    except (ValueError, LookupError, RecursionError):
        raise FileProblem(name, "cannot be read as XML; save it as plain SVG in UTF-8.") from None
    if not isinstance(root, Node) or root.tag != "svg":
        raise FileProblem(
            name, f'is not an SVG drawing; its first element must be <svg xmlns="{SVG_NAMESPACE}">.'
        )
    return root
