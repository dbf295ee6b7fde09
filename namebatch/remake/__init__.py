"""Making spoiled pieces of an earlier job again, the same as they were.

Front doors: `Wish`, `plan_remake`, `make_again`, `next_folder`, `alone`.
"""

from namebatch.remake.again import Remake, make_again, plan_remake
from namebatch.remake.alone import alone
from namebatch.remake.numbering import check_place, next_folder
from namebatch.remake.spoiled import ids_of_file
from namebatch.remake.wish import Wish

__all__ = [
    "Remake",
    "Wish",
    "alone",
    "check_place",
    "ids_of_file",
    "make_again",
    "next_folder",
    "plan_remake",
]
