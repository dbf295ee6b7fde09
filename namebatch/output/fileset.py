"""A few files written into a folder together: all of them, or the folder is as it was."""

import os
from collections.abc import Mapping
from pathlib import Path

from namebatch.output.making import NEW, making_place
from namebatch.output.swap import put_back, swap_in
from namebatch.output.target import cannot_write, refuse_blocked


def write_together(folder: Path, files: Mapping[str, bytes]) -> tuple[Path, ...]:
    """Write files into a folder; it is made if need be, other files in it are left alone.

    Args:
        folder: where they go.
        files: plain name → content, in the order in which they are put there.

    Returns:
        Their paths, in that order.

    Raises:
        OutputError: when the folder cannot be written, or a folder or link is in the way.
    """
    folder = folder.resolve()
    try:
        refuse_blocked(folder.parent, [f"{folder.name}/{name}" for name in files])
        folder.parent.mkdir(parents=True, exist_ok=True)
        put_back(folder)
        with making_place(folder) as place:
            for name, data in files.items():
                (place / NEW / name).write_bytes(data)
            if folder.exists():
                leaving = [name for name in files if os.path.lexists(folder / name)]
                swap_in(place, folder, leaving, tuple(files))
            else:
                (place / NEW).rename(folder)
    except OSError as error:
        raise cannot_write(folder, error) from error
    return tuple(folder / name for name in files)
