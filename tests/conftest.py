"""Lists and jobs for tests that go the whole way; what coverage is measured of."""

import os
from collections.abc import Callable, Generator
from pathlib import Path

import pytest
from hypothesis import settings

from namebatch.job import Job
from namebatch.pipeline import Settings, make_job, plan_job

settings.register_profile("ci", derandomize=True, deadline=None)
if os.environ.get("CI") == "true":
    # one run of a change fails or passes for everybody alike; at a desk examples stay random
    settings.load_profile("ci")


LONG = ("test_killed.py", "test_any_text.py", "test_documents.py")
"""Files whose tests take longest: begun first, so that no process waits for one at the end."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put the longest tests first, all others as they are."""
    items.sort(key=lambda item: item.path.name not in LONG)


HEART = tuple(Path(__file__).parent / room for room in ("text", "outline", "sheet", "registration"))
"""Where the tests of the heart rooms are."""


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Generator[None, object, object]:
    """Where coverage is asked for (`--cov`), measure what the heart rooms' own tests reach.

    All other tests go through the heart as well, and would hide what its own leave out.
    """
    measuring = getattr(item.config.pluginmanager.getplugin("_cov"), "cov_controller", None)
    if measuring is None or any(item.path.is_relative_to(room) for room in HEART):
        return (yield)
    measuring.pause()
    try:
        return (yield)
    finally:
        measuring.resume()


def silent(stage: str, done: int, total: int) -> None:
    """Progress that nobody watches."""


@pytest.fixture
def list_file(tmp_path: Path) -> Callable[[str], Path]:
    """Write a list and give its path."""

    def write(text: str, name: str = "list.csv") -> Path:
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return path

    return write


@pytest.fixture
def job_of(list_file: Callable[[str], Path]) -> Callable[..., Job]:
    """Make a job from the text of a list."""

    def make(text: str, template: str, **settings: object) -> Job:
        return make_job(plan_job(list_file(text), Settings(template, **settings)), silent)  # type: ignore[arg-type]

    return make
