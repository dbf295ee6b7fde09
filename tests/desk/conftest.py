"""A docket whose job was made, kept for several tests."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from namebatch.desk import Desk
from namebatch.desk.work import Work
from tests.desk.desks import desk_in
from tests.desk.owner import Owner, ended, opened


@pytest.fixture(scope="session")
def made_data(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The data folder of a store with docket 1 and its job 1; not to be changed."""
    folder = tmp_path_factory.mktemp("made") / "data"
    with opened(folder) as (owner, work):
        view = ended(owner, work, owner.docket())
        assert view.state == "done", view
    return folder


@pytest.fixture
def bench(made_data: Path, tmp_path: Path) -> Iterator[tuple[Owner, Work]]:
    """A copy of it, opened."""
    shutil.copytree(made_data, tmp_path / "data")
    with opened(tmp_path / "data") as pair:
        yield pair


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    """A desk with nothing on it that makes its pieces in this process."""
    with desk_in(tmp_path / "data") as empty:
        yield empty
