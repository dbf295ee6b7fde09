"""What was measured at the bench, and what is made of it.

Cut files moved onto a print as it lies; test sheets for printer and cutter, and their results in
the workshop file.

Front doors: `align.align`, `print_scale`, `kerf`.
"""
