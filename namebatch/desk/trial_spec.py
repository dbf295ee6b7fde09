"""What is filled in on the page for a template that is tried, and the template file it becomes."""

from typing import Annotated, Any, Final, Literal

import tomlkit
from pydantic import BaseModel, ConfigDict, Field

from namebatch.template.model import Build, Made, Near, Rule
from namebatch.template.textbox import Align, Case, Vertical

BaseKind = Literal[
    "trace", "drawing", "rounded-rectangle", "circle", "ellipse", "regular-polygon", "luggage-tag"
]
PictureKind = Literal["png", "jpeg", "svg"]

Number = Annotated[float, Field(ge=-1e5, le=1e5, allow_inf_nan=False)]
"""Only so far that it can be sent; what a template takes is told by its own reader."""
Word = Annotated[str, Field(max_length=120)]
Pair = Annotated[list[Number], Field(min_length=2, max_length=2)]
Box = Annotated[list[Number], Field(min_length=4, max_length=4)]

ENDINGS: Final[dict[PictureKind, str]] = {"png": "png", "jpeg": "jpg", "svg": "svg"}
DRAWING: Final = "base.svg"
SPARE: Final = (
    "Noto Sans SemiBold",
    "Noto Sans Arabic SemiBold",
    "Noto Sans Devanagari SemiBold",
    "Noto Sans Thai SemiBold",
    "Heebo Bold",
)
"""After the chosen typeface, for names that it cannot set."""
SMOOTH: Final = {"corners": "smooth", "inside_radius_mm": 1.5, "gap_mm": 3}
"""Of a line round name and picture, as the bundled ornament has it."""


class Part(BaseModel):
    """A part of what is filled in: nothing unknown, nothing converted."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class BaseSpec(Part):
    """The shape: from the picture, or a plain one with the picture on it.

    Attributes:
        kind: ``trace`` cuts round what is seen in the picture, ``drawing`` along its lines.
        width_mm, height_mm: of the whole picture or of the shape; a diameter is a width. Of a
            picture one of them; a drawing keeps its own size without.
        edge_mm: of a trace: the line runs so far outside of the picture's edge, inside if below 0.
        keep_holes: of a trace: see-through places inside stay open.
        corner_mm, chamfer_mm, sides: of plain shapes.
    """

    kind: BaseKind
    width_mm: Number | None = None
    height_mm: Number | None = None
    edge_mm: Number = 0.0
    keep_holes: bool = False
    corner_mm: Number = 0.0
    chamfer_mm: Number = 8.0
    sides: Annotated[int, Field(ge=0, le=1000)] = 6


class HoleSpec(Part):
    """A hole: with its place, or found near an edge for every piece, with a tab if need be."""

    shape: Literal["round", "slot"] = "round"
    at_mm: Pair | None = None
    find: Near | None = None
    width_mm: Number = 4.0
    length_mm: Number = 14.0
    wall_mm: Number = 2.0
    tab: bool = True


class TextSpec(Part):
    """A text: a column of the list, or a line that is the same on every piece.

    Attributes:
        column, line: one of them.
        sample: what a column that is not the first says while trying.
        made: None for what suits the build and the rule.
    """

    column: Annotated[str, Field(max_length=60)] | None = None
    line: Annotated[str, Field(max_length=200)] | None = None
    sample: Annotated[str, Field(max_length=200)] = ""
    box_mm: Box
    font: Word = "Noto Sans SemiBold"
    made: Made | None = None
    colour: Annotated[str, Field(max_length=7)] = "#1b1a18"
    align: Align = "centre"
    vertical: Vertical = "middle"
    baseline_mm: Number | None = None
    min_height_mm: Number
    max_height_mm: Number
    case: Case = "as-typed"
    one_size: bool = False
    optional: bool = False


class TrialSpec(Part):
    """All that is filled in.

    Attributes:
        distance_mm: from name and picture to the line, with the rule ``contour``.
        samples: names to try it with.
    """

    title: Word
    build: Build
    rule: Rule = "base"
    material: Word
    board: Word | None = None
    base: BaseSpec
    distance_mm: Number = 2.5
    holes: Annotated[list[HoleSpec], Field(max_length=6)] = []
    texts: Annotated[list[TextSpec], Field(min_length=1, max_length=6)]
    samples: Annotated[list[Annotated[str, Field(max_length=200)]], Field(max_length=6)] = []


def columns_of(spec: TrialSpec) -> tuple[str, ...]:
    """The columns that its texts take, each once, the first one that of the sample names."""
    return tuple(dict.fromkeys(text.column for text in spec.texts if text.column))


def has_artwork(spec: TrialSpec) -> bool:
    """True if the picture is printed."""
    return spec.build != "bare" and spec.base.kind != "drawing"


def tables_of(spec: TrialSpec, kind: PictureKind) -> dict[str, Any]:
    """The tables of ``template.toml``.

    Args:
        spec: what is filled in.
        kind: of the picture. Bare material has no print to be traced: its base is a drawing.
    """
    bare = spec.build == "bare"
    tables: dict[str, Any] = {
        "format": 1,
        "title": spec.title,
        "build": spec.build,
        "rule": spec.rule,
        "faces": ["front"],
        "material": spec.material,
    }
    if spec.build == "faced" and spec.board is not None:
        tables["board"] = spec.board
    tables["turns_deg"] = [0, 90, 180, 270] if bare else [0, 90]
    tables["base"] = _base(spec.base, bare)
    if spec.rule == "contour":
        tables["contour"] = {"distance_mm": _plain(spec.distance_mm), **SMOOTH}
    if spec.holes:
        tables["hole"] = [_hole(hole) for hole in spec.holes]
    if has_artwork(spec):
        tables["artwork"] = {"front": {"file": f"front.{ENDINGS[kind]}"}}
    tables["text"] = [_text(text, spec) for text in spec.texts]
    columns = columns_of(spec)
    said = {text.column: text.sample for text in spec.texts if text.column and text.sample}
    if columns and spec.samples:
        said[columns[0]] = spec.samples[0]
    if said:
        tables["samples"] = {column: said[column] for column in columns if column in said}
    return tables


def toml_of(tables: dict[str, Any]) -> str:
    """The tables as a file that people may read and change."""
    document = tomlkit.document()
    document.add(tomlkit.comment("Made on the page from a picture; lengths in mm, y up."))
    for key, value in tables.items():
        if isinstance(value, list) and value and isinstance(value[0], dict):
            rows = tomlkit.aot()
            for entry in value:
                table = tomlkit.table()
                table.update(entry)
                rows.append(table)
            document[key] = rows
        else:
            document[key] = value
    return tomlkit.dumps(document)


def _base(base: BaseSpec, bare: bool) -> dict[str, Any]:
    if base.kind == "drawing" or (base.kind == "trace" and bare):
        return {"drawing": DRAWING}
    if base.kind == "trace":
        return traced_table(base)
    sizes: dict[str, Any] = {"shape": base.kind}
    if base.kind in ("circle", "regular-polygon"):
        sizes["diameter_mm"] = _plain(base.width_mm)
    else:
        sizes |= {"width_mm": _plain(base.width_mm), "height_mm": _plain(base.height_mm)}
    if base.kind == "regular-polygon":
        sizes["sides"] = base.sides
    if base.kind not in ("circle", "ellipse"):
        sizes["corner_mm"] = _plain(base.corner_mm)
    if base.kind == "luggage-tag":
        sizes["chamfer_mm"] = _plain(base.chamfer_mm)
    return {key: value for key, value in sizes.items() if value is not None}


def traced_table(base: BaseSpec) -> dict[str, Any]:
    """``[base]`` of a trace."""
    table: dict[str, Any] = {"trace": "front"}
    if base.edge_mm > 0:
        table["outset_mm"] = _plain(base.edge_mm)
    else:
        table["inset_mm"] = _plain(abs(base.edge_mm))
    for key, value in (("width_mm", base.width_mm), ("height_mm", base.height_mm)):
        if value is not None:
            table[key] = _plain(value)
    if base.keep_holes:
        table["keep_holes"] = True
    return table


def _hole(hole: HoleSpec) -> dict[str, Any]:
    table: dict[str, Any] = {"shape": hole.shape}
    if hole.find is not None:
        table["find"] = hole.find
    else:
        table["at_mm"] = [_plain(value) for value in hole.at_mm or [0.0, 0.0]]
    if hole.shape == "round":
        table["diameter_mm"] = _plain(hole.width_mm)
    else:
        table |= {"length_mm": _plain(hole.length_mm), "width_mm": _plain(hole.width_mm)}
    if hole.find is not None:
        table |= {"wall_mm": _plain(hole.wall_mm), "tab": hole.tab}
    return table


def _text(text: TextSpec, spec: TrialSpec) -> dict[str, Any]:
    made = text.made or made_by_rule(spec.build, spec.rule)
    table: dict[str, Any] = {}
    if text.line is not None:
        table["line"] = text.line
    if text.column is not None:
        table["column"] = text.column
    table["box_mm"] = [_plain(value) for value in text.box_mm]
    # letters that are cut are as strong as their own typeface is: no other may stand in
    spare = () if made == "outline" else tuple(name for name in SPARE if name != text.font)
    table["fonts"] = [text.font, *spare]
    if made != ("engrave" if spec.build == "bare" else "print"):
        table["made"] = made
    if spec.build != "bare" and made in ("print", "outline"):
        table["colour"] = text.colour
    table |= {"align": text.align, "vertical": text.vertical}
    if text.vertical == "baseline" and text.baseline_mm is not None:
        table["baseline_mm"] = _plain(text.baseline_mm)
    table["min_height_mm"] = _plain(text.min_height_mm)
    table["max_height_mm"] = _plain(text.max_height_mm)
    if text.case != "as-typed":
        table["case"] = text.case
    for key in ("one_size", "optional"):
        if getattr(text, key):
            table[key] = True
    return table


def made_by_rule(build: Build, rule: Rule) -> Made:
    """How letters are made where nothing is said."""
    if rule in ("weld", "open"):
        return "outline"
    return "engrave" if build == "bare" else "print"


def _plain(value: float | None) -> float | int | None:
    """A number as people write it: 5, not 5.0, and no more than a thousandth."""
    if value is None:
        return None
    rounded = round(value, 3)
    return int(rounded) if rounded == int(rounded) else rounded
