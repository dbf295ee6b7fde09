"""Writing direction within one line: levels and their visual order.

This is the Unicode Bidirectional Algorithm (UAX #9) without its explicit rules X1–X8: lists are
cleaned of marks that turn the direction, so such marks have no effect here. It stands here because
the light libraries for it return display strings only, and shaping needs the levels. Functions
bear the names of the rules. Brackets are not mirrored (L4); shaping does that.
"""

import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

REMOVED = frozenset({"BN", "LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"})
"""Classes that are passed over: X9, and the isolates, which would need the explicit rules."""

_TURNS = frozenset({"R", "AL", "AN"})
_NEUTRAL = frozenset({"B", "S", "WS", "ON"})
_MOST_OPEN = 63  # BD16

_PAIRS = (
    "()[]{}༺༻༼༽᚛᚜⁅⁆⁽⁾₍₎⌈⌉⌊⌋\u2329\u232a❨❩❪❫❬❭❮❯❰❱❲❳❴❵⟅⟆⟦⟧⟨⟩"
    "⟪⟫⟬⟭⟮⟯⦃⦄⦅⦆⦇⦈⦉⦊⦋⦌⦍⦐⦏⦎⦑⦒⦓⦔⦕⦖⦗⦘⧘⧙⧚⧛⧼⧽⸢⸣⸤⸥⸦⸧⸨⸩⹕⹖"
    "⹗⹘⹙⹚⹛⹜\u3008\u3009《》「」『』【】〔〕〖〗〘〙〚〛﹙﹚﹛﹜﹝﹞（）［］｛｝｟｠｢｣"
)
"""Opening and closing brackets in turn (Unicode Character Database 15.0, BidiBrackets)."""

# Canonical equivalents match each other (BD16): U+2329 closes with U+3009 too.
_CLOSING = {closer: unicodedata.normalize("NFC", closer) for closer in _PAIRS[1::2]}
_CLOSER = dict(zip(_PAIRS[::2], _CLOSING.values(), strict=True))


@dataclass(frozen=True, slots=True)
class LevelRun:
    """A stretch of text at one level.

    Attributes:
        start: index of its first character in the whole text.
        end: index behind its last.
        level: even runs left to right, odd right to left.
    """

    start: int
    end: int
    level: int

    @property
    def is_right_to_left(self) -> bool:
        """True if its characters run from right to left."""
        return self.level % 2 == 1


def base_level(text: str) -> int:
    """Level of the line as a whole by its first strong letter (P2, P3): 0, or 1 right to left."""
    classes = (_class_of(character) for character in text)
    first = next((c for c in classes if c in ("L", "R", "AL")), "L")
    return 0 if first == "L" else 1


def levels(text: str, base: int | None = None) -> tuple[int, ...]:
    """The embedding level of each character of a line.

    Args:
        text: one line.
        base: level of the line, 0 or 1; None takes `base_level`.

    Returns:
        As many levels as characters. A character that the algorithm passes over (joiners,
        marks without width, explicit marks) has the level of what stands before it.

    Raises:
        ValueError: `base` is neither 0 nor 1.
    """
    if base not in (None, 0, 1):
        raise ValueError(f"the level of a line is 0 or 1, not {base}")
    base = base_level(text) if base is None else base
    original = [_class_of(character) for character in text]
    if base == 0 and _TURNS.isdisjoint(original):
        return (0,) * len(text)
    kept = [index for index, c in enumerate(original) if c not in REMOVED]
    before = [original[index] for index in kept]
    embedding = "R" if base else "L"
    classes = _weak(before, embedding)
    classes = _brackets([text[index] for index in kept], before, classes, embedding)
    classes = _neutral(classes, embedding)
    resolved = dict(zip(kept, (_implicit(c, base) for c in classes), strict=True))
    out: list[int] = []
    for index in range(len(text)):
        out.append(resolved.get(index, out[-1] if out else base))
    return tuple(_whitespace(out, original, base))


def level_runs(text: str, base: int | None = None) -> tuple[LevelRun, ...]:
    """The stretches of a line in visual order, left to right (L2).

    Args:
        text: one line.
        base: as for `levels`.

    Raises:
        ValueError: as for `levels`.
    """
    runs: list[LevelRun] = []
    start = 0
    for level, group in groupby(levels(text, base)):
        end = start + len(list(group))
        runs.append(LevelRun(start, end, level))
        start = end
    odd = [run.level for run in runs if run.is_right_to_left]
    highest = max((run.level for run in runs), default=0)
    for least in range(highest, min(odd, default=highest + 1) - 1, -1):
        for first, last in _stretches([run.level >= least for run in runs]):
            runs[first:last] = runs[first:last][::-1]
    return tuple(runs)


def _class_of(character: str) -> str:
    """Bidi class; a code that Python's data do not know counts as a left-to-right letter."""
    return unicodedata.bidirectional(character) or "L"


def _stretches(belongs: Sequence[bool]) -> Iterator[tuple[int, int]]:
    """Start and end of each unbroken stretch of items that belong."""
    start = 0
    for belonging, group in groupby(belongs):
        end = start + len(list(group))
        if belonging:
            yield start, end
        start = end


def _weak(before: Sequence[str], embedding: str) -> list[str]:
    """Marks, numbers and what stands in and around numbers (W1–W7).

    Args:
        before: classes as they are in the data.
        embedding: direction of the line, ``L`` or ``R``; sos and eos too, as there is one level.
    """
    classes: list[str] = []
    for c in before:  # W1
        classes.append((classes[-1] if classes else embedding) if c == "NSM" else c)
    classes = [  # W2
        "AN" if c == "EN" and strong == "AL" else c
        for c, strong in zip(classes, _strong_before(classes, embedding), strict=True)
    ]
    classes = ["R" if c == "AL" else c for c in classes]  # W3
    for i in range(1, len(classes) - 1):  # W4
        left, c, right = classes[i - 1 : i + 2]
        if left == right and ((left == "EN" and c in ("ES", "CS")) or (left == "AN" and c == "CS")):
            classes[i] = left
    for start, end in _stretches([c == "ET" for c in classes]):  # W5
        if "EN" in (*classes[max(start - 1, 0) : start], *classes[end : end + 1]):
            classes[start:end] = ["EN"] * (end - start)
    classes = ["ON" if c in ("ES", "ET", "CS") else c for c in classes]  # W6
    return [  # W7
        "L" if c == "EN" and strong == "L" else c
        for c, strong in zip(classes, _strong_before(classes, embedding), strict=True)
    ]


def _strong_before(classes: Sequence[str], embedding: str) -> Iterator[str]:
    """For each place the last strong class up to it; the line's direction if there is none."""
    strong = embedding
    for c in classes:
        strong = c if c in ("L", "R", "AL") else strong
        yield strong


def _direction(c: str) -> str | None:
    """``L`` or ``R``; numbers count as ``R`` (N0, N1); None for neutrals."""
    return {"L": "L", "R": "R", "EN": "R", "AN": "R"}.get(c)


def _brackets(
    characters: Sequence[str], before: Sequence[str], weak: Sequence[str], embedding: str
) -> list[str]:
    """Give paired brackets the direction of what is in them, or of what comes before (N0).

    Args:
        characters: without those passed over.
        before: their classes in the data.
        weak: their classes after the weak rules.
        embedding: direction of the line.
    """
    classes = list(weak)
    for opening, closing in sorted(_pairs(characters, classes)):
        inside = {_direction(c) for c in classes[opening + 1 : closing]} - {None}
        if not inside:
            continue
        direction = embedding
        if embedding not in inside:
            strong = [d for d in map(_direction, classes[:opening]) if d is not None]
            direction = strong[-1] if strong else embedding
        for bracket in (opening, closing):
            classes[bracket] = direction
            for index in range(bracket + 1, len(classes)):
                if before[index] != "NSM":
                    break
                classes[index] = direction
    return classes


def bracket_pairs(text: str) -> tuple[tuple[int, int], ...]:
    """Indices of the brackets of a text that belong together, opening and closing (BD16)."""
    return tuple(sorted(_pairs(text, ["ON"] * len(text))))


def _pairs(characters: Sequence[str], classes: Sequence[str]) -> list[tuple[int, int]]:
    """Places of the brackets that belong together (BD16)."""
    pairs: list[tuple[int, int]] = []
    waiting: list[tuple[str, int]] = []
    for index, (character, c) in enumerate(zip(characters, classes, strict=True)):
        if c != "ON":
            continue
        if character in _CLOSER:
            if len(waiting) == _MOST_OPEN:
                break
            waiting.append((_CLOSER[character], index))
        elif character in _CLOSING:
            wanted = [closer for closer, _ in waiting]
            if _CLOSING[character] in wanted:
                place = len(wanted) - 1 - wanted[::-1].index(_CLOSING[character])
                pairs.append((waiting[place][1], index))
                del waiting[place:]
    return pairs


def _neutral(before: Sequence[str], embedding: str) -> list[str]:
    """Give neutrals the direction of both their sides, else that of the line (N1, N2)."""
    classes = list(before)
    for start, end in _stretches([c in _NEUTRAL for c in before]):
        left = _direction(before[start - 1]) if start else embedding
        right = _direction(before[end]) if end < len(before) else embedding
        classes[start:end] = [(left if left == right else None) or embedding] * (end - start)
    return classes


def _implicit(c: str, base: int) -> int:
    """The level of a character of a resolved class (I1, I2)."""
    if base % 2 == 0:
        return base + {"L": 0, "R": 1, "AN": 2, "EN": 2}[c]
    return base + (0 if c == "R" else 1)


def _whitespace(found: Sequence[int], original: Sequence[str], base: int) -> list[int]:
    """Separators, and white space before them or at the end, are of the line's level (L1)."""
    out = list(found)
    trailing = True
    for index in range(len(out) - 1, -1, -1):
        c = original[index]
        trailing = c in ("S", "B") or (trailing and (c == "WS" or c in REMOVED))
        out[index] = base if trailing else out[index]
    return out
