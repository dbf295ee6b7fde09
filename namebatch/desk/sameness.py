"""Whether a job that was made is still the one that would be made now."""

from collections.abc import Mapping

from namebatch.desk.jobfolder import JobFolder
from namebatch.desk.lying import Lying
from namebatch.desk.recipe import Recipe, settings_of
from namebatch.mends import recorded_mends
from namebatch.output.manifest import identity
from namebatch.pipeline import Plan
from namebatch.sheet.tight_clock import seconds_of

TYPEFACES = "fonts_sha256"
"""Which typefaces are noted depends on changes by hand, which are compared themselves."""
MENDS = "mends_sha256"


def identity_now(plan: Plan, recipe: Recipe) -> Mapping[str, object]:
    """What a job of a docket would be, as its manifest would say.

    Args:
        plan: of the docket. What is chosen for filling sheets, and changes by hand, may have
            changed since it was made.
        recipe: of the docket as it is now.
    """
    chosen = settings_of(recipe)
    ordered = chosen.keep_order or chosen.by_order
    recorded = {
        **{key: value for key, value in plan.recorded.items() if key != MENDS},
        "fill": chosen.fill,
        "seconds": seconds_of(chosen.fill, chosen.seconds, ordered),
        "keep_order": chosen.keep_order,
        "by_order": chosen.by_order,
        "spare": chosen.spare,
        **recorded_mends(recipe.mends),
    }
    return identity(plan.template, recorded)


def identity_of(lying: Lying) -> Mapping[str, object] | None:
    """What a job of an open docket that were made now would be; None if none can be made."""
    recipe = lying.now.recipe
    return None if lying.plan is None or recipe is None else identity_now(lying.plan, recipe)


def is_same(job: JobFolder, now: Mapping[str, object] | None) -> bool:
    """Whether a job is what would be made now; nobody can tell while nothing can be made."""
    return now is not None and _compared(job.identity) == _compared(now)


def _compared(told: Mapping[str, object]) -> dict[str, object]:
    settings = told.get("settings")
    rest = dict(settings) if isinstance(settings, Mapping) else {}
    rest.pop(TYPEFACES, None)
    return {**told, "settings": rest}
