"""What is tried, step by step, before a text is called too long."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from namebatch.finding import Finding, note
from namebatch.template.textbox import Step, TextBox
from namebatch.text.block import Block, block_of
from namebatch.text.breaks import breaks, broken_at
from namebatch.text.chain import faces_of, stretches
from namebatch.text.face import Face
from namebatch.text.initials import initials
from namebatch.text.setting import Line, set_line
from namebatch.text.widths import narrower

LEVELS = 5
"""Steps between the tracking that a box asks for and the tightest."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """A way to set a text.

    Attributes:
        block: the text as set.
        notes: what was done to it; empty for the text as it stands.
        steps: the same in words of the template.
    """

    block: Block
    notes: tuple[Finding, ...] = ()
    steps: tuple[Step, ...] = ()


@dataclass(frozen=True, slots=True)
class Way:
    """Faces and tracking, and what led to them."""

    faces: tuple[Face, ...]
    tracking: float
    notes: tuple[Finding, ...] = ()
    steps: tuple[Step, ...] = ()

    def and_then(
        self,
        step: Step,
        told: Finding,
        faces: tuple[Face, ...] | None = None,
        tracking: float | None = None,
    ) -> "Way":
        """This way with one thing more; a step that is taken further is told once."""
        kept = [(s, n) for s, n in zip(self.steps, self.notes, strict=True) if s != step]
        return Way(
            self.faces if faces is None else faces,
            self.tracking if tracking is None else tracking,
            (*(n for _, n in kept), told),
            (*(s for s, _ in kept), step),
        )


def candidates(
    text: str, faces: Sequence[Face], box: TextBox, most_lines: int
) -> Iterator[Candidate]:
    """The text as it stands, then what the box allows, from the mildest change on.

    Tighter letters and narrower cuts of the first face add up; two lines and initials are tried
    plain first and then with as little as needed of what came before them. What is left beyond
    that is `combined`.

    Args:
        text: one line that the faces can set.
        faces: in the order in which they are tried.
        box: its steps, in its order.
        most_lines: how many the place takes.
    """
    plain = Way(tuple(faces), box.tracking)
    way = plain
    ways = [plain]
    yield from single(text, plain, box)
    for step in box.sizing.steps:
        match step:
            case "tracking":
                for closer in tighter(way, box):
                    way = closer
                    ways.append(way)
                    yield from single(text, way, box)
            case "width":
                for cut in narrower_cuts(way.faces[0], way, box):
                    way = cut
                    ways.append(way)
                    yield from single(text, way, box)
            case "face":
                for other in other_faces(text, way):
                    yield from single(text, other, box)
            case "two-lines" if most_lines > 1:
                for tried in ways:
                    yield from broken(text, tried, box)
            case "initials":
                for form in initials(text, box.language):
                    for tried in ways:
                        yield from single(form, shortened(text, form, tried), box)
            case _:
                pass


def shortened(text: str, form: str, way: Way) -> Way:
    """A way by which a shorter form of a text is set."""
    told = note("initials", f'"{text}" was shortened to "{form}" to fit.')
    faces = faces_of(text, way.faces)
    return way.and_then("initials", told, faces if stretches(form, faces) else way.faces)


def _line(text: str, faces: Sequence[Face], way: Way, box: TextBox) -> Line:
    return set_line(faces, text, box.max_height_mm, way.tracking, box.language)


def single(text: str, way: Way, box: TextBox) -> Iterator[Candidate]:
    """On one line, where the box leaves that open."""
    if box.sizing.break_at:
        return
    block = block_of(
        text, [(0, _line(text, way.faces, way, box))], box.align, box.sizing.line_gap, optical(box)
    )
    if block is not None:
        yield Candidate(block, way.notes, way.steps)


def optical(box: TextBox) -> bool:
    """Whether the box wants its text in what the eye takes for the middle."""
    return box.centring == "optical"


def tighter(way: Way, box: TextBox) -> Iterator[Way]:
    """Closer and closer letters."""
    span = box.sizing.tightest - box.tracking
    if span >= 0:
        return
    for level in range(1, LEVELS + 1):
        tracking = box.tracking + span * level / LEVELS
        closer = round(-100 * span * level / LEVELS, 1)
        told = note("tightened", f"The letters stand {closer:g} % of their height closer, to fit.")
        yield way.and_then("tracking", told, tracking=tracking)


def narrower_cuts(lead: Face, way: Way, box: TextBox) -> Iterator[Way]:
    """Narrower and narrower cuts of one of the faces."""
    for cut in narrower(lead, box.sizing.narrowest):
        share = cut.axes["wdth"] / lead.axes.get("wdth", 100.0)
        told = note("narrowed", f"The letters are {100 * share:.0f} % as wide as usual, to fit.")
        faces = tuple(cut if face is lead else face for face in way.faces)
        yield way.and_then("width", told, faces=faces)


def other_faces(text: str, way: Way) -> Iterator[Way]:
    """Later faces of the chain that set the whole text; narrower ones come out on top."""
    lead = faces_of(text, way.faces)[0]
    for face in way.faces[way.faces.index(lead) + 1 :]:
        if face.can_set(text):
            told = note("other-face", f"Set in {face.name}, which is narrower, to fit.")
            yield way.and_then("face", told, faces=(face,))


def broken(text: str, way: Way, box: TextBox) -> Iterator[Candidate]:
    """On two lines: first broken where the longer one is shortest."""
    why = "as was asked by hand" if box.sizing.break_at else "to fit"
    after = way.and_then("two-lines", note("two-lines", f"Set on two lines, {why}."))
    for block in sorted(_blocks(text, way, box), key=_width):
        yield Candidate(block, after.notes, after.steps)


def on_two_lines(text: str, faces: Sequence[Face], box: TextBox) -> tuple[Block, ...]:
    """The text as it stands, on two lines, in every way in which it may be broken."""
    return tuple(_blocks(text, Way(tuple(faces), box.tracking), box))


def _blocks(text: str, way: Way, box: TextBox) -> Iterator[Block]:
    """Two lines, for every break, in the faces that set the whole text."""
    number = box.sizing.break_at
    faces = faces_of(text, way.faces)
    for upper, lower, start in broken_at(text, number) if number else breaks(text):
        if stretches(upper, faces) is None or stretches(lower, faces) is None:
            continue
        lines = [(0, _line(upper, faces, way, box)), (start, _line(lower, faces, way, box))]
        block = block_of(text, lines, box.align, box.sizing.line_gap, optical(box))
        if block is not None:
            yield block


def _width(block: Block) -> float:
    return round(block.bounds[2] - block.bounds[0], 9)
