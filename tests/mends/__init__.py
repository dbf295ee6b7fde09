"""Tests of changes by hand."""
