"""Compiled loops: same results without the compiler; a cold start is known."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

import namebatch
from namebatch.outline.compiled import ROOMS, compiled, is_cold, stamp_of


def test_compiled_function_is_the_function() -> None:
    """Compiled or not, the result is the same."""

    def plain(n: int) -> float:
        total = 0.0
        for i in range(n):
            total += i * 0.1
        return total

    assert compiled(plain)(1000) == plain(1000)


CALLED = """from namebatch.outline.compiled import compiled

@compiled
def one() -> int:
    return {}
"""
CALLS = """from namebatch.outline.compiled import compiled
from namebatch.outline.called import one

@compiled
def more() -> int:
    return one() + 1
"""


def test_code_that_calls_changed_code_is_made_anew(tmp_path: Path) -> None:
    """A loop that calls one of another module never runs with what that was before."""
    pytest.importorskip("numba")
    room = tmp_path / "namebatch" / "outline"
    room.mkdir(parents=True)
    (tmp_path / "namebatch" / "sheet").mkdir()
    own = Path(namebatch.__file__).parent
    for name in ("__init__.py", "outline/compiled.py"):
        (tmp_path / "namebatch" / name).write_bytes((own / name).read_bytes())
    (room / "__init__.py").touch()
    (room / "calls.py").write_text(CALLS, encoding="utf-8")
    ask = "from namebatch.outline.calls import more; print(more())"
    for number in (1, 5):
        (room / "called.py").write_text(CALLED.format(number), encoding="utf-8")
        done = subprocess.run(
            [sys.executable, "-c", ask],
            cwd=tmp_path, check=True, capture_output=True, text=True,
            env={**os.environ, "PYTHONDONTWRITEBYTECODE": "1", "PYTHONPATH": str(tmp_path)},
        )  # fmt: skip
        assert int(done.stdout) == number + 1


def test_rooms_with_compiled_loops_are_known() -> None:
    """No other room has any, or its changes would not be noticed."""
    own = Path(namebatch.__file__).parent
    found = {
        module.parent.relative_to(own).as_posix()
        for module in own.rglob("*.py")
        if "\n@compiled\n" in module.read_text(encoding="utf-8")
    }
    assert found == set(ROOMS)
    assert stamp_of(own) != stamp_of(own / "web")


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


def test_code_older_than_any_loop_is_cold(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One changed module makes all code anew, though that of others is newer than they are."""
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path))
    package = Path(namebatch.__file__).parent
    loops = [file for room in ROOMS for file in (package / room).glob("*.py")]
    times = [f.stat().st_mtime for f in loops if "@compiled" in f.read_text(encoding="utf-8")]
    index = tmp_path / "boundary.nearest_edge-1.py311.nbi"
    index.write_bytes(b"")
    for second, cold in ((-1, True), (1, False)):
        os.utime(index, (max(times) + second, max(times) + second))
        assert is_cold() == cold
