"""One piece alone, as the whole job would make it: for looking at a change at once."""

from namebatch.cuttable import made_cuttable
from namebatch.mends import Mend, as_mended, check_mends
from namebatch.names.row import Row
from namebatch.piece import Piece
from namebatch.pipeline import Plan


def make_one(plan: Plan, row: Row, mend: Mend | None) -> tuple[Row, Piece | None]:
    """Make one row with changes by hand; every proof is that of the whole job.

    Sizes that all pieces share are the plan's, so the piece comes out as it will among the others.

    Args:
        plan: of the list that the row belongs to.
        row: as it was read, one of ``plan.names.rows``.
        mend: what was changed in it, instead of what the plan has; None for nothing.

    Returns:
        The row with all its findings, and its piece; None when it is held.

    Raises:
        MendError: the changes do not fit the list, the template or the material.
    """
    if mend is not None:
        catalogue = plan.maker.letterer.catalogue
        check_mends({row.line: mend}, plan.names, plan.template, plan.maker.limits, catalogue)
    row = as_mended(row, mend, plan.template, plan.names.columns)
    row, piece = plan.maker.make(row)
    if piece is None:
        return row, None
    return made_cuttable(row, piece, plan.template, plan.stocks)
