"""Which parts of a workshop file are the program's examples yet."""

from dataclasses import replace
from pathlib import Path

from namebatch.template import find_template, load_template, load_workshop
from namebatch.template.builtin_workshop import BUILTIN_TOML
from namebatch.template.examples import all_example_parts, example_parts, listed_parts
from namebatch.template.turned import printer_for
from namebatch.template.workshop import Workshop


def _workshop(folder: Path, *changes: tuple[str, str]) -> Workshop:
    text = BUILTIN_TOML
    for before, after in changes:
        assert before in text
        text = text.replace(before, after)
    path = folder / "shed.toml"
    path.write_text(text, encoding="utf-8")
    return load_workshop(path)


def test_a_copied_example_is_an_example(tmp_path: Path) -> None:
    """Of a workshop file begun from the example only the parts in use are told."""
    workshop = _workshop(tmp_path)
    tag, fob = (load_template(find_template(name)) for name in ("bag-tag", "key-fob"))
    told = example_parts(tag, workshop)
    assert told[:2] == ("the printer", "the cutter")
    assert set(told[2:]) == {workshop.materials[str(n)].title for n in (tag.material, tag.board)}
    assert example_parts(fob, workshop)[0] == "the cutter"
    assert len(all_example_parts(workshop)) == 2 + len(workshop.materials)
    assert listed_parts(("the printer", "the cutter", "Card")) == "the printer, the cutter and Card"


def test_what_was_measured_is_ones_own(tmp_path: Path) -> None:
    """A measured kerf, scale or speed takes its part out, and the others stay."""
    fob = load_template(find_template("key-fob"))
    kerf = _workshop(tmp_path, ("kerf_mm = 0.18", "kerf_mm = 0.21"), ("0.15", "0.16"))
    assert example_parts(fob, kerf) == ("the cutter",)
    both = _workshop(
        tmp_path, ("0.18", "0.21"), ("0.15", "0.16"), ("travel_mm_s = 300", "travel_mm_s = 250")
    )
    assert example_parts(fob, both) == ()


def test_the_page_may_lie_the_other_way_round(tmp_path: Path) -> None:
    """A printer turned for a job is the same printer, and one with a scale of its own is not."""
    tag, workshop = load_template(find_template("bag-tag")), _workshop(tmp_path)
    turned = printer_for(workshop.printer, (297.0, 210.0))
    assert turned.is_turned
    assert "the printer" in example_parts(tag, replace(workshop, printer=turned))
    measured = replace(turned, scale=(1.01, 1.0))
    assert "the printer" not in example_parts(tag, replace(workshop, printer=measured))


def test_without_a_file_all_is_example() -> None:
    """The built-in workshop is told as a whole elsewhere."""
    assert example_parts(load_template(find_template("key-fob")), load_workshop(None)) == ()
