"""Which way round sheets lie: on the cutter's bed, and over or under each other. mm."""

from math import inf

Size = tuple[float, float]
UNBOUNDED: Size = (inf, inf)


def way_round(size: Size, page: Size = (0.0, 0.0), bed: Size = UNBOUNDED) -> Size | None:
    """A sheet as it is, or turned by a quarter if only so it suits; None if it never does.

    Args:
        size: width and height of the sheet.
        page: what it has to cover, as it lies.
        bed: what it has to lie on, as it lies.
    """
    for across, up in (size, size[::-1]):
        if page[0] <= across <= bed[0] and page[1] <= up <= bed[1]:
            return across, up
    return None


def page_lying(page: Size, bed: Size, others: tuple[Size, ...] = ()) -> Size | None:
    """A page as it lies on the bed; turned by a quarter if only so it and the others do.

    Args:
        page: width and height.
        bed: of the cutter.
        others: sheets that are to cover the page on the bed: what it is mounted on, a jig.

    Returns:
        None if the page does not lie there at all. Where the others do not suit either way, the
        page is turned for its own sake only.
    """
    for way in (page, page[::-1]):
        if way_round(way, way, bed) == way and all(way_round(o, way, bed) for o in others):
            return way
    return way_round(page, bed=bed)
