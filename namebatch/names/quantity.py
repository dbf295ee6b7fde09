"""How many to make of a row."""

import re
from dataclasses import dataclass
from typing import Final

from namebatch.finding import Finding, hold
from namebatch.names import limits
from namebatch.names.characters import shown
from namebatch.names.place import kind

# "3.0", "3,0" and "3.00" are how spreadsheets write a whole number in a column with decimals.
# Three zeros are not taken: "1,000" is a thousand to some and one to others.
_WHOLE: Final = re.compile(r"(\d+)(?:[.,\u066b](\d{1,2}))?")
_SIGNED: Final = re.compile(r"[-\u2212\u2013]\s*\d+(?:[.,]\d+)?")
_MOST_DIGITS: Final = len(str(limits.QUANTITY))
_REMEDY: Final = (
    f"Write how many to make as a whole number from 1 to {limits.QUANTITY:,}, "
    "or leave the cell empty for one. Held."
)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A quantity, or why there is none (then the number is 0)."""

    number: int
    finding: Finding | None = None


def read_quantity(text: str, where: str) -> Quantity:
    """Read a tidied quantity cell; decimal digits of any script count (Unicode class Nd).

    Args:
        text: the cell; empty means one.
        where: line and column, the beginning of a message.
    """
    if not text:
        return Quantity(1)
    whole = _WHOLE.fullmatch(text)
    if whole is None or int(whole[2] or "0") != 0:
        return _refused(text, where)
    digits = "".join(str(int(digit)) for digit in whole[1]).lstrip("0")
    if not digits:
        return Quantity(0, hold("quantity-too-small", _zero(text, where)))
    # Long before int() would refuse so many digits, the number is too large.
    if len(digits) > _MOST_DIGITS or int(digits) > limits.QUANTITY:
        what = f'{where}: "{shown(text)}" is more than the {limits.QUANTITY:,} a row may order.'
        return Quantity(0, hold("quantity-too-large", f"{what} {_REMEDY}"))
    return Quantity(int(digits))


def _zero(text: str, where: str) -> str:
    how = f"a whole number from 1 to {limits.QUANTITY:,}"
    return f'{where}: "{shown(text)}" orders none. Write {how}, or delete the {kind(where)}. Held.'


def _refused(text: str, where: str) -> Quantity:
    if _SIGNED.fullmatch(text):
        what = f'{where}: "{shown(text)}" is less than one.'
        return Quantity(0, hold("quantity-too-small", f"{what} {_REMEDY}"))
    what = f'{where}: "{shown(text)}" is not a whole number.'
    return Quantity(0, hold("quantity-not-whole", f"{what} {_REMEDY}"))
