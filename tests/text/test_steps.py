"""What is tried before a text is held, and one size for a batch."""

from dataclasses import replace
from itertools import permutations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from namebatch.finding import Finding
from namebatch.template.textbox import Sizing, Step, TextBox
from namebatch.text.batch import common_size
from namebatch.text.catalogue import Catalogue, load_catalogue
from namebatch.text.fit import Common, SetText, fit
from tests.text.conftest import text_box

NAMES = ("Ann", "Jgy", "Marlo", "ace", "Annegret", "Bartholomew", "Ó", "Wilhelmina Sandpiper")


def _box(width: float, steps: tuple[Step, ...], least: float = 5.0) -> TextBox:
    return replace(text_box(width, height=20, least=least), sizing=Sizing(steps=steps))


def _codes(result: SetText | Finding) -> list[str]:
    assert isinstance(result, SetText), result
    return [finding.code for finding in result.notes]


def test_nothing_is_done_to_a_text_that_fits(catalogue: Catalogue) -> None:
    """Steps are for texts that would be held."""
    result = fit("Ann", [catalogue.open("Fredoka SemiBold")], text_box(60))
    assert _codes(result) == []


@pytest.mark.parametrize(
    ("steps", "width", "codes"),
    [
        (("tracking",), 55.0, ["tightened"]),
        (("width",), 53.0, ["narrowed"]),
        (("tracking", "width"), 49.0, ["tightened", "narrowed"]),
        (("two-lines",), 44.0, ["two-lines"]),
        (("initials",), 44.0, ["initials"]),
    ],
)
def test_each_step_is_taken_and_told(
    catalogue: Catalogue, steps: tuple[Step, ...], width: float, codes: list[str]
) -> None:
    """A text that is held without a step is made with it, at the least height or more."""
    faces = [catalogue.open("Fredoka SemiBold")]
    text = "Wilhelmina Marsh"
    assert isinstance(fit(text, faces, _box(width, ())), Finding)
    result = fit(text, faces, _box(width, steps))
    assert _codes(result) == codes
    assert isinstance(result, SetText)
    assert result.height_mm >= 5.0 - 1e-6


def test_a_narrower_face_of_the_chain_helps(catalogue: Catalogue) -> None:
    """The chain's later face sets the whole text where the first is too wide."""
    faces = [catalogue.open("Black Ops One"), catalogue.open("Barlow Condensed SemiBold")]
    result = fit("Wilhelmina", faces, _box(33, ("face",)))
    assert _codes(result) == ["other-face"]
    assert isinstance(result, SetText)
    assert result.font == "Barlow Condensed SemiBold"


def test_the_mildest_step_is_taken(catalogue: Catalogue) -> None:
    """Letters are not tightened more than needed, and no second step is taken then."""
    faces = [catalogue.open("Fredoka SemiBold")]
    result = fit("Wilhelmina Marsh", faces, _box(55, ("tracking", "width", "two-lines")))
    assert _codes(result) == ["tightened"]


@settings(max_examples=40, deadline=None)
@given(st.lists(st.sampled_from(NAMES), min_size=1, max_size=8), st.floats(15, 60))
def test_one_size_is_one_size(names: list[str], width: float) -> None:
    """Without a share of outliers every text that is made has exactly the common height."""
    faces = [load_catalogue().open("Fredoka SemiBold")]
    sizing = Sizing(alike=True)
    box = replace(text_box(width, height=16, least=3), sizing=sizing, centring="optical")
    common = common_size(names, faces, box)
    results = [fit(name, faces, box, common=common) for name in names]
    made = [result for result in results if isinstance(result, SetText)]
    assert len({result.height_mm for result in made}) <= 1
    frame = shapely.box(10, 20, 10 + width, 36).buffer(0.01)
    assert all(frame.covers(result.shape) for result in made)


def test_a_share_may_be_smaller(catalogue: Catalogue) -> None:
    """One long name in ten does not make the other nine small; it is set smaller and told."""
    faces = [catalogue.open("Fredoka SemiBold")]
    names = ["Ann", "Bo", "Cas", "Dee", "Eli", "Fay", "Gus", "Ida", "Joe", "Maximilian-Otto"]
    box = replace(
        text_box(40, height=16, least=3), sizing=Sizing(alike=True, smaller_share=0.1, steps=())
    )
    common = common_size(names, faces, box)
    assert common is not None
    results = [fit(name, faces, box, common=common) for name in names]
    assert [_codes(result) for result in results] == [[]] * 9 + [["set-smaller"]]
    heights = [result.height_mm for result in results if isinstance(result, SetText)]
    assert set(heights[:9]) == {common.height_mm}
    assert heights[9] < common.height_mm


def test_names_of_one_size_share_a_baseline(catalogue: Catalogue) -> None:
    """Names like "ace" and "Jgy" stand on one line although their inks differ in height."""
    faces = [catalogue.open("Fredoka SemiBold")]
    box = replace(text_box(40, height=12, least=3, largest=10), sizing=Sizing(alike=True))
    common = common_size(["ace", "Jgy", "Åke"], faces, box)
    results = [fit(name, faces, box, common=common) for name in ("ace", "Jgy", "Åke")]
    baselines = {result.baseline_mm for result in results if isinstance(result, SetText)}
    assert len(baselines) == 1


def test_the_eye_s_middle_is_not_the_extent_s(catalogue: Catalogue) -> None:
    """A full stop counts for less than a letter, so "N." moves to the right of centred ink."""
    faces = [catalogue.open("Fredoka SemiBold")]
    box = replace(text_box(60, height=12), centring="ink")
    plain = fit("Nn.....", faces, box)
    seen = fit("Nn.....", faces, replace(box, centring="optical"))
    assert isinstance(plain, SetText)
    assert isinstance(seen, SetText)
    middle = 10 + 60 / 2
    assert (plain.shape.bounds[0] + plain.shape.bounds[2]) / 2 == pytest.approx(middle)
    assert seen.shape.bounds[0] > plain.shape.bounds[0] + 0.2


def test_a_common_height_is_kept_below_the_box_s_greatest(catalogue: Catalogue) -> None:
    """A short name does not grow past the size of its batch."""
    faces = [catalogue.open("Fredoka SemiBold")]
    result = fit("Bo", faces, text_box(60, height=20), common=Common(4.0))
    assert isinstance(result, SetText)
    assert result.height_mm == 4.0


COMBINED = [
    "Anna Maria Quartermain",
    "Wilhelmina-Charlotte Ox",
    "Karin af Klintmarken",
    "Maria das Dores Pereira",
    "Omar al-Rashidinov",
]


@pytest.mark.parametrize("name", COMBINED)
def test_the_order_of_steps_loses_no_name(catalogue: Catalogue, name: str) -> None:
    """Steps are combined before a name is held, whichever of them the template names first."""
    faces = [catalogue.open("Noto Sans SemiBold")]
    heights = []
    steps: tuple[Step, ...] = ("tracking", "width", "two-lines")
    for order in permutations(steps):
        found = fit(name, faces, replace(_box(42, order), box_mm=(4.0, 2.0, 42.0, 26.0)))
        assert isinstance(found, SetText), (order, found)
        heights.append(found.height_mm)
    assert min(heights) >= 5.0 - 1e-6


def test_a_whole_name_on_two_lines_comes_before_initials(catalogue: Catalogue) -> None:
    """Two lines closer than usual are a milder change than a name that is cut."""
    faces = [catalogue.open("Noto Sans SemiBold")]
    steps: tuple[Step, ...] = ("two-lines", "tracking", "initials")
    found = fit("Wilhelmina Quartermaine", faces, _box(46.0, steps))
    assert _codes(found) == ["two-lines", "tightened"]


def test_the_family_name_stays_whole_on_two_lines(catalogue: Catalogue) -> None:
    """Given names are cut on two lines before the family name is cut on one."""
    faces = [catalogue.open("Noto Sans SemiBold")]
    steps: tuple[Step, ...] = ("two-lines", "initials")
    found = fit("Wilhelmina-Charlotta Quartermain", faces, _box(44.0, steps))
    assert _codes(found) == ["two-lines", "initials"]
    assert isinstance(found, SetText)
    assert found.text == "W.-C. Quartermain"


def test_the_cut_that_is_narrowed_is_that_of_the_face_that_sets_the_name(
    catalogue: Catalogue,
) -> None:
    """Where the first typeface lacks a sign, the width axis of the next one is what helps."""
    faces = [catalogue.open("Lilita One"), catalogue.open("Noto Sans SemiBold")]
    found = fit("Josip Šušnjarić", faces, _box(45.0, ("width",)))
    assert _codes(found) == ["narrowed"]


@pytest.mark.parametrize(
    ("name", "steps", "width", "remedy"),
    [
        ("Wilhelmina Marsh", (), 52.0, "Allow two lines, narrower letters or initials; or shorten"),
        (
            "Wilhelmina",
            (),
            31.0,
            "mm. Shorten the text or take a template whose box is 5.5 mm wider.",
        ),
        ("Wilhelmina", (), 32.0, "Allow narrower letters; or shorten"),
        (
            "Wilhelmina",
            ("tracking",),
            32.0,
            "narrower letters or letters 4 % of their height closer still",
        ),
    ],
)
def test_a_held_name_is_told_what_would_help(
    catalogue: Catalogue, name: str, steps: tuple[Step, ...], width: float, remedy: str
) -> None:
    """Only changes with which the name fits are named."""
    found = fit(name, [catalogue.open("Fredoka SemiBold")], _box(width, steps))
    assert isinstance(found, Finding)
    assert remedy in found.message


def test_what_is_told_to_help_helps(catalogue: Catalogue) -> None:
    """With the wider box, or with the closer letters, the name is made, and not with less."""
    faces = [catalogue.open("Fredoka SemiBold")]
    assert isinstance(fit("Wilhelmina", faces, _box(31.0 + 5.5, ())), SetText)
    assert isinstance(fit("Wilhelmina", faces, _box(31.0 + 4.9, ())), Finding)
    box = _box(32.0, ("tracking",))
    for tightest, made in ((-0.09, True), (-0.08, False)):
        closer = replace(box, sizing=replace(box.sizing, tightest=tightest))
        assert isinstance(fit("Wilhelmina", faces, closer), SetText) == made


def test_who_cannot_be_cut_to_initials_is_told(catalogue: Catalogue) -> None:
    """A template that allows initials says why it does not take them in a script without case."""
    found = fit(
        "محمد عبد الرحمن", [catalogue.open("Noto Sans Arabic SemiBold")], _box(9.0, ("initials",))
    )
    assert isinstance(found, Finding)
    assert found.message.endswith("Names in this script or language are not cut to initials.")
