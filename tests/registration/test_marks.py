"""From marks to a map: which kind is taken, and what is refused with which words."""

from dataclasses import replace

import numpy as np
import pytest

from namebatch.errors import RegistrationError
from namebatch.registration import Mark, Ruler, fit_marks
from tests.registration.sheets import CORNERS, NAMES, error_mm, laid, marks, noisy


def renamed(affine: tuple[float, ...], order: tuple[int, ...]) -> tuple[Mark, ...]:
    """The marks with each reading under another's name."""
    found = marks(affine)  # type: ignore[arg-type]
    return tuple(replace(found[i], read=found[order[i]].read) for i in range(4))


@pytest.mark.parametrize(
    ("scale", "skew", "model"),
    [
        ((1.0, 1.0), 0.0, "similarity"),
        ((0.998, 0.998), 0.0, "similarity"),
        ((0.997, 1.002), 0.0, "two-scales"),
        ((0.997, 1.002), 0.0025, "affine"),
    ],
)
def test_the_simplest_kind_that_serves_is_taken(
    scale: tuple[float, float], skew: float, model: str
) -> None:
    """More is made free only where the marks ask for it."""
    true = laid(scale=scale, skew=skew)
    fit = fit_marks(marks(true))
    assert fit.model == model
    assert fit.affine == pytest.approx(true, abs=1e-9)
    assert fit.worst_mm < 1e-9


def test_what_is_told_of_a_fit_is_how_the_print_lies() -> None:
    """Turn, scales, skew and shift are those by which the print was laid."""
    fit = fit_marks(marks(laid(0.7, (0.997, 1.002), 0.0025, (40.0, -3.0))))
    assert fit.rotation_deg == pytest.approx(0.7)
    assert fit.scales == pytest.approx((0.997, 1.002 * np.hypot(1, 0.0025)))
    assert fit.skew_deg == pytest.approx(np.degrees(np.arctan(0.0025)))
    assert fit.shift_mm == pytest.approx((40.0, -3.0))


@pytest.mark.parametrize("only", [(0, 2), (0, 1), (1, 3)])
def test_two_marks_give_a_similarity(only: tuple[int, ...]) -> None:
    """Two marks fix turn, shift and one scale, and leave no residual."""
    true = laid(scale=(1.003, 1.003))
    fit = fit_marks(marks(true, only))
    assert fit.model == "similarity"
    assert fit.affine == pytest.approx(true, abs=1e-9)
    assert tuple(fit.residual_mm) == tuple(NAMES[i] for i in only)


def test_three_marks_are_enough_for_two_scales() -> None:
    """The fourth corner may be out of reach."""
    true = laid(scale=(0.997, 1.002))
    assert fit_marks(marks(true, (0, 1, 2))).affine == pytest.approx(true, abs=1e-9)


def test_readings_of_one_mark_are_averaged() -> None:
    """Opposite errors of two readings cancel."""
    true = laid()
    errors = np.full((2, 4, 2), 0.1)
    errors[1] *= -1
    fit = fit_marks(noisy(true, errors))
    assert error_mm(fit.affine, true) < 1e-9
    assert fit.expected_mm == pytest.approx(0.21 / 2**0.5)


FRAME = (CORNERS[2][0] - CORNERS[0][0], CORNERS[2][1] - CORNERS[0][1])


def ruler(x: float, y: float, off: tuple[float, float] = (0.0, 0.0)) -> Ruler:
    """The frame as a ruler finds it on a print of these scales, and an error in mm."""
    return Ruler(FRAME, (x * FRAME[0] + off[0], y * FRAME[1] + off[1]))


def test_a_ruler_and_two_marks_lay_an_uneven_print() -> None:
    """With the scales from a ruler two marks lay even an uneven print exactly."""
    true = laid(scale=(0.997, 1.002))
    fit = fit_marks(marks(true, (0, 2)), ruler=ruler(0.997, 1.002))
    assert fit.affine == pytest.approx(true, abs=1e-9)
    assert fit.scales == pytest.approx((0.997, 1.002))
    assert fit.ruled


@pytest.mark.parametrize("only", [(0, 2), (0, 1, 2), (0, 1, 2, 3)])
def test_sound_readings_with_a_ruler_are_taken(only: tuple[int, ...]) -> None:
    """Normal errors of 0.1 mm of marks and ruler refuse hardly any of 400 sheets.

    And the promise holds on 19 of 20.
    """
    chance = np.random.default_rng(7)
    true = laid(scale=(0.997, 1.002))
    errors, kept = chance.normal(0.0, 0.1, (400, 5, 2)), list[bool]()
    for one in errors:
        read = [m for m in noisy(true, one[None, :4]) if m.name in {NAMES[i] for i in only}]
        try:
            fit = fit_marks(read, ruler=ruler(0.997, 1.002, tuple(one[4].tolist())))
        except RegistrationError:
            continue
        kept.append(error_mm(fit.affine, true) <= fit.expected_mm)
    assert len(kept) >= 398
    assert sum(kept) / len(kept) > 0.93


def test_a_ruler_that_contradicts_the_marks_is_told_so() -> None:
    """Four sound marks are not called mixed up because the frame was misread by 2 mm."""
    with pytest.raises(RegistrationError, match=r"Without the ruler they do, and by them") as told:
        fit_marks(marks(laid(scale=(0.997, 1.002))), ruler=ruler(0.997, 1.002, (2.0, 0.0)))
    assert "mixed up" not in str(told.value)
    assert "198.4 × 284.6 mm" in str(told.value)


def test_a_kind_that_does_not_suit_is_told_so() -> None:
    """A similarity asked for on an uneven print: the kind is wrong, and not the names."""
    with pytest.raises(RegistrationError, match=r"With another kind of map they do"):
        fit_marks(marks(laid(scale=(0.997, 1.002))), "similarity")


def test_the_promise_is_never_below_what_is_seen() -> None:
    """Marks 0.4 mm off under a wider limit do not promise 0.2 mm."""
    true = laid(scale=(0.997, 1.002))
    fit = fit_marks(marks(true), "similarity", limit_mm=1.0)
    assert fit.worst_mm > 0.4
    assert fit.expected_mm >= error_mm(fit.affine, true)


def test_a_wider_limit_rules_alone() -> None:
    """Who says that marks may be 1 mm off is not refused at 0.8 mm by what chance leaves."""
    true = laid(scale=(1.004, 0.996))
    assert fit_marks(marks(true), "similarity", limit_mm=1.0).worst_mm > 0.6


def test_three_marks_do_not_vouch_for_a_rare_scale() -> None:
    """A slip of 5 mm along the lower edge looks like 2.5 % of stretch: the fourth is asked for."""
    found = list(marks(laid(), (0, 1, 2)))
    [(x, y)] = found[0].read
    found[0] = replace(found[0], read=((x + 5.0, y),))
    with pytest.raises(RegistrationError, match=r"Measure the fourth corner too"):
        fit_marks(found)


def test_a_kind_can_be_asked_for() -> None:
    """An affine map is taken when it is named, though a simpler one would do."""
    assert fit_marks(marks(laid()), "affine").model == "affine"


@pytest.mark.parametrize("model", ["affine", "two-scales"])
def test_a_kind_that_the_marks_cannot_carry_is_refused(model: str) -> None:
    """Three marks on a line fix no skew and no second scale."""
    line = tuple(Mark(f"m{i}", (x, x), ((x + 5, x + 5),)) for i, x in enumerate((10.0, 90, 170)))
    assert fit_marks(line).model == "similarity"
    with pytest.raises(RegistrationError, match="needs three marks that are not on one line"):
        fit_marks(line, model)  # type: ignore[arg-type]


def test_one_mark_is_too_few() -> None:
    """A single mark says nothing of the turn."""
    with pytest.raises(RegistrationError, match="At least two different marks"):
        fit_marks(marks(laid(), (0,)))


def test_marks_in_one_place_are_refused() -> None:
    """Two corners cannot lie on one spot."""
    found = marks(laid())
    same = (found[0], replace(found[1], read=found[0].read), found[2])
    with pytest.raises(RegistrationError, match="bottom-left and bottom-right were measured in al"):
        fit_marks(same)


def test_marks_too_close_together_are_refused() -> None:
    """A turn read off 10 mm would be wrong by half a degree."""
    near = (Mark("a", (0, 0), ((1, 1),)), Mark("b", (10, 0), ((11, 1),)))
    with pytest.raises(RegistrationError, match="within 20 mm"):
        fit_marks(near)


def test_readings_that_differ_are_refused() -> None:
    """A slip among the readings of one mark is not averaged away."""
    found = marks(laid())
    (x, y) = found[2].read[0]
    twice = replace(found[2], read=((x, y), (x + 2, y)))
    with pytest.raises(RegistrationError, match=r"readings of top-right are up to 2\.0 mm apart"):
        fit_marks((*found[:2], twice))


@pytest.mark.parametrize(
    ("order", "words"),
    [
        ((1, 0, 3, 2), "Are left and right swapped"),
        ((3, 2, 1, 0), "Are bottom and top swapped"),
        ((0, 1, 3, 2), "Are top-right and top-left swapped"),
        ((2, 1, 0, 3), "Are bottom-left and top-right swapped"),
        ((1, 2, 3, 0), "Are the names mixed up"),
    ],
)
def test_swapped_names_are_found_out(order: tuple[int, ...], words: str) -> None:
    """The change of names that makes the marks fit is named."""
    with pytest.raises(RegistrationError, match=words):
        fit_marks(renamed(laid(), order))


def test_exchanged_axes_are_found_out() -> None:
    """Readings with x written under y fit only mirrored; with both changed over they fit."""
    wrong = tuple(replace(m, read=((m.read[0][1], m.read[0][0]),)) for m in marks(laid()))
    with pytest.raises(RegistrationError, match="Are x and y exchanged"):
        fit_marks(wrong)


def test_a_cutter_that_counts_downwards_is_told() -> None:
    """Readings with y from the back look as if bottom and top were swapped, and it says so."""
    wrong = tuple(replace(m, read=((m.read[0][0], 400 - m.read[0][1]),)) for m in marks(laid()))
    with pytest.raises(RegistrationError, match="if the cutter counts y downwards"):
        fit_marks(wrong)


@pytest.mark.parametrize("index", range(4))
def test_the_one_mark_that_is_off_is_named(index: int) -> None:
    """Without it the others fit, with any other left out they do not."""
    found = list(marks(laid(scale=(0.998, 1.001))))
    x, y = found[index].read[0]
    found[index] = replace(found[index], read=((x + 4, y + 2),))
    with pytest.raises(RegistrationError, match=f"most likely {NAMES[index]}: .* 4.5 mm from"):
        fit_marks(found)


def test_the_one_of_three_that_is_off_is_named() -> None:
    """Of three marks only two are at the right distance."""
    found = list(marks(laid(), (0, 1, 2)))
    x, y = found[0].read[0]
    found[0] = replace(found[0], read=((x - 9, y - 9),))
    with pytest.raises(RegistrationError, match="most likely bottom-left"):
        fit_marks(found)


@pytest.mark.parametrize(
    ("factor", "words"),
    [
        (1.05, r"105\.0 % of its size in x; more than 3 % is no printer's error"),
        (1 / 25.4, "what inches look like"),
        (0.1, "what centimetres look like"),
    ],
)
def test_a_scale_that_no_printer_has_is_refused(factor: float, words: str) -> None:
    """More than 3 % is a wrong unit or a page printed to fit."""
    wrong = tuple(
        Mark(m.name, m.sheet, ((m.sheet[0] * factor, m.sheet[1] * factor),)) for m in marks(laid())
    )
    with pytest.raises(RegistrationError, match=words):
        fit_marks(wrong)


def test_two_marks_of_a_wrong_pair_are_refused() -> None:
    """The distance of the two betrays that another corner was measured."""
    left, _, _, top = marks(laid())
    with pytest.raises(RegistrationError, match=r"284\.0 mm apart and are 199\.0 mm apart on the"):
        fit_marks((left, Mark("bottom-right", CORNERS[1], top.read)))


def test_a_residual_past_the_limit_is_refused() -> None:
    """The limit is the caller's, and the message says how far off the worst mark is."""
    errors = np.zeros((1, 4, 2))
    errors[0, 0], errors[0, 2] = (0.5, -0.5), (0.5, -0.5)
    found = noisy(laid(), errors)
    with pytest.raises(RegistrationError, match="The marks do not fit each other"):
        fit_marks(found)
    assert fit_marks(found, limit_mm=2.0).worst_mm > 0.2


def test_readings_worse_than_chance_are_refused_below_the_limit() -> None:
    """All four marks a little off in a way that 999 sheets of 1,000 do not show."""
    errors = np.zeros((1, 4, 2))
    errors[0, :, 0] = (0.28, -0.28, 0.28, -0.28)
    with pytest.raises(RegistrationError, match="in 999 of 1,000 sheets"):
        fit_marks(noisy(laid(), errors), "similarity")
