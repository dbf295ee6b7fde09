"""What the materials that a laser must not cut are called.

Source of the list of materials: prohibited-material lists of university laser workshops. The
words are from memory, those of other languages too; so is it that oilcloth and truck tarpaulin
are coated with PVC, foam board has a core of polystyrene, and glass fibre comes in resin. Trade
names stand here where workshops use them for the material itself.

All of it is written without accents, capitals and signs, as `dangerous` reads a name; accents in
other scripts are taken off there.
"""

from dataclasses import dataclass

_ACID = "cutting it gives off chlorine and hydrogen chloride, which poison and corrode"


@dataclass(frozen=True, slots=True)
class Group:
    """A material of the list and its names.

    Attributes:
        what: what it is called in the list.
        reason: what the laser does to it.
        short: names of a few letters, which stand alone.
        capitals: shorter ones still, which count in capitals, or at the beginning of a name.
        parts: regular expression of words, and parts of words, of scripts that have spaces.
        joined: words of scripts that have none, or that are written with and without.
    """

    what: str
    reason: str
    short: tuple[str, ...] = ()
    capitals: tuple[str, ...] = ()
    parts: str = "(?!)"
    joined: str = "(?!)"


_LEATHER = (
    "leather|leder|laeder|lader|cuir|pelle|cuero|couro|piel|skor|skinn|kuz|koz|usnj|nahk|deri|kulit"
    "|кож|шкір|δερμα"
)
_LIKE = (
    "artifici|artifis|imita|synthet|syntet|sintet|simil|vegan|ecolog|kunstig|kunstlich|umetn"
    "|umjetn|sztuczn|yapay|dirbtin|man ?made|искусств|изкуств|вештач|штучн|συνθετ|τεχνητ|απομιμ"
    "|(?:^| )(?:faux|fake|fals[oae]|finta|eco|eko|umel|suni|pu(?! ?\\w* ?foam)|palsu)"
)

DANGEROUS: tuple[Group, ...] = (
    Group(
        "PVC",
        _ACID,
        short=("pcv", "pcw", "пвц"),
        parts=(
            "pvd?c|пвх"
            "|(?:poly|poli) ?vin[iy]l\\w* ?(?:ene?|iden\\w*)? ?[ck]h?lor"
            "|vin[iy]l ?[ck]h?lor|chlorure d\\w* ?(?:poly)?vinyl|cl\\w+ d\\w* ?(?:poli)?vinil"
            "|poly ?chlorure|polichlorek|policloruro|policloreto"
            "|foamex|forex|sintra|komatex|trovidur|oil ?cloth|wachs ?tuch|toile ciree"
            "|tarpaulin|lkw ?plane"
            "|поливинилхлор|полівінілхлор|πολυβινυλοχλωρ|χλωρ\\w+ πολυβινυλ"
        ),
        joined=(
            "聚?氯乙烯|氯化乙烯|塩化ビニ|塩ビ|염화비닐|피브이씨|피비씨"
            "|بيفيسي|بيڤيسي|پيويسي|كلوريدالبوليفينيل|كلوريدبوليفينيل|فينيلكلوريد"
            "|פיויסי|פיביסי|כלורידפוליויניל|פוליוינילכלוריד"
            "|พีวีซี|โพลีไวนิลคลอไรด์|พอลิไวนิลคลอไรด์|पीवीसी|पॉलीविनाइलक्लोराइड"
            "|পিভিসি|பிவிசி|పివిసి"
        ),
    ),
    Group(
        "vinyl",
        _ACID,
        parts=(
            "v[iy]n[iy]l(?! ?(?:acet|al[ck]o))|winyl|vinyyl|vinuul|винил(?! ?ацет)|вініл(?! ?ацет)"
            "|βινυλ"
        ),
        joined="乙烯基|ビニール|ビニル|비닐|فينيل|ڤينيل|وينيل|ויניל|ไวนิล|विनाइल|विनायल|ভিনাইল",
    ),
    Group(
        "faux leather",
        _ACID,
        parts=(
            f"(?:{_LIKE}).{{0,99}}(?:{_LEATHER})|(?:{_LEATHER}).{{0,99}}(?:{_LIKE})"
            "|leatherette|pleather|leather ?look|naugahyde|rexine|ska[ijy](?![a-z])|skivertex"
            "|kunst ?leder|kunst ?leer|konst ?lader|kunst ?laeder|kunst ?lader|kunst ?skinn"
            "|kunst ?nahk|tekonahk|keinonahk|(?:^| )simili(?![a-z])(?! papi?er)|simili ?cuir"
            "|polipiel|cuerina|kozenk|mubor|piele? ecol|(?:^| )gia da(?![a-z])"
            "|(?:^| )da gia(?![a-z])|da nhan tao|кожзам|шкірзам|дермант?ин|δερματινη|εκοδερμ"
        ),
        joined=(
            "人造革|人造皮|仿皮|人工皮|合成皮|合皮|フェイクレザー|合成レザー|인조가죽|인조피혁|합성피혁"
            "|جلدصناعي|جلداصطناعي|جلدمقلد|جلدنباتي|الجلدالصناعي|چرممصنوعي"
            "|דמויעור|עורסינתטי|עורמלאכותי|עורטבעוני|סקאי"
            "|หนังเทียม|หนังสังเคราะห์|नकलीचमड़ा|कृत्रिमचमड़ा|सिंथेटिकचमड़ा|सिंथेटिकलेदर|रेक्सीन"
        ),
    ),
    Group(
        "ABS",
        "it melts, burns and gives off poisonous fumes",
        short=("abs", "абс"),
        parts="acr[iy]lon[iy]tr|акрилон[иі]трил|абс ?п?ласт",
        joined="איביאס|ايهبياس|ايبياس|เอบีเอส|एबीएस",
    ),
    Group(
        "polycarbonate",
        "it burns instead of cutting, with poisonous smoke",
        capitals=("PC",),
        parts=(
            "(?:poly|poli) ?[ck]arb(?:on|s?(?![a-z]))|poliweglan"
            "|(?<![a-z])lexan(?![a-z]{2})|makrolon"
            "|поликарбон|полікарбон|πολυκαρβον|πολυανθρακικ"
        ),
        joined=(
            "聚碳酸酯|ポリカーボネ|ポリカ|폴리카보|بوليكربون|بوليكاربون|پليكربنات"
            "|פוליקרבונ|โพลีคาร์บอเน|พอลิคาร์บอเน|पॉलीकार्बोने|पॉलीकार्बने"
        ),
    ),
    Group(
        "polystyrene",
        "it catches fire, and its fumes are poisonous",
        short=("hips", "eps", "xps"),
        capitals=("PS",),
        parts=(
            "st[iy]r(?:en|ol|op|of|od|ox|ok|een)|sztirol|polistir|frigolit|isopor|hungarocell"
            "|strafor|piepschuim|tempex|depron|esferovit|porexpan|poliexpan|telgopor|tecnopor"
            "|plumavit|thermoc[ow]l|foam ?core"
            "|(?<!eva )(?<!pe )(?<!pu )(?<!paper )(?<!polyethylene )(?<!polyurethane )foam ?board"
            "|стирол|стирен|стиропор|стиродур|пенопласт|пінопласт|πολυστυρ|φελιζολ"
        ),
        joined=(
            "苯乙烯|保丽龙|保麗龍|スチロール|スチレン|스티렌|스티로폼|스티로폴"
            "|بوليسترين|بوليستايرين|بوليستيرين|ستايرين|ستيرين|پلياستايرن|يونوليت"
            "|פוליסטיר|קלקר|โพลีสไตรีน|พอลิสไตรีน|पॉलीस्टाइरीन|पॉलीस्टायरीन|पॉलिस्टाइरीन|थर्मोकोल|थर्माकोल"
        ),
    ),
    Group(
        "PTFE",
        "it gives off fluorine compounds",
        short=("ptfe", "pvdf", "птфе"),
        parts="teflon|tetra ?fl[uo]+r|fluoropolymer|фторопласт|фторпласт|тефлон|τεφλον",
        joined=(
            "聚四氟|特氟[龙龍]|テフロン|フッ素樹脂|테프론|تفلون|تيفلون|טפלון|เทฟลอน|टेफ्लॉन|टेफलॉन"
        ),
    ),
    Group(
        "epoxy",
        "burning resin gives off poisonous smoke",
        short=("gfk", "gfrp", "grp"),
        parts=(
            "epox|epoks|eposs|(?<![a-z])fr ?4(?!\\d)|(?<![a-z\\d])(?<!\\d )g ?10(?!\\d)"
            "|glass ?fib|fib(?:re|er) ?glass|glas ?fas|fibr\\w+ de (?:verre|vidri?o)"
            "|fibra di vetro|vetroresina|эпокси|епокси|стекло(?:волок|пласт|текст)|склопласт|εποξ"
        ),
        joined=(
            "环氧|環氧|エポキシ|에폭시|ايبوكسي|ابوكسي|اپوكسي|אפוקסי|อีพ็อกซ|อีพอกซ|อิพ็อกซ|एपॉक्सी|इपॉक्सी"
            "|玻璃纤维|玻璃纖維|ガラス繊維|유리섬유"
        ),
    ),
    Group(
        "carbon fibre",
        "its resin gives off poisonous smoke and its dust harms lungs and machine",
        short=("cfk", "cfrp"),
        parts=(
            "carbon ?fib|carbon ?frp|carbon ?faser|carbon ?(?:platte|plate|gewebe|weave|composite)"
            "|kohle(?:n ?stoff)? ?faser|fib\\w+ d\\w+ ?carbon|koolstof ?vezel|kol ?fib|kul ?fib"
            "|kulstof ?fib|karbon ?fib|karbon ?sz|hiilikuitu|(?:wlokn|vlakn)\\w* weglo|uhlikov"
            "|ugljicn|szenszal|karbon elyaf|углеволок|углепласт|углерод\\w+ (?:волок|ткан)"
            "|вуглеволок|вуглепласт|карбон(?!ат)|ανθρακονημ|ιν\\w+ ανθρακ"
        ),
        joined=(
            "碳纤|碳纖|炭素繊維|カーボンファイバー|カーボン繊維|탄소섬유|카본"
            "|اليافالكربون|اليافكربون|كربونفايبر|اليافكربن|فيبركربن"
            "|סיביפחמן|סיבפחמן|คาร์บอนไฟเบอร์|เส้นใยคาร์บอน|कार्बनफाइबर|कार्बनफ़ाइबर"
        ),
    ),
)
