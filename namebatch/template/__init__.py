"""Templates and workshop files: what a piece looks like, and what it is made with.

Front doors: `load_template`, `find_template`, `bundled_templates`, `load_workshop`,
`sheet_size`. Everything else in here is how they do it.
"""

from namebatch.template.load import bundled_templates, find_template, load_template
from namebatch.template.paper import sheet_size
from namebatch.template.workshop_file import load_workshop

__all__ = [
    "bundled_templates",
    "find_template",
    "load_template",
    "load_workshop",
    "sheet_size",
]
