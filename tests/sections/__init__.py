"""Tests of lists made in sections."""
