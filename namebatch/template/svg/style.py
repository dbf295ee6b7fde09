"""Which properties an element has: attributes, a small part of CSS, and inheritance."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from namebatch.template.problems import FileProblem, Problems
from namebatch.template.svg.node import Node

INHERITED = {
    "color": "black",
    "fill": "black",
    "fill-opacity": "1",
    "fill-rule": "nonzero",
    "stroke": "none",
    "stroke-opacity": "1",
    "stroke-width": "1",
    "stroke-linecap": "butt",
    "stroke-linejoin": "miter",
    "stroke-miterlimit": "4",
    "stroke-dasharray": "none",
    "visibility": "visible",
    "paint-order": "normal",
    "marker-start": "none",
    "marker-mid": "none",
    "marker-end": "none",
}
OWN = {
    "opacity": "1",
    "display": "inline",
    "overflow": "",
    "clip-path": "none",
    "mask": "none",
    "filter": "none",
    "mix-blend-mode": "normal",
    "vector-effect": "none",
    "transform": "",
}
_KNOWN = INHERITED | OWN
_SELECTOR = re.compile(r"(\*|[a-zA-Z][\w-]*)?((?:[.#][\w-]+)*)")
_PART = re.compile(r"([.#])([\w-]+)")
MOST_RULES = 20_000
MOST_STEPS = 4_000_000
"""Rules that are held against elements, and what they set there, all taken together."""

Style = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class _Rule:
    """One selector with what it sets; weight sorts by specificity, then order."""

    tag: str
    ids: frozenset[str]
    classes: frozenset[str]
    weight: tuple[int, int, int, int]
    declared: tuple[tuple[str, str, bool], ...]

    def fits(self, node: Node, classes: frozenset[str]) -> bool:
        """True if the selector means this element."""
        return (
            self.tag in ("", "*", node.tag)
            and self.classes <= classes
            and all(name == node.get("id") for name in self.ids)
        )


@dataclass(slots=True)
class StyleSheet:
    """All rules of a drawing, filed under one word that an element must have.

    Attributes:
        name: of the file, for messages.
    """

    name: str = ""
    _rules: dict[str, list[_Rule]] = field(default_factory=dict)
    _steps: int = 0

    def add(self, rule: _Rule) -> None:
        """File a rule under its rarest word."""
        if rule.ids:
            key = f"#{min(rule.ids)}"
        elif rule.classes:
            key = f".{min(rule.classes)}"
        else:
            key = rule.tag or "*"
        self._rules.setdefault(key, []).append(rule)

    def declared(self, node: Node) -> dict[str, str]:
        """The properties that the element sets, in CSS's order of precedence.

        Raises:
            FileProblem: the style sheet would keep the machine busy for very long.
        """
        classes = frozenset((node.get("class") or "").split())
        found = {key: value for key, value in node.attributes.items() if key in _KNOWN}
        rules: list[_Rule] = []
        if self._rules:
            keys = {"*", node.tag, f"#{node.get('id')}", *(f".{name}" for name in classes)}
            for key in sorted(keys):
                filed = self._rules.get(key, ())
                self._count(len(filed))
                rules += (rule for rule in filed if rule.fits(node, classes))
            rules.sort(key=lambda rule: rule.weight)
            self._count(sum(len(rule.declared) for rule in rules))
        inline = declarations(node.get("style") or "")
        layers = [entry for rule in rules for entry in rule.declared] + inline
        for important in (False, True):
            found.update((key, value) for key, value, strong in layers if strong is important)
        return found

    def _count(self, steps: int) -> None:
        self._steps += steps
        if self._steps > MOST_STEPS:
            raise FileProblem(
                self.name,
                "has so many style rules for so many elements that reading it would take too "
                "long; put the styles on the shapes themselves.",
            )


def without_comments(text: str) -> str:
    """A style sheet with a space for each comment; one that does not end is no comment."""
    parts: list[str] = []
    at = 0
    while (start := text.find("/*", at)) >= 0 and (end := text.find("*/", start + 2)) >= 0:
        parts += text[at:start], " "
        at = end + 2
    return "".join((*parts, text[at:]))


def computed(parent: Style, declared: Mapping[str, str]) -> dict[str, str]:
    """An element's properties from what it sets and what its parent has."""
    style = {key: parent[key] for key in INHERITED} | OWN
    for key, value in declared.items():
        word = value.strip()
        if word == "inherit":
            style[key] = parent[key]
        elif word in ("initial", "unset"):
            style[key] = parent[key] if word == "unset" and key in INHERITED else _KNOWN[key]
        elif word:
            style[key] = word
    if style["color"].lower() == "currentcolor":
        style["color"] = parent["color"]
    return style


def initial() -> dict[str, str]:
    """The properties above the outermost element."""
    return dict(_KNOWN)


def declarations(text: str) -> list[tuple[str, str, bool]]:
    """``key: value`` pairs that matter here, and whether they are ``!important``."""
    found = []
    for entry in without_comments(text).split(";"):
        key, colon, value = entry.partition(":")
        key = key.strip().lower()
        value, important, _ = value.partition("!")
        if colon and key in _KNOWN:
            found.append((key, value.strip(), bool(important)))
        elif colon and key == "marker":
            found += [(f"marker-{end}", value.strip(), False) for end in ("start", "mid", "end")]
    return found


def style_sheet(root: Node, name: str, problems: Problems) -> StyleSheet:
    """The rules of all ``style`` elements.

    Selectors are element names, classes and ids, alone or joined, in lists; anything else is
    noted as a problem, as is an at-rule other than ``@font-face``.
    """
    sheet = StyleSheet(name)
    order = 0
    for node in root.walk():
        if node.tag != "style":
            continue
        place = f"{name} {node.label}"
        text = without_comments(node.text).replace("<!--", " ").replace("-->", " ")
        for block in text.split("}"):
            selectors, brace, body = block.partition("{")
            selectors = selectors.rsplit(";", 1)[-1].strip()
            if not brace or not selectors or selectors.startswith("@font-face"):
                continue
            if selectors.startswith("@"):
                problems.add(place, f'rule "{selectors[:30]}" is not read here; use plain rules.')
                continue
            declared = tuple(declarations(body))
            for selector in selectors.split(",") if declared else ():
                order += 1
                rule = _rule(selector.strip(), declared, order)
                if rule is None or order > MOST_RULES:
                    problems.add(
                        place,
                        f'selector "{selector.strip()[:40]}" is not read here; name an element, a '
                        ".class or an #id, or put the style on the shape itself.",
                    )
                    continue
                sheet.add(rule)
    return sheet


def _rule(selector: str, declared: tuple[tuple[str, str, bool], ...], order: int) -> _Rule | None:
    """A selector that is understood."""
    match = _SELECTOR.fullmatch(selector)
    if match is None or not selector:
        return None
    parts = _PART.findall(match[2])
    ids = [word for sign, word in parts if sign == "#"]
    classes = [word for sign, word in parts if sign == "."]
    tag = match[1] or ""
    weight = (len(ids), len(classes), int(tag not in ("", "*")), order)
    return _Rule(tag, frozenset(ids), frozenset(classes), weight, declared)
