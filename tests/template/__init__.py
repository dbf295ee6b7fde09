"""Checks of templates and workshop files."""
