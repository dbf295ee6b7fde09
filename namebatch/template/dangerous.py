"""Materials that must not go into a laser cutter, told by their names.

A name is all that can be looked at here; what a sheet is really made of stands in its maker's
data sheet. Where a name leaves it open, the material is not taken: a word too many costs its
owner another title, one too few a pair of lungs.
"""

import re
import unicodedata
from dataclasses import dataclass

from namebatch.template.dangerous_words import DANGEROUS, Group
from namebatch.template.problems import shown


@dataclass(frozen=True, slots=True)
class Danger:
    """A material that must not be cut with a laser.

    Attributes:
        what: what it is called in the list.
        reason: what the laser does to it.
        name: the key or title that says so.
    """

    what: str
    reason: str
    name: str

    @property
    def refusal(self) -> str:
        """Why it is not taken into a workshop file, and what to do."""
        return (
            f"{self.what} must never be cut with a laser: {self.reason}. {shown(self.name)} is or "
            "sounds like it. Take the material out of the file; the machine's manual and the "
            "sheet's data sheet say what may be cut. If it is something else, say what it is made "
            f'of and leave that word out of key and title, or write "{self.what}-free". If this '
            'cutter has a blade and no laser, write kind = "blade" under [cutter].'
        )


def danger(*names: str) -> Danger | None:
    """What must keep a material of one of these names out of a laser, or None.

    A word counts in compounds, beside figures, with dots or spaces between its letters, and with
    letters of another script that look the same. It does not where the name denies it
    ("PVC-free", "ohne Vinyl"); where that is not certain it does.

    Args:
        names: key and title of the material, as the workshop wrote them.
    """
    for name in names:
        forms = _forms(name)
        sure = not _ASKED.search(name)
        for group, spaced, cased, joined in _PATTERNS:
            if any(
                _says(spaced, form.casefold(), sure)
                or _says(cased, form, sure)
                or _says(joined, _squeezed(form.casefold()), sure)
                for form in forms
            ):
                return Danger(group.what, group.reason, name)
    return None


# Letters that look the same in upright faces, after UTS #39's confusables; the first is Cyrillic
# or Greek, or a small capital, the second Latin.
_LOOKS = (
    "аa вb сc еe һh нh іi јj кk мm оo рp ѕs тt хx уy ѵv ԁd АA ВB СC ЕE НH ІI ЈJ КK МM ОO РP ЅS ТT "
    "ХX УY ѴV αa ιi κk νv οo ρp τt υy χx ΑA ΒB ΕE ΖZ ΗH ΙI ΚK ΜM ΝN ΟO ΡP ΤT ΥY ΧX ᴀA ʙB ᴄC ᴅD ᴇE "
    "ɪI ʟL ɴN ᴘP ᴛT ᴠV ʏY"
)
_LATIN = str.maketrans({pair[0]: pair[1] for pair in _LOOKS.split()})
_CYRILLIC = str.maketrans(
    {pair[1]: pair[0] for pair in _LOOKS.split() if "\u0400" <= pair[0] <= "\u04ff"}
)
_ALIKE = str.maketrans(
    {"ß": "ss", "æ": "ae", "Æ": "AE", "œ": "oe", "ø": "o", "Ø": "O", "ł": "l", "Ł": "L"}
    | {"đ": "d", "Đ": "D", "ı": "i", "ی": "ي", "ى": "ي", "ک": "ك", "ـ": "", "ς": "σ"}
)
_LETTERS = re.compile(r"(?<!\S)[^\W\d_](?: [^\W\d_]){2,}(?!\w)")
_HANGING = re.compile(r"(?<=\w)[\-\u2010-\u2015](?=[\s,;/])")  # "PVC- und vinylfrei"
_ASKED = re.compile(r"[?\u037e\u061f\uff1f]")  # "ABS-free?"
_HANGS = "\u0001"


def _forms(name: str) -> tuple[str, ...]:
    """A name as it is, with Latin letters for what looks like them, and the other way round."""
    forms = [name, name.translate(_LATIN)]
    if any("\u0400" <= char <= "\u04ff" for char in name):
        forms.append(name.translate(_CYRILLIC))
    spaced = [_spaced(form) for form in forms]
    return tuple(dict.fromkeys([*spaced, *(_LETTERS.sub(_run_together, form) for form in spaced)]))


def _run_together(letters: re.Match[str]) -> str:
    """Letters with spaces between them as a word: "V.I.N.Y.L"."""
    return letters[0].replace(" ", "")


def _bare(text: str) -> str:
    """Letters without accents, unseen signs and what only looks different."""
    apart = unicodedata.normalize("NFKD", text.translate(_ALIKE))
    return "".join(
        char
        for char in apart
        if not unicodedata.combining(char) and unicodedata.category(char) != "Cf"
    ).translate(_ALIKE)


def _spaced(name: str) -> str:
    """A name bare, with one space where signs and spaces are."""
    text = re.sub(r"\b(?:[Nn][or])\.", " ", name)  # "No. 3" denies nothing
    text = _HANGING.sub(_HANGS + " ", _bare(text))
    kept = (char if char == _HANGS or _is_written(char) else " " for char in text)
    return " ".join("".join(kept).split())


def _is_written(char: str) -> bool:
    """True for letters, their marks, and figures."""
    return unicodedata.category(char)[0] in "LMN"


def _squeezed(text: str) -> str:
    """Letters and their marks only."""
    return "".join(char for char in text if unicodedata.category(char)[0] in "LM")


def _says(pattern: re.Pattern[str], text: str, sure: bool) -> bool:
    """True if a text says it, and does not deny it right there; what is asked denies nothing."""
    return any(not (sure and _is_denied(text, found)) for found in pattern.finditer(text))


def _is_denied(text: str, found: re.Match[str]) -> bool:
    """True if the words before or behind say that it is free of it; both say the contrary."""
    small = text.casefold()
    word = small.rfind(" ", 0, found.start()) + 1
    before = any(_FREE_BEFORE.search(small[:at]) for at in (found.start(), word))
    return before != bool(_FREE_AFTER.match(small, found.end()))


def _short(letters: str) -> str:
    """A name of a few letters: no letter of its script beside it, but for a plural or a unit."""
    script = "a-z" if letters.isascii() else "а-яі"
    return rf"(?:(?<![{script}])|(?<=\dmm)){letters}s?(?![{script}])"


def _in_capitals(letters: str) -> str:
    """A short name in capitals as part of a compound: "ABSplate"."""
    return rf"(?<![A-ZА-Я]){letters.upper()}(?![A-ZА-Я])"


def _alone(letters: str) -> str:
    """Two capitals as a word of their own, and no count of pieces: "100 PC"."""
    return rf"(?<![A-Za-z])(?<!\d)(?<!\d ){letters}(?![A-Za-z])|^{letters.lower()}(?![A-Za-z])"


def _compiled(group: Group) -> tuple[Group, re.Pattern[str], re.Pattern[str], re.Pattern[str]]:
    """What a group's names are found by: in words, in capitals, in what has no spaces."""
    spaced = [_bare(group.parts), *map(_short, group.short)]
    cased = [*map(_in_capitals, group.short), *map(_alone, group.capitals), "(?!)"]
    return (
        group,
        re.compile("|".join(spaced)),
        re.compile("|".join(cased)),
        re.compile(_bare(group.joined)),
    )


_FREE = (
    r"(?:free|frei(?:e[mnrs]?)?|fri(?:tt|t|a|e)?|vrije?|mentes|vapaa)"
    r"(?!\w)(?! (?:no|not|non|nein|nej|nee|false|unknown|unclear|unsure)$)"
    r"(?! (?:of|from|von|for|fran|van|av|om|di|de)(?!\w))"
)
_FREE_AFTER = re.compile(
    _bare(
        rf"[a-zа-я]{{0,4}}? ?{_FREE}"
        rf"|{_HANGS}(?: \w+{_HANGS})*(?: (?:und|oder|and|or|en|of|och|og|eller|e|y|et|i))?"
        rf" \w+? ?{_FREE}"
        r"|不使用|フリー|없는|रहित|मुक्त"
    )
)
_FREE_BEFORE = re.compile(
    _bare(
        r"(?:(?:^| )(?:no|non|not|without|ohne|kein\w*|nicht|sans|sin|sem|senza|zonder|geen|utan"
        r"|ingen|inget|uten|uden|ilman|bez|fara|без|χωρις"
        r"|(?<!not )(?<!nicht )(?:free (?:of|from)|frei von|vrij van|fri (?:for|fran)|libre de"
        r"|exempte? de))"
        r"(?: (?:any|jede\w*|jegliche\w*|aucune?|alcun\w*|ningun\w*|nenhum\w*))? $)"
        r"|(?:无|無|不含|非|ノン|무|بدون|بلا|خاليمن|خاليةمن|غير|ללא|בלי|נטול"
        r"|ไม่มี|ปราศจาก|ปลอด|ไร้|बिना) ?$"
    )
)
_PATTERNS = tuple(_compiled(group) for group in DANGEROUS)
