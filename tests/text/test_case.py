"""Letter case by the rules of languages."""

import unicodedata

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from namebatch.template.textbox import Case
from namebatch.text.case import recased

LANGUAGES = ("", "tr", "az", "nl", "de", "el", "lt", "ga", "hy", "fr", "vi", "uz", "ka")

# SpecialCasing.txt of Unicode 15.0, its lines for tr, az and lt, and the unconditional ones.
SPECIAL_CASING = [
    ("tr", "small", "İ", "i"),
    ("tr", "small", "I\u0307", "i"),
    ("tr", "small", "I", "ı"),
    ("tr", "capitals", "i", "İ"),
    ("tr", "capitals", "ı", "I"),
    ("az", "small", "ALI", "alı"),
    ("az", "capitals", "ilham", "İLHAM"),
    ("lt", "small", "Ì", "i\u0307\u0300"),
    ("lt", "small", "Í", "i\u0307\u0301"),
    ("lt", "small", "Ĩ", "i\u0307\u0303"),
    ("lt", "small", "Į\u0301", "į\u0307\u0301"),
    ("lt", "small", "J\u0301", "j\u0307\u0301"),
    ("lt", "capitals", "i\u0307\u0300", "Ì"),
    ("lt", "capitals", "į\u0307\u0301", "Į\u0301"),
    ("", "capitals", "ß", "SS"),
    ("", "capitals", "ﬁ", "FI"),
    ("", "capitals", "ﬀ", "FF"),
    ("", "capitals", "ŉ", "ʼN"),
    ("", "capitals", "ǰ", "J\u030c"),
    ("", "small", "ΣΑΣ", "σας"),
    ("", "small", "ΘΙΝΑΣ, ΣΟΦΙΑ", "θινας, σοφια"),
]

# What ICU 72.1 (Unicode 15.0) gives for the locale, through PyICU.
ICU = [
    ("el", "capitals", "ρολόι", "ΡΟΛΟΪ"),
    ("el", "capitals", "Μάιος Μαΐου", "ΜΑΪΟΣ ΜΑΪΟΥ"),
    ("el", "capitals", "ευφυΐα", "ΕΥΦΥΪΑ"),
    ("el", "capitals", "Ἀθηνᾶ ᾠδή", "ΑΘΗΝΑ ΩΙΔΗ"),
    ("el", "capitals", "άυλος", "ΑΫΛΟΣ"),
    ("el", "capitals", "ή", "Ή"),
    ("el", "capitals", "Ήρα", "ΗΡΑ"),
    ("el", "title", "θίνας", "Θίνας"),
    ("nl", "title", "ijsland", "IJsland"),
    ("nl", "title", "IJSLAND", "IJsland"),
    ("de", "capitals", "Weiß", "WEISS"),
    ("de", "small", "WEIẞ", "weiß"),
    ("hy", "capitals", "Սևան", "ՍԵՎԱՆ"),
    ("ka", "capitals", "ნინო", "ᲜᲘᲜᲝ"),
    ("ka", "small", "ᲜᲘᲜᲝ", "ნინო"),
    ("tr", "title", "ISIRGAN", "Isırgan"),
    ("tr", "title", "istanbul", "İstanbul"),
    ("hr", "title", "ǆemal", "ǅemal"),
]


@pytest.mark.parametrize(("language", "how", "text", "outcome"), SPECIAL_CASING)
def test_special_casing(language: str, how: Case, text: str, outcome: str) -> None:
    """What Unicode's SpecialCasing.txt lists comes out as it says, in Form C."""
    assert recased(text, how, language) == unicodedata.normalize("NFC", outcome)


@pytest.mark.parametrize(("language", "how", "text", "outcome"), ICU)
def test_agrees_with_icu(language: str, how: Case, text: str, outcome: str) -> None:
    """An independent library gives the same for the languages with rules of their own."""
    assert recased(text, how, language) == outcome


@pytest.mark.parametrize(
    ("text", "language", "outcome"),
    [
        # From memory of the languages; no table of names gives these.
        ("McNeil", "", "McNeil"),
        ("DiCaprio-like van der Aa", "", "DiCaprio-Like van der Aa"),
        ("O'NEILL", "", "O'Neill"),
        ("o’neill", "", "O’Neill"),
        ("ANNE-MARIE", "", "Anne-Marie"),
        ("anne-marie", "fr", "Anne-Marie"),
        ("Anne-marie", "", "Anne-Marie"),
        ("MCNEIL", "", "McNeil"),
        ("LUDWIG VAN DER BEEK", "", "Ludwig van der Beek"),
        ("ludwig van der beek", "", "Ludwig van der Beek"),
        ("van der beek", "nl", "Van der Beek"),
        ("VAN DER BEEK", "nl", "Van der Beek"),
        ("maria de la luz", "es", "Maria de la Luz"),
        ("TRAN VAN AN", "vi", "Tran Van An"),
        ("anna de", "", "Anna De"),
        ("JEANNE D'ARC", "fr", "Jeanne d'Arc"),
        ("MARIO D'ANGELO", "it", "Mario D'Angelo"),
        ("jeanne d'arc", "", "Jeanne d'Arc"),
        ("'T HART", "nl", "'t Hart"),
        ("'s-gravenhage", "nl", "'s-Gravenhage"),
        ("ANNA'S", "", "Anna's"),
        ("SA'AD", "", "Sa'ad"),
        ("ULUG‘BEK O'KTAM", "uz", "Ulug‘bek O'ktam"),
        ("JOHN PAUL II", "", "John Paul II"),
        ("j.r.r. teasel", "", "J.R.R. Teasel"),
        ("Sig.ra Alba", "it", "Sig.ra Alba"),
        ("AJ Teasel", "", "AJ Teasel"),
        ("AJ TEASEL", "", "Aj Teasel"),
        ("BO", "", "Bo"),
        ("II a", "", "Ii A"),
        ("3rd mate", "", "3rd Mate"),
        ("Ó hUiginn", "ga", "Ó hUiginn"),
        ("al-rashid", "", "al-Rashid"),
        ("ÅSE ÖBERG", "sv", "Åse Öberg"),
        ("ΘΙΝΑΣ", "el", "Θινας"),
        ("ნინო", "ka", "ნინო"),
        ("ijsbrand van ij", "", "Ijsbrand van Ij"),
        ("ANNA E SAMPHIRE", "", "Anna E Samphire"),
        ("ʻIOLANI", "haw", "ʻIolani"),
        ("ŉ", "", "ʼN"),
        ("i\u0307\u0300", "lt", "Ì"),
        ("o\u0308de", "", "Öde"),
        ("g\u0303ana", "", "G\u0303ana"),
        ("jean-luc", "", "Jean-Luc"),
        ("ʻokina", "", "ʻOkina"),
        ("kaʻiu", "haw", "Kaʻiu"),
        ("l'heureux", "", "L'Heureux"),
        ("d'artagnan", "", "D'Artagnan"),
        ("charles d'artagnan", "fr", "Charles d'Artagnan"),
        ("MacDonald", "", "MacDonald"),
        ("MACDONALD", "", "Macdonald"),
        ("արա և անի", "hy", "Արա և Անի"),  # "and" between two names
        ("Արա և Անի", "", "Արա և Անի"),
        ("եվա", "hy", "Եվա"),
    ],
)
def test_title(text: str, language: str, outcome: str) -> None:
    """Words in one case are written as names; what was typed in mixed case stays."""
    assert recased(text, "title", language) == outcome


@pytest.mark.parametrize(
    ("text", "language", "outcome"),
    [
        # From memory of the languages (common practice, no source).
        ("DE LA CRUZ", "", "de la Cruz"),
        ("MARIA DE LA CRUZ", "", "Maria de la Cruz"),
        ("maria de los angeles", "es", "Maria de los Angeles"),
        ("DEL MAR", "es", "del Mar"),
        ("ORTEGA Y MAR", "es", "Ortega y Mar"),
        ("MARIO DE LUCA", "it", "Mario De Luca"),
        ("maria di martino", "it", "Maria Di Martino"),
        ("VON DER AU", "", "von der Au"),
        ("von au", "de", "von Au"),
        ("HEIN VON AU", "", "Hein von Au"),
        ("VAN DER BEEK", "", "Van der Beek"),
        ("JAN VAN 'T HOF", "nl", "Jan van 't Hof"),
        ("JAN IN 'T VELD", "nl", "Jan in 't Veld"),
        ("DOS SANTOS", "pt", "dos Santos"),
        ("ANA DE LA TOUR", "fr", "Ana de La Tour"),
        ("AHMED BIN SALIM", "", "Ahmed bin Salim"),
        ("ibn sina", "", "Ibn Sina"),
        ("salim bin al harb", "", "Salim bin al Harb"),
        ("СЕРГЕЙ ДА ВИНЧЕНЦО", "", "Сергей да Винченцо"),
        ("людвиг фон ау", "", "Людвиг фон Ау"),
        ("омар аль-фараби", "", "Омар аль-Фараби"),
    ],
)
def test_particles(text: str, language: str, outcome: str) -> None:
    """Words between names are small, at the beginning by the habit of the language."""
    assert recased(text, "title", language) == outcome


@pytest.mark.parametrize(
    "name", ["Ben", "Al", "Van", "Di", "Del", "Des", "Le", "Da", "El", "Im", "Te", "E."]
)
def test_a_first_name_is_no_particle(name: str) -> None:
    """Short first names that are particles elsewhere have their capital, however typed."""
    for typed in (f"{name} Marram".lower(), f"{name} Marram".upper()):
        assert recased(typed, "title") == f"{name} Marram"


@pytest.mark.parametrize("typed", ["van der Beek", "di Martino", "al Farsi", "ben Marram"])
def test_small_words_among_capitals_are_meant(typed: str) -> None:
    """Beside a word with a capital, a small particle was typed small on purpose."""
    assert recased(typed, "title") == typed


@pytest.mark.parametrize(
    ("text", "language", "outcome"),
    [
        # Irish and Scottish names from memory; so are the southern African ones.
        ("mcneil", "", "McNeil"),
        ("MCGRATH-MARRAM", "", "McGrath-Marram"),
        ("MCEWAN", "en", "McEwan"),
        ("MCEWAN", "", "Mcewan"),
        ("mcebisi", "zu", "Mcebisi"),
        ("MCHUNU", "", "Mchunu"),
        ("MCINTYRE", "ga", "McIntyre"),
        ("mc", "", "Mc"),
    ],
)
def test_mc(text: str, language: str, outcome: str) -> None:
    """Before a consonant Mc is a name's first half; before a vowel only where English is spoken."""
    assert recased(text, "title", language) == outcome


@pytest.mark.parametrize(
    ("text", "outcome"),
    [
        ("marlo teasel iii", "Marlo Teasel III"),
        ("MARLO TEASEL IV.", "Marlo Teasel IV."),
        ("marlo ii, teasel", "Marlo II, Teasel"),
        ("iii", "III"),
        ("vi teasel", "Vi Teasel"),
        ("teasel vi", "Teasel Vi"),
        ("JIN XI", "Jin Xi"),
        ("Jin XI", "Jin XI"),
        ("di teasel", "Di Teasel"),
        ("ii teasel", "Ii Teasel"),
    ],
)
def test_roman_numerals(text: str, outcome: str) -> None:
    """Behind a name a numeral is one however it is typed, unless it may be a name itself."""
    assert recased(text, "title") == outcome


@pytest.mark.parametrize(
    ("text", "outcome"),
    [
        ("Dr. e.h. Marlo Teasel", "Dr. e.h. Marlo Teasel"),
        ("prof. h.c. marlo teasel", "Prof. h.c. Marlo Teasel"),
        ("e.h. teasel", "E.H. Teasel"),
        ("marlo e.h. teasel", "Marlo E.H. Teasel"),
        ("i.y. marram", "I.Y. Marram"),
    ],
)
def test_letters_with_full_stops(text: str, outcome: str) -> None:
    """Behind a title e.h. means an honour and stays small; elsewhere it is initials."""
    assert recased(text, "title", "de") == outcome


@pytest.mark.parametrize(
    ("text", "outcome"),
    [
        # With both accents as ICU does it; with one as people type it (from memory of Dutch).
        ("íj\u0301sbrand", "ÍJ\u0301sbrand"),
        ("íjsbrand", "ÍJsbrand"),
        ("ÍJSBRAND", "ÍJsbrand"),
        ("ĳsbrand", "Ĳsbrand"),
        ("ij\u0301sbrand", "Ij\u0301sbrand"),
        ("jan van ijssel", "Jan van IJssel"),
    ],
)
def test_dutch_ij(text: str, outcome: str) -> None:
    """The Dutch ij is one letter, accents or not."""
    assert recased(text, "title", "nl") == outcome


@pytest.mark.parametrize(
    ("text", "outcome"),
    [
        ("Ó hUiginn", "Ó hUIGINN"),
        ("Mac an tSaoir", "MAC AN tSAOIR"),
        ("na nDéise", "NA nDÉISE"),
        ("Bhreathnach", "BHREATHNACH"),
    ],
)
def test_irish_prefixes_stay_small(text: str, outcome: str) -> None:
    """A letter prefixed to a capital stays small (from memory of Irish spelling)."""
    assert recased(text, "capitals", "ga") == outcome


@pytest.mark.parametrize("how", ["capitals", "small", "title"])
@pytest.mark.parametrize(
    "text", ["سلمى القصب", "मीरा सरकंडा", "ใบบัว", "נועה", "山田 太郎", "김하늘", "🎪 12"]
)
def test_scripts_without_case(text: str, how: Case) -> None:
    """A text without case comes back as it is."""
    assert recased(text, how) == text


def test_as_typed_is_untouched() -> None:
    """As typed means that not even the normal form changes."""
    assert recased("Zoe\u0308 IJ ß", "as-typed", "nl") == "Zoe\u0308 IJ ß"


def test_a_dotted_i_in_an_unknown_language() -> None:
    """İ gives a plain i, not one with a second dot."""
    assert recased("İPEK", "small") == "ipek"
    assert recased("İPEK", "title") == "İpek"
    assert recased("Î", "small", "tr") == "î"


NAMES = st.text(
    alphabet=st.sampled_from(
        "abIiİıßẞSsJjÀàÉéΆάΐΣςσΟοИиОоաԱևნᲜम山ǆﬁŉ\u0301\u0307\u0308\u0328 '’-.1\u200d"
    ),
    max_size=12,
)
LANGUAGE = st.sampled_from(LANGUAGES)
HOW: st.SearchStrategy[Case] = st.sampled_from(["capitals", "small", "title"])


@example("İ\u0301", "title", "lt")
@given(NAMES, HOW, LANGUAGE)
def test_idempotent(text: str, how: Case, language: str) -> None:
    """Doing it again changes nothing."""
    once = recased(text, how, language)
    assert recased(once, how, language) == once
    assert unicodedata.is_normalized("NFC", once)


def _skeleton(text: str) -> str:
    """A text without case, without marks, and with every i alike."""
    apart = unicodedata.normalize("NFD", text.replace("և", "եվ").replace("Եւ", "եվ"))
    bare = "".join(sign for sign in apart if unicodedata.category(sign)[0] != "M")
    return bare.casefold().replace("ı", "i")


@given(NAMES, HOW, LANGUAGE)
def test_no_letter_is_lost_or_added(text: str, how: Case, language: str) -> None:
    """Case and the documented marks apart, the letters are those that were there."""
    assert _skeleton(recased(text, how, language)) == _skeleton(text)


@given(st.text(max_size=20), HOW, LANGUAGE)
def test_any_text(text: str, how: Case, language: str) -> None:
    """Whatever is typed, something comes back, and it is stable in its words."""
    once = recased(text, how, language)
    assert once.count(" ") == unicodedata.normalize("NFD", text).count(" ")
