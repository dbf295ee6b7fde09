"""Numbers as files want them: fixed decimals, never an exponent, never a minus zero."""


def number(value: float, digits: int = 4) -> str:
    """A number with at most `digits` decimals (1 to 4) and no needless zeros.

    Four decimals of a millimetre are the grid of all cut files: a tenth of a thousandth,
    far below what any machine repeats. More digits are safe for numbers above 0.001.
    """
    text = repr(round(value, digits) + 0.0)
    return text[:-2] if text.endswith(".0") else text


def rgb(colour: str) -> tuple[int, int, int]:
    """Red, green and blue, 0 to 255, of ``#rrggbb``."""
    value = int(colour[1:7], 16)
    return value >> 16, value >> 8 & 255, value & 255
