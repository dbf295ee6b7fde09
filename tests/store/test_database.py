"""Nothing that was shown as saved is lost; nothing that is not ours is touched."""

import random
import sqlite3
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from namebatch.errors import StoreError
from namebatch.store import Change, KeptList, Store, default_folder, dockets, history, open_store
from namebatch.store.database import FILE, open_file
from namebatch.store.schema import MIGRATIONS, VERSION_1
from namebatch.store.values import said_at
from tests.store.conftest import LIST, START, later

WHEN = said_at(START)
ROOT = Path(__file__).parents[2]


def _writer(folder: Path, docket: int, first: int, count: int) -> "subprocess.Popen[str]":
    numbers = [str(folder), str(docket), str(first), str(count)]
    return subprocess.Popen(
        [sys.executable, "-m", "tests.store.writer", *numbers],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        text=True,
    )


@pytest.mark.parametrize("seed", range(6))
def test_what_was_reported_as_saved_outlives_a_kill(tmp_path: Path, seed: int) -> None:
    """A writing process is killed at any moment: every step that it told of is there, whole."""
    store = open_store(tmp_path)
    docket = dockets.create(store, "one", START).number
    store.close()
    process = _writer(tmp_path, docket, 0, 100_000)
    assert process.stdout is not None
    told = [int(process.stdout.readline())]
    time.sleep(random.Random(seed).uniform(0.0, 0.25))
    process.kill()
    told += [int(line) for line in process.stdout.read().splitlines() if line.strip()]
    process.stdout.close()
    process.wait()
    store = open_store(tmp_path)
    steps = history.steps(store, docket)
    # one more may have been saved and not been told of any more
    assert len(steps) - len(told) in (0, 1)
    chosen = history.choices(store, docket).settings
    assert {f"n{number}" for number in range(len(steps))} == set(chosen) - {"last"}
    assert history.undo(store, docket, later(9)) is not None
    store.close()


def test_a_commit_waits_for_the_disk(store: Store) -> None:
    """What a power failure must not take: the log is flushed at every commit.

    SQLite, "PRAGMA synchronous": in WAL mode only FULL (2) is durable across a power failure.
    """
    with store.reading() as connection:
        assert connection.execute("PRAGMA synchronous").fetchone() == (2,)
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)
        assert connection.execute("PRAGMA foreign_keys").fetchone() == (1,)


def test_two_processes_write_at_once(tmp_path: Path) -> None:
    """Both open a new folder and write into one docket; no step of either is lost."""
    processes = [_writer(tmp_path, 1, 0, 0) for _ in range(3)]
    for process in processes:
        process.communicate()
    assert [process.returncode for process in processes] == [0, 0, 0]
    store = open_store(tmp_path)
    docket = dockets.create(store, "one", START).number
    processes = [_writer(tmp_path, docket, 1000 * k, 60) for k in (1, 2)]
    for process in processes:
        process.communicate()
    assert [process.returncode for process in processes] == [0, 0]
    chosen = history.choices(store, docket).settings
    assert set(chosen) - {"last"} == {f"n{1000 * k + n}" for k in (1, 2) for n in range(60)}
    assert len(history.steps(store, docket)) == 120
    store.close()


def test_threads_share_a_store(store: Store) -> None:
    """A server answers several requests at a time."""
    docket = dockets.create(store, "one", START).number

    def write(first: int) -> None:
        for number in range(first, first + 10):
            change = Change(settings={f"n{number}": number})
            history.change(store, docket, "step", later(1), change)

    threads = [threading.Thread(target=write, args=(10 * k,)) for k in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(history.steps(store, docket)) == 40


def test_a_writer_that_does_not_end_is_told(tmp_path: Path) -> None:
    """The second one waits, then says why, and nothing was changed."""
    store, other = open_store(tmp_path), open_store(tmp_path)
    other._connection.execute("PRAGMA busy_timeout = 50")
    with (
        store.writing(),
        pytest.raises(StoreError, match="Another namebatch has been writing"),
        other.writing(),
    ):
        pass
    assert dockets.all_dockets(other) == ()
    store.close()
    other.close()


def test_nothing_of_a_change_that_fails_is_kept(store: Store) -> None:
    """All or nothing."""
    docket = dockets.create(store, "one", START).number

    def half_way() -> None:
        with store.writing() as connection:
            connection.execute("UPDATE docket SET title = 'two'")
            raise RuntimeError("half way")

    with pytest.raises(RuntimeError, match="half way"):
        half_way()
    assert dockets.docket(store, docket).title == "one"


def _some(folder: Path, rows: int = 200) -> Path:
    store = open_store(folder)
    for number in range(rows):
        dockets.create(store, f"docket {number}", START)
    store.close()
    return folder / FILE


@pytest.mark.parametrize("damage", ["text", "cut short", "a page overwritten"])
def test_a_damaged_file_is_left_as_it_is(tmp_path: Path, damage: str) -> None:
    """It may be all that there is; whoever looks after it decides."""
    path = _some(tmp_path)
    data = path.read_bytes()
    path.write_bytes(
        {
            "text": b"name\nMarlo\n" * 500,
            "cut short": data[: len(data) // 2],
            "a page overwritten": data[:4096] + b"\xa5" * 4096 + data[8192:],
        }[damage]
    )
    before = path.read_bytes()
    with pytest.raises(StoreError, match=r"is damaged, or no database .* left as it is\. Put"):
        open_store(tmp_path)
    assert path.read_bytes() == before
    beside = [entry for entry in tmp_path.iterdir() if entry.name.endswith("-wal")]
    assert [entry.stat().st_size for entry in beside] in ([], [0])


def test_a_newer_file_is_left_as_it_is(tmp_path: Path) -> None:
    """An older program must not write into tables that it does not know."""
    path = _some(tmp_path, 1)
    newer = (*MIGRATIONS, "CREATE TABLE more (x)")
    open_store(tmp_path, newer).close()
    before = path.read_bytes()
    known = len(MIGRATIONS)
    told = rf"newer version of namebatch \({known + 1}; this one knows {known}\)"
    with pytest.raises(StoreError, match=told):
        open_store(tmp_path)
    assert path.read_bytes() == before


def test_the_database_of_another_program_is_refused(tmp_path: Path) -> None:
    """A file of the same name may be anybody's."""
    connection = sqlite3.connect(tmp_path / FILE)
    connection.execute("CREATE TABLE tide (height REAL)")
    connection.close()
    before = (tmp_path / FILE).read_bytes()
    with pytest.raises(StoreError, match="database of another program"):
        open_store(tmp_path)
    assert (tmp_path / FILE).read_bytes() == before


def test_an_older_file_is_brought_up_to_date(tmp_path: Path) -> None:
    """Everything in it stays; a step that fails leaves the file at its old version."""
    _some(tmp_path, 3)
    with pytest.raises(StoreError, match="syntax error"):
        open_store(tmp_path, (*MIGRATIONS, "CREATE TABLE more (x); nothing like a statement"))
    assert len(dockets.all_dockets(open_store(tmp_path))) == 3
    store = open_store(tmp_path, (*MIGRATIONS, "ALTER TABLE docket ADD COLUMN customer TEXT"))
    assert len(dockets.all_dockets(store)) == 3
    with store.reading() as connection:
        assert connection.execute("SELECT customer FROM docket LIMIT 1").fetchone() == (None,)
    store.close()


def test_a_docket_of_the_first_version_keeps_its_list(tmp_path: Path) -> None:
    """Its list counts as before, another one can be taken back, and deleting leaves no name."""
    old = open_file(tmp_path, (VERSION_1,))
    with old.writing() as connection:
        connection.execute("INSERT INTO docket VALUES (3, 'Crew', ?, ?, 'look', 0)", (WHEN, WHEN))
        connection.execute("INSERT INTO list VALUES (3, 'crew.csv', 0, ?)", (LIST.data,))
        connection.execute("INSERT INTO kept VALUES (3, 'setting', 'template', '\"bag-tag\"')")
    old.close()
    store = open_store(tmp_path)
    assert dockets.kept_list(store, 3) == LIST
    assert dockets.docket(store, 3).list_name == "crew.csv"
    assert history.choices(store, 3).settings == {"template": "bag-tag"}
    other = KeptList("other.csv", b"name\nOdile\n")
    history.change(store, 3, "another list", START, Change(names=other))
    assert dockets.kept_list(store, 3) == other
    history.undo(store, 3, START)
    assert dockets.kept_list(store, 3) == LIST
    assert dockets.delete(store, 3).complete
    files = [path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()]
    assert not any(b"Marlo Teasel" in data or b"Odile" in data for data in files)
    store.close()


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    """The remedy is another folder."""
    (tmp_path / "file").write_text("x", encoding="utf-8")
    with pytest.raises(StoreError, match=r"cannot be made: .*--data DIR"):
        open_store(tmp_path / "file" / "data")


def test_the_folder_is_where_the_system_keeps_such_things(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """XDG Base Directory Specification: user data below ``$XDG_DATA_HOME``."""
    if not sys.platform.startswith("linux"):
        pytest.skip("the specification is for Linux")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert default_folder() == tmp_path / "namebatch"


def test_a_closed_store_says_so(tmp_path: Path) -> None:
    """Whoever comes too late is refused in words, not by the database."""
    store = open_file(tmp_path)
    store.close()
    with pytest.raises(StoreError, match="is being closed"), store.writing():
        pass


def test_what_may_not_be_written_tells_what_to_do(tmp_path: Path) -> None:
    """A folder that can only be read is told with a way out."""
    open_file(tmp_path).close()
    uri = f"{(tmp_path / FILE).as_uri()}?mode=ro"
    reader = Store(tmp_path, sqlite3.connect(uri, uri=True, isolation_level=None))
    with (
        pytest.raises(StoreError, match=r"may not be written.*--data DIR"),
        reader.writing() as connection,
    ):
        connection.execute("DELETE FROM docket")
    reader.close()


@pytest.mark.skipif(sys.platform == "win32", reason="no such rights there")
def test_nobody_else_can_read_what_is_kept(tmp_path: Path) -> None:
    """Database and log are the owner's alone, in a folder that all can read, and an old one too."""
    tmp_path.chmod(0o755)
    (tmp_path / FILE).touch(mode=0o644)
    store = open_file(tmp_path)
    dockets.create(store, "one", START)
    modes = {path.name: path.stat().st_mode & 0o777 for path in tmp_path.iterdir()}
    assert modes == {FILE: 0o600, f"{FILE}-wal": 0o600, f"{FILE}-shm": 0o600}
    store.close()
