"""Naming letters by what happens to them, for messages."""

from collections.abc import Sequence

import numpy as np

from namebatch.outline.arrays import Flags, Floats
from namebatch.outline.model import Letter

MOST_NAMED = 6


def with_shares(letters: Sequence[Letter], shares: Floats, which: Flags, link: str) -> str:
    """Letters with the greatest share of each: ``40 % of "a", 55 % of "e"``.

    Args:
        letters: of a name, in text order.
        shares: 0 to 1, one a letter.
        which: the letters that are named.
        link: what stands between share and letter, ``of`` or ``in``.
    """
    worst: dict[str, float] = {}
    for index in np.flatnonzero(which).tolist():
        text = letters[index].text
        worst[text] = max(worst.get(text, 0.0), float(shares[index]))
    named = [f'{100 * share:.0f} % {link} "{text}"' for text, share in worst.items()]
    rest = f" and {len(named) - MOST_NAMED} more" if len(named) > MOST_NAMED else ""
    return ", ".join(named[:MOST_NAMED]) + rest
