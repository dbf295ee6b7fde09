"""A long list made on a cluster is the job that this machine would have made."""

import shutil
from pathlib import Path

import pytest

from namebatch.cluster import Cluster
from namebatch.errors import ClusterError
from namebatch.pipeline import Plan, Settings, plan_job
from namebatch.resources import bundled
from namebatch.sections import Wish, kept_for, make_folder
from tests.cluster.processes import Dask
from tests.sections import batches

CARDS = "bag-tag"


class Ending:
    """Progress that ends workers once pieces are being made.

    Args:
        cluster: whose.
        number: of workers that are ended.
    """

    def __init__(self, cluster: Dask, number: int) -> None:
        self.left = cluster.workers[:number]

    def __call__(self, stage: str, done: int, total: int) -> None:
        """Hear of a step."""
        while stage == "pieces" and done and self.left:
            self.left.pop().kill()


def make(cluster: Dask, plan: Plan, out: Path, ended: int) -> None:
    """Make a job, so many workers being ended in the middle."""
    crew = Cluster(cluster.address, gone_s=1.0)
    make_folder(plan, out, Wish(False, Ending(cluster, ended), size=batches.SIZE, crew=crew))


def same(place: Path) -> bool:
    """Whether both jobs below a folder have the same files, and nothing else is left there."""
    assert {one.name for one in place.iterdir() if one.name[0] == "."} == set()
    return batches.files_of(place / "here") == batches.files_of(place / "there")


def test_same_bytes_though_a_worker_is_lost(pair: Dask, tmp_path: Path) -> None:
    """Two workers of which one is killed in the middle give the files of one process here."""
    path = batches.plain_list(tmp_path)
    batches.made(path, tmp_path / "here", CARDS)
    make(pair, plan_job(path, Settings(CARDS, workers=1)), tmp_path / "there", 1)
    assert same(tmp_path)
    assert sum(one.poll() is None for one in pair.workers) == 1


def test_all_are_lost_and_the_template_goes_along(pair: Dask, tmp_path: Path) -> None:
    """When all are killed nothing half stands there; the next run ends with the same bytes.

    The workers cannot see the template's folder: they are sent what is in it.
    """
    folder = tmp_path / "fob"
    shutil.copytree(bundled("templates") / "key-fob", folder)
    path = batches.plain_list(tmp_path)
    batches.made(path, tmp_path / "here", str(folder))
    plan = plan_job(path, Settings(str(folder), workers=1))
    folder.rename(tmp_path / "moved")
    with pytest.raises(ClusterError, match=r"What is whole is kept"):
        make(pair, plan, tmp_path / "there", 2)
    assert not (tmp_path / "there").exists()
    assert kept_for(tmp_path / "there") is not None
    pair.fill(2)
    make(pair, plan, tmp_path / "there", 0)
    assert same(tmp_path)
