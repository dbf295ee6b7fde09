"""From the tree to a flat list of drawn shapes, each with its map to mm and its style."""

from dataclasses import dataclass, replace

from namebatch.curves import IDENTITY, Affine, apply, compose
from namebatch.template.problems import FileProblem, Problems
from namebatch.template.svg import references
from namebatch.template.svg.elements import SHAPES, element_path
from namebatch.template.svg.extent import reach, within
from namebatch.template.svg.node import Node, parse
from namebatch.template.svg.style import Style, StyleSheet, computed, initial, style_sheet
from namebatch.template.svg.units import (
    LARGEST,
    PX_MM,
    fit,
    length,
    number,
    transform,
    view_box,
)
from namebatch.template.svg.walk_model import Drawing, Drawn

GROUPS = ("g", "a", "svg", "switch")
MOST_PARTS = 500_000
"""Steps of all paths together, copies counted as often as they are drawn."""
LEAST_SIDE = 0.001
"""Of the drawing, in px; a smaller one has no shape that could be scaled."""
MOST_STRETCH = 1e12
"""Bound of a map's figures, so that everything stays finite."""
SILENT = (
    "defs", "symbol", "clipPath", "mask", "pattern", "marker", "linearGradient", "filter",
    "radialGradient", "style", "title", "desc", "metadata", "script", "solidColor", "cursor",
    "view", "animate", "animateMotion", "animateTransform", "set", "font", "color-profile",
)  # fmt: skip
"""Elements that draw nothing where they stand."""


@dataclass(frozen=True, slots=True)
class _Here:
    """What an element inherits."""

    affine: Affine
    style: Style
    opacity: float
    groups: tuple[int, ...]
    viewport: tuple[float, float]


def read_drawing(data: bytes, name: str, problems: Problems) -> Drawing:
    """A file's shapes; what is wrong with single elements is noted with its line.

    Raises:
        FileProblem: nothing can be read, or reading on would not be safe.
    """
    root = parse(data, name)
    before = len(problems)
    references.check(root, name, problems)
    sheet = style_sheet(root, name, problems)
    if len(problems) > before:
        raise FileProblem(name, "was not read further until the above is mended.")
    return _Walker(root, name, sheet, problems).drawing()


class _Walker:
    """Collects shapes on a way through the tree; depth and count are bounded beforehand."""

    def __init__(self, root: Node, name: str, sheet: StyleSheet, problems: Problems) -> None:
        self.root = root
        self.name = name
        self.sheet = sheet
        self.problems = problems
        self.ids = references.by_id(root)
        self.shapes: list[Drawn] = []
        self.effects: list[tuple[str, str]] = []
        self.texts: list[str] = []
        self.group_count = 0
        self.parts = 0

    def drawing(self) -> Drawing:
        """The whole drawing."""
        try:
            to_mm, viewport, (width, height), sized = root_frame(self.root)
        except ValueError as error:
            raise FileProblem(f"{self.name} {self.root.label}", f"{error}.") from None
        here = _Here(to_mm, initial(), 1.0, (), viewport)
        self._inside(self.root, here)
        return Drawing(
            tuple(self.shapes),
            (width * PX_MM, height * PX_MM),
            sized,
            tuple(dict.fromkeys(self.effects)),
            tuple(self.texts),
        )

    def _inside(self, node: Node, here: _Here) -> None:
        """An element's own properties, then what it draws."""
        place = f"{self.name} {node.label}"
        try:
            style = computed(here.style, self.sheet.declared(node))
            if style["display"] == "none":
                return
            opacity = _opacity(style["opacity"])
            # On the root element a transform is drawn in the viewport's units as well.
            own = transform(style["transform"])
            affine = compose(here.affine, own)
            if not all(abs(value) <= MOST_STRETCH for value in affine):
                raise ValueError("transforms together make the drawing far too large")
            inner = replace(here, style=style, affine=affine)
            self._effects(node, style, place)
            if opacity < 1:
                self.group_count += 1
                groups = (*here.groups, self.group_count)
                inner = replace(inner, opacity=here.opacity * opacity, groups=groups)
            self._draw(node, inner, place)
        except ValueError as error:
            self.problems.add(place, f"{error}.")

    def _draw(self, node: Node, here: _Here, place: str) -> None:
        """Draw by kind of element."""
        tag = node.tag
        if tag in SHAPES:
            if here.style["visibility"] == "visible":
                path = element_path(node, here.viewport)
                self.parts += len(path)
                if self.parts > MOST_PARTS:
                    raise FileProblem(
                        place,
                        f"takes the drawing past {MOST_PARTS} lines and curves, copies counted; "
                        "simplify it.",
                    )
                if path:
                    drawn = Drawn(
                        path, here.affine, here.style, here.opacity, here.groups, here.viewport,
                        place, node.get("id") or "",
                    )  # fmt: skip
                    self.shapes.append(drawn)
        elif tag == "use":
            self._use(node, here, place)
        elif tag == "svg" and node is not self.root:
            self._viewport(node, node, here, place)
        elif tag in GROUPS:
            children = node.children
            if tag == "switch":
                children = [c for c in children if not _conditional(c)][:1]
            for child in children:
                self._inside(child, here)
        elif tag in ("text", "foreignObject"):
            self.texts.append(place)
        elif tag == "image":
            self.effects.append((place, "a picture"))
        elif tag not in SILENT and not tag.startswith("?"):
            self.problems.add(place, "is not an element that is drawn here; take it out.")

    def _use(self, node: Node, here: _Here, place: str) -> None:
        """A copy of another element, moved by x and y."""
        target = self.ids.get((node.get("href") or "#")[1:])
        if target is None:
            self.problems.add(place, "copies an element that is not in the drawing.")
            return
        width, height = here.viewport
        x, y = length(node.get("x") or "0", width), length(node.get("y") or "0", height)
        moved = replace(here, affine=compose(here.affine, (1.0, 0.0, 0.0, 1.0, x, y)))
        if target.tag in ("symbol", "svg"):
            style = computed(moved.style, self.sheet.declared(target))
            if style["display"] != "none":
                self._viewport(target, node, replace(moved, style=style), place)
        else:
            self._inside(target, moved)

    def _viewport(self, node: Node, sized_by: Node, here: _Here, place: str) -> None:
        """A nested drawing or a symbol; its own window clips unless it says otherwise."""
        whole_w, whole_h = here.viewport

        def size(name: str, whole: float) -> float:
            return length(sized_by.get(name) or node.get(name) or "100%", whole)

        width, height = size("width", whole_w), size("height", whole_h)
        if width <= 0 or height <= 0:
            return
        affine = here.affine
        if node.tag == "svg":
            x, y = length(node.get("x") or "0", whole_w), length(node.get("y") or "0", whole_h)
            affine = compose(affine, (1.0, 0.0, 0.0, 1.0, x, y))
        window = affine
        box = node.get("viewBox")
        viewport = (width, height)
        if box:
            inner = view_box(box)
            viewport = inner[2], inner[3]
            how = node.get("preserveAspectRatio") or ""
            affine = compose(affine, fit(inner, width, height, how))
        first = len(self.shapes)
        for child in node.children:
            self._inside(child, replace(here, affine=affine, viewport=viewport))
        clips = here.style["overflow"] not in ("visible", "auto")
        if clips and self._leaves(first, window, (width, height)):
            self.effects.append((place, "a window that clips what is inside"))

    def _leaves(self, first: int, affine: Affine, window: tuple[float, float]) -> bool:
        """True if shapes drawn since may reach out of a window from 0, 0 of that map."""
        x0, y0 = apply(affine, (0.0, 0.0))
        x1, y1 = apply(affine, window)
        upright = affine[1] == affine[2] == 0 or affine[0] == affine[3] == 0
        limit = (min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))
        return any(not (upright and within(reach(s), limit)) for s in self.shapes[first:])

    def _effects(self, node: Node, style: Style, place: str) -> None:
        """What flat shapes cannot show."""
        for key in ("clip-path", "mask", "filter"):
            if style[key] != "none":
                self.effects.append((place, key))
        if style["mix-blend-mode"] != "normal":
            self.effects.append((place, "mix-blend-mode"))
        if node.tag not in SHAPES:
            return
        stroked = style["stroke"] != "none"
        if stroked and style["stroke-dasharray"] not in ("none", "0"):
            self.effects.append((place, "a dashed line"))
        if stroked and style["vector-effect"] != "none":
            self.effects.append((place, "vector-effect"))
        if stroked and style["paint-order"].startswith(("stroke", "markers")):
            self.effects.append((place, "paint-order"))
        for key in ("marker-start", "marker-mid", "marker-end"):
            if style[key] != "none":
                self.effects.append((place, "markers"))
        for key in ("fill", "stroke"):
            if style[key].startswith(("url(", "context-")):
                self.effects.append((place, "a gradient or pattern"))


def root_frame(root: Node) -> tuple[Affine, tuple[float, float], tuple[float, float], bool]:
    """How the root maps to mm, y up.

    Returns:
        The map from the root's user units, the viewport that percentages inside it count
        from, width and height in px, and whether the file gives them as lengths.

    Raises:
        ValueError: the drawing has no size.
    """
    width, height, sized = root_size(root)
    box = root.get("viewBox")
    inner = view_box(box) if box else (0.0, 0.0, width, height)
    how = root.get("preserveAspectRatio") or ""
    placed = fit(inner, width, height, how) if box else IDENTITY
    to_mm = (PX_MM, 0.0, 0.0, -PX_MM, 0.0, height * PX_MM)
    return compose(to_mm, placed), (inner[2], inner[3]), (width, height), sized


def root_size(root: Node) -> tuple[float, float, bool]:
    """Width and height in px, and whether the file gives them as lengths."""
    box = root.get("viewBox")
    inner = view_box(box) if box else None
    sides: list[float | None] = []
    for name in ("width", "height"):
        text = root.get(name) or "100%"
        sides.append(None if text.endswith("%") or text == "auto" else length(text, 0.0))
    width, height = sides
    sized = width is not None and height is not None
    if inner is not None:
        # One missing side follows from the other by the view box's proportions.
        if width is None and height is None:
            width, height = inner[2], inner[3]
        elif width is None and height is not None:
            width = height * inner[2] / inner[3]
        elif height is None and width is not None:
            height = width * inner[3] / inner[2]
    if width is None or height is None:
        raise ValueError('has no size; write for example width="85mm" height="54mm"')
    if width <= 0 or height <= 0:
        raise ValueError("has a width or height that is not above zero")
    if min(width, height) < LEAST_SIDE or max(width, height) > LARGEST:
        raise ValueError(f"is {width:.4g} × {height:.4g} px; look at width, height and viewBox")
    return width, height, sized


def _opacity(text: str) -> float:
    """A number or percentage from 0 to 1."""
    value = number(text[:-1]) / 100 if text.endswith("%") else number(text)
    return min(1.0, max(0.0, value))


def _conditional(node: Node) -> bool:
    """True for a child of ``switch`` that asks for something we do not have."""
    return node.get("requiredExtensions") is not None or node.tag == "foreignObject"
