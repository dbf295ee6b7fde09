"""Materials that must not go into a laser cutter, told by their names.

Source: prohibited-material lists of university laser workshops. A name is all that can be
looked at here; what a sheet is really made of stands in its maker's data sheet.
"""

import re

_ACID = "cutting it gives off chlorine and hydrogen chloride, which poison and corrode"
_CYANIDE = "it melts, burns and gives off poisonous fumes"

DANGEROUS: tuple[tuple[str, str, str], ...] = (
    (r"u?pvc|poly ?vinyl ?chloride", "PVC", _ACID),
    (r"vinyl", "vinyl", _ACID),
    (
        r"(?:faux|fake|artificial|imitation|synthetic|vegan|pu) leather|leatherette",
        "faux leather",
        _ACID,
    ),
    (r"abs|acrylonitrile \w+ \w+", "ABS", _CYANIDE),
    (r"poly ?carbonate", "polycarbonate", "it burns instead of cutting, with poisonous smoke"),
    (r"poly ?styrene|styrofoam", "polystyrene", "it catches fire, and its fumes are poisonous"),
    (r"ptfe|teflon|poly ?tetra ?fluoro ?ethylene", "PTFE", "it gives off fluorine compounds"),
    (r"epoxy|fr ?4", "epoxy", "burning resin gives off poisonous smoke"),
    (
        r"carbon fib(?:re|er)s?|cfrp",
        "carbon fibre",
        "its resin gives off poisonous smoke and its dust harms lungs and machine",
    ),
)
# "PVC-free card" is fine.
_PATTERNS = tuple(
    (re.compile(rf"(?<!\w)(?:{pattern})(?!\w)(?! ?free\b)"), name, reason)
    for pattern, name, reason in DANGEROUS
)


def danger(*names: str) -> str | None:
    """Why a material of one of these names is refused, or None.

    Args:
        names: key and title of the material, as the workshop wrote them.
    """
    for name in names:
        text = re.sub(r"[\s_\-\u2010-\u2015/.]+", " ", name.casefold())
        for pattern, what, reason in _PATTERNS:
            if pattern.search(text):
                return (
                    f"{what} must never be cut with a laser: {reason}. Take the material out of "
                    "the file; the machine's manual and the sheet's data sheet say what may be cut."
                )
    return None
