"""Colours of SVG as ``#rrggbb`` and an opacity (CSS Color, level 3 names)."""

import re
from colorsys import hls_to_rgb

from PIL import ImageColor

from namebatch.template.svg.units import number

_HEX = re.compile(r"#(?:[0-9a-f]{3,4}|[0-9a-f]{6}|[0-9a-f]{8})")
_FUNCTION = re.compile(r"(rgba?|hsla?)\(([^()]*)\)")


def colour(text: str) -> tuple[str, float] | None:
    """A colour and its opacity; None for ``none``.

    Args:
        text: a name, ``#rgb``, ``#rrggbb``, either with an alpha, ``rgb()`` or ``hsl()``.

    Raises:
        ValueError: it is no colour.
    """
    word = text.strip().lower()
    if word in ("none", "transparent"):
        return None
    if _HEX.fullmatch(word):
        return _from_hex(word[1:])
    match = _FUNCTION.fullmatch(word)
    if match:
        parts = [part for part in re.split(r"[\s,/]+", match[2].strip()) if part]
        if len(parts) in (3, 4):
            alpha = _share(parts[3], 1.0) if len(parts) == 4 else 1.0
            mix = _rgb if match[1].startswith("rgb") else _hsl
            return mix(parts), alpha
    known = ImageColor.colormap.get(word)
    if known is not None:
        # the library puts three numbers in place of a word's text once somebody has asked for them
        same = known if isinstance(known, str) else "#" + bytes(known[:3]).hex()
        return same.lower(), 1.0
    raise ValueError(f'"{text.strip()[:30]}" is not a colour; write it as #rrggbb')


def _from_hex(digits: str) -> tuple[str, float]:
    if len(digits) < 6:
        digits = "".join(digit * 2 for digit in digits)
    alpha = int(digits[6:8], 16) / 255 if len(digits) == 8 else 1.0
    return f"#{digits[:6]}", alpha


def _share(text: str, whole: float) -> float:
    """A number of `whole`, or a percentage, as 0 to 1."""
    value = number(text[:-1]) / 100 if text.endswith("%") else number(text) / whole
    return min(1.0, max(0.0, value))


def _rgb(parts: list[str]) -> str:
    return "#" + "".join(f"{int(_share(part, 255.0) * 255 + 0.5):02x}" for part in parts[:3])


def _hsl(parts: list[str]) -> str:
    hue = number(parts[0].removesuffix("deg")) / 360 % 1.0
    red, green, blue = hls_to_rgb(hue, _share(parts[2], 100.0), _share(parts[1], 100.0))
    return "#" + "".join(f"{int(value * 255 + 0.5):02x}" for value in (red, green, blue))
