"""namebatch: from a list of names and a template to sheets that can be printed and cut."""

__version__ = "0.1.0"
