"""Tests of making spoiled pieces again."""
