"""How printed letters are painted: stroke, shadow, gradient, colours from the list."""

from collections.abc import Iterable

from pydantic import TypeAdapter, ValidationError

from namebatch.template.model import Build
from namebatch.template.problems import Problems, joined, shown
from namebatch.template.schema import Colour, Text
from namebatch.template.textbox import Gradient, Made, Paint, Shadow, Stroke, TextBox

KEYS = ("stroke", "shadow", "gradient", "colour_column")
MOST_COLOURS = 100
LONGEST_WORD = 60
_COLOUR: TypeAdapter[str] = TypeAdapter(Colour)


def paint_of(text: Text) -> Paint:
    """The paint of a text, its plain colour left out."""
    stroke, shadow, gradient = text.stroke, text.shadow, text.gradient
    return Paint(
        Stroke(stroke.colour, stroke.width_mm) if stroke else None,
        Shadow(shadow.colour, (shadow.shift_mm[0], shadow.shift_mm[1])) if shadow else None,
        Gradient(gradient.start, gradient.end, gradient.angle_deg) if gradient else None,
        text.colour_column,
    )


def check_paint(text: Text, made: Made, build: Build, place: str, problems: Problems) -> None:
    """Paint needs a print, a print needs a colour, and a gradient is one already."""
    given = [key for key in KEYS if getattr(text, key) is not None]
    if made in ("engrave", "mark") or build == "bare":
        for key in given:
            problems.add(f"{place}.{key}", "is printed, and nothing is printed here; leave it out.")
        return
    if text.gradient is not None and text.colour is not None:
        problems.add(f"{place}.colour", "stands beside a gradient; keep one of them.")
    if text.gradient is not None and text.colour_column is not None:
        problems.add(f"{place}.colour_column", "stands beside a gradient; keep one of them.")
    coloured = {"gradient", "colour_column"} & set(given) or text.colour is not None
    if made == "outline" and given and not coloured:
        problems.add(
            f"{place}.colour",
            "is missing; letters that are cut out are printed only if they have a colour.",
        )


def without_column(boxes: Iterable[TextBox]) -> dict[str, str]:
    """What is so on every piece where the list lacks the column of a colour.

    Returns:
        Field → words for the end of a sentence; fields that are texts as well are left out.
    """
    boxes = tuple(boxes)
    texts = {field for box in boxes for field in box.fields}
    said: dict[str, list[str]] = {}
    for box in boxes:
        field = box.paint.colour_field
        if field is not None and field not in texts:
            own = f"printed in {box.colour}" if box.colour else "not printed"
            said.setdefault(field, []).append(f'"{box.name}" is {own}')
    return {field: f"on every piece {' and '.join(words)}" for field, words in said.items()}


def read_colours(data: object, wanted: bool, problems: Problems) -> dict[str, str]:
    """The table ``[colours]``: words that the list may use for colours.

    Args:
        data: the table as it stands in the file, None if there is none.
        wanted: whether a text takes its colour from the list.
        problems: gets one line for each word or colour that will not do.

    Returns:
        Word in small letters → ``#rrggbb``.
    """
    if data is None:
        return {}
    if not isinstance(data, dict):
        problems.add("colours", f"needs a table of word and colour, not {shown(data)}.")
        return {}
    if len(data) > MOST_COLOURS:
        problems.add("colours", f"holds more than {MOST_COLOURS} words; take some out.")
        return {}
    if not wanted:
        problems.add(
            "colours", "is for texts with a colour_column, and none has one; leave the table out."
        )
    return {word: colour for word in data if (colour := _colour(word, data[word], problems))}


def _colour(word: str, value: object, problems: Problems) -> str | None:
    """The colour that a word stands for; None with a problem noted."""
    place = joined("colours", [word])
    if word != word.casefold() or word != " ".join(word.split()) or not word:
        problems.add(place, "needs a word in small letters; the list may use capitals as well.")
    if word.startswith("#") or len(word) > LONGEST_WORD:
        problems.add(
            place, f"needs a word of at most {LONGEST_WORD} characters that does not begin with #."
        )
    try:
        return _COLOUR.validate_python(value, strict=True)
    except ValidationError:
        problems.add(
            place, f'needs a colour as "#rrggbb", for example "#17324d", not {shown(value)}.'
        )
        return None
