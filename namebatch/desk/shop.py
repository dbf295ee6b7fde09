"""The workshop file as a form has it: tables out, tables in; the file keeps its comments."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from threading import Lock
from typing import Final, TypeAlias

from pydantic import BaseModel

from namebatch.desk.shop_edit import Tables, edited
from namebatch.desk.templates import own_names, template_folder
from namebatch.errors import NamebatchError, OutputError, WorkshopError
from namebatch.measured.workshop_edit import write_workshop
from namebatch.template import bundled_templates, load_workshop
from namebatch.template.builtin_workshop import BUILTIN_TOML
from namebatch.template.examples import all_example_parts
from namebatch.template.folder import TOML_NAME
from namebatch.template.problems import FileProblem, Problems, joined, validated
from namebatch.template.toml_file import LARGEST_BYTES, parse_toml, read_toml
from namebatch.template.workshop_schema import CutterTable, MaterialTable, PrinterTable

MOST_MATERIALS: Final = 500
WRITING: Final = Lock()
"""One change of a workshop file at a time."""

Given: TypeAlias = Mapping[str, object]


@dataclass(frozen=True, slots=True)
class MaterialView:
    """A material as the form has it.

    Attributes:
        name: by which templates ask for it.
        values: its table, what the file leaves out filled in.
        used_by: names of the templates that ask for it.
    """

    name: str
    values: Mapping[str, object]
    used_by: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ShopView:
    """The workshop file as the form has it.

    Attributes:
        built_in: nobody has written one yet; these are the example values.
        examples: parts of the file that still are as the example has them, in words.
        digest: of the file, to be sent back with a change.
        printer, cutter: their tables, what the file leaves out filled in.
        materials: in the order of the file.
    """

    built_in: bool
    examples: tuple[str, ...]
    digest: str
    printer: Mapping[str, object]
    cutter: Mapping[str, object]
    materials: tuple[MaterialView, ...]


def shop_view(path: Path, own: Path) -> ShopView:
    """What the workshop file holds, or the example values as long as there is none.

    Args:
        path: the workshop file; it need not be there.
        own: the folder of the workshop's own templates.

    Raises:
        WorkshopError: the file is there and not usable.
    """
    text = shop_text(path)
    tables = _tables(text, path.name)
    uses = _uses(own)
    materials = tables["material"]
    return ShopView(
        built_in=not path.exists(),
        examples=_examples(path),
        digest=sha256(text).hexdigest(),
        printer=tables["printer"],
        cutter=tables["cutter"],
        materials=tuple(
            MaterialView(name, _table(values), tuple(uses.get(name, ())))
            for name, values in materials.items()
        ),
    )


def _examples(path: Path) -> tuple[str, ...]:
    """What nobody has entered yet; nothing is said of a file that cannot be used."""
    try:
        return all_example_parts(load_workshop(path)) if path.exists() else ()
    except WorkshopError:
        return ()


def shop_text(path: Path) -> bytes:
    """The bytes of the workshop file, or those of the example values as long as there is none.

    Raises:
        WorkshopError: it cannot be read.
    """
    try:
        with path.open("rb") as file:
            return file.read(LARGEST_BYTES + 1)
    except FileNotFoundError:
        return BUILTIN_TOML.encode()
    except OSError as error:
        raise WorkshopError(
            f"The workshop file {path.name} cannot be read ({error.strerror})."
        ) from error


def change_shop(
    path: Path, digest: str | None, printer: Given, cutter: Given, materials: Sequence[Given]
) -> None:
    """Write what the form holds into the workshop file; what is equal stays as it is written.

    Args:
        path: the workshop file; it is begun from the example values if it is not there.
        digest: of the file when the form was filled; None to write over any.
        printer: its table.
        cutter: its table.
        materials: their tables, each with its ``name``. Those that are not among them are taken
            out of the file.

    Raises:
        WorkshopError: the values cannot be used, or the file was changed meanwhile; it is as it
            was.
        OutputError: it cannot be written.
    """
    with WRITING:
        text = shop_text(path)
        if digest is not None and digest != sha256(text).hexdigest():
            raise WorkshopError(
                "The workshop file was changed meanwhile, from another window or by hand. Load "
                "this page again and put your change in once more; nothing was written."
            )
        after = _validated(printer, cutter, materials)
        _written(path, edited(text.decode("utf-8"), _tables(text, path.name), after))


def put_shop_file(path: Path, data: bytes) -> None:
    """Put another file in the place of the workshop file.

    Raises:
        WorkshopError: it is no usable workshop file; the one that was there stays.
        OutputError: it cannot be written.
    """
    try:
        parse_toml(data[: LARGEST_BYTES + 1], "that was sent")
        text = data.decode("utf-8")
    except FileProblem as problem:
        raise WorkshopError(f"The file {problem} The workshop file is as it was.") from None
    with WRITING:
        _written(path, text)


def begun(path: Path) -> bool:
    """Write the example values as a workshop file where there is none; True if that was done.

    Raises:
        OutputError: it cannot be written.
    """
    if path.exists():
        return False
    _written(path, BUILTIN_TOML)
    return True


def _written(path: Path, text: str) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        write_workshop(path.resolve(), text)
    except WorkshopError as error:
        raise WorkshopError(
            "The workshop file cannot take this; it is as it was.", error.problems
        ) from None
    except (OSError, UnicodeEncodeError) as error:
        reason = getattr(error, "strerror", None) or "a sign in it cannot be written"
        raise OutputError(
            f"The workshop file cannot be written: {reason}. It is as it was."
        ) from error


def _tables(text: bytes, name: str) -> Tables:
    """The tables of a sound file, what it leaves out filled in."""
    try:
        raw = parse_toml(text, name)
    except FileProblem as problem:
        raise WorkshopError(f"The workshop file {problem}") from None
    return _validated(
        _table(raw.get("printer")),
        _table(raw.get("cutter")),
        [{**_table(values), "name": key} for key, values in _table(raw.get("material")).items()],
    )


def _validated(printer: Given, cutter: Given, materials: Sequence[Given]) -> Tables:
    """The tables with nothing but what belongs into them.

    Raises:
        WorkshopError: with everything that is wrong.
    """
    problems = Problems()
    if len(materials) > MOST_MATERIALS:
        problems.add("material", f"holds more than {MOST_MATERIALS} materials; take some out.")
    found: dict[str, Mapping[str, object]] = {}
    for entry in materials[:MOST_MATERIALS]:
        name = str(entry.get("name") or "")
        values = {key: value for key, value in entry.items() if key != "name"}
        if not name.strip() or not name.isprintable() or len(name) > 120:
            problems.add("material", f"needs a short name, not {name[:40]!r}.")
        elif name in found:
            problems.add(f"material.{name}", "is there twice; give one of them another name.")
        else:
            found[name] = _dumped(MaterialTable, values, joined("material", [name]), problems)
    tables: Tables = {
        "printer": _dumped(PrinterTable, printer, "printer", problems),
        "cutter": _dumped(CutterTable, cutter, "cutter", problems),
        "material": found,
    }
    if problems:
        raise WorkshopError(
            "The workshop's values cannot be used like that; nothing was written.", problems.told()
        )
    return tables


def _dumped(
    model: type[BaseModel], data: Given, place: str, problems: Problems
) -> Mapping[str, object]:
    table = validated(model, dict(data), place, problems)
    return {} if table is None else table.model_dump()


def _table(value: object) -> Mapping[str, object]:
    return value if isinstance(value, dict) else {}


def _uses(own: Path) -> dict[str, list[str]]:
    """Material → names of the templates that ask for it; templates that cannot be read are left."""
    found: dict[str, list[str]] = {}
    for name in (*bundled_templates(), *own_names(own)):
        try:
            tables, _ = read_toml(template_folder(own, name) / TOML_NAME)
        except NamebatchError:
            continue
        for key in ("material", "board"):
            material = tables.get(key)
            if isinstance(material, str) and name not in found.setdefault(material, []):
                found[material].append(name)
    return found
