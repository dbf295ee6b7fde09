"""Blocks, their kinds as they are packed, and the sheet: what a tight filling is made from. mm."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from namebatch.sheet.blocks import Block
from namebatch.sheet.model import Placement, Rect
from namebatch.sheet.strip import StripAnswer, StripProblem, pack_strips
from namebatch.sheet.strip_shapes import Frame, Packable, item_of, laid_of, packable_of
from namebatch.sheet.tries import Laid, in_tries

ENOUGH = 1000
"""Few tries: as soon as so few sheets are filled."""

Sheets = tuple[tuple[Laid, ...], ...]


@dataclass(frozen=True, slots=True)
class Wanted:
    """Blocks that are to lie in one strip.

    Attributes:
        numbers: of the blocks.
        frame: how the strip lies on the sheet.
        shares: of the sheet that are worth hearing of, largest first.
        seed: of the search.
        steps: so many at most.
    """

    numbers: tuple[int, ...]
    frame: Frame
    shares: tuple[float, ...]
    seed: int
    steps: int


@dataclass(frozen=True, slots=True)
class Got:
    """What came of it.

    Attributes:
        laid: the blocks on the sheet; empty if no target was reached.
        share: of the sheet that the shortest strip took; 0 if there was none.
    """

    laid: tuple[Laid, ...]
    share: float


class Stuff:
    """All that is the same throughout a search."""

    def __init__(self, blocks: Sequence[Block], usable: Rect, gap_mm: float) -> None:
        self.blocks = blocks
        self.usable = usable
        self.gap_mm = gap_mm
        self.kinds: dict[int, Packable] = {}
        self.areas: dict[int, float] = {}
        along = [Frame(usable, gap_mm, along_x) for along_x in (True, False)]
        # a high strip was packed a little sooner
        self.frames = sorted(along, key=lambda frame: -frame.height)
        self.room = along[0].height * along[0].length

    def prepare(self, numbers: Iterable[int]) -> None:
        """Make blocks ready to be packed; the others of a large job are not looked at."""
        for number in numbers:
            block = self.blocks[number]
            if block.kind not in self.kinds:
                self.kinds[block.kind] = packable_of(block, self.gap_mm)
            self.areas[number] = self.kinds[block.kind].area_mm2

    def area(self, numbers: Iterable[int]) -> float:
        """Of blocks as they are packed."""
        return sum(self.areas[number] for number in numbers)

    def pack(self, wanted: Sequence[Wanted], going_on: Callable[[], bool]) -> list[Got]:
        """Pack strips; those that are equal only once.

        Args:
            wanted: independent of each other.
            going_on: once it says no, all ends with what there is.
        """
        by_kind = [self._by_kind(one.numbers) for one in wanted]
        keys = [
            (tuple((kind, len(some)) for kind, some in kinds.items()), one.frame, one.shares,
             one.seed, one.steps)
            for one, kinds in zip(wanted, by_kind, strict=True)
        ]  # fmt: skip
        first = {key: number for number, key in reversed(list(enumerate(keys)))}
        numbers = sorted(first.values())
        problems = [self._problem(wanted[number], by_kind[number]) for number in numbers]
        answers = dict(zip(numbers, pack_strips(problems, going_on), strict=True))
        return [
            self._got(answers[first[key]], one.frame, kinds)
            for key, one, kinds in zip(keys, wanted, by_kind, strict=True)
        ]

    def few_tries(self, numbers: Sequence[int]) -> Sheets:
        """Sheets filled in the fast way, without much ado."""
        some = [self.blocks[number] for number in numbers]
        sheets = in_tries(some, self.usable, self.gap_mm, ENOUGH)
        return tuple(
            tuple((numbers[k], turned, x, y) for k, turned, x, y in sheet) for sheet in sheets
        )

    def used(self, sheet: Iterable[Laid]) -> float:
        """Share of a sheet's width or height, whichever is less, that is used."""
        width = height = 0.0
        for _, turned, x, y in sheet:
            width = max(width, x + turned.width_mm)
            height = max(height, y + turned.height_mm)
        return min(width / self.usable[2], height / self.usable[3])

    def sorted_sheets(self, sheets: Iterable[Sequence[Laid]]) -> Sheets:
        """Sheets with the one that is used least at the end; none is empty."""
        filled = [tuple(sheet) for sheet in sheets if sheet]
        if not filled:
            return ()
        used = [self.used(sheet) for sheet in filled]
        last = min(range(len(filled)), key=lambda k: (used[k], -k))
        return tuple(sheet for k, sheet in enumerate(filled) if k != last) + (filled[last],)

    def length(self, sheets: Sheets) -> float:
        """Number of sheets; of the last one only what is used."""
        return len(sheets) - 1 + self.used(sheets[-1]) if sheets else 0.0

    def read(self, sheets: Sequence[Sequence[Placement]]) -> Sheets:
        """Sheets that were filled in another way."""
        owner = {
            (block.turns[0].members[0].piece, block.turns[0].members[0].face): number
            for number, block in enumerate(self.blocks)
        }
        return tuple(
            tuple(
                self._laid(owner[place.piece, place.face], place)
                for place in sheet
                if (place.piece, place.face) in owner
            )
            for sheet in sheets
        )

    def placements(self, sheets: Sheets) -> list[list[Placement]]:
        """Placements of each sheet, in list order of the blocks."""
        return [
            [
                placement
                for _, turned, x, y in sorted(sheet, key=lambda laid: laid[0])
                for placement in turned.place(self.usable[0] + x, self.usable[1] + y)
            ]
            for sheet in sheets
        ]

    def _laid(self, number: int, place: Placement) -> Laid:
        turned = next(t for t in self.blocks[number].turns if t.turn_deg == place.rotation_deg)
        origin = turned.members[0]
        x = place.x_mm - self.usable[0] - origin.x_mm
        return number, turned, x, place.y_mm - self.usable[1] - origin.y_mm

    def _by_kind(self, numbers: Iterable[int]) -> dict[int, list[int]]:
        kinds: dict[int, list[int]] = {}
        for number in sorted(numbers, key=lambda n: (self.blocks[n].kind, n)):
            kinds.setdefault(self.blocks[number].kind, []).append(number)
        return kinds

    def _problem(self, one: Wanted, kinds: dict[int, list[int]]) -> StripProblem:
        frame = one.frame
        reach = self.gap_mm
        return StripProblem(
            frame.height,
            tuple(item_of(self.kinds[kind], len(some), frame) for kind, some in kinds.items()),
            tuple((frame.length - reach) * share + reach for share in one.shares),
            one.seed,
            one.steps,
        )

    def _got(self, answer: StripAnswer, frame: Frame, kinds: dict[int, list[int]]) -> Got:
        packed = [self.kinds[kind] for kind in kinds]
        laid = laid_of(answer.placed, packed, list(kinds.values()), frame)
        share = max(answer.length - self.gap_mm, 0.0) / (frame.length - self.gap_mm)
        return Got(tuple(self._own(one) for one in laid), share)

    def _own(self, laid: Laid) -> Laid:
        """A block's own faces at the turn of an equal one."""
        number, turned, x, y = laid
        piece = self.blocks[number].turns[0].members[0].piece
        members = tuple(replace(member, piece=piece) for member in turned.members)
        return number, replace(turned, members=members), x, y
