"""A workshop's own templates as folders: named, kept whole, taken away."""

import re
import shutil
import unicodedata
from collections.abc import Mapping
from pathlib import Path
from tempfile import mkdtemp
from typing import Final

from namebatch.desk.templates import own_names
from namebatch.errors import OutputError, TemplateError
from namebatch.template import bundled_templates
from namebatch.template.problems import shown

LONGEST_NAME: Final = 60
_NOT_NAME: Final = re.compile(r"[\W_]+")
_DEVICES: Final = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)")
"""Names that some systems keep for machines and not for folders (from memory)."""


def name_for(title: str) -> str:
    """The folder name that a title gives: small letters and digits of any script, hyphens.

    Raises:
        TemplateError: nothing is left of it, or no system takes a folder of that name.
    """
    plain = unicodedata.normalize("NFC", title).casefold()
    name = _NOT_NAME.sub("-", plain).strip("-")
    while len(name) > LONGEST_NAME or len(name.encode()) > 4 * LONGEST_NAME:
        name = name[:-1].rstrip("-")
    if not name or _DEVICES.fullmatch(name):
        raise TemplateError(
            f"{shown(title)} cannot be the name of a template. Give it a name with letters or "
            "digits in it."
        )
    return name


def keep(own: Path, name: str, files: Mapping[str, bytes]) -> Path:
    """Keep a template's files as a folder: all of them, or nothing.

    Args:
        own: the folder of the workshop's own templates; it is made if need be.
        name: from `name_for`.
        files: plain file name → content.

    Raises:
        TemplateError: the name is taken.
        OutputError: the folder cannot be written.
    """
    taken = {one.casefold() for one in (*own_names(own), *bundled_templates())}
    if name.casefold() in taken or (own / name).exists():
        raise TemplateError(
            f"There is a template {shown(name)} already. Give this one another name."
        )
    try:
        own.mkdir(parents=True, exist_ok=True)
        fresh = Path(mkdtemp(prefix=".making-", dir=own))
        try:
            for key, content in files.items():
                (fresh / key).write_bytes(content)
            fresh.chmod(0o755)
            return fresh.rename(own / name)
        except BaseException:
            shutil.rmtree(fresh, ignore_errors=True)
            raise
    except OSError as error:
        raise OutputError(
            f"The template {shown(name)} cannot be kept: {error.strerror}. Nothing was written."
        ) from error


def take_away(own: Path, name: str) -> None:
    """Remove an own template; jobs that were made with it keep their files.

    Raises:
        TemplateError: there is no own template of that name.
        OutputError: it cannot be removed.
    """
    if name not in own_names(own):
        raise TemplateError(
            f"There is no template {shown(name)} of your own. Those that come with namebatch stay."
        )
    try:
        # out of sight in one step, so that it is never seen half gone
        leaving = Path(mkdtemp(prefix=".leaving-", dir=own))
        (own / name).rename(leaving / name)
        shutil.rmtree(leaving)
    except OSError as error:
        raise OutputError(
            f"The template {shown(name)} cannot be taken away: {error.strerror}."
        ) from error
