"""All that the pieces of a docket are made from, and the plan that comes of it."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import partial
from hashlib import sha256
from pathlib import Path, PurePosixPath, PureWindowsPath
from tempfile import TemporaryDirectory
from typing import Any, Final

from namebatch.desk.templates import template_source
from namebatch.errors import DeskError, ListError
from namebatch.names import read_pasted
from namebatch.names.mend import Mend
from namebatch.pipeline import Plan, Settings, plan_job, plan_list
from namebatch.store import KeptList
from namebatch.store.model import Setting

KINDS: Final[Mapping[str, type | tuple[type, ...]]] = {
    "template": str,
    "columns": dict,
    "sheet": str,
    "material": str,
    "board": str,
    "gap_mm": (int, float),
    "font": str,
    "fill": str,
    "seconds": (int, float),
    "keep_order": bool,
    "by_order": bool,
    "spare": str,
}
"""What may be chosen in a docket, by the names of `pipeline.Settings`."""
LOOK: Final = ("template", "columns", "sheet", "material", "board", "gap_mm", "font")
"""Of these the pieces themselves depend; the others say how sheets are filled."""
_LONGEST_NAME: Final = 120  # bytes
_LONGEST_ENDING: Final = 10
_NOT_IN_NAMES: Final = re.compile(r'[\x00-\x1f\x7f-\x9f<>:"/\\|?*\ud800-\udfff]+')


@dataclass(frozen=True, slots=True)
class Recipe:
    """What a docket's pieces are made from; small enough to be handed to another process.

    Attributes:
        names: the list as it came.
        settings: as the store keeps them.
        own_templates: folder of the workshop's own templates.
        workshop: workshop file, None for the built-in values.
        mends: changes by hand.
    """

    names: KeptList
    settings: Mapping[str, Setting]
    own_templates: Path
    workshop: Path | None = None
    mends: Mapping[int, Mend] = field(default_factory=dict)

    @property
    def look(self) -> str:
        """A digest of all that the pieces depend on, but for the changes by hand."""
        chosen = [(name, self.settings.get(name)) for name in LOOK]
        bytes_of = [] if self.workshop is None else [self.workshop.read_bytes()]
        total = sha256(repr((self.names.name, self.names.pasted, sorted_items(chosen))).encode())
        for data in (self.names.data, *bytes_of):
            total.update(sha256(data).digest())
        return total.hexdigest()


def sorted_items(value: object) -> object:
    """A JSON value with its tables in one order."""
    if isinstance(value, Mapping):
        return tuple((key, sorted_items(value[key])) for key in sorted(value))
    if isinstance(value, list | tuple):
        return tuple(sorted_items(one) for one in value)
    return value


def settings_of(recipe: Recipe) -> Settings:
    """The settings of a job as the command line would have them.

    Raises:
        NotThereError: the template is not there any more.
        DeskError: none was chosen yet.
    """
    chosen: dict[str, Any] = {
        name: recipe.settings[name] for name in KINDS if name in recipe.settings
    }
    name = chosen.pop("template", "")
    if not name:
        raise DeskError("No template was chosen yet. Choose one.")
    return Settings(
        template=template_source(recipe.own_templates, name),
        workshop=recipe.workshop,
        mends=recipe.mends,
        **chosen,
    )


def plan_recipe(recipe: Recipe) -> Plan:
    """The plan of a docket, the very one that the command line makes of the same file and choices.

    Raises:
        NamebatchError: nothing can be made of it; every reason is told.
    """
    settings = settings_of(recipe)
    if recipe.names.pasted:
        return plan_list(partial(read_pasted, pasted_text(recipe.names)), settings)
    with TemporaryDirectory(prefix="namebatch-") as folder:
        path = Path(folder) / file_name(recipe.names.name)
        path.touch(mode=0o600)
        path.write_bytes(recipe.names.data)
        return plan_job(path, settings)


def pasted_text(names: KeptList) -> str:
    """The text that was pasted.

    Raises:
        ListError: it is no text.
    """
    try:
        return names.data.decode("utf-8", "surrogatepass")
    except UnicodeDecodeError as error:
        raise ListError("What was pasted is no text. Paste the names again.") from error


def file_name(name: str) -> str:
    """The name of a list's file without folders, and fit for any file system."""
    last = PureWindowsPath(PurePosixPath(name).name).name
    plain = _NOT_IN_NAMES.sub("_", last).strip(" .") or "list"
    stem, dot, ending = plain.rpartition(".")
    if not dot or len(ending) > _LONGEST_ENDING:
        stem, ending = plain, ""
    while len(stem.encode()) > _LONGEST_NAME:
        stem = stem[:-1]
    return f"{stem}.{ending}" if ending else stem


def check_settings(wanted: Mapping[str, Setting | None]) -> None:
    """Refuse what can be no setting at all; whether a value can be used shows in planning.

    Raises:
        DeskError: with everything that is wrong.
    """
    problems = []
    for name, value in wanted.items():
        kind = KINDS.get(name)
        if kind is None:
            problems.append(f'there is nothing called "{name}" to choose')
        elif value is None:
            continue
        elif not isinstance(value, kind) or (isinstance(value, bool) and kind is not bool):
            problems.append(f'"{name}" cannot be {value!r}'[:200])
        elif isinstance(value, dict) and not all(isinstance(one, str) for one in value.values()):
            problems.append(f'"{name}" needs a header for each field')
    if problems:
        raise DeskError("This cannot be chosen.", problems)
