"""Registration: how a print lies under the cutter, from marks that were measured. Pure maths, mm.

Front doors: `fit_marks` and `moved`.
"""

from namebatch.registration.fit import Fit, Mark, Ruler
from namebatch.registration.marks import fit_marks
from namebatch.registration.moving import moved, moved_points

__all__ = ["Fit", "Mark", "Ruler", "fit_marks", "moved", "moved_points"]
