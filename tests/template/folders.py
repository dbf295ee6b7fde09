"""Helpers: template folders written to disk for a test."""

from pathlib import Path

import pytest

from namebatch.errors import TemplateError
from namebatch.template import load_template

HEAD = """\
format = 1
title = "Bag tag"
build = "faced"
faces = ["front", "back"]
material = "card-160"
board = "plywood-3"
"""
BASE = """
[base]
shape = "rounded-rectangle"
width_mm = 85.6
height_mm = 53.98
corner_mm = 3.18
"""
TEXT = """
[[text]]
column = "name"
box_mm = [10, 10, 60, 20]
fonts = ["Pacifico"]
min_height_mm = 3.5
max_height_mm = 9
"""
WHOLE = HEAD + BASE + TEXT


def written(folder: Path, toml: str | bytes, **files: str | bytes) -> Path:
    """A template folder; files are given by name with ``__`` for the dot."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, content in {"template__toml": toml, **files}.items():
        data = content.encode() if isinstance(content, str) else content
        (folder / name.replace("__", ".")).write_bytes(data)
    return folder


def problems_of(folder: Path) -> tuple[str, ...]:
    """What loading the folder complains about."""
    with pytest.raises(TemplateError, match="Template") as caught:
        load_template(folder)
    return caught.value.problems
