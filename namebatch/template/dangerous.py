"""Materials that must not go into a laser cutter, told by their names.

Source of the list: prohibited-material lists of university laser workshops. The words of other
languages are from memory. A name is all that can be looked at here; what a sheet is really made
of stands in its maker's data sheet.
"""

import re
import unicodedata
from dataclasses import dataclass

_ACID = "cutting it gives off chlorine and hydrogen chloride, which poison and corrode"
_CYANIDE = "it melts, burns and gives off poisonous fumes"
_RESIN = "its resin gives off poisonous smoke and its dust harms lungs and machine"


@dataclass(frozen=True, slots=True)
class Danger:
    """A material that must not be cut with a laser.

    Attributes:
        what: what it is called in the list.
        reason: what the laser does to it.
    """

    what: str
    reason: str

    @property
    def refusal(self) -> str:
        """Why it is not taken into a workshop file, and what to do."""
        return (
            f"{self.what} must never be cut with a laser: {self.reason}. Take the material out of "
            "the file; the machine's manual and the sheet's data sheet say what may be cut. If "
            'this cutter has a blade and no laser, write kind = "blade" under [cutter].'
        )


# Words end where they end, but for those with \w* at their end, which go on in compounds
# ("Vinylfolie"). Accents are off and ß is ss before they are looked for. The script of the last
# words of a line has no spaces, or takes endings.
DANGEROUS: tuple[tuple[str, str, str], ...] = (
    (
        r"[uc]?pvc[uc]?|(?:poly|poli) ?(?:vinyl|vinil|vinile|vinilo) ?chlorid\w*"
        r"|(?:chlorure|cloruro|cloreto) de? ?(?:polyvinyle|polivinilo|polivinile|polivinila)"
        r"|polivinil ?klor\w*|пвх|поливинилхлорид\w*",
        "PVC",
        _ACID,
    ),
    (r"vinyl(?! ?acet)\w*|vinil(?! ?acet)\w*|winyl\w*|vinyyli\w*|винил\w*", "vinyl", _ACID),
    (
        r"(?:faux|fake|artificial|imitation|synthetic|vegan|pu|eco) ?leather|leatherette|pleather"
        r"|kunst ?leder\w*|kunst ?leer\w*|konst ?lader\w*|kunst ?l(?:ae|æ)d?e?r\w*|tekonah\w*"
        r"|simili ?cuir|cuir (?:synthetique|artificiel|vegan)|(?:eco|simil|finta) ?pelle"
        r"|(?:cuero|couro) (?:sintetico|artificial|vegano)|polipiel|ekoskor\w*"
        r"|(?:sztuczn\w+|umel\w+) (?:skor\w+|kuz\w+)|kozenk\w+|suni deri\w*"
        r"|(?:искусственн|эко)\w* ?кож\w*|кожзам\w*|штучн\w+ шкір\w*",
        "faux leather",
        _ACID,
    ),
    (r"abs|acrylonitrile \w+ \w+|абс", "ABS", _CYANIDE),
    (
        r"(?:poly|poli) ?[ck]arbon\w*|poliweglan\w*|поликарбонат\w*|полікарбонат\w*",
        "polycarbonate",
        "it burns instead of cutting, with poisonous smoke",
    ),
    (
        r"(?:poly|poli) ?e?st[yi]r[eo]\w*|polistirolo|styro(?:foam|por)\w*|styropian\w*|piepschuim"
        r"|hips|[ex]ps|(?:пено)?полистирол\w*|пінопласт\w*|пенопласт\w*",
        "polystyrene",
        "it catches fire, and its fumes are poisonous",
    ),
    (
        r"ptfe|teflon\w*|(?:poly|poli) ?tetra ?flu?or?o? ?[ae]th?[iy]len\w*|фторопласт\w*"
        r"|тефлон\w*",
        "PTFE",
        "it gives off fluorine compounds",
    ),
    (
        r"epoxy\w*|epoxi\w*|epoxid\w*|epoks\w*|eposs\w*|resine epoxyde|fr ?4|эпоксид\w*|епоксид\w*",
        "epoxy",
        "burning resin gives off poisonous smoke",
    ),
    (
        r"carbon ?fib(?:re|er)s?|c(?:arbon)?frp|cfk|kohle(?:n ?stoff)? ?faser\w*|carbon ?faser\w*"
        r"|fibres? de carbone|fibra de carbon[oa]?|fibra di carbonio|koolstof ?vezel\w*"
        r"|(?:kol|kul|karbon) ?fib\w+|hiilikuitu\w*|(?:wlokn\w+|vlakn\w+) weglo\w*"
        r"|uhlikov\w+ vlak\w+|karbon elyaf|углеволок\w*|углепласт\w*|вуглеволок\w*",
        "carbon fibre",
        _RESIN,
    ),
)
UNSPACED: tuple[tuple[str, str], ...] = (
    ("聚氯乙烯|ポリ塩化ビニル|塩ビ|폴리염화비닐", "PVC"),
    ("乙烯基|ビニール|비닐", "vinyl"),
    ("人造革|人造皮|仿皮|合成皮革|合皮|フェイクレザー|인조가죽", "faux leather"),
    ("聚碳酸酯|ポリカーボネート|ポリカ|폴리카보네이트", "polycarbonate"),
    ("聚苯乙烯|ポリスチレン|スチロール|폴리스티렌|스티로폼", "polystyrene"),
    ("聚四氟乙烯|特氟龙|特氟龍|テフロン|테프론", "PTFE"),
    ("环氧|環氧|エポキシ|에폭시", "epoxy"),
    ("碳纤维|碳纖維|炭素繊維|カーボンファイバー|탄소섬유", "carbon fibre"),
)
_FREE = r"(?! ?(?:free|frei\w*|fri(?:tt)?|vrij)\b)"  # "PVC-free card" is fine
_WITHOUT = "".join(
    rf"(?<!\b{word} )"
    for word in ("no", "non", "not", "without", "ohne", "sans", "sin", "sem", "senza", "zonder")
    + ("utan", "uten", "uden", "bez", "без")
)
_PATTERNS = tuple(
    (re.compile(rf"{_WITHOUT}(?<!\w)(?:{pattern})(?!\w){_FREE}"), Danger(name, reason))
    for pattern, name, reason in DANGEROUS
)
_REASONS = {name: reason for _, name, reason in DANGEROUS}
_UNSPACED = tuple((re.compile(pattern), Danger(name, _REASONS[name])) for pattern, name in UNSPACED)


def danger(*names: str) -> Danger | None:
    """What must keep a material of one of these names out of a laser, or None.

    Args:
        names: key and title of the material, as the workshop wrote them.
    """
    for name in names:
        text = _plain(name)
        for pattern, found in _PATTERNS:
            if pattern.search(text):
                return found
        whole = unicodedata.normalize("NFKC", name)
        for pattern, found in _UNSPACED:
            if pattern.search(whole):
                return found
    return None


def _plain(name: str) -> str:
    """Small letters without accents or unseen signs, one space where signs and spaces are."""
    apart = unicodedata.normalize("NFKD", name.casefold().replace("ł", "l"))
    bare = "".join(
        char
        for char in apart
        if not unicodedata.combining(char) and unicodedata.category(char) != "Cf"
    )
    return re.sub(r"[\s_\-\u2010-\u2015/.,()]+", " ", bare)
