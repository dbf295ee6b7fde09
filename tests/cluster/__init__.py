"""Tests of the crew on a cluster, with real schedulers and workers on this machine."""
