"""Breaking names into two lines."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from namebatch.text.breaks import breaks


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("Anna Marlo", [("Anna", "Marlo")]),
        ("Anna van der Dune", [("Anna", "van der Dune")]),
        ("Pilar de la Orilla", [("Pilar", "de la Orilla")]),
        ("Omar al-Shatti", [("Omar", "al-Shatti")]),
        ("Jean-Luc", [("Jean-", "Luc")]),
        ("J. Marlo", []),
        ("J. P. Marlo", [("J. P.", "Marlo")]),
        ("Tom Reed Jr.", [("Tom", "Reed Jr.")]),
        ("Solo", []),
        ("van der", []),
        ("Kite - Winder", [("Kite -", "Winder")]),
    ],
)
def test_lines_end_where_a_reader_expects(text: str, lines: list[tuple[str, str]]) -> None:
    """Particles, prefixes and lone initials stay with the word that they belong to."""
    assert [(upper, lower) for upper, lower, _ in breaks(text)] == lines


# From memory of the languages; common practice, no source.
WAYS = [
    ("Jan van 't Hoofdman", "Jan / van 't Hoofdman"),
    ("Jan van ’t Hoofdman", "Jan / van ’t Hoofdman"),
    ("Jan op den Marsh", "Jan / op den Marsh"),
    ("Jan ter Marsh", "Jan / ter Marsh"),
    ("Jan ten Marsh", "Jan / ten Marsh"),
    ("Ludwig von und zu Rosen", "Ludwig / von und zu Rosen"),
    ("Ludwig von der Au", "Ludwig / von der Au"),
    ("Ida zur Linde", "Ida / zur Linde"),
    ("Ida zum Felde", "Ida / zum Felde"),
    ("Karin af Klint", "Karin / af Klint"),
    ("Karin av Klint", "Karin / av Klint"),
    ("Maria de los Angeles", "Maria / de los Angeles"),
    ("Maria das Dores Pereira", "Maria / das Dores Pereira | Maria das Dores / Pereira"),
    ("Ana García y Montoya", "Ana / García y Montoya | Ana García / y Montoya"),
    ("Ana e Silva", "Ana / e Silva"),
    ("Kari Dahl og Moe", "Kari / Dahl og Moe | Kari Dahl / og Moe"),
    ("Luc et Anne", "Luc / et Anne"),
    ("Ambrose of the Marsh", "Ambrose / of the Marsh"),
    ("Gaëlle L’ Estrangeau", "Gaëlle / L’ Estrangeau"),
    ("Jean d' Ormesson", "Jean / d' Ormesson"),
    ("Ottilie d'Aubergine", "Ottilie / d'Aubergine"),
    ("Seán Mac an Bhairdan", "Seán / Mac an Bhairdan"),
    ("Seán Mac Ruari", "Seán / Mac Ruari"),
    ("Seán Ó Ruari", "Seán / Ó Ruari"),
    ("Áine Ní Ruari", "Áine / Ní Ruari"),
    ("Áine Nic Ruari", "Áine / Nic Ruari"),
    ("Tran An Hoa", "Tran / An Hoa | Tran An / Hoa"),
    ("St. John Smythe", "St. John / Smythe"),
    ("Anna Saint Clare", "Anna / Saint Clare"),
    ("Anna Ste Marie", "Anna / Ste Marie"),
    ("Luc Saint-Jean-de-Mer", "Luc / Saint-Jean-de-Mer | Luc Saint-Jean- / de-Mer"),
    ("Omar al‑Rashidinov", "Omar / al‑Rashidinov"),
    ("Omar al Rashidinov", "Omar / al Rashidinov"),
    ("Nur al-Din Marram", "Nur al-Din / Marram"),
    ("Ahmad Abdul Rahman", "Ahmad / Abdul Rahman"),
    ("Омар аль-Фараби", "Омар / аль-Фараби"),
    ("Сергей да Винченцо", "Сергей / да Винченцо"),
    ("Анна де ла Рошфуко", "Анна / де ла Рошфуко"),
    ("นภา ณ อยุธยาวรรณ", "นภา / ณ อยุธยาวรรณ"),
    ("محمد عبد الرحمن", "محمد / عبد الرحمن"),
    ("محمّد عَبْد الرحمن", "محمّد / عَبْد الرحمن"),
    ("أبو بكر الصديقي", "أبو بكر / الصديقي"),
    ("عمر بن الخطاب", "عمر / بن الخطاب"),
    ("علي ابن سينا", "علي / ابن سينا"),
    ("سلمى بنت علي", "سلمى / بنت علي"),
    ("سلمى آل علي", "سلمى / آل علي"),
    ("سلمى ال علي", "سلمى / ال علي"),
    ("نور الدين علي", "نور الدين / علي"),
    ("דוד בן גוריון", "דוד / בן גוריון"),
    ("נועה בת דוד", "נועה / בת דוד"),
    ("Marlo Teasel II", "Marlo / Teasel II"),
    ("Marlo Teasel III.", "Marlo / Teasel III."),
    ("Maximilian 3rd Earlton", "Maximilian 3rd / Earlton"),
    ("Ahmet oğlu Karadeniz", "Ahmet oğlu / Karadeniz"),
    ("Ali-zade Mammadovlu", "Ali-zade / Mammadovlu"),
    ("Aoife Moss-Ó Ruari", "Aoife / Moss-Ó Ruari | Aoife Moss- / Ó Ruari"),
    ("J.-L. Marlo", "J.-L. / Marlo"),
    ("Xu (Ann Bo) Marlo", "Xu / (Ann Bo) Marlo | Xu (Ann Bo) / Marlo"),
    ("Ben Marram", "Ben / Marram"),
    ("Omar ben Marram", "Omar / ben Marram"),
    ("Anna E. Marlo", "Anna / E. Marlo | Anna E. / Marlo"),
    ("Marlo Teasel ’", "Marlo / Teasel ’"),
]


@pytest.mark.parametrize(("text", "ways"), WAYS)
def test_what_belongs_together_stays_together(text: str, ways: str) -> None:
    """No line ends between a particle, prefix, servant-of or saint and its name, or before Jr."""
    assert " | ".join(f"{upper} / {lower}" for upper, lower, _ in breaks(text)) == ways


@given(st.text(alphabet="ab -.\u2010é", max_size=20))
def test_no_letter_is_lost(text: str) -> None:
    """Two lines have every character of the text but the one space between them."""
    for upper, lower, start in breaks(text):
        assert text[start:] == lower
        assert upper + text[len(upper) : start] + lower == text
        assert text[len(upper) : start] in ("", " ")
