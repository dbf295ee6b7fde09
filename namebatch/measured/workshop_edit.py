"""A few values of a workshop file set; comments and order stay, the file changes whole or not."""

import os
import tempfile
from collections.abc import Mapping, MutableMapping
from pathlib import Path
from typing import Final

from namebatch.errors import MeasureError, WorkshopError
from namebatch.names.characters import shown
from namebatch.template import load_workshop
from namebatch.template.workshop import Workshop

_MARK: Final = "\ufeff"


def set_values(path: Path | None, values: Mapping[tuple[str, ...], tuple[float, ...]]) -> Workshop:
    """Set lists of numbers in a workshop file.

    Args:
        path: the file; it must exist and be sound.
        values: keys from the outermost table inwards → the list.

    Returns:
        The workshop as it now is.

    Raises:
        MeasureError: there is no file to store into, or it cannot be written.
        WorkshopError: the file is not usable, before or with the new values; it is as it was.
    """
    if path is None:
        raise MeasureError(
            "The example values cannot be changed. Name your own workshop file: --workshop FILE."
        )
    load_workshop(path)
    real = path.resolve()
    try:
        text = real.read_bytes().decode("utf-8")
        return write_workshop(real, _edited(text, values))
    except OSError as error:
        raise MeasureError(
            f'"{shown(path.name)}" cannot be written: {error.strerror}. It is as it was.'
        ) from error


def _edited(text: str, values: Mapping[tuple[str, ...], tuple[float, ...]]) -> str:
    """The text with the values in it, its line ends and its byte order mark kept."""
    import tomlkit

    mark = _MARK if text.startswith(_MARK) else ""
    document = tomlkit.parse(text.removeprefix(_MARK))
    for keys, numbers in values.items():
        table: MutableMapping[str, object] = document
        for key in keys[:-1]:
            inner = table[key]
            if not isinstance(inner, MutableMapping):
                raise MeasureError(f"{'.'.join(keys[:-1])} is no table in the workshop file.")
            table = inner
        table[keys[-1]] = list(numbers)
    edited = tomlkit.dumps(document)
    if "\r\n" in text:
        edited = edited.replace("\r\n", "\n").replace("\n", "\r\n")
    return mark + edited


def write_workshop(real: Path, text: str) -> Workshop:
    """Write a workshop file in one step, after the text was read as one.

    Args:
        real: the file, links followed; it need not be there yet, its folder must.
        text: what it is to hold.

    Raises:
        WorkshopError: the text is no usable workshop file; the file is as it was.
        OSError: it cannot be written; it is as it was.
    """
    handle, name = tempfile.mkstemp(prefix=f".{real.name[:60]}.", suffix=".toml", dir=real.parent)
    fresh = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(text.encode("utf-8"))
        fresh.chmod(real.stat().st_mode & 0o7777 if real.exists() else 0o644)
        try:
            workshop = load_workshop(fresh)
        except WorkshopError as error:
            raise WorkshopError(
                f"The workshop file {real.name} cannot take these values; it is as it was.",
                error.problems,
            ) from None
        fresh.replace(real)
    except BaseException:
        fresh.unlink(missing_ok=True)
        raise
    return workshop
