"""What a step is called in the history."""

import pytest

from namebatch.desk.telling import told_settings
from namebatch.store.model import Setting

NONE: dict[str, Setting | None] = dict.fromkeys(("fill", "seconds", "keep_order", "by_order"))


@pytest.mark.parametrize(
    ("wanted", "told"),
    [
        ({}, "which piece goes where: found quickly"),
        ({"fill": "tight"}, "which piece goes where: searched for"),
        ({"keep_order": True}, "which piece goes where: in the order of the list"),
        ({"by_order": True}, "which piece goes where: pieces of an order together"),
    ],
)
def test_a_way_of_filling_is_told_as_one_choice(wanted: dict[str, Setting], told: str) -> None:
    """Somebody chose one thing; what goes with it is not listed as four."""
    assert told_settings({**NONE, **wanted}) == told


def test_settings_are_told_one_by_one_otherwise() -> None:
    """A gap and spares are two things."""
    assert told_settings({"gap_mm": 3, "spare": None}) == "gap: 3 mm; spares: as usual"
