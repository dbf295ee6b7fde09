"""Narrower cuts of a typeface by its width axis (OpenType `wdth`)."""

from functools import lru_cache

from namebatch.text.face import Face

STEP = 5.0
"""Per cent of the normal width between two cuts that are tried."""


def narrower(face: Face, least_share: float) -> tuple[Face, ...]:
    """The same face in narrower and narrower cuts.

    Args:
        face: any.
        least_share: least width, as a share of the width that it has now.

    Returns:
        Widest first; empty when the face has no width axis or nothing to give.
    """
    axis = face.axis("wdth")
    if axis is None:
        return ()
    low, _, default = axis
    now = face.axes.get("wdth", default)
    least = max(low, least_share * now)
    widths: list[float] = []
    width = now - STEP
    while width > least:
        widths.append(width)
        width -= STEP
    if least < now:
        widths.append(least)
    return tuple(_cut(face, width) for width in widths)


@lru_cache(maxsize=128)
def _cut(face: Face, width: float) -> Face:
    axes = {**face.axes, "wdth": width}
    return Face(f"{face.name} wdth={width:g}", face.path, axes, face.helps_out)
