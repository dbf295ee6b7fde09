"""Checks of the SVG reader."""
