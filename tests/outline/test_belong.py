"""Which loose part is whose mark, and how lettering leans."""

import numpy as np
import pytest
from shapely import MultiPolygon, Point, affinity, box

from namebatch.outline.belong import belonging, lean_of
from namebatch.outline.cores import cores_of
from namebatch.outline.model import Letter
from tests.outline.lettering import ink, letters_of


@pytest.mark.parametrize(
    ("name", "face", "marks"),
    [
        ("jiij", "Noto Sans SemiBold", 4),
        ("Jiří", "Nunito ExtraBold", 3),
        ("Öhm", "Noto Sans SemiBold", 2),
        ("%", "Noto Sans SemiBold", 0),
        ("O'Neal", "Noto Sans SemiBold", 0),
        ("ثابت", "Noto Sans Arabic SemiBold", 6),
    ],
)
def test_marks_are_told_from_letters(name: str, face: str, marks: int) -> None:
    """Dots and accents are marks; rings of a percent sign and apostrophes are not."""
    letters = letters_of(name, face)
    found = belonging(letters, cores_of(ink(letters), 1.0).cores)
    assert (found.mark >= 0).sum() == marks


@pytest.mark.parametrize("name", ["AVA", "Nina", "Wanda", "jiij", "Łukasz"])
def test_upright_faces_do_not_lean(name: str) -> None:
    """Slanting legs of A, V, N and W are not taken for a slant."""
    assert lean_of(letters_of(name, "Noto Sans SemiBold")) == 0
    assert lean_of(letters_of(name, "Fredoka SemiBold")) == 0


def test_known_slant_is_found() -> None:
    """Stems sheared by 15° lean by 15°."""
    stems = [affinity.skew(box(5 * i, 0, 5 * i + 2, 14), xs=15, origin=(0, 0)) for i in range(4)]
    letters = [Letter(i, "l", MultiPolygon([stem])) for i, stem in enumerate(stems)]
    assert lean_of(letters) == pytest.approx(15, abs=1)
    assert lean_of([]) == 0


def test_largest_inscribed_circle_seeds_a_thin_part() -> None:
    """A part too thin for a core gets a mark where it is thickest."""
    thin = box(0, 0, 20, 0.6) | Point(15, 0.3).buffer(0.6)
    cores = cores_of(MultiPolygon([box(0, 5, 20, 12), thin]), 1.5)
    assert cores.seeded.tolist() == [False, True]
    centre = np.array(cores.cores[1].centroid.coords[0])
    assert centre == pytest.approx([15, 0.3], abs=0.1)
