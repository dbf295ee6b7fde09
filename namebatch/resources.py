"""Where the data that comes with the program lies."""

from pathlib import Path
from typing import Literal

Kind = Literal["templates", "fonts", "examples"]


def bundled(kind: Kind) -> Path:
    """A folder of bundled data: inside an installed wheel, else at the repository's top."""
    package = Path(__file__).resolve().parent
    inside = package / "_bundled" / kind
    return inside if inside.is_dir() else package.parent / kind
