"""Reading a template folder: every problem at once, or a `Template`."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from shapely import Polygon

from namebatch.errors import TemplateError
from namebatch.finding import Finding
from namebatch.resources import bundled
from namebatch.template import folder as folders
from namebatch.template import pictures, texts
from namebatch.template.base import pierced, read_base, read_holes, read_lines
from namebatch.template.finish import read_finish
from namebatch.template.joint import read_joint
from namebatch.template.model import Artwork, ContourRule, FaceName, Template, TextBox
from namebatch.template.overlaps import overlaps
from namebatch.template.painting import read_colours
from namebatch.template.places import Ground, guides_wanted
from namebatch.template.problems import (
    FileProblem,
    Problems,
    did_you_mean,
    joined,
    nearest,
    shown,
    validated,
)
from namebatch.template.reach import beyond, ground_of, within_base
from namebatch.template.schema import Contour, Head, Text
from namebatch.template.toml_file import read_toml
from namebatch.template.traced import Traced, read_traced

TABLES = ("base", "contour", "hole", "joint", "finish", "artwork", "text", "colours", "samples")
BLEED_MM = 1.5
"""Used when nothing else is said: the cut may miss the print by less than that."""
TURNS_DEG = (0.0, 90.0, 180.0, 270.0)
MOST_SAMPLES = 100
LONGEST_SAMPLE = 200


def load_template(folder: Path) -> Template:
    """The template in a folder.

    Args:
        folder: holds ``template.toml`` and what it names.

    Raises:
        TemplateError: with all problems at once, each with its place. Entries of lists count
            from 1: ``text[2].box_mm`` is in the second ``[[text]]``.
    """
    try:
        return _load(folder)
    except FileProblem as problem:
        raise TemplateError(f"Template {shown(folder.name)}: {problem}") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "its name cannot be used"
        raise TemplateError(
            f"Template folder {shown(str(folder))} cannot be read ({reason})."
        ) from None


def bundled_templates() -> tuple[str, ...]:
    """Names of the templates that come with the program, sorted."""
    home = bundled("templates")
    if not home.is_dir():
        return ()
    found = (path for path in home.iterdir() if (path / folders.TOML_NAME).is_file())
    return tuple(sorted(path.name for path in found))


def find_template(name_or_dir: str) -> Path:
    """The folder of a template.

    Args:
        name_or_dir: the name of a bundled template, a folder, or its ``template.toml``.

    Raises:
        TemplateError: there is none; with the nearest name.
    """
    names = bundled_templates()
    if name_or_dir in names:
        return bundled("templates") / name_or_dir
    try:
        path = Path(name_or_dir)
        if path.name == folders.TOML_NAME and path.is_file():
            return path.parent
        if (path / folders.TOML_NAME).is_file():
            return path
        exists = path.is_dir()
    except (OSError, ValueError):
        exists = False
    if exists and name_or_dir.strip():
        raise TemplateError(f"Folder {shown(name_or_dir)} holds no {folders.TOML_NAME}; add one.")
    guess = nearest(name_or_dir, names)
    hint = f' Did you mean "{guess}"?' if guess else ""
    known = f" Bundled templates: {', '.join(names)}." if names else ""
    raise TemplateError(
        f"There is no template {shown(name_or_dir)}, neither bundled nor as a folder.{hint}{known}"
    )


def _load(folder: Path) -> Template:
    """The template, or one of the errors that `load_template` translates."""
    if not (folder / folders.TOML_NAME).is_file():
        raise TemplateError(
            f"There is no {folders.TOML_NAME} in {shown(str(folder))}; give a template's folder."
        )
    files = folders.listed(folder)
    tables, _ = read_toml(folder / folders.TOML_NAME)
    problems = Problems()
    name = folder.resolve().name
    template = _assembled(tables, name, folder, files, problems)
    if template is None or problems:
        count = f"{len(problems)} problems" if len(problems) > 1 else "one problem"
        raise TemplateError(f"Template {shown(name)} has {count}.", problems.told())
    return template


def _assembled(
    tables: Mapping[str, Any],
    name: str,
    folder: Path,
    files: dict[str, Path],
    problems: Problems,
) -> Template | None:
    """Every table read, whatever is wrong with the others; None with problems noted."""
    head = _head(tables, problems)
    strayed = _strayed(tables, problems)
    traced = _traced(strayed, files, problems)
    guides = guides_wanted(strayed.get("text"))
    base = traced.base if traced else _base(strayed, head, files, guides, problems)
    holes, found_holes = read_holes(strayed.get("hole", []), base, problems)
    written = texts.read_texts(strayed.get("text"), problems)
    contour = _contour(strayed.get("contour"), head, problems)
    size = None if base is None or base.is_empty else (base.bounds[2], base.bounds[3])
    lines = None if traced else read_lines(strayed.get("base"), files, problems, guides)
    ground = Ground(base, holes, bool(found_holes), lines)
    boxes = () if head is None else texts.boxes(written, head, size, ground, files, problems)
    if base is not None and base.is_empty:
        size = _reach(boxes)
    bleed = _bleed(head)
    artwork = pictures.read_all(
        strayed.get("artwork", {}), head, size, bleed, files, problems, traced
    )
    samples, colours = _words(strayed, written, problems)
    joint = read_joint(strayed.get("joint"), size, head.rule if head else "", problems)
    build, backs = (head.build, "back" in head.faces) if head else (None, False)
    finish = read_finish(strayed.get("finish"), build, backs, problems)
    if head is None or base is None or size is None or problems:
        return None
    whole = base if base.is_empty else _whole(base, holes)
    grounds = [ground_of(box, head.rule, whole) for box in boxes]
    boxes = tuple(map(within_base, boxes, grounds))
    return Template(
        name=name,
        title=head.title,
        build=head.build,
        rule=head.rule,
        faces=texts.faces_in_order(head.faces),
        base=whole,
        holes=holes,
        size_mm=size,
        boxes=boxes,
        artwork=artwork,
        fields=texts.fields(boxes),
        material=head.material,
        board=head.board,
        bleed_mm=bleed,
        turns_deg=tuple(head.turns_deg),
        samples=samples,
        folder=str(folder),
        digest=folders.digest(files),
        contour=contour,
        found_holes=found_holes,
        warnings=(*_warnings(traced, artwork), *overlaps(boxes), *beyond(boxes, grounds)),
        colours=colours,
        joint=joint,
        finish=finish,
        rim_mm=head.rim_mm or 0.0,
    )


def _traced(
    tables: Mapping[str, Any], files: Mapping[str, Path], problems: Problems
) -> Traced | None:
    """The base and its picture's place, if the base is a trace and all is well with it."""
    data = tables.get("base")
    if not isinstance(data, dict) or "trace" not in data:
        return None
    if "drawing" in data or "shape" in data:
        problems.add("base", "has a trace and a drawing or shape as well; keep one of them.")
        return None
    return read_traced(data, tables.get("artwork"), files, problems)


def _warnings(traced: Traced | None, artwork: Mapping[FaceName, Artwork]) -> tuple[Finding, ...]:
    """What is not good about the pictures; a traced one is told of once, with its outline."""
    own = [picture for face, picture in artwork.items() if not (traced and face == "front")]
    return (*(traced.warnings if traced else ()), *pictures.soft(own))


def _base(
    tables: Mapping[str, Any],
    head: Head | None,
    files: Mapping[str, Path],
    guides: Sequence[str],
    problems: Problems,
) -> Polygon | None:
    """The base from a drawing or a shape; empty where the name alone is cut out."""
    data = tables.get("base")
    if isinstance(data, dict) and "trace" in data:
        return None
    if data is None and (head is None or head.rule == "contour"):
        return Polygon() if head else None
    return read_base(data, files, problems, guides)


def _reach(boxes: Sequence[TextBox]) -> tuple[float, float] | None:
    """Width and height from the origin to where the text boxes end."""
    if not boxes:
        return None
    width = max(box.box_mm[0] + box.box_mm[2] for box in boxes)
    height = max(box.box_mm[1] + box.box_mm[3] for box in boxes)
    return max(width, 1.0), max(height, 1.0)


def _contour(data: object, head: Head | None, problems: Problems) -> ContourRule | None:
    """The sizes of the rule ``contour``."""
    if head is not None and head.rule != "contour":
        if data is not None:
            problems.add("contour", f'goes only with rule = "contour", not "{head.rule}".')
        return None
    if data is None:
        if head is not None:
            problems.add(
                "[contour]", "is missing; give the distance of the line in it: distance_mm = 2"
            )
        return None
    table = validated(Contour, data, "contour", problems)
    if table is None:
        return None
    return ContourRule(
        table.distance_mm,
        table.corners,
        table.inside_radius_mm,
        table.gap_mm,
        table.least_hole_mm2,
    )


def _whole(base: Polygon, holes: tuple[Polygon, ...]) -> Polygon:
    """The base with its holes, proved valid: later rooms rely on it."""
    polygon = pierced(base, holes)
    if not polygon.is_valid:
        raise FileProblem("base", "does not stay one sound shape with its holes; move the holes.")
    return polygon


def _head(tables: Mapping[str, Any], problems: Problems) -> Head | None:
    """The keys above the first table."""
    known = (*Head.model_fields, *TABLES)
    for key in tables:
        if key not in known:
            problems.add(
                joined("", [key]), f"there is no such key here; {did_you_mean(key, known)}"
            )
    own = {key: value for key, value in tables.items() if key in Head.model_fields}
    head = validated(Head, own, "", problems)
    if head is None:
        return None
    if "front" not in head.faces or len(set(head.faces)) < len(head.faces):
        problems.add("faces", 'must be ["front"] or ["front", "back"].')
    if "back" in head.faces and head.build == "bare":
        problems.add("faces", 'a back goes only with build = "faced" or "printed", not "bare".')
    if head.build == "faced" and head.board is None:
        problems.add("board", 'is missing; build = "faced" sticks the print on a board.')
    if head.build != "faced" and head.board is not None:
        problems.add("board", f'goes only with build = "faced", not "{head.build}".')
    if head.build != "faced" and head.rim_mm is not None:
        problems.add("rim_mm", f'goes only with build = "faced", not "{head.build}".')
    if head.build == "bare" and head.bleed_mm:
        problems.add("bleed_mm", 'nothing is printed with build = "bare"; leave it out.')
    wrong = [turn for turn in head.turns_deg if turn not in TURNS_DEG]
    if wrong or len(set(head.turns_deg)) < len(head.turns_deg):
        problems.add("turns_deg", "takes each of 0, 90, 180 and 270 once at most.")
    return head


def _bleed(head: Head | None) -> float:
    """How far the print reaches past the outline."""
    if head is None or head.build == "bare":
        return 0.0
    return BLEED_MM if head.bleed_mm is None else head.bleed_mm


def _strayed(tables: Mapping[str, Any], problems: Problems) -> dict[str, Any]:
    """The tables without top-level keys that slipped below a line in square brackets.

    TOML counts every key after ``[[text]]`` to that text, which surprises people.
    """

    def swept(value: object, place: str) -> object:
        if isinstance(value, list):
            return [swept(entry, f"{place}[{i + 1}]") for i, entry in enumerate(value)]
        if not isinstance(value, dict):
            return value
        lost = [key for key in value if key in Head.model_fields]
        for key in lost:
            problems.add(
                f"{place}.{key}",
                "belongs at the top of the file, above the first line in square brackets.",
            )
        return {key: entry for key, entry in value.items() if key not in lost}

    whole = {key: tables[key] for key in TABLES if key in tables}
    swept_keys = ("base", "contour", "hole", "joint", "finish", "text")
    return {key: swept(v, key) if key in swept_keys else v for key, v in whole.items()}


def _words(
    tables: Mapping[str, Any], written: Sequence[tuple[str, Text]], problems: Problems
) -> tuple[dict[str, str], dict[str, str]]:
    """Samples and words for colours; both have to fit what the texts take from the list."""
    columns = texts.columns(written)
    all_read = isinstance(tables.get("text"), list) and len(written) == len(tables["text"])
    by_list = not all_read or any(text.colour_column is not None for _, text in written)
    return (
        _samples(tables.get("samples", {}), columns if all_read else None, problems),
        read_colours(tables.get("colours"), by_list, problems),
    )


def _samples(data: object, columns: list[str] | None, problems: Problems) -> dict[str, str]:
    """Texts for pictures of the template, by field; columns None when not all are known."""
    if not isinstance(data, dict):
        problems.add("samples", f"needs a table of field and text, not {shown(data)}.")
        return {}
    if len(data) > MOST_SAMPLES:
        problems.add("samples", f"holds more than {MOST_SAMPLES} entries; take some out.")
        return {}
    for key, value in data.items():
        place = joined("samples", [key])
        if not isinstance(value, str) or len(value) > LONGEST_SAMPLE:
            problems.add(place, f"needs a short text in quotes, not {shown(value)}.")
        if columns is not None and key not in columns:
            problems.add(place, f"no text takes this column; {did_you_mean(key, columns)}")
    return dict(data)
