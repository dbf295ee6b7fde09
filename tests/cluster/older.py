"""Run in a worker before anything else: it is one of another version."""

import namebatch

namebatch.__version__ = "0.0.9"
