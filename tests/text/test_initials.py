"""Names cut to initials."""

import pytest

from namebatch.text.initials import all_initials, initials


@pytest.mark.parametrize(
    ("text", "forms"),
    [
        ("Anna Maria van der Dune", ("Anna M. van der Dune", "A. M. van der Dune")),
        ("Jean-Luc Moss", ("J.-L. Moss",)),
        ("Żaneta Rybak", ("Ż. Rybak",)),
        ("Salma al-Nawras", ("S. al-Nawras",)),
        ("Ludwig von und zu Rosen", ("L. von und zu Rosen",)),
        ("Sir Ambrose of the Marsh", ("Sir A. of the Marsh",)),
        ("Ana García y Montoya", ("A. García y Montoya",)),
        ("Maria do Carmo dos Santos", ("Maria do C. dos Santos", "M. do C. dos Santos")),
        ("Tomas Reed Jr.", ("T. Reed Jr.",)),
        ("Tomas Reed III", ("T. Reed III",)),
        ("Jane (Annie) Montgomery-Li", ("J. (Annie) Montgomery-Li", "J. Montgomery-Li")),
        ("Xu (Ann) Montgomery-Li", ("Xu Montgomery-Li",)),
        ("St. John Smythe-Jones", ("St. J. Smythe-Jones",)),
        ("Seán Mac an Bhairdan", ("S. Mac an Bhairdan",)),
        ("Charles d'Aubergine", ("C. d'Aubergine",)),
        ("Abd al-Rahman Nuri", ("Abd al-R. Nuri",)),
        ("Сергей да Винченцо", ("С. да Винченцо",)),
        ("van der Dune", ()),
        ("Bo Reed", ()),
        ("J. P. Reed", ()),
        ("Solo", ()),
        ("محمد علي", ()),
        ("山田 花子", ()),
        ("ปิ่น ทอง", ()),
        ("Nguyễn Thị Ngọc Ánh", ()),
    ],
)
def test_forms_get_shorter(text: str, forms: tuple[str, ...]) -> None:
    """Given names are cut and the family name stays; some scripts have no initials."""
    assert initials(text) == forms


@pytest.mark.parametrize(
    ("text", "forms"),
    [
        ("Anna Maria van der Dune", ("A. M. van der D.",)),
        ("Salma al-Nawras", ("S. al-N.",)),
        ("J. P. Reed", ("J. P. R.",)),
        ("Charles d'Aubergine", ("C. d'A.",)),
        ("Jane (Annie) Montgomery-Li", ("J. (Annie) M.-L.", "J. M.-L.")),
        ("山田 花子", ()),
    ],
)
def test_the_family_name_is_cut_apart_from_the_others(text: str, forms: tuple[str, ...]) -> None:
    """The last resort has no whole word but particles and what stands in brackets."""
    assert all_initials(text) == forms


@pytest.mark.parametrize("language", ["hu", "vi", "zh-Hans"])
def test_languages_with_the_family_name_first_have_none(language: str) -> None:
    """Cutting the first word would cut the family name and keep the given one."""
    assert initials("Marram Tova", language) == ()


def test_an_accent_stays_with_its_letter() -> None:
    """An initial is a whole grapheme cluster, composed or not."""
    assert initials("E\u0301va Marlo")[0] == "E\u0301. Marlo"
