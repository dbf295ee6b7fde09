"""Where a name may be broken into two lines."""

from namebatch.text.kept import (
    HYPHENS,
    hyphen_holds,
    in_brackets,
    is_initial,
    with_next,
    with_previous,
)

BREAKABLE = f" {HYPHENS}"


def breaks(text: str) -> tuple[tuple[str, str, int], ...]:
    """The ways to break a text into two lines.

    A line ends at a space, which is dropped, or after a hyphen, which stays. It never ends
    behind a particle (``van der``, ``de la``, ``al-``; all of them in `kept`), an initial's full
    stop that is all that stands before it (``J.``), before a Roman numeral or an addition such as
    ``Jr.``, or within brackets.

    Returns:
        Upper line, lower line, index at which the lower one starts; in text order.
    """
    found: list[tuple[str, str, int]] = []
    for index, character in enumerate(text):
        if character == " ":
            upper, lower, start = text[:index], text[index + 1 :], index + 1
        elif character in HYPHENS:
            upper, lower, start = text[: index + 1], text[index + 1 :], index + 1
        else:
            continue
        readable = _lettered(upper) and _lettered(lower)
        if readable and not _clings(upper, lower, character in HYPHENS):
            found.append((upper, lower, start))
    return tuple(found)


def break_number(text: str, upper: str, lower: str) -> int:
    """Which space or hyphen of a text, counted from 1, parts it into two lines that are asked for.

    Letter case changes neither spaces nor hyphens, so the number holds in capitals too.

    Returns:
        0 if the two lines are not this text, or part it anywhere else.
    """
    after_hyphen = upper[-1:] in tuple(HYPHENS) and text == upper + lower
    if not (after_hyphen or text == f"{upper} {lower}"):
        return 0
    return sum(character in BREAKABLE for character in upper) + (not after_hyphen)


def broken_at(text: str, number: int) -> tuple[tuple[str, str, int], ...]:
    """A text parted at one of its spaces or hyphens, in the form of `breaks`."""
    places = [index for index, character in enumerate(text) if character in BREAKABLE]
    if not 1 <= number <= len(places):
        return ()
    at = places[number - 1]
    upper, lower = text[: at + (text[at] != " ")], text[at + 1 :]
    return ((upper, lower, at + 1),) if upper and lower else ()


def _lettered(part: str) -> bool:
    """Something to read stands on it, and it neither starts nor ends with a space."""
    return part.strip() == part and any(c.isalnum() for c in part)


def _clings(upper: str, lower: str, at_hyphen: bool) -> bool:
    """The last word above belongs to the first one below."""
    above, below = upper.split(" "), lower.split(" ")
    last, first = above[-1], below[0]
    if in_brackets(upper):
        return True
    if at_hyphen:
        return hyphen_holds(_pieces(last[:-1])[-1], _pieces(first)[0])
    if upper == last and is_initial(last):
        return True
    words = [*above, *below]
    return with_next(words, len(above) - 1) or with_previous(words, len(above))


def _pieces(word: str) -> list[str]:
    """What stands between the hyphens of a word."""
    for hyphen in HYPHENS:
        word = word.replace(hyphen, "-")
    return word.split("-")
