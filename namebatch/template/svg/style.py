"""Which properties an element has: attributes, a small part of CSS, and inheritance."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from namebatch.template.problems import Problems
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
_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_SELECTOR = re.compile(r"(\*|[a-zA-Z][\w-]*)?((?:[.#][\w-]+)*)")
_PART = re.compile(r"([.#])([\w-]+)")
MOST_RULES = 20_000

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
    """All rules of a drawing, filed under one word that an element must have."""

    _rules: dict[str, list[_Rule]] = field(default_factory=dict)

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
        """The properties that the element sets, in CSS's order of precedence."""
        classes = frozenset((node.get("class") or "").split())
        found = {key: value for key, value in node.attributes.items() if key in _KNOWN}
        rules: list[_Rule] = []
        if self._rules:
            keys = {"*", node.tag, f"#{node.get('id')}", *(f".{name}" for name in classes)}
            for key in sorted(keys):
                rules += (rule for rule in self._rules.get(key, ()) if rule.fits(node, classes))
            rules.sort(key=lambda rule: rule.weight)
        inline = declarations(node.get("style") or "")
        layers = [entry for rule in rules for entry in rule.declared] + inline
        for important in (False, True):
            found.update((key, value) for key, value, strong in layers if strong is important)
        return found


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
    for entry in _COMMENT.sub(" ", text).split(";"):
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
    sheet = StyleSheet()
    order = 0
    for node in root.walk():
        if node.tag != "style":
            continue
        place = f"{name} {node.label}"
        text = _COMMENT.sub(" ", node.text).replace("<!--", " ").replace("-->", " ")
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
