"""Run in a worker before anything else: a package cannot be imported there."""

import sys

sys.modules["pikepdf"] = None  # type: ignore[assignment]
