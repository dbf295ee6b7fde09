"""Tests of the registration."""
