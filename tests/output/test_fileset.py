"""Files that go into a folder together."""

from pathlib import Path

import pytest

from namebatch.errors import OutputError
from namebatch.output.fileset import write_together

FILES = {"a.svg": b"one", "a.json": b"two"}


def content(folder: Path) -> dict[str, bytes]:
    """Every file below a folder."""
    return {path.name: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_a_folder_is_made_and_filled_again(tmp_path: Path) -> None:
    """Old ones of the same name are replaced, others stay, nothing is left over."""
    folder = tmp_path / "job" / "aligned"
    paths = write_together(folder, FILES)
    assert [path.name for path in paths] == ["a.svg", "a.json"]
    (folder / "mine.txt").write_bytes(b"mine")
    write_together(folder, {"a.svg": b"new", "b.svg": b"other"})
    assert content(tmp_path) == {
        "a.svg": b"new", "a.json": b"two", "b.svg": b"other", "mine.txt": b"mine"
    }  # fmt: skip
    assert [path.name for path in folder.parent.iterdir()] == ["aligned"]


def test_a_failure_leaves_everything_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """When the last move fails the first are taken back."""
    write_together(tmp_path / "f", FILES)
    move = Path.replace

    def fails(self: Path, target: Path) -> Path:
        if self.parent.name == "new" and target.name == "a.json":
            raise OSError(28, "No space left on device")
        return move(self, target)

    monkeypatch.setattr(Path, "replace", fails)
    with pytest.raises(OutputError, match="the disk is full"):
        write_together(tmp_path / "f", {"a.svg": b"new", "a.json": b"newer", "c": b"3"})
    monkeypatch.undo()
    assert content(tmp_path) == FILES


def test_a_folder_or_link_in_the_way_is_refused(tmp_path: Path) -> None:
    """Nothing is written through a link."""
    (tmp_path / "f" / "a.svg").mkdir(parents=True)
    with pytest.raises(OutputError, match="is a folder where the job needs a file"):
        write_together(tmp_path / "f", FILES)
    (tmp_path / "plain").write_bytes(b"")
    with pytest.raises(OutputError, match="is a link or a file where"):
        write_together(tmp_path / "plain", FILES)
