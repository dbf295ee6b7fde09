"""Whoever has the sections made: knows what stands before each, and tells how far it is."""

from collections.abc import Mapping, Sequence

from namebatch.names.row import Row
from namebatch.pipeline import Progress
from namebatch.sections.task import Boards, Counts, Laid, Numbers, Searched, Step
from namebatch.sheet.wishes import Laid as Show
from namebatch.sheet.wishes import Watch
from namebatch.workers import ended_without_a_word

PIECES, SECTIONS = "pieces", "sections"
"""Stages that are told."""


class Ledger:
    """The host of a crew that makes sections (`crew.Host`).

    Args:
        rows: number of a section → its rows.
        progress: hears of pieces and sections.
        watch: hears how far the searches for fewer sheets are, and may end them.
        show: is shown the first sheets.
        kept: whether what is whole stays where a worker is lost.
    """

    def __init__(
        self,
        rows: Mapping[int, Sequence[Row]],
        progress: Progress,
        watch: Watch,
        show: Show,
        kept: bool,
    ) -> None:
        self._rows = rows
        self._progress = progress
        self._watch = watch
        self._show = show
        self._kept = kept
        self._counts: dict[int, Counts] = {}
        self._looked = dict.fromkeys(rows, 0)
        self._whole: set[int] = set()
        self._searches: dict[int, Searched] = {}

    def stands(self, number: int, counts: Counts) -> None:
        """Note a section that is whole."""
        self._counts[number] = counts
        self._whole.add(number)
        self._looked[number] = len(self._rows[number])
        self._progress(SECTIONS, len(self._whole), len(self._rows))

    def falls(self, number: int) -> None:
        """Forget a section that has to be made again."""
        self._counts.pop(number, None)
        self._whole.discard(number)

    def before(self, number: int) -> Counts | None:
        """What all earlier sections have; None while one of them has not told."""
        total = Counts()
        for earlier in range(1, number):
            if earlier not in self._counts:
                return None
            total = total.plus(self._counts[earlier])
        return total

    def told(self, number: int, word: object) -> None:
        """See `crew.Host`."""
        match word:
            case Step(stage="pieces", done=done):
                self._looked[number] = done
                self._progress(PIECES, sum(self._looked.values()), self._total)
            case Searched():
                self._searches[number] = word
                self._tell_search()
            case Laid(sheet=sheet, pieces=pieces):
                self._show(sheet, pieces)

    def asked(self, number: int, question: object) -> Counts | None:
        """See `crew.Host`."""
        match question:
            case Numbers(counts=counts):
                self._counts[number] = counts
                return self.before(number)
            case Boards():
                return self.before(number)
        raise TypeError(f"nobody knows how to answer {question!r}")

    def enough(self) -> bool:
        """See `crew.Host`."""
        return self._watch.stopped()

    def lost(self, numbers: Sequence[int]) -> Exception:
        """See `crew.Host`."""
        some = [self._rows[number] for number in sorted(numbers)]
        return ended_without_a_word(
            [(rows[0].place, rows[0].line, rows[-1].line) for rows in some if rows], self._kept
        )

    @property
    def _total(self) -> int:
        return sum(map(len, self._rows.values()))

    def _tell_search(self) -> None:
        """All searches as one: of the whole time, and the sheets that they need together."""
        share = sum(one.share for one in self._searches.values()) / len(self._rows)
        self._watch.told(share, sum(one.sheets for one in self._searches.values()))
