"""How much a list may hold. Lists come from strangers; a machine in a workshop is small."""

from typing import Final

FILE_BYTES: Final = 64 * 1024 * 1024
"""Largest list file, and largest pasted text, in bytes."""

UNZIPPED_BYTES: Final = 256 * 1024 * 1024
"""Largest sum of the parts of an XLSX or ODS file once unpacked, in bytes."""

ZIP_PARTS: Final = 2_000
"""Most parts in an XLSX or ODS file."""

MARKUP: Final = 20_000_000
"""Most signs ``<`` in the parts of an XLSX or ODS file: four for each of `CELLS`."""

ELEMENTS: Final = 5_000_000
"""Most elements in them, some microseconds each; 100,000 rows of twenty cells have four million."""

XML_DEPTH: Final = 200
"""Deepest nesting in a part of an XLSX or ODS file; spreadsheet programs stay below 20."""

SHEETS_TRIED: Final = 5
"""How many sheets are read to find one that is not empty."""

SHEET_CHARACTERS: Final = 64 * 1024 * 1024
"""Most characters in the cells of a spreadsheet, each cell counted as often as it is repeated."""

CELLS: Final = 5_000_000
"""Most cells with something in them; each takes some hundred bytes of memory."""

GRID_CELLS: Final = 10_000_000
"""Largest filled rectangle of a spreadsheet, in cells, empty ones included."""

ROWS: Final = 1_000_000
"""Most lines of a list, the header and blank ones included."""

FILLED_ROWS: Final = 100_000
"""Most lines with anything in them: as many as a job may have pieces, `pipeline.MOST_PIECES`."""

COLUMNS: Final = 500
"""Most columns of a list."""

CELL_CHARACTERS: Final = 10_000
"""Longest cell of any column, used or not."""

FIELD_CHARACTERS: Final = 120
"""Longest text that a piece may carry."""

QUANTITY: Final = 9_999
"""Most pieces that one row may order."""

TITLE_LINES: Final = 20
"""How far down a header line is looked for, to tell people about lines above it."""
