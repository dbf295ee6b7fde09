"""What a practitioner must look at, as data."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How much a finding matters."""

    HOLD = "hold"
    WARN = "warn"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing to look at.

    Attributes:
        code: short stable name for programs, for example ``quantity-not-whole``.
        severity: a held row is not made; a warning or a note is.
        message: what, where and what to do, in the words of the trade.
    """

    code: str
    severity: Severity
    message: str


def hold(code: str, message: str) -> Finding:
    """A finding that keeps the row from being made."""
    return Finding(code, Severity.HOLD, message)


def warn(code: str, message: str) -> Finding:
    """A finding that someone should look at before material is spent."""
    return Finding(code, Severity.WARN, message)


def note(code: str, message: str) -> Finding:
    """A finding that tells what was done."""
    return Finding(code, Severity.NOTE, message)


def is_held(findings: Iterable[Finding]) -> bool:
    """True if any of the findings holds the row."""
    return any(finding.severity is Severity.HOLD for finding in findings)
