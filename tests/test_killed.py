"""A make that is killed at any moment leaves nothing half made under its final name."""

import json
import subprocess
import sys
from pathlib import Path

import pytest


@pytest.mark.skipif(sys.platform == "win32", reason="processes are not killed alike there")
def test_killed_at_fifty_moments(tmp_path: Path) -> None:
    """Under the final name stands the job before, the new one, or files without a manifest.

    The same command then completes it: the bytes are those of a run that nobody disturbed, and
    nothing of the killed one is left beside it.
    """
    command = [sys.executable, "-m", "tests.killing", str(tmp_path), "50"]
    told = subprocess.run(command, check=True, capture_output=True, text=True, timeout=600)
    found = json.loads(told.stdout)
    assert found["wrong"] == []
    assert found["seen"]["as before"] >= 10
    assert found["files"] > 10
