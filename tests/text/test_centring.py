"""The middle of a line."""

import pytest

from namebatch.text.catalogue import Catalogue
from namebatch.text.centring import FARTHEST, middle_of
from namebatch.text.fallback import fallback_for
from namebatch.text.setting import Line, set_line


def _line(catalogue: Catalogue, text: str, font: str = "Baloo 2 SemiBold") -> Line:
    spare = (catalogue.open_spare(name) for name in fallback_for(text, catalogue))
    return set_line([catalogue.open(font), *spare], text, 10.0)


def _moved(line: Line) -> float:
    """How far the eye's middle is from that of the extent, in capitals' heights."""
    return (middle_of(line, True) - middle_of(line, False)) / line.face.cap_height


@pytest.mark.parametrize(
    "text", ["Mia ⭐", "⭐ Mia", "عمر 12 Kim", "דני Dan 5/6", "Noa 🪁", "田中 Zoë 7", "Zoë ❤"]
)
def test_a_lighter_face_does_not_pull_the_middle(catalogue: Catalogue, text: str) -> None:
    """A line of heavy letters and a thin picture keeps its ink within 5 % of the middle."""
    assert abs(_moved(_line(catalogue, text))) <= FARTHEST + 1e-9


def test_weight_alone_moves_nothing(catalogue: Catalogue) -> None:
    """The same letters beside a picture in a light and a bold cut move alike."""
    light, bold = (
        _moved(_line(catalogue, "Noa 田", font)) for font in ("Noto Sans", "Noto Sans SemiBold")
    )
    assert light == pytest.approx(bold, abs=0.03)


def test_a_line_in_one_face_is_weighed_by_its_ink(catalogue: Catalogue) -> None:
    """Full stops at the end count for little; in an even word nothing moves."""
    assert _moved(_line(catalogue, "Nn.....")) < -0.1
    assert abs(_moved(_line(catalogue, "OO"))) < 0.01


def test_without_ink_it_is_that_of_the_advance(catalogue: Catalogue) -> None:
    """A space has a middle too."""
    line = _line(catalogue, " ")
    assert middle_of(line, True) == line.advance / 2
