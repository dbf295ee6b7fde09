"""Where the data that comes with the program lies: templates, the font catalogue, example lists."""

from pathlib import Path

KINDS = ("templates", "fonts", "examples")


def bundled(kind: str) -> Path:
    """The folder of one kind of bundled data.

    A wheel carries the data inside the package, under ``_bundled``; in a checkout it lies at
    the top of the repository, where people look for it.

    Args:
        kind: ``templates``, ``fonts`` or ``examples``.

    Returns:
        The folder; it is not promised to exist when the installation is incomplete.

    Raises:
        ValueError: for any other kind.
    """
    if kind not in KINDS:
        raise ValueError(f"bundled data is one of {', '.join(KINDS)}, not {kind!r}")
    package = Path(__file__).resolve().parent
    inside = package / "_bundled" / kind
    return inside if inside.is_dir() else package.parent / kind
