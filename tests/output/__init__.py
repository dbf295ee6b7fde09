"""Tests of the output room."""
