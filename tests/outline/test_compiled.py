"""Compiled loops: same results without the compiler; a cold start is known."""

import os
from pathlib import Path

import pytest

from namebatch.outline.compiled import compiled, is_cold


def test_compiled_function_is_the_function() -> None:
    """Compiled or not, the result is the same."""

    def plain(n: int) -> float:
        total = 0.0
        for i in range(n):
            total += i * 0.1
        return total

    assert compiled(plain)(1000) == plain(1000)


def test_cold_start_is_known(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder without kept code is cold, one with it is not."""
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path))
    assert is_cold()
    (tmp_path / "thing.nbi").write_bytes(b"")
    assert not is_cold()


def test_code_of_an_older_version_is_cold(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """After an update all is compiled anew, so that the first run takes as long as ever."""
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path))
    index = tmp_path / "boundary.nearest_edge-1.py311.nbi"
    index.write_bytes(b"")
    assert not is_cold()
    os.utime(index, (0, 0))
    assert is_cold()
