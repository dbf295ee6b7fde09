"""Workers that would make other files are told before anything is made."""

import shutil
from collections.abc import Iterator
from importlib.metadata import PackageNotFoundError
from pathlib import Path
from typing import Any

import pytest

from namebatch import __version__
from namebatch.cluster import Cluster
from namebatch.cluster.checkin import SHOWN, check_in
from namebatch.cluster.connect import connected
from namebatch.cluster.makeup import differences, makeup, packages
from namebatch.errors import ClusterError
from namebatch.text.catalogue import load_catalogue
from tests.cluster.processes import Dask, dask
from tests.sections import batches


@pytest.fixture(scope="module")
def mixed(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Dask]:
    """Three workers: one of another version, one that lacks a package, one as it should be."""
    with dask(tmp_path_factory.mktemp("mixed")) as running:
        for before in ("tests.cluster.older", "tests.cluster.lacking", ""):
            running.start_worker(before)
        running.wait()
        yield running


def made(cluster: Dask, place: Path) -> None:
    """Have a list made there."""
    crew = Cluster(cluster.address)
    batches.made(batches.plain_list(place), place / "job", crew=crew)


def test_another_version_and_a_missing_package(mixed: Dask, tmp_path: Path) -> None:
    """Each that would make other files is told with its reason; nothing is written."""
    with pytest.raises(ClusterError, match="2 of 3 workers would not make the same") as caught:
        made(mixed, tmp_path)
    told = sorted(problem.split(" (tcp://127.0.0.1:")[0] for problem in caught.value.problems)
    assert told == [
        f"namebatch 0.0.9, here {__version__}",
        "the package that has pikepdf is missing",
    ]
    assert not (tmp_path / "job").exists()


def test_a_typeface_of_ones_own(
    mixed: Dask, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A typeface that only this machine has is missed in the worker that is right otherwise."""
    (tmp_path / "fonts").mkdir()
    shutil.copy(load_catalogue().infos[0].path, tmp_path / "fonts" / "Harbour.ttf")
    monkeypatch.chdir(tmp_path)
    with pytest.raises(ClusterError, match="3 of 3 workers would not make the same") as caught:
        made(mixed, tmp_path)
    assert 'typeface "Harbour" is missing' in "\n".join(caught.value.problems)


def test_a_worker_is_no_scheduler(mixed: Dask) -> None:
    """Who gives a worker's address is told to give the scheduler's."""
    client = connected(mixed.address)
    try:
        address = next(iter(client.nthreads()))
    finally:
        client.close()
    with pytest.raises(ClusterError, match="part of a cluster that is not its scheduler"):
        connected(address)


class Answers:
    """A client whose workers answer as they are told to."""

    def __init__(self, answers: dict[str, Any], versions: dict[str, Any]) -> None:
        self._answers = [answers, versions, {one: answers[one] for one in versions}]

    def run(self, function: object, *words: object, **options: object) -> dict[str, Any]:
        """The next answers."""
        return self._answers.pop(0)


def test_one_that_has_no_namebatch() -> None:
    """Workers without the program, of another version, or silent, are told apart."""
    here = makeup((), None)
    lacks = ModuleNotFoundError("No module named 'namebatch'", name="namebatch")
    answers: dict[str, Any] = {"a": lacks, "b": lacks, "c": OSError("cut off"), "d": here}
    versions = {"a": PackageNotFoundError("namebatch"), "b": "0.0.1", "c": OSError("cut off")}
    found = check_in(Answers(answers, versions), "run", ["a", "b", "c", "d", "e"], b"", here)
    assert found.fit == ("d",)
    assert found.problems == (
        "namebatch is not installed (a)",
        f"namebatch 0.0.1, here {__version__} (b)",
        "it does not answer: cut off (c)",
        "it does not answer: it is gone (e)",
    )


def test_many_differences_are_cut_short() -> None:
    """Of very many differences the first are told, and how many there are more."""
    here = {"namebatch": "1"} | {f"part-{n}": "1" for n in range(20)}
    there = {"namebatch": "1"} | {f"part-{n}": "2" for n in range(20)}
    answers = dict.fromkeys(("a", "b", "c", "d", "e"), there)
    found = check_in(Answers(answers, {}), "run", list(answers), b"", here)
    assert len(found.problems) == SHOWN
    assert found.problems[0] == "part-0 2, here 1 (a, b, c and 2 more)"
    assert found.problems[-1] == "… and 9 differences more"


def test_differences_in_words() -> None:
    """Another version, what is missing on either side, and another file are told apart."""
    here = {"namebatch": "1", "numpy": "2", "shapely": "3", 'typeface "Reed"': "aa", "zlib": ""}
    there = {"namebatch": "1", "numpy": "1", 'typeface "Reed"': "bb", "zlib": "9"}
    assert differences(there, here) == [
        "numpy 1, here 2",
        "shapely is missing",
        'typeface "Reed" is another file than here',
        "zlib is there, and missing here",
    ]
    assert differences({**there, "namebatch": "2"}, here) == ["namebatch 2, here 1"]
    assert differences(here, here) == []


def test_what_files_depend_on() -> None:
    """Among what is compared is what makes outlines and pages, and not what serves the page."""
    names = packages()
    assert {"shapely", "numpy", "reportlab", "fonttools", "spyrrow"} <= set(names)
    assert not {"fastapi", "uvicorn", "pytest", "distributed", "fontpkg-lora"} & set(names)
    found = makeup(names, None)
    assert found["namebatch"] == __version__
    assert found["shapely"]
