"""Which typefaces set a text, alone or with others, and how thin its strokes are then."""

from collections.abc import Sequence
from dataclasses import dataclass

from namebatch.errors import FontError
from namebatch.strokes import Stroke, thinnest_stroke
from namebatch.text import Catalogue, FaceInfo
from namebatch.text.chain import chain_for, lacking, stretches
from namebatch.text.clusters import clusters
from namebatch.text.face import Face
from namebatch.text.fallback import fallback_for


@dataclass(frozen=True, slots=True)
class SetBy:
    """A way in which a text is set.

    Attributes:
        info: the typeface that leads, as a template would name it.
        faces: names of all that take part, in the order in which they come in the text.
        stroke: the thinnest stroke; None if the text leaves no ink.
    """

    info: FaceInfo
    faces: tuple[str, ...]
    stroke: Stroke | None


@dataclass(frozen=True, slots=True)
class Answer:
    """What the typefaces here can do with a text.

    Attributes:
        ways: each typeface that sets all of it; if none does, each that leads it with others
            helping out.
        alone: whether one typeface is enough.
        lacking: characters that none has, if it cannot be set at all.
        problems: what is wrong with font files that were left out.
    """

    ways: tuple[SetBy, ...]
    alone: bool
    lacking: tuple[str, ...]
    problems: tuple[str, ...]


def ways_to_set(text: str, catalogue: Catalogue) -> Answer:
    """Find the typefaces that set a text, measured as on a piece.

    Args:
        text: one line.
        catalogue: the typefaces that there are.
    """
    opened, problems = open_all(catalogue)
    alone = [(info, face) for info, face in opened if face.can_set(text)]
    if alone:
        ways = tuple(SetBy(i, (i.name,), thinnest_stroke(face, text)) for i, face in alone)
        return Answer(ways, True, (), problems)
    spare = [catalogue.open_spare(name) for name in fallback_for(text, catalogue)]
    first = _leader(text)
    found: dict[tuple[str, ...], SetBy] = {}
    for info, face in opened:
        if face.can_set(first):
            way = _together(text, info, face, spare)
            if way is not None:
                found.setdefault(way.faces, way)
    missing = () if found else lacking(text, spare) or tuple(dict.fromkeys(text))
    return Answer(tuple(found.values()), False, missing, problems)


def open_all(
    catalogue: Catalogue,
) -> tuple[tuple[tuple[FaceInfo, Face], ...], tuple[str, ...]]:
    """Open every typeface.

    Returns:
        Those that open, in order of name, and what is wrong with the files of the others.
    """
    opened: list[tuple[FaceInfo, Face]] = []
    problems: list[str] = []
    for info in catalogue.infos:
        try:
            opened.append((info, catalogue.open(info.name)))
        except FontError as error:
            problems.append(str(error))
    return tuple(opened), tuple(problems)


def _leader(text: str) -> str:
    """The letter by which a leading face is chosen: the first, or the first sign of all."""
    found = [cluster.text for cluster in clusters(text)]
    return next((cluster for cluster in found if any(c.isalpha() for c in cluster)), found[0])


def _together(text: str, info: FaceInfo, face: Face, spare: Sequence[Face]) -> SetBy | None:
    """A text in a typeface and those that help it out; None if even so a sign is lacking."""
    chain = chain_for(text, [face], lambda _: spare)
    shared = stretches(text, chain) if chain is not None else None
    if chain is None or shared is None:
        return None
    order = sorted(shared, key=lambda stretch: stretch.item.start)
    names = tuple(dict.fromkeys(stretch.face.name for stretch in order))
    return SetBy(info, names, thinnest_stroke(chain, text))
