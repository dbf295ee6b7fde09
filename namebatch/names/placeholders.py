"""Words that stand in a list where a name is still missing."""

import re
import unicodedata
from typing import Final


def _words(listed: str) -> frozenset[str]:
    return frozenset(listed.split("|"))


# Nobody is called that: whatever the field, the row is held.
_NEVER: Final = _words(
    # not available, not known, no entry; English, German, French, Spanish, Italian, Dutch,
    # Polish, Czech, Swedish, Russian
    "n/a|n.a.|n. a.|n\\a|#n/a|n/k|n/v|k.a.|k. a.|k.a|n.n.|n. n.|s/o|s.o.|n/d|n.d.|s/n|n.v.t.|"
    "nvt|b/d|b.d.|н/д|unknown|unbekannt|inconnu|inconnue|desconocido|desconocida|sconosciuto|"
    "sconosciuta|onbekend|desconhecido|nieznany|neznámý|okänd|ukendt|ukjent|неизвестно|"
    # to be decided
    "tbc|tba|tbd|t.b.c.|t.b.a.|t.b.d.|to be confirmed|to be announced|to be decided|to follow|"
    "todo|to do|wird nachgereicht|folgt|à confirmer|a confirmar|da definire|por confirmar|"
    # column headers that slipped into the list
    "name|names|first name|last name|full name|surname|forename|vorname|nachname|vor- und "
    "nachname|prénom|nom de famille|apellido|apellidos|voornaam|achternaam|cognome|"
    "name here|your name|insert name|enter name|dein name|ihr name|votre nom|"
    # what spreadsheets put where a formula fails
    "#ref!|#value!|#name?|#div/0!|#null!|#num!|#wert!|#bezug!|#nv|#name!|#valeur!|#¡valor!|"
    "#error!|err:502|err:504|err:508|undefined|(blank)|(empty)|(leer)|"
    "xxx|xxxx|xxxxx|yyy|zzz|asdf|asdfg|qwerty|qwertz|lorem ipsum"
)
# People are called that (Na, Test, Null, Gast, Frei are names or surnames somewhere), or it
# is wanted on a piece (Guest, Spare): made, with a warning. Nil and Bar are too usual for one.
_SELDOM: Final = _words(
    "na|nan|n a|none|null|nn|nd|test|tester|testing|test test|test name|test 1|probe|prueba|"
    "prova|essai|teste|тест|sample|example|muster|mustermann|max mustermann|erika mustermann|"
    "beispiel|exemple|ejemplo|dummy|demo|foo|foo bar|abc|xx|x|"
    "guest|gast|invité|invitada|invitado|ospite|convidado|gość|host|"
    "spare|blank|empty|leer|frei|vide|vacío|vuoto|leeg|ersatz|reserve|nobody|niemand|nadie|"
    "anonymous|anonym|anonyme|anónimo|anonimo|unnamed|no name|noname|ohne name|sans nom|"
    "plus one|plus 1|plus-one|plusone|+one|+ one|begleitung|begleitperson|accompagnant|"
    "accompagnante|acompañante|accompagnatore|accompagnatrice|"
    "see above|dito|ditto|idem|s.o|wie oben|same|john doe|jane doe"
)
_NUMBERED: Final = re.compile(
    r"(?:guest|gast|invité|ospite|person|child|kind|enfant|name|player|spieler|test|user|"
    r"member|mitglied|participant|teilnehmer)[ _-]?\d{1,4}|"
    r"(?:guest|gast|\+ ?1|plus one) (?:of|von|for) .+"
)
# Signs that can be wanted on a piece by themselves; two of them in a row fill a gap.
_WANTED: Final = frozenset("%‰&+#@§¶†!¡$€£¥")


def is_placeholder(text: str) -> bool:
    """True if a tidied text is none that anybody would want on a piece.

    Several such words count, as where two columns were put together, and a text of nothing but
    punctuation: dashes, question marks, dots. A sign that may be
    wanted does not, see `is_lone_sign`.
    """
    small = text.casefold()
    words = small.split(" ")
    repeated = len(words) > 1 and all(word in _NEVER for word in words)
    return small in _NEVER or repeated or (_only_punctuation(text) and not is_lone_sign(text))


def is_lone_sign(text: str) -> bool:
    """True if a tidied text is a single sign such as % or & and no letter."""
    return text in _WANTED


def may_be_placeholder(text: str) -> bool:
    """True if a tidied text is more often a placeholder than a name."""
    small = text.casefold()
    return small in _SELDOM or _NUMBERED.fullmatch(small) is not None


def _only_punctuation(text: str) -> bool:
    return bool(text) and all(unicodedata.category(sign)[0] in "PZ" for sign in text)
