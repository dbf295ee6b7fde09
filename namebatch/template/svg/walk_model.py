"""What the way through an SVG file gives: drawn shapes with their map to mm."""

from dataclasses import dataclass

from namebatch.curves import Affine, Path
from namebatch.template.svg.style import Style


@dataclass(frozen=True, slots=True)
class Drawn:
    """One shape.

    Attributes:
        path: in its own user units.
        affine: from there to mm, y up, origin at the drawing's bottom left.
        style: its properties; opacities of groups are not in it.
        opacity: product of all `opacity` above it and its own.
        groups: number and opacity of everything above it (itself included) that is partly
            transparent as a whole.
        viewport: what its percentages count from.
        place: for messages.
        name: the element's id, empty without.
    """

    path: Path
    affine: Affine
    style: Style
    opacity: float
    groups: tuple[int, ...]
    viewport: tuple[float, float]
    place: str
    name: str = ""


@dataclass(frozen=True, slots=True)
class Drawing:
    """A whole SVG file.

    Attributes:
        shapes: in painting order.
        size_mm: of the root's viewport.
        sized: False when the file gives no size of its own in lengths.
        effects: what it uses beyond flat shapes: (place, what).
        texts: places of letters that are still text.
    """

    shapes: tuple[Drawn, ...]
    size_mm: tuple[float, float]
    sized: bool
    effects: tuple[tuple[str, str], ...]
    texts: tuple[str, ...]
