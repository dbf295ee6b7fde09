"""The programming interface, one router a subject; all of it lies below ``/api``."""
