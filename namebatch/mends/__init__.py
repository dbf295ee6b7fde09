"""Changes by hand to single pieces: read from a file, looked through, put on rows.

Front doors: `read_mends`, `written`, `mend_from`, `check_mends`, `mended_rows`.
"""

from namebatch.mends.check import check_mends
from namebatch.mends.file import mend_from, read_mends, written
from namebatch.mends.rows import as_mended, mended_rows, recorded_mends
from namebatch.names.mend import Mend, TextMend

__all__ = [
    "Mend",
    "TextMend",
    "as_mended",
    "check_mends",
    "mend_from",
    "mended_rows",
    "read_mends",
    "recorded_mends",
    "written",
]
