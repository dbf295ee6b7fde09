"""Which typefaces set a text, alone or together."""

import pytest

from namebatch.facecheck import open_all, ways_to_set
from namebatch.strokes import thinnest_stroke
from namebatch.text import Catalogue, load_catalogue


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue()


def test_a_face_that_sets_it_alone_is_enough(catalogue: Catalogue) -> None:
    """Where one face has every letter, those that have are told and no mixture."""
    answer = ways_to_set("Ana Αθηνά", catalogue)
    assert answer.alone
    assert {"Noto Sans SemiBold", "Roboto Condensed Bold"} <= {w.info.name for w in answer.ways}
    assert all(way.faces == (way.info.name,) for way in answer.ways)


def test_a_mixture_is_measured_as_a_whole(catalogue: Catalogue) -> None:
    """Letters, Han characters and a picture: each leading face with its helpers and one stroke."""
    answer = ways_to_set("Zoë 田中 🎪", catalogue)
    assert not answer.alone
    by_name = {way.info.name: way for way in answer.ways}
    assert by_name["Lilita One"].faces == (
        "Lilita One", "Noto Sans CJK SemiBold", "Noto Emoji Bold"
    )  # fmt: skip
    assert "Noto Sans Thai" in by_name  # it has Latin letters
    assert "Noto Sans Hebrew SemiBold" not in by_name
    thin = by_name["Dancing Script"].stroke
    assert thin is not None
    assert (thin.letter, thin.face) == ("ë", "Dancing Script")
    sturdy = by_name["Lilita One"].stroke
    assert sturdy is not None
    assert (sturdy.letter, sturdy.face) == ("🎪", "Noto Emoji Bold")
    assert thin.ratio < sturdy.ratio


def test_a_mixture_is_no_sturdier_than_its_parts(catalogue: Catalogue) -> None:
    """Two faces with capitals alike: the stroke is the thinner one of the two words."""
    (latin, han) = (catalogue.open("Lilita One"), catalogue.open("Noto Sans CJK SemiBold"))
    together = thinnest_stroke([latin, han], "Zo 田中")
    alone = [thinnest_stroke(latin, "Zo"), thinnest_stroke(han, "田中")]
    assert together is not None
    assert together.ratio == pytest.approx(min(s.ratio for s in alone if s), abs=0.0005)


def test_the_first_letter_says_who_leads(catalogue: Catalogue) -> None:
    """A sign in front of a name does not make a face of pictures its leading one."""
    leading = {way.info.name for way in ways_to_set("🎪 田 Ada", catalogue).ways}
    assert leading == {"Noto Sans CJK", "Noto Sans CJK SemiBold"}


def test_what_no_face_has_is_named(catalogue: Catalogue) -> None:
    """One sign that none has, and the text cannot be set by any."""
    answer = ways_to_set("Zoë ✘", catalogue)
    assert answer.ways == ()
    assert answer.lacking == ("✘",)


def test_every_face_of_the_catalogue_opens(catalogue: Catalogue) -> None:
    """Nothing is left out of what is installed."""
    opened, problems = open_all(catalogue)
    assert [info for info, _ in opened] == list(catalogue.infos)
    assert problems == ()
