"""The page beside a kerf test."""

from dataclasses import replace
from pathlib import Path

from namebatch.measured.kerf_page import write_kerf_page
from namebatch.measured.strips import kerf_test
from namebatch.template import load_workshop
from tests.output.pages import read


def test_cautions_are_those_of_the_cutter(tmp_path: Path) -> None:
    """Fumes and prohibited materials are a laser's; a blade is sharp; the manual is above both."""
    shop = load_workshop(None)
    material = shop.materials["card-160"]
    blade = replace(shop, cutter=replace(shop.cutter, kind="blade"))
    told = {}
    for name, workshop in (("laser", shop), ("blade", blade)):
        path = tmp_path / f"{name}.pdf"
        write_kerf_page(path, kerf_test((200.0, 200.0)), material, workshop)
        told[name] = " ".join(read(path).text.split())
        assert "licensed practice stand above this page" in told[name]
    assert "Extraction on" in told["laser"]
    assert "Never PVC" in told["laser"]
    assert "Extraction" not in told["blade"]
    assert "PVC" not in told["blade"]
    assert "away from blade and rollers" in told["blade"]


def test_the_page_is_letter_where_the_workshop_prints_on_letter(tmp_path: Path) -> None:
    """Letter is 8.5 by 11 inches, 612 by 792 points (from memory, ASME Y14.1)."""
    shop = load_workshop(None)
    own = replace(shop, printer=replace(shop.printer, sheet="letter"))
    path = tmp_path / "page.pdf"
    write_kerf_page(path, kerf_test((200.0, 200.0)), shop.materials["card-160"], own)
    assert {tuple(round(side) for side in size) for size in read(path).sizes} == {(612, 792)}
