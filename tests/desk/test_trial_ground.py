"""The shape that is seen behind the text boxes."""

from shapely import box

from namebatch.desk.trial_ground import ground_of


def test_the_pale_edge_of_the_line_lies_below_what_is_printed() -> None:
    """It would look like a white rim that is not there."""
    svg = ground_of(box(0, 0, 60, 40), None, "#e4c79c").svg
    assert 0 < svg.index('stroke="#fff"') < svg.index('clip-path="url(#base)"')
