"""What a run that was broken off kept is taken by the same command, and by no other."""

import json
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from multiprocessing import active_children
from pathlib import Path
from threading import Thread

import pytest

from namebatch.crew import Done, Here, Host, Kit, Processes, Task, Work
from namebatch.errors import OutputError, WorkerError
from namebatch.sections import kept_for
from namebatch.sections.place import kept_place
from tests.sections import batches


@dataclass
class Counting:
    """Does tasks in this process, notes which, and stops as if Ctrl-C was pressed after some."""

    most: int = 99
    stop: type[BaseException] = KeyboardInterrupt
    numbers: list[int] = field(default_factory=list)

    def run(
        self, work: Work[Kit, Task, Done], tasks: Sequence[tuple[int, Task]], host: Host
    ) -> Iterator[tuple[int, Done]]:
        """See `crew.Crew`."""
        for number, done in Here().run(work, tasks, host):
            self.numbers.append(number)
            yield number, done
            if len(self.numbers) >= self.most:
                raise self.stop("stopped")


@pytest.fixture(scope="module")
def undisturbed(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """Files of the job that nobody broke off."""
    place = tmp_path_factory.mktemp("undisturbed")
    batches.made(batches.plain_list(place), place / "job")
    return batches.files_of(place / "job")


def stopped(place: Path, most: int, stop: type[BaseException] = KeyboardInterrupt) -> Path:
    """A make that ends after so many of its three sections; gives the list."""
    path = batches.plain_list(place)
    with pytest.raises(stop):
        batches.made(path, place / "job", crew=Counting(most, stop))
    return path


def test_whole_sections_are_taken(tmp_path: Path, undisturbed: dict[str, str]) -> None:
    """After Ctrl-C the same command makes only what is lacking; files are as if never stopped."""
    path = stopped(tmp_path, 2)
    assert not (tmp_path / "job").exists()
    assert kept_for(tmp_path / "job") is not None
    crew = Counting()
    batches.made(path, tmp_path / "job", crew=crew)
    assert crew.numbers == [3]
    assert batches.files_of(tmp_path / "job") == undisturbed
    assert sorted(one.name for one in tmp_path.iterdir()) == ["job", "list.csv"]


def test_a_lost_worker_keeps_what_is_whole(tmp_path: Path, undisturbed: dict[str, str]) -> None:
    """The same after a worker was lost."""
    path = stopped(tmp_path, 1, WorkerError)
    crew = Counting()
    batches.made(path, tmp_path / "job", crew=crew)
    assert crew.numbers == [2, 3]
    assert batches.files_of(tmp_path / "job") == undisturbed


def test_a_worker_is_killed(tmp_path: Path) -> None:
    """Of a worker that is killed the lines are told that it was at, and what to do."""

    def kill_one() -> None:
        while not (there := active_children()):
            time.sleep(0.01)
        there[0].kill()

    path = batches.plain_list(tmp_path)
    killer = Thread(target=kill_one)
    killer.start()
    with pytest.raises(WorkerError, match=r"made lines (2 to 9|10 to 17); it may .* is kept"):
        batches.made(path, tmp_path / "job", crew=Processes(2))
    killer.join()
    assert not (tmp_path / "job").exists()
    assert not active_children()


def test_another_list_begins_anew(tmp_path: Path) -> None:
    """Of a list that was changed since nothing is taken, and the old sections are removed."""
    path = stopped(tmp_path, 2)
    path.write_text(path.read_text(encoding="utf-8").replace("Inka", "Inga"), encoding="utf-8")
    crew = Counting()
    batches.made(path, tmp_path / "job", crew=crew)
    assert crew.numbers == [1, 2, 3]
    assert not list(tmp_path.glob(".*"))


def test_other_settings_begin_anew(tmp_path: Path) -> None:
    """Sections that were laid out with another gap are not taken."""
    path = stopped(tmp_path, 2)
    crew = Counting()
    batches.made(path, tmp_path / "job", crew=crew, gap_mm=5.0)
    assert crew.numbers == [1, 2, 3]


def _changed(folder: Path) -> None:
    file = next((folder / "00001" / "files" / "cut").glob("*.svg"))
    file.write_bytes(file.read_bytes() + b"\n")


def _gone(folder: Path) -> None:
    next((folder / "00001" / "files" / "previews").glob("*.svg")).unlink()


def _more(folder: Path) -> None:
    (folder / "00001" / "files" / "cut" / "face-999.svg").write_text("<svg/>", encoding="utf-8")


def _linked(folder: Path) -> None:
    file = folder / "00001" / "facts.json"
    elsewhere = folder.parent / "elsewhere.json"
    file.rename(elsewhere)
    file.symlink_to(elsewhere)


def _no_marker(folder: Path) -> None:
    (folder / "00001" / "section.json").unlink()


def _nonsense(folder: Path) -> None:
    (folder / "00001" / "section.json").write_text('{"number": [', encoding="utf-8")


def _other_number(folder: Path) -> None:
    (folder / "00001").rename(folder / "moved")
    (folder / "00002").rename(folder / "00001")
    (folder / "moved").rename(folder / "00002")


def _after_others(folder: Path) -> None:
    marker = folder / "00002" / "section.json"
    content = json.loads(marker.read_bytes())
    content["before"]["boards"] += 1
    marker.write_text(json.dumps(content), encoding="utf-8")


SPOILED: Sequence[tuple[Callable[[Path], None], list[int]]] = (
    (_changed, [1, 3]),
    (_gone, [1, 3]),
    (_more, [1, 3]),
    (_linked, [1, 3]),
    (_no_marker, [1, 3]),
    (_nonsense, [1, 3]),
    (_other_number, [1, 2, 3]),
    (_after_others, [2, 3]),
)


@pytest.mark.parametrize(("spoil", "again"), SPOILED)
def test_a_section_that_is_not_as_written_is_made_again(
    tmp_path: Path,
    undisturbed: dict[str, str],
    spoil: Callable[[Path], None],
    again: list[int],
) -> None:
    """A file that was changed, is gone, new, linked, or a marker that lies: made anew."""
    path = stopped(tmp_path, 2)
    kept = kept_for(tmp_path / "job")
    assert kept is not None
    spoil(kept)
    crew = Counting()
    batches.made(path, tmp_path / "job", crew=crew)
    assert crew.numbers == again
    assert batches.files_of(tmp_path / "job") == undisturbed


def test_no_memory_is_told(tmp_path: Path) -> None:
    """Where this process itself has no memory left, that is told and what is whole is kept."""
    path = batches.plain_list(tmp_path)
    with pytest.raises(WorkerError, match=r"run out of memory.* run the same command again"):
        batches.made(path, tmp_path / "job", crew=Counting(1, MemoryError))
    assert kept_for(tmp_path / "job") is not None


def test_the_page_keeps_nothing(tmp_path: Path) -> None:
    """Where nothing is to be kept, a make that is broken off leaves nothing behind."""
    path = batches.plain_list(tmp_path)
    with pytest.raises(KeyboardInterrupt):
        batches.made(path, tmp_path / "job", crew=Counting(2), keep=False)
    assert [one.name for one in tmp_path.iterdir()] == ["list.csv"]


def test_an_impossible_job_keeps_nothing(tmp_path: Path) -> None:
    """Where the same command would only fail again, no names are left lying."""
    path = stopped(tmp_path, 2)
    with pytest.raises(OutputError):
        batches.made(path, tmp_path / "job", crew=Counting(1, OutputError))
    assert [one.name for one in tmp_path.iterdir()] == ["list.csv"]


def test_two_runs_at_once_are_refused(tmp_path: Path) -> None:
    """While one run makes a job, another one for the same folder is told so."""
    path = batches.plain_list(tmp_path)
    with (
        kept_place((tmp_path / "job").resolve(), "00"),
        pytest.raises(OutputError, match=r"Another namebatch is making the job"),
    ):
        batches.made(path, tmp_path / "job")


def test_a_short_list_forgets_what_was_kept(tmp_path: Path) -> None:
    """What was kept for a folder goes as soon as any job stands in it."""
    path = stopped(tmp_path, 2)
    batches.made(path, tmp_path / "job", size=100)
    assert sorted(one.name for one in tmp_path.iterdir()) == ["job", "list.csv"]


def test_only_its_owner_may_look(tmp_path: Path) -> None:
    """What is kept holds names: nobody else may read it."""
    stopped(tmp_path, 1)
    kept = kept_for(tmp_path / "job")
    assert kept is not None
    assert kept.stat().st_mode & 0o777 == 0o700
