"""One text into one place: the largest size at which no ink leaves it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from shapely import MultiPolygon

from namebatch.errors import FontError
from namebatch.finding import Finding, hold, note, warn
from namebatch.template.textbox import TextBox
from namebatch.text.astray import Astray, marks_astray
from namebatch.text.case import recased
from namebatch.text.chain import Spare, chain_for, lacking, none_spare
from namebatch.text.characters import describe
from namebatch.text.combined import combined
from namebatch.text.face import Face
from namebatch.text.larger import enlarged
from namebatch.text.low import is_too_low, too_low
from namebatch.text.places import place_of
from namebatch.text.setting import Letter
from namebatch.text.sizer import Sized, Sizer
from namebatch.text.steps import Candidate, candidates
from namebatch.text.tones import tones_lost
from namebatch.text.too_small import too_small

SLACK_MM = 1e-6
MILD = frozenset({"tracking", "width", "face"})
"""Steps that a text takes to be as large as its batch; the others only help against holding."""


@dataclass(frozen=True, slots=True)
class Common:
    """What the texts of one box have in common in a batch.

    Attributes:
        height_mm: height of capitals.
        baseline_mm: y of the baseline, None where the box does not leave it open.
    """

    height_mm: float
    baseline_mm: float | None = None


@dataclass(frozen=True, slots=True)
class SetText:
    """A text as it stands in its box.

    Attributes:
        shape: the ink in mm, in the coordinates of the box.
        font: names of the faces that set it.
        height_mm: height of its capital letters.
        baseline_mm: y of the first baseline.
        letters: the ink letter by letter, where it takes part in the outline; else empty.
        notes: what was done to make it fit.
        text: what was set, case and initials applied.
        lines: what of it stands on each line, from the top.
    """

    shape: MultiPolygon
    font: str
    height_mm: float
    baseline_mm: float
    letters: tuple[Letter, ...] = ()
    notes: tuple[Finding, ...] = ()
    text: str = ""
    lines: tuple[str, ...] = ()


def fit(
    text: str,
    faces: Sequence[Face],
    box: TextBox,
    by_letter: bool = False,
    common: Common | None = None,
    spare: Spare = none_spare,
) -> SetText | Finding:
    """Set a text as large as its place and heights allow.

    The first face that has every character is used, or else several (`chain`). Capitals stand
    centred in the box (``middle``) and move only as far as ascenders or descenders need, so that
    names in a batch sit alike. A text that would fall below the least height, or below the one
    height of its batch, goes through the steps that the box allows; each is told.

    Args:
        text: one line.
        faces: in the order in which they are tried.
        box: where it goes.
        by_letter: give the ink letter by letter too; done for ``outline`` boxes in any case.
        common: one height for the whole batch.
        spare: faces that help out where those lack a character; that is told.

    Returns:
        The text as set, or the finding that holds the row; its message lacks the line.
    """
    try:
        return _fit(text, faces, box, by_letter, common, spare)
    except FontError as error:  # of one glyph: the others of the typeface may be fine
        return hold("no-glyph", f'"{text}" cannot be set. {error}')


def _fit(
    text: str,
    faces: Sequence[Face],
    box: TextBox,
    by_letter: bool,
    common: Common | None,
    spare: Spare,
) -> SetText | Finding:
    text = recased(text, box.case, box.language)
    chain = chain_for(text, faces, spare)
    if chain is None:
        return _no_face(text, (*faces, *spare(text)))
    if astray := marks_astray(text, chain):
        return _astray(text, astray)
    place = place_of(box, common.baseline_mm if common else None)
    sizer = Sizer(place, box.min_height_mm, _most(box, common))
    tried = list(_tried(text, chain, box, sizer, common))
    if not tried:
        font = faces[0].name
        return hold("no-ink", f'"{text}" leaves no ink in the typeface {font}. Correct the text.')
    chosen, height = enlarged(
        _chosen(tried, box, common), text, chain, box, place, _most(box, common)
    )
    if height < box.min_height_mm - SLACK_MM:
        tried += [(chosen, height), *sizer.rest(max(height, *(high for _, high in tried)))]
        best, most_mm = max(tried, key=lambda pair: pair[1])
        by_hand = box.min_height_mm == box.max_height_mm
        if not by_hand and is_too_low(place, best.block, most_mm):
            return too_low(text, box, place, most_mm)
        return too_small(text, chain, box, sizer, (best, most_mm))
    notes = [_helped_out(text, chosen.block.font, faces)] if len(chain) > len(faces) else []
    notes += [_one_tone(text, names) for names in (tones_lost(text, chain),) if names]
    notes += chosen.notes
    if common is not None and height < common.height_mm - SLACK_MM:
        notes.append(_smaller(height, common.height_mm))
    placed = place.settle(chosen.block, height, by_letter or box.made == "outline")
    return SetText(
        placed.shape,
        chosen.block.font,
        height,
        placed.baseline_mm,
        placed.letters,
        (*notes, *placed.notes),
        chosen.block.text,
        chosen.block.lines,
    )


def reach(
    text: str, faces: Sequence[Face], box: TextBox, spare: Spare = none_spare
) -> tuple[float, Candidate] | None:
    """How large a text can be when it is set alone, and how it is set then.

    Returns:
        None when it will be held.
    """
    try:
        return _reach(text, faces, box, spare)
    except FontError:
        return None


def _reach(
    text: str, faces: Sequence[Face], box: TextBox, spare: Spare
) -> tuple[float, Candidate] | None:
    text = recased(text, box.case, box.language)
    chain = chain_for(text, faces, spare)
    if chain is None or marks_astray(text, chain):
        return None
    place = place_of(box, None)
    sizer = Sizer(place, box.min_height_mm, _most(box, None))
    tried = list(_tried(text, chain, box, sizer, None))
    if not tried:
        return None
    chosen, height = enlarged(_chosen(tried, box, None), text, chain, box, place, _most(box, None))
    return None if height < box.min_height_mm - SLACK_MM else (height, chosen)


def _tried(
    text: str, faces: Sequence[Face], box: TextBox, sizer: Sizer, common: Common | None
) -> Iterator[Sized]:
    """Candidates with the height that each can have, up to the first that is large enough."""
    enough = (common.height_mm if common else box.min_height_mm) - SLACK_MM
    for allowed in _stages(box):
        made = False
        for pair in sizer.measured(candidates(text, faces, allowed, sizer.place.lines)):
            yield pair
            if pair[1] >= enough:
                return
            made = made or _makes(pair, box)
        if made:
            return
        for pair in combined(text, faces, allowed, sizer):
            yield pair
            if _makes(pair, box):
                return


def _stages(box: TextBox) -> Iterator[TextBox]:
    """The box with the steps before initials, which are combined before a name is cut, then all."""
    steps = box.sizing.steps
    if "initials" in steps:
        before = steps[: steps.index("initials")]
        yield replace(box, sizing=replace(box.sizing, steps=before))
    yield box


def _chosen(tried: Sequence[Sized], box: TextBox, common: Common | None) -> Sized:
    """The mildest that is large enough; else the mildest that may be made at all."""
    last, height = tried[-1]
    large_enough = height >= (common.height_mm if common else box.min_height_mm) - SLACK_MM
    allowed = MILD | {"two-lines"} if box.sizing.two_lines_larger else MILD
    mild = common is None or allowed.issuperset(last.steps) or not _makes(tried[0], box)
    if large_enough and mild:
        return last, height
    made = [pair for pair in tried if _makes(pair, box)]
    return made[0] if made else max(tried, key=lambda pair: pair[1])


def _most(box: TextBox, common: Common | None) -> float:
    """The greatest height that is of use."""
    return common.height_mm if common else box.max_height_mm


def _makes(pair: Sized, box: TextBox) -> bool:
    return pair[1] >= box.min_height_mm - SLACK_MM


def _helped_out(text: str, font: str, faces: Sequence[Face]) -> Finding:
    own = {face.name for face in faces}
    used = (name.partition(" wdth=")[0] for name in font.split(" + "))  # narrowed ones too
    others = [name for name in dict.fromkeys(used) if name not in own]
    return warn(
        "other-typeface",
        f'"{text}" has signs that this template\'s typefaces lack; they are set in '
        f"{' and '.join(others)}. Look whether it suits the others, or name a typeface that has "
        "them in the template.",
    )


def _smaller(height_mm: float, common_mm: float) -> Finding:
    return note(
        "set-smaller",
        f"Set {height_mm:.1f} mm high, smaller than the {common_mm:.1f} mm of its batch, to fit.",
    )


def _no_face(text: str, faces: Sequence[Face]) -> Finding:
    """Name the characters that keep the text from being set."""
    signs = lacking(text, faces)
    what = "has a sign" if len(signs) == 1 else f"has {len(signs)} signs"
    own = ", ".join(dict.fromkeys(face.name for face in faces if not face.helps_out))
    others = any(face.helps_out for face in faces)
    return hold(
        "no-glyph",
        f'"{text}" {what} ({", ".join(describe(sign) for sign in signs[:5])}) that none of this '
        f"template's typefaces ({own}) can set{' and no other here has' if others else ''}. Choose "
        "another typeface or leave the sign out.",
    )


def _astray(text: str, found: Sequence[Astray]) -> Finding:
    """Name the marks that would get a dotted circle, and where they stand."""
    return hold(
        "mark-astray",
        f'"{text}" has a mark that cannot stand where it is: '
        f"{'; '.join(mark.words for mark in found[:5])}. It would be set over a dotted circle. "
        "Look how the word is spelt, and delete the mark or move it.",
    )


def _one_tone(text: str, faces: Sequence[str]) -> Finding:
    """Say that skin tones are not seen."""
    return note(
        "skin-tone-not-shown",
        f'"{text}" has a picture with a skin tone, which {" and ".join(faces)} does not show: it '
        "looks the same in every tone.",
    )
