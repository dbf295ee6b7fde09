"""Changes by hand that fit a plan no longer, as list or template is another one."""

from collections.abc import Mapping
from dataclasses import replace

from namebatch.errors import MendError
from namebatch.mends import Mend, check_mends
from namebatch.pipeline import Plan


def check_all(plan: Plan, mends: Mapping[int, Mend]) -> None:
    """Look through changes by hand.

    Raises:
        MendError: with everything that does not fit.
    """
    catalogue = plan.maker.letterer.catalogue
    check_mends(mends, plan.names, plan.template, plan.maker.limits, catalogue)


def fits_all(plan: Plan, mends: Mapping[int, Mend]) -> bool:
    """Whether all changes fit; looking through all at once is far quicker than one by one."""
    try:
        check_all(plan, mends)
    except MendError:
        return False
    return True


def fitted(plan: Plan, mends: Mapping[int, Mend]) -> dict[int, Mend | None]:
    """What has to become of changes by hand so that all of them fit.

    Args:
        plan: of the new list, or with the new template.
        mends: as they are.

    Returns:
        Line → the change without what it notes of fields that there are no longer; None where it
        does not fit at all. Lines whose changes fit as they are are left out.
    """
    if fits_all(plan, mends):
        return {}
    return {
        line: found
        for line, mend in sorted(mends.items())
        if (found := _fitted(plan, line, mend)) != mend
    }


def _fitted(plan: Plan, line: int, mend: Mend) -> Mend | None:
    known = {name: said for name, said in mend.was.items() if name in plan.template.fields}
    found = replace(mend, was=known)
    return found if fits_all(plan, {line: found}) else None
