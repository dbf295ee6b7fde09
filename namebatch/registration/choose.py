"""Which kind of map a set of marks asks for, and what would be wrong with it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from namebatch.curves import Affine
from namebatch.registration.fit import PARAMETERS, Fit, Model, Ruler, scales
from namebatch.registration.solve import SOLVERS, Floats, distances, with_ruler
from namebatch.registration.solve import spread as spread_of

READING_MM: Final = 0.1
"""Deviation of one reading in x and in y: a rule and a good eye, or the cutter's pointer."""
LIMIT_MM: Final = 0.3
"""A mark that lies farther from its place by all others is a slip and no reading error."""
SCALE_LIMIT: Final = 0.03
"""The largest error of a printer that its makers' manuals tell of."""
SKEW_LIMIT_DEG: Final = 0.15
"""A cutter whose axes are farther out of square, 0.7 mm over the length of A4, wants repair."""
UNCHECKED: Final = 0.01
"""A scale farther off than this is not believed where nothing checks it; most printers are off by
0.5 % at most (common practice)."""
THIN_MM: Final = 5.0
"""Marks that spread less than this across their longest direction lie on a line."""

_COST: Final[dict[Model, float]] = {"similarity": 0.0, "two-scales": 2.0, "affine": 11.0}
"""What a model must gain in squared residuals, in units of a reading's variance. A second scale:
2 (Akaike 1974, one parameter more). Skew: 9 more, three deviations; printers have none and a
cutter's is small, and taken up for nothing it spoils 0.02 mm."""


@dataclass(frozen=True, slots=True)
class Trial:
    """A map that was tried.

    Attributes:
        model: its kind.
        affine: the map.
        gaps: residual of each mark in their order, mm.
        squares: their weighted sum of squares, in units of a reading's variance; those of a
            ruler's two readings count as well.
        freedom: how many readings there are more than values were free.
        ruled: a ruler told the scales, too.
    """

    model: Model
    affine: Affine
    gaps: tuple[float, ...]
    squares: float
    freedom: int
    ruled: bool = False

    @property
    def by_chance(self) -> float:
        """Squares that sound readings leave on 999 of 1,000 sheets."""
        return _by_chance(self.freedom)


def tried(sheet: Floats, measured: Floats, weights: Floats, model: Model | None = None) -> Trial:
    """The map with the least squares after each model's cost; mirroring ones are never taken.

    Args:
        sheet: n × 2, n of at least two.
        measured: n × 2.
        weights: how often each was read.
        model: the only one to try; None for all that the marks can carry.
    """
    models = carried(sheet) if model is None else (model,)
    trials = [_trial(one, sheet, measured, weights) for one in models]
    upright = [trial for trial in trials if not _mirrors(trial.affine)] or trials[:1]
    return min(upright, key=lambda trial: trial.squares + _COST[trial.model])


def carried(sheet: Floats) -> tuple[Model, ...]:
    """The models that so many marks in such places determine."""
    if len(sheet) < 3 or spread_of(sheet)[1] < THIN_MM:
        return ("similarity",)
    return ("similarity", "two-scales", "affine")


def fault(trial: Trial, names: Sequence[str], limit_mm: float) -> str | None:
    """What is wrong with a map, as the beginning of a message; None if it can be cut by."""
    if _mirrors(trial.affine):
        return "The marks fit only mirrored."
    found = Fit(trial.model, trial.affine, {}, 0.0)
    for axis, scale in zip("xy", found.scales, strict=True):
        if abs(scale - 1) > SCALE_LIMIT:
            return (
                f"By the marks the print is {100 * scale:.1f} % of its size in {axis}; more than "
                f"{100 * SCALE_LIMIT:g} % is no printer's error.{_units(scale)}"
            )
    if abs(found.skew_deg) > SKEW_LIMIT_DEG:
        return f"By the marks the print's corners are {abs(found.skew_deg):.1f}° out of square."
    worst = max(range(len(names)), key=lambda index: trial.gaps[index])
    if trial.gaps[worst] > limit_mm:
        return (
            f"The marks do not fit each other: {names[worst]} lies {trial.gaps[worst]:.2f} mm from "
            f"where all of them together put it, and {limit_mm:g} mm is the limit."
        )
    if len(names) == 3 and not trial.ruled and not _usual(found.scales):
        return _unsure(found.scales)
    if limit_mm <= LIMIT_MM and trial.squares > trial.by_chance:  # a wider limit rules alone
        return (
            "The marks do not fit each other: they lie "
            f"{', '.join(f'{gap:.2f}' for gap in trial.gaps)} mm from where all of them together "
            f"put them ({', '.join(names)}), more than readings good to {READING_MM:g} mm leave in "
            "999 of 1,000 sheets."
        )
    return None


def _usual(scales: tuple[float, float]) -> bool:
    return max(abs(scale - 1) for scale in scales) <= UNCHECKED


def _unsure(scales: tuple[float, float]) -> str:
    """Three marks on the corners of a frame fit two scales whatever slips along its edges."""
    axis = "x" if abs(scales[0] - 1) > abs(scales[1] - 1) else "y"
    scale = max(scales, key=lambda one: abs(one - 1))
    return (
        f"By three marks the print is {100 * scale:.1f} % of its size in {axis}, which is rare, "
        "and a slip along an edge of the frame looks the same. Measure the fourth corner too, or "
        "the frame with a ruler."
    )


def _by_chance(freedom: int) -> float:
    """The sum of so many squared unit errors that chance exceeds once in 1,000.

    Wilson & Hilferty 1931: the cube root of χ²/f is nearly normal, of mean 1 − 2/(9f) and variance
    2/(9f); 3.0902 is the normal quantile of 0.999. Without freedom rounding errors are left.
    """
    if freedom < 1:
        return 1e-6
    spread = 2 / (9 * freedom)
    return float(freedom * (1 - spread + 3.0902 * spread**0.5) ** 3)


def _units(scale: float) -> str:
    """Inches or centimetres show by their factor."""
    for factor, unit in ((1 / 25.4, "inches"), (0.1, "centimetres")):
        if abs(scale / factor - 1) < SCALE_LIMIT:
            return f" That is what {unit} look like: write millimetres."
    return ""


def ruled(sheet: Floats, measured: Floats, weights: Floats, ruler: Ruler) -> Trial:
    """The map of two scales where a ruler told them, too.

    Args:
        sheet: n × 2, n of at least two.
        measured: n × 2.
        weights: how often each was read.
        ruler: the frame and what was read.
    """
    affine = with_ruler(sheet, measured, weights, ruler)
    gaps = distances(affine, sheet, measured)
    off = [
        (own - said) * size
        for own, said, size in zip(scales(affine), ruler.scale, ruler.frame_mm, strict=True)
    ]
    squares = float((weights * gaps**2).sum()) + sum(length * length for length in off)
    freedom = 2 * len(sheet) + 2 - PARAMETERS["two-scales"]
    return Trial(
        "two-scales", affine, tuple(gaps.tolist()), squares / READING_MM**2, freedom, ruled=True
    )


def _trial(model: Model, sheet: Floats, measured: Floats, weights: Floats) -> Trial:
    affine = SOLVERS[model](sheet, measured, weights)
    gaps = distances(affine, sheet, measured)
    squares = float((weights * gaps**2).sum()) / READING_MM**2
    freedom = 2 * len(sheet) - PARAMETERS[model]
    return Trial(model, affine, tuple(gaps.tolist()), squares, freedom)


def _mirrors(affine: Affine) -> bool:
    a, b, c, d, _, _ = affine
    return a * d - b * c <= 0
