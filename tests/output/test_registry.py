"""The list of writers."""

from importlib import import_module

import pytest

from namebatch.output.registry import WRITERS, Writer


@pytest.mark.parametrize("writer", WRITERS, ids=lambda writer: writer.name)
def test_every_writer_has_its_module(writer: Writer) -> None:
    """A name in the registry that no module answers to would stop a job at its end."""
    module = import_module(f"namebatch.output.{writer.name}")
    assert callable(module.write)


def test_names_and_labels_are_unique() -> None:
    """Each stage can be told from the others on the progress line."""
    assert len({writer.name for writer in WRITERS}) == len(WRITERS)
    assert len({writer.label for writer in WRITERS}) == len(WRITERS)
