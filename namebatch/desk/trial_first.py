"""What is filled in at first for a picture, so that there is something to look at at once."""

from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

from shapely import Polygon, box

from namebatch.desk.trial_picture import (
    Picture,
    only_lines,
    own_size_mm,
    read_picture,
    scaled_drawing,
)
from namebatch.desk.trial_room import roomy
from namebatch.desk.trial_spec import (
    ENDINGS,
    BaseSpec,
    TextSpec,
    TrialSpec,
    traced_table,
)
from namebatch.template import load_workshop
from namebatch.template.folder import listed
from namebatch.template.problems import FileProblem, Problems
from namebatch.template.svg.outline import outline_from_svg
from namebatch.template.traced import read_traced
from namebatch.template.workshop import Workshop

SAMPLES: Final = ("Marlo", "Ottilie Samphire", "Zoë", "Bartholomew Teasel")
USUAL_MM: Final = 80.0
"""Of the longer side, where the picture says nothing."""
GOOD_DPI: Final = 200.0
FONT: Final = "Baloo 2 SemiBold"
EDGE_MM: Final = -0.5
"""So far inside of the picture's edge a cut that is a little off still shows no white."""
TITLE: Final = "New template"


@dataclass(frozen=True, slots=True)
class Begun:
    """A picture that was looked through, and what is filled in for it."""

    picture: Picture
    spec: TrialSpec


def begin(data: bytes, title: str, workshop_file: Path | None) -> Begun:
    """Look a picture through and fill in what suits it.

    The line goes round the picture if it has an edge to follow; else along its lines, if it is a
    drawing; else the picture is laid on a plain shape.

    Args:
        data: the picture's file.
        title: of the template; may be empty.
        workshop_file: None for the built-in example values.

    Raises:
        NamebatchError: the picture cannot be used.
    """
    picture = read_picture(data)
    workshop = load_workshop(workshop_file)
    base, shape = _base(picture)
    paper, board = _materials(workshop)
    cut_alone = base.kind == "drawing" or paper is None
    x0, y0, x1, y1 = roomy(shape)
    text = TextSpec(
        column="name",
        box_mm=[round(x0, 1), round(y0, 1), round(x1 - x0, 1), round(y1 - y0, 1)],
        font=FONT,
        min_height_mm=round(max(1.8, 0.2 * (y1 - y0)), 1),
        max_height_mm=round(max(2.5, 0.7 * (y1 - y0)), 1),
    )
    spec = TrialSpec(
        title=" ".join(title.split())[:120] or TITLE,
        build="bare" if cut_alone else "printed" if board is None else "faced",
        material=(board or paper if cut_alone else paper) or next(iter(workshop.materials)),
        board=None if cut_alone else board,
        base=base,
        texts=[text],
        samples=list(SAMPLES),
    )
    return Begun(picture, spec)


def _base(picture: Picture) -> tuple[BaseSpec, Polygon]:
    """A base that suits a picture, and its shape."""
    width, height = picture.size
    own = own_size_mm(picture)
    if own is not None:
        wide = own[0]
    else:
        wide = USUAL_MM * width / max(width, height)
        if picture.kind != "svg":
            wide = min(wide, width / GOOD_DPI * 25.4)
    wide = round(wide, 1)
    if picture.kind == "svg" and only_lines(picture.data):
        drawn = _drawn(picture, wide)
        if drawn is not None:
            return BaseSpec(kind="drawing", width_mm=wide), drawn
    trace = BaseSpec(kind="trace", width_mm=wide, edge_mm=EDGE_MM)
    traced = _traced(picture, trace)
    if traced is not None:
        return trace, traced
    high = round(wide * height / width, 1)
    corner = round(min(3.0, wide / 4, high / 4), 1)
    base = BaseSpec(kind="rounded-rectangle", width_mm=wide, height_mm=high, corner_mm=corner)
    return base, box(0.0, 0.0, wide, high)


def _traced(picture: Picture, base: BaseSpec) -> Polygon | None:
    """What is traced; None if that cannot be."""
    name, problems = f"front.{ENDINGS[picture.kind]}", Problems()
    with TemporaryDirectory(prefix="namebatch-trial-") as home:
        (Path(home) / name).write_bytes(picture.data)
        tables = traced_table(base)
        found = read_traced(tables, {"front": {"file": name}}, listed(Path(home)), problems)
    return None if found is None or problems else found.base


def _drawn(picture: Picture, width_mm: float) -> Polygon | None:
    """What a drawing's lines enclose; None if they are no outline."""
    problems = Problems()
    try:
        data = scaled_drawing(picture.data, width_mm, None)
    except FileProblem:
        return None
    found = outline_from_svg(data, "The picture", problems)
    return None if found is None or problems else found.polygon


def _materials(workshop: Workshop) -> tuple[str | None, str | None]:
    """The first material that comes in the printer's size, and the first that comes in boards."""
    all_of = workshop.materials.items()
    paper = next((name for name, material in all_of if material.sheet_mm is None), None)
    board = next((name for name, material in all_of if material.sheet_mm is not None), None)
    return paper, board
