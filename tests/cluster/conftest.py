"""One cluster for the tests of a module."""

from collections.abc import Iterator

import pytest

from tests.cluster import processes


@pytest.fixture(scope="module")
def cluster(tmp_path_factory: pytest.TempPathFactory) -> Iterator[processes.Dask]:
    """A scheduler and two workers."""
    with processes.dask(tmp_path_factory.mktemp("dask"), 2) as running:
        yield running


@pytest.fixture
def pair(cluster: processes.Dask) -> processes.Dask:
    """The same, with two workers alive: a test may have ended some."""
    cluster.fill(2)
    return cluster
