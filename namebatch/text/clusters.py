"""Grapheme clusters: what a reader calls one character, however many codes it takes (UAX #29)."""

from dataclasses import dataclass

import regex

_CLUSTER = regex.compile(r"\X")


@dataclass(frozen=True, slots=True)
class Cluster:
    """One extended grapheme cluster of a text.

    Attributes:
        start: index of its first character in the whole text.
        end: index behind its last.
        text: its characters.
    """

    start: int
    end: int
    text: str


def clusters(text: str) -> tuple[Cluster, ...]:
    """Cut a text into extended grapheme clusters.

    A letter with its marks, a conjunct with its vowel signs, a flag, or a picture made of
    several is one cluster: never cut inside one, and count these for what a reader counts.
    The data are those of the library `regex`, whatever Python's own are.

    Args:
        text: any Unicode text.

    Returns:
        The clusters in text order; together they are the whole text.
    """
    return tuple(
        Cluster(match.start(), match.end(), match.group()) for match in _CLUSTER.finditer(text)
    )
