"""Long lists made in parts: memory that does not grow, processes at will, going on after a stop."""

from namebatch.sections.make import Made, Wish, make_folder
from namebatch.sections.place import kept_for
from namebatch.sections.split import SECTION, pieces_in
from namebatch.sections.task import Searched, Step

__all__ = ["SECTION", "Made", "Searched", "Step", "Wish", "kept_for", "make_folder", "pieces_in"]
