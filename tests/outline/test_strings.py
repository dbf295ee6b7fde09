"""Strings of circles along what is thin."""

import numpy as np
from shapely import box

from namebatch.outline.boundary import boundary_of
from namebatch.outline.chords import necks_below
from namebatch.outline.strings import uncovered
from namebatch.outline.tips import survey
from tests.outline.rough import rough


def test_necks_that_no_place_sees() -> None:
    """As comparing every neck with every place says; without places all necks are bare."""
    shape = rough(box(0, 0, 40, 30) - box(3, 3, 37, 14), 2_000, 1.2)
    b = boundary_of(shape)
    s, necks = survey(b, 0.6), necks_below(b, 2.0)
    chosen = np.flatnonzero(s.run >= 0)[::7]
    x = s.x[chosen] + s.radius[chosen] * s.nx[chosen]
    y = s.y[chosen] + s.radius[chosen] * s.ny[chosen]
    away = np.hypot(x[:, None] - necks[:, 1], y[:, None] - necks[:, 2])
    expected = away.min(axis=0) >= 0.3
    assert 0 < np.count_nonzero(expected) < len(necks)
    assert np.array_equal(uncovered(necks, s, chosen, 0.3), expected)
    assert uncovered(necks, s, chosen[:0], 0.3).all()
