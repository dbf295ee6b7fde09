"""Materials that a laser must not cut, by name."""

import pytest

from namebatch.template.dangerous import DANGEROUS, UNSPACED, danger

LISTED = {
    "PVC", "vinyl", "faux leather", "ABS", "polycarbonate", "polystyrene", "PTFE", "epoxy",
    "carbon fibre",
}  # fmt: skip
"""Prohibited-material lists of university laser workshops."""


def test_the_whole_list_is_known() -> None:
    """Every material of the list is there, and words of other scripts name no other one."""
    assert {what for _, what, _ in DANGEROUS} == LISTED
    assert {what for _, what in UNSPACED} <= LISTED


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
    ],
)
def test_dangerous_materials_are_found(name: str, what: str) -> None:
    """By key or by title, and the refusal says what, why and what to do."""
    found = danger("sheet", name)
    assert found is not None
    assert found.what == what
    assert found.refusal.startswith(f"{what} must never be cut with a laser: {found.reason}. Take")
    assert danger(name, "sheet") == found


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
    ],
)
def test_dangerous_materials_are_found_in_other_languages(name: str, what: str) -> None:
    """Workshops write their files in their own words (translations from memory)."""
    found = danger(name)
    assert found is not None
    assert found.what == what


@pytest.mark.parametrize(
    "name",
    [
        "Absolutely plain card",
        "PVC-free card",
        "PVC-freie Folie",
        "film sans PVC",
        "without vinyl",
        "leather, vegetable tanned",
        "crabs",
        "epox",
        "carbon paper",
        "Birkensperrholz 3 mm",
        "carton gris",
        "Echtleder",
        "polyester pouch 80 µm",
        "polypropylene 0.8",
        "glue: polyvinyl acetate",
        "maple veneer, oiled",
        "アクリル板",
        "ベニヤ板",
    ],
)
def test_harmless_names_pass(name: str) -> None:
    """A word inside another word, and what says it is free of it, is no danger."""
    assert danger(name) is None
