"""Tests of the list room."""
