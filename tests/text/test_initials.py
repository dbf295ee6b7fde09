"""Names cut to initials."""

import pytest

from namebatch.text.initials import initials


@pytest.mark.parametrize(
    ("text", "forms"),
    [
        ("Anna Maria van der Dune", ("A. M. van der Dune", "A. M. van der D.")),
        ("Jean-Luc Moss", ("J.-L. Moss", "J.-L. M.")),
        ("Żaneta Rybak", ("Ż. Rybak", "Ż. R.")),
        ("Salma al-Nawras", ("S. al-Nawras", "S. al-N.")),
        ("Solo", ()),
        ("محمد علي", ()),
        ("山田 花子", ()),
        ("J. P. Reed", ("J. P. R.",)),
    ],
)
def test_forms_get_shorter(text: str, forms: tuple[str, ...]) -> None:
    """Given names go first; scripts without capitals have no initials."""
    assert initials(text) == forms


def test_an_accent_stays_with_its_letter() -> None:
    """An initial is a whole grapheme cluster, composed or not."""
    assert initials("E\u0301va Marlo")[0] == "E\u0301. Marlo"
