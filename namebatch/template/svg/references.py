"""References inside a drawing: all of them internal, and no tower of copies."""

import re
from collections.abc import Iterator, Mapping

from namebatch.template.problems import FileProblem, Problems, shown
from namebatch.template.svg.node import DEEPEST, MOST_NODES, Node

_URL = re.compile(r"url\(", re.IGNORECASE)
_DATA_IMAGE = re.compile(r"data:image/(?:png|jpe?g);base64,", re.IGNORECASE)
MOST_COPIES = 2 * DEEPEST
"""So deep may copies lie in copies; the way through a drawing goes down as far."""
LINK_TAGS = ("a",)
"""A link that a person would click; nothing is fetched for it."""


def by_id(root: Node) -> dict[str, Node]:
    """Every element with an id; the first of two with the same one counts."""
    found: dict[str, Node] = {}
    for node in root.walk():
        name = node.get("id")
        if name is not None:
            found.setdefault(name, node)
    return found


def check(root: Node, name: str, problems: Problems) -> None:
    """Note every reference that leads out of the file, and towers of ``use``.

    Args:
        root: the drawing.
        name: of the file, for messages.
        problems: gets one line for each.
    """
    before = len(problems)
    for node in root.walk():
        for target in _targets(node):
            embedded = node.tag in ("image", "feImage") and _DATA_IMAGE.match(target)
            if not target.startswith("#") and not embedded:
                problems.add(
                    f"{name} {node.label}",
                    f"takes something from outside the file ({shown(target)}); put it into the "
                    "drawing itself.",
                )
        if node.tag == "style" and "@import" in node.text.lower():
            problems.add(
                f"{name} {node.label}", "imports a style sheet; put the styles into the drawing."
            )
    if len(problems) > before:
        return
    try:
        _Weigher(by_id(root), name).weigh(root, 0)
    except FileProblem as problem:
        problems.add(problem.place, problem.message)


def _targets(node: Node) -> Iterator[str]:
    """Everything the element refers to."""
    for key, value in node.attributes.items():
        if key == "href":
            if node.tag not in LINK_TAGS and value.strip():
                yield value.strip()
        elif "(" in value:
            yield from urls(value)
    if node.tag == "style" and "(" in node.text:
        yield from urls(node.text)


def urls(text: str) -> Iterator[str]:
    """What stands in every ``url(…)`` of a text, each place looked at once."""
    at = 0
    while (match := _URL.search(text, at)) is not None:
        end = text.find(")", match.end())
        if end < 0:
            return
        at = end + 1
        inside = text[match.end() : end].strip()
        if inside[:1] in ("'", '"') and inside[:1] != inside[1:][-1:]:
            # a bracket inside of the quotation marks does not end it
            closing = text.find(inside[0], end)
            end = -1 if closing < 0 else text.find(")", closing)
            if end < 0:
                yield inside
                return
            at = end + 1
            inside = text[match.end() : end].strip()
        yield inside.strip("'\"").strip()


class _Weigher:
    """Counts the elements of a drawing as if every reference were written out.

    Each element is weighed once, so a tower of copies costs nothing to find.
    """

    def __init__(self, ids: Mapping[str, Node], name: str) -> None:
        self._ids = ids
        self._name = name
        self._known: dict[Node, tuple[int, int]] = {}
        self._open: set[Node] = set()

    def weigh(self, node: Node, depth: int) -> tuple[int, int]:
        """How many elements the element stands for, and how deep they lie below it.

        Raises:
            FileProblem: too many, nested too deeply, or part of itself.
        """
        place = f"{self._name} {node.label}"
        if node in self._open:
            raise FileProblem(place, "is used inside itself; take that copy out.")
        total, below = self._known.get(node, (0, 0))
        if depth + below > MOST_COPIES:
            raise FileProblem(place, "is a copy of a copy too many times over; simplify it.")
        if total:
            return total, below
        self._open.add(node)
        total = 1
        for inner in self._drawn_with(node):
            more, deep = self.weigh(inner, depth + 1)
            total, below = total + more, max(below, deep + 1)
        self._open.discard(node)
        if total > MOST_NODES:
            raise FileProblem(
                place, f"stands for more than {MOST_NODES} elements once its copies are drawn."
            )
        self._known[node] = total, below
        return total, below

    def _drawn_with(self, node: Node) -> Iterator[Node]:
        """Its own elements, then those that it refers to."""
        yield from node.children
        # A style sheet's rules name targets for others, not for itself.
        for target in _targets(node) if node.tag != "style" else ():
            other = self._ids.get(target[1:])
            if other is not None:
                yield other
