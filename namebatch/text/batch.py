"""One size for a whole batch."""

from collections.abc import Iterable, Sequence
from math import floor

from namebatch.template.textbox import SafeArea, TextBox
from namebatch.text.block import Block
from namebatch.text.chain import Spare, none_spare
from namebatch.text.face import Face
from namebatch.text.fit import Common, reach
from namebatch.text.places import inside_of
from namebatch.text.rectangle import SHRINK, wanted_baseline
from namebatch.text.safe_area import STAYS, Inside

ALIKE_MM = 1e-9


def common_size(
    texts: Iterable[str], faces: Sequence[Face], box: TextBox, spare: Spare = none_spare
) -> Common | None:
    """The height and baseline that the texts of a box share.

    The largest height that all texts reach, but for the share of them that the template lets
    be set smaller; texts that will be held do not count. Where the box leaves the baseline
    open, there is one for all, and the height is such that they have room on it.

    Args:
        texts: what the rows say in this box; empty ones and repetitions are passed over.
        faces: in the order in which they are tried.
        box: with its share.
        spare: as `fit`.

    Returns:
        None if no text can be set.
    """
    found = [reach(text, faces, box, spare) for text in dict.fromkeys(texts) if text]
    reached = sorted((r for r in found if r is not None), key=lambda pair: pair[0])
    if not reached:
        return None
    smaller = floor(box.sizing.smaller_share * len(reached) + ALIKE_MM)
    height = reached[smaller][0]
    if isinstance(box.place, SafeArea):
        alike = [candidate.block for own, candidate in reached if own >= height]
        return _on_one_line(alike, height, box, inside_of(box, box.place))
    if box.place is not None or box.vertical == "baseline":
        return Common(height)
    single = [candidate.block for _, candidate in reached if len(candidate.block.rows) == 1]
    if not single:
        return Common(height)
    return _on_one_baseline(single, height, box)


def _on_one_line(blocks: Sequence[Block], height_mm: float, box: TextBox, inside: Inside) -> Common:
    """Make the size so that all texts have room on the line of their area, unless that is dear."""
    shared = min(height_mm, *(inside.on_line(block) for block in blocks))
    dear = shared < max(STAYS * height_mm, box.min_height_mm)
    return Common(height_mm if dear else shared)


def _on_one_baseline(blocks: Sequence[Block], height_mm: float, box: TextBox) -> Common:
    """Make the size so that all texts have room on one baseline, unless it gets too small."""
    _, bottom, _, high = box.box_mm
    down = max(-block.bounds[1] for block in blocks)
    up = max(block.bounds[3] for block in blocks)
    shared = min(height_mm, high / (up + down) * SHRINK)
    if shared < box.min_height_mm:
        return Common(height_mm)
    wanted = wanted_baseline(box, blocks[0], shared)
    return Common(shared, min(max(wanted, bottom + down * shared), bottom + high - up * shared))
