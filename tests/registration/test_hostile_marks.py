"""Measured marks of any kind: a map of finite figures, or a message."""

from math import isfinite

from hypothesis import given, settings
from hypothesis import strategies as st

from namebatch.errors import RegistrationError
from namebatch.registration import Mark, Ruler, fit_marks

FIGURE = st.floats(-10_000, 10_000) | st.sampled_from([0.0, 1e-300, -0.0, 10_000.0])
POINT = st.tuples(FIGURE, FIGURE)
NAMES = ("bottom-left", "bottom-right", "top-right", "top-left")


@settings(max_examples=120, deadline=None)
@given(
    places=st.lists(st.tuples(POINT, st.lists(POINT, min_size=1, max_size=3)), max_size=4),
    ruler=st.none() | st.tuples(POINT, POINT),
    model=st.sampled_from([None, "similarity", "two-scales", "affine"]),
)
def test_any_marks_give_a_finite_map_or_a_message(
    places: list[tuple[tuple[float, float], list[tuple[float, float]]]],
    ruler: tuple[tuple[float, float], tuple[float, float]] | None,
    model: str | None,
) -> None:
    """Marks in one place, on a line, far off or swapped, with a ruler or without."""
    marks = tuple(
        Mark(name, sheet, tuple(read)) for name, (sheet, read) in zip(NAMES, places, strict=False)
    )
    frame = None
    if ruler is not None:  # the frame of a sheet has some size, and what was read is near it
        (width, height), read = ruler
        size = (abs(width) + 1.0, abs(height) + 1.0)
        frame = Ruler(size, (size[0] * (1 + read[0] / 1e6), size[1] * (1 + read[1] / 1e6)))
    try:
        fit = fit_marks(marks, model, frame, 0.3)  # type: ignore[arg-type]
    except RegistrationError:
        return
    assert all(map(isfinite, (*fit.affine, fit.worst_mm, fit.expected_mm, *fit.scales)))
