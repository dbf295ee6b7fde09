"""Materials that a laser must not cut, by name. Words of other languages are from memory."""

import pytest

from namebatch.template.dangerous import danger
from namebatch.template.dangerous_words import DANGEROUS

LISTED = {
    "PVC", "vinyl", "faux leather", "ABS", "polycarbonate", "polystyrene", "PTFE", "epoxy",
    "carbon fibre",
}  # fmt: skip
"""Prohibited-material lists of university laser workshops."""


def test_the_whole_list_is_known() -> None:
    """Every material of the list is there once, with its reason, and nothing else."""
    assert {group.what for group in DANGEROUS} == LISTED
    assert len(DANGEROUS) == len(LISTED)
    assert all(group.reason for group in DANGEROUS)


@pytest.mark.parametrize(
    ("name", "what"),
    [
        ("PVC foam 3 mm", "PVC"),
        ("poly-vinyl-chloride", "PVC"),
        ("PVC-U", "PVC"),
        ("uPVC sheet", "PVC"),
        ("vinyl-02", "vinyl"),
        ("Faux leather, brown", "faux leather"),
        ("vegan leather", "faux leather"),
        ("ABS_2", "ABS"),
        ("Polycarbonate sheet", "polycarbonate"),
        ("polystyrene", "polystyrene"),
        ("XPS board", "polystyrene"),
        ("PTFE", "PTFE"),
        ("Glass epoxy", "epoxy"),
        ("FR-4", "epoxy"),
        ("carbon-fibre plate", "carbon fibre"),
        ("Carbon Fiber", "carbon fibre"),
        ("CFRP 1 mm", "carbon fibre"),
        ("foam board, white", "polystyrene"),
        ("Fibreglass sheet", "epoxy"),
        ("PC sheet 2 mm", "polycarbonate"),
        ("Lexan 2 mm", "polycarbonate"),
        ("pc-2", "polycarbonate"),
        ("polycarb 2 mm", "polycarbonate"),
        ("PS 1 mm", "polystyrene"),
        ("Oilcloth with dots", "PVC"),
        ("acrylonitrile butadiene", "ABS"),
        ("poly vinylidene chloride", "PVC"),
        ("EPS", "polystyrene"),
        ("Styrene sheet", "polystyrene"),
        ("leather, faux", "faux leather"),
        ("Leather (imitation)", "faux leather"),
        ("PU leather", "faux leather"),
        ("skai", "faux leather"),
        ("faux cuir", "faux leather"),
    ],
)
def test_dangerous_materials_are_found(name: str, what: str) -> None:
    """By key or by title, and the refusal says what, why and what to do."""
    found = danger("sheet", name)
    assert found is not None
    assert found.what == what
    assert found.refusal.startswith(f"{what} must never be cut with a laser: {found.reason}. ")
    assert f'"{name}" is or sounds like it' in found.refusal
    assert "say what it is made of" in found.refusal
    assert 'kind = "blade"' in found.refusal
    assert danger(name, "sheet") == found


@pytest.mark.parametrize(
    ("name", "what"),
    [
        ("P.V.C. foam board", "PVC"),
        ("P V C", "PVC"),
        ("P-V-C", "PVC"),
        ("V.I.N.Y.L. sheet", "vinyl"),
        ("s k a i", "faux leather"),
        ("p_v_c_3", "PVC"),
        ("pvc3", "PVC"),
        ("PVC3mm", "PVC"),
        ("3mmPVC", "PVC"),
        ("3PVC", "PVC"),
        ("PVCfoam", "PVC"),
        ("softPVC", "PVC"),
        ("WeichPVC klar", "PVC"),
        ("PVCs", "PVC"),
        ("PVC板", "PVC"),
        ("ＰＶＣ", "PVC"),  # wide letters
        ("P\u200bV\u200bC", "PVC"),  # with unseen spaces
        ("P\u0301VC", "PVC"),  # an accent
        ("PV\u0421", "PVC"),  # a Cyrillic С
        ("\u0420VC", "PVC"),  # a Cyrillic Р
        ("\u03a1VC foam", "PVC"),  # a Greek Ρ
        ("\u041fB\u0425", "PVC"),  # Cyrillic letters, a Latin B
        ("v\u0456nyl", "vinyl"),  # a Cyrillic і
        ("VI\u039dYL", "vinyl"),  # a Greek Ν
        ("polycarb\u043enate", "polycarbonate"),  # a Cyrillic о
        ("A.B.S.", "ABS"),
        ("A B S", "ABS"),
        ("ABS3", "ABS"),
        ("abs3", "ABS"),
        ("3mm abs", "ABS"),
        ("3mmabs", "ABS"),
        ("ABSfoam", "ABS"),
        ("whiteABS", "ABS"),
        ("ABS樹脂", "ABS"),
        ("AB\u0405", "ABS"),  # a Cyrillic Ѕ
        ("P.T.F.E.", "PTFE"),
        ("PTFE2", "PTFE"),
        ("H.I.P.S.", "polystyrene"),
        ("HIPS2", "polystyrene"),
        ("softvinyl", "vinyl"),
        ("vinyl3", "vinyl"),
        ("C.F.R.P.", "carbon fibre"),
        ("PC板", "polycarbonate"),
    ],
)
def test_no_way_of_writing_hides_a_material(name: str, what: str) -> None:
    """Dots, figures and words run together, letters of another script that look the same."""
    found = danger(name)
    assert found is not None
    assert found.what == what


@pytest.mark.parametrize(
    ("name", "what"),
    [
        ("Hart-PVC-Platte", "PVC"),
        ("Polyvinylchlorid", "PVC"),
        ("chlorure de polyvinyle", "PVC"),
        ("листовой ПВХ", "PVC"),
        ("塩ビ板", "PVC"),
        ("Vinylfolie, weiß", "vinyl"),
        ("vinilo adhesivo", "vinyl"),
        ("adhésif vinyle", "vinyl"),
        ("folia winylowa", "vinyl"),
        ("Kunstleder", "faux leather"),
        ("Kunst\u00adleder", "faux leather"),  # a soft hyphen
        ("Konstläder", "faux leather"),
        ("Kunstlæder", "faux leather"),
        ("kunstleer", "faux leather"),
        ("simili-cuir", "faux leather"),
        ("cuero sintético", "faux leather"),
        ("ecopelle", "faux leather"),
        ("suni deri", "faux leather"),
        ("искусственная кожа", "faux leather"),
        ("合成皮革", "faux leather"),
        ("Polycarbonatplatte 2 mm", "polycarbonate"),
        ("policarbonato", "polycarbonate"),
        ("Poliwęglan lity", "polycarbonate"),
        ("聚碳酸酯", "polycarbonate"),
        ("Polystyrolplatte", "polystyrene"),
        ("polystyrène", "polystyrene"),
        ("poliestireno", "polystyrene"),
        ("piepschuim", "polystyrene"),
        ("пенополистирол", "polystyrene"),
        ("Teflonband", "PTFE"),
        ("фторопласт", "PTFE"),
        ("Epoxidharz", "epoxy"),
        ("résine époxy", "epoxy"),
        ("resina epossidica", "epoxy"),
        ("Kohlefaserplatte", "carbon fibre"),
        ("Kohlenstofffaser", "carbon fibre"),
        ("fibre de carbone", "carbon fibre"),
        ("fibra de carbono", "carbon fibre"),
        ("kolfiber", "carbon fibre"),
        ("włókno węglowe", "carbon fibre"),
        ("углеволокно", "carbon fibre"),
        ("碳纤维板", "carbon fibre"),
        ("塩化ビニル", "PVC"),
        ("ПВХплёнка", "PVC"),
        ("П.В.Х.", "PVC"),
        ("płyta PCV", "PVC"),
        ("polichlorek winylu", "PVC"),
        ("polychlorure de vinyle", "PVC"),
        ("염화비닐", "PVC"),
        ("вініл", "vinyl"),
        ("VİNİL folyo", "vinyl"),
        ("VINIL", "vinyl"),
        ("vınıl", "vinyl"),
        ("műbőr", "faux leather"),
        ("keinonahka", "faux leather"),
        ("umjetna koža", "faux leather"),
        ("eko skóra", "faux leather"),
        ("piele ecologică", "faux leather"),
        ("kulit sintetis", "faux leather"),
        ("vải giả da", "faux leather"),
        ("шкірзам", "faux leather"),
        ("АБС-пластик", "ABS"),
        ("АБСпластик", "ABS"),
        ("полікарбонат", "polycarbonate"),
        ("polisztirol", "polystyrene"),
        ("styroksi", "polystyrene"),
        ("frigolit", "polystyrene"),
        ("полістирол", "polystyrene"),
        ("保丽龙", "polystyrene"),
        ("szénszálas lap", "carbon fibre"),
        ("карбон", "carbon fibre"),
        ("стеклопластик", "epoxy"),
        # Arabic and Persian
        ("بي في سي", "PVC"),
        ("لوح بي.في.سي 3 مم", "PVC"),
        ("كلوريد البولي فينيل", "PVC"),
        ("پی‌وی‌سی", "PVC"),
        ("فينيل لاصق", "vinyl"),
        ("جلد صناعي", "faux leather"),
        ("چرم مصنوعی", "faux leather"),
        ("بولي كربونات", "polycarbonate"),
        ("بوليسترين", "polystyrene"),
        ("تفلون", "PTFE"),
        ("إيبوكسي", "epoxy"),
        ("ألياف الكربون", "carbon fibre"),
        ("إيه بي إس", "ABS"),
        # Hebrew
        ("פי.וי.סי", "PVC"),
        ("ויניל", "vinyl"),
        ("דמוי עור", "faux leather"),
        ("סקאי", "faux leather"),
        ("פוליקרבונט", "polycarbonate"),
        ("קלקר", "polystyrene"),
        ("טפלון", "PTFE"),
        ("אפוקסי", "epoxy"),
        ("סיבי פחמן", "carbon fibre"),
        # Thai
        ("แผ่นพีวีซี", "PVC"),
        ("ไวนิล", "vinyl"),
        ("หนังเทียม", "faux leather"),
        ("โพลีคาร์บอเนต", "polycarbonate"),
        ("พอลิสไตรีน", "polystyrene"),
        ("เทฟลอน", "PTFE"),
        ("อีพ็อกซี่", "epoxy"),
        ("คาร์บอนไฟเบอร์", "carbon fibre"),
        # Hindi
        ("पीवीसी शीट", "PVC"),
        ("पी.वी.सी.", "PVC"),
        ("विनाइल", "vinyl"),
        ("नकली चमड़ा", "faux leather"),
        ("पॉलीकार्बोनेट", "polycarbonate"),
        ("थर्मोकोल", "polystyrene"),
        ("टेफ्लॉन", "PTFE"),
        ("एपॉक्सी", "epoxy"),
        ("कार्बन फाइबर", "carbon fibre"),
        # Greek
        ("πολυβινυλοχλωρίδιο", "PVC"),
        ("ΒΙΝΥΛΙΟ", "vinyl"),
        ("δερματίνη", "faux leather"),
        ("συνθετικό δέρμα", "faux leather"),
        ("πολυκαρβονικό", "polycarbonate"),
        ("φελιζόλ", "polystyrene"),
        ("τεφλόν", "PTFE"),
        ("εποξική ρητίνη", "epoxy"),
        ("ανθρακονήματα", "carbon fibre"),
    ],
)
def test_dangerous_materials_are_found_in_other_languages(name: str, what: str) -> None:
    """Workshops write their files in their own words."""
    found = danger(name)
    assert found is not None
    assert found.what == what


@pytest.mark.parametrize(
    "name",
    [
        "Absolutely plain card",
        "leather, vegetable tanned",
        "crabs",
        "slabs of slate",
        "bamboo, absorbent",
        "V-cut card",
        "deep V cut board",
        "size A B S M",
        "carbon paper",
        "card, 100 pc",
        "100pcs",
        "chips and ships",
        "Styrian larch",
        "Alexandria card",
        "simili paper",
        "Birkensperrholz 3 mm",
        "carton gris",
        "Echtleder",
        "cuir de vachette",
        "polyester pouch 80 µm",
        "polypropylene 0.8",
        "glue: polyvinyl acetate",
        "EVA foam board",
        "polycarboxylate glue",
        "maple veneer, oiled",
        "stencil-card-0.5",
        "cork",
        "Kunstdruckkarton",
        "アクリル板",
        "ベニヤ板",
        "фанера 3 мм",
        "абстракция на картоне",
        "натуральная кожа",
        "جلد طبيعي",
        "עור טבעי",
        "หนังแท้",
        "असली चमड़ा",
        "δέρμα",
        "κόντρα πλακέ",
    ],
)
def test_harmless_names_pass(name: str) -> None:
    """A short name inside another word, or a word that only begins alike, is no danger."""
    assert danger(name) is None


@pytest.mark.parametrize(
    "name",
    [
        "PVC-free card",
        "PVC free card",
        "P.V.C.-free card",
        "PVCfree",
        "non-PVC film",
        "PVC-freie Folie",
        "vinylfrei",
        "vinylfreie Folie",
        "Polystyrolfrei",
        "polycarbonate-free",
        "PVC- und vinylfrei",
        "PVC-, vinyl- und weichmacherfrei",
        "PVC- and vinyl-free",
        "kein PVC",
        "keine Vinylfolie",
        "film sans PVC",
        "sans aucun PVC",
        "without vinyl",
        "without any PVC",
        "PVC-free, no glue",
        "free of PVC",
        "free from vinyl",
        "frei von PVC",
        "PVC-fri",
        "PVC-vrij karton",
        "bez PVC",
        "без ПВХ",
        "不含PVC",
        "PVC不使用",
        "بدون فينيل",
        "ללא ויניל",
        "बिना पीवीसी",
    ],
)
def test_what_is_said_to_be_free_of_it_passes(name: str) -> None:
    """The words for it may stand before or behind, in the languages that workshops write."""
    assert danger(name) is None


@pytest.mark.parametrize(
    "name",
    [
        "PVC, phthalate-free",
        "lead-free PVC",
        "PVC free of lead",
        "PVC frei von Blei",
        "PVC-frei von Blei",
        "PVC-free vinyl",
        "without backing, PVC",
        "not free of PVC",
        "no vinyl, PVC",
        "without PVC-free card",
        "No. 3 PVC",
        "non-slip vinyl",
        "BPA-free polycarbonate",
        "ABS-free? no",
        "ABS-free?",
        "is it PVC free？",
        "vinyl-free: no",
        "without PVC?",
        "weichmacherfreies PVC",
    ],
)
def test_what_is_free_of_something_else_is_refused(name: str) -> None:
    """Where it is not certain that the word is denied, the material is not taken."""
    assert danger(name) is not None
