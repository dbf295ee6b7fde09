"""Tests of the list formats."""
