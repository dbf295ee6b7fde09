"""What the page keeps: dockets with their lists, choices, changes by hand, approvals and jobs.

One SQLite file in a data folder. Front doors: `open_store` and the functions of `dockets`,
`history`, `made` and `counted`, which take what it gives.
"""

from namebatch.store.database import Store, default_folder
from namebatch.store.model import (
    Change,
    Choices,
    Deleted,
    Docket,
    KeptList,
    MadeJob,
    MeasuredMark,
    SpoiledPiece,
    State,
    Step,
)
from namebatch.store.opening import open_store

__all__ = [
    "Change",
    "Choices",
    "Deleted",
    "Docket",
    "KeptList",
    "MadeJob",
    "MeasuredMark",
    "SpoiledPiece",
    "State",
    "Step",
    "Store",
    "default_folder",
    "open_store",
]
