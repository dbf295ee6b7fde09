"""Tests of what is made of measurements."""
