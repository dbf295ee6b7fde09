"""Boards fit their prints: both read from the cut files, each material's kerf taken off."""

from pathlib import Path

import pytest

from tests.outside.boards import TEMPLATES, Kerf, finished, holes_off_mm, off_mm

FIT_MM = 0.03
BLUNT_MM = 0.26
"""A little more than the widest kerf here: no beam comes to the end of a narrower notch."""
CARD_PLY = [
    ((0.09, 0.09), (0.18, 0.18), [0, 90, 180, 270]),
    ((0.08, 0.12), (0.16, 0.24), [90, 270]),
]
"""Kerf of about 0.09 in card and 0.18 mm in plywood: workshop notes of universities and cutting
shops; the second pair, different in x and y, is made up."""


@pytest.mark.parametrize("template", sorted(TEMPLATES))
@pytest.mark.parametrize("rim_mm", [-0.4, 0.0, 1.5])
@pytest.mark.parametrize(("card", "ply", "turns_deg"), CARD_PLY)
def test_boards_fit_their_prints(
    template: str, rim_mm: float, card: Kerf, ply: Kerf, turns_deg: list[int], tmp_path: Path
) -> None:
    """A finished board is its print, moved out by the rim, to 0.03 mm; holes are the same."""
    pieces, turns = finished(tmp_path, template, rim_mm, card, ply, turns_deg)
    assert len(pieces) == 3
    assert turns <= set(turns_deg)
    assert turns_deg != [90, 270] or 0.0 not in turns
    for faces in pieces.values():
        assert off_mm(faces["board"], faces["front"], rim_mm, BLUNT_MM) <= FIT_MM
        assert holes_off_mm(faces["board"], faces["front"], BLUNT_MM) <= FIT_MM
        if "back" in faces:
            assert off_mm(faces["back"], faces["front"], 0.0, BLUNT_MM) <= FIT_MM
            assert holes_off_mm(faces["back"], faces["front"], BLUNT_MM) <= FIT_MM
