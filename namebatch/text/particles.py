"""Which words between a person's names are no names themselves and are written small.

The words are listed from memory of the languages, and so is what is done where several habits
meet (common practice, no source):

- A word that is as likely a name or an initial (Al, Ben, La, Y) counts only beside one that is
  not: ``de la Cruz``, ``bin al Farsi``; and Spanish ``y``, Portuguese ``e``, Catalan ``i``.
- At the beginning, where Van, Des and Di may be first names, a particle has a capital, with three
  exceptions: ``von`` and its kin, ``dos``; one with an article behind it (``de la Cruz``);
  languages that write them small there too.
- Dutch has a capital on the first of them where no first name stands before (Van der Beek).
  Belgian surnames keep the capital behind a first name as well: such a list has to be typed so.
- Italian surnames have capitals throughout (Di Martino, De Luca), French ones on their articles
  (de La Tour), Vietnamese has no particles.
"""

from collections.abc import Iterator, Sequence
from typing import Final


def _set(words: str) -> frozenset[str]:
    return frozenset(words.split())


PARTICLES: Final = _set(
    "van von der den de del della delle dei degli di da do dos das du des la las los le ter ten "
    "te op in aan zu zum zur vom am im af av y e i bin ibn bint ben al el of the and und et og "
    "och 't 's և եւ եվ "
    "фон ван дер ден де да ди дю дель делла ла ле лас лос ду дос ибн бин аль эль"
)
"""Words that are written small between names and belong to the word behind them."""
ELIDED: Final = _set("o d l n m dell dall nell all degl sant")
"""What stands before an apostrophe when a capital follows it: O'Neill, D'Angelo, Dell'Acqua."""
_DOUBTFUL: Final = _set("la las los le al el te am im in op y e i ben ла ле лас лос")
_SMALL_AT_START: Final = _set("von vom zum zur dos 't 's фон")
_FIRST_NAMES: Final = _set("van ван ди да")
_LANGUAGES_SMALL_AT_START: Final = _set("es pt gl ca de fr da nb sv")
_LANGUAGES_LARGE_AT_START: Final = _set("nl af")
_SECOND: Final = _set("la las los le der den 't ла ле лас лос")
_NONE: Final = _set("vi it")
_AND: Final = {"es": "y", "pt": "e", "gl": "e", "ca": "i"}
_ARTICLES: Final = {"fr": _set("la le")}
_BEFORE_HYPHEN: Final = _set("al el bin ibn аль эль бин ибн")


def particles(words: Sequence[str], tongue: str) -> frozenset[int]:
    """Places of the words that are particles in a text of one case.

    Args:
        words: of a text, in small letters, straight apostrophes in them; the last is a name
            whatever it says.
        tongue: first part of a BCP 47 tag; empty when unknown.
    """
    if tongue in _NONE:
        return frozenset()
    found: set[int] = set()
    for run in _runs(words):
        sure = [at for at in run if not _doubtful(words[at], tongue)]
        if run[0] == 0 and not _small_at_start(words, run, tongue):
            found.update(run[1:] if any(at > 0 for at in sure) else ())
        elif sure:
            found.update(run)
    articles = _ARTICLES.get(tongue, frozenset())
    return frozenset(at for at in found if words[at] not in articles)


def clings(piece: str, *, first: bool) -> bool:
    """True if a piece between hyphens stays small: ``al-Rashid``, ``Saint-Jean-de-Luz``.

    Args:
        piece: in small letters, with a hyphen behind it.
        first: it begins its word.
    """
    return piece in (_BEFORE_HYPHEN if first else PARTICLES)


def may_be_particle(word: str, tongue: str) -> bool:
    """True for a word that somebody may have typed small on purpose."""
    return word in PARTICLES and tongue not in _NONE


def _runs(words: Sequence[str]) -> Iterator[list[int]]:
    """Stretches of words that may be particles, a name behind each."""
    run: list[int] = []
    for at, word in enumerate(words[:-1]):
        if word in PARTICLES:
            run.append(at)
        elif run:
            yield run
            run = []
    if run:
        yield run


def _doubtful(word: str, tongue: str) -> bool:
    return word in _DOUBTFUL and word != _AND.get(tongue)


def _small_at_start(words: Sequence[str], run: Sequence[int], tongue: str) -> bool:
    """Whether a run that begins the text begins small."""
    first = words[0]
    if first in ("'t", "'s"):
        return True
    if tongue in _LANGUAGES_LARGE_AT_START or first in _FIRST_NAMES or _doubtful(first, tongue):
        return False
    by_language = tongue in _LANGUAGES_SMALL_AT_START
    several = len(run) > 1 and words[1] in _SECOND
    return by_language or first in _SMALL_AT_START or several
