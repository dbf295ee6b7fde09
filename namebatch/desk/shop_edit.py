"""Changed values put into the text of a workshop file; what is equal stays as somebody wrote it."""

from collections.abc import Mapping, MutableMapping
from typing import Any, Final, TypeAlias

import tomlkit

from namebatch.template.workshop_schema import MaterialTable

Tables: TypeAlias = dict[str, Mapping[str, object]]
"""``printer``, ``cutter``, and under ``material`` one table a material, as the models dump them."""

_MARK: Final = "\ufeff"
_DEFAULTS: Final[Mapping[str, object]] = {
    key: field.get_default(call_default_factory=True)
    for key, field in MaterialTable.model_fields.items()
    if not field.is_required()
}


def edited(text: str, before: Tables, after: Tables) -> str:
    """The text with what changed.

    Args:
        text: of a sound workshop file.
        before: what it holds.
        after: what it is to hold.
    """
    mark = _MARK if text.startswith(_MARK) else ""
    document = tomlkit.parse(text.removeprefix(_MARK))
    for key in ("printer", "cutter"):
        _change(_inner(document, key), before[key], after[key])
    materials = _inner(document, "material")
    for name in before["material"]:
        if name not in after["material"]:
            del materials[name]
    for name, values in after["material"].items():
        if name in before["material"]:
            _change(_inner(materials, name), _map(before["material"][name]), _map(values))
        else:
            materials[name] = _new(_map(values))
    changed = tomlkit.dumps(document)
    if "\r\n" in text:
        changed = changed.replace("\r\n", "\n").replace("\n", "\r\n")
    return mark + changed


def _change(
    table: MutableMapping[str, Any], before: Mapping[str, object], after: Mapping[str, object]
) -> None:
    """Set what differs, take out what is now None, table by table."""
    for key, value in after.items():
        if value == before.get(key):
            continue
        if value is None:
            table.pop(key, None)
        elif isinstance(value, Mapping):
            if key not in table:
                table[key] = tomlkit.table()
            _change(_inner(table, key), _map(before.get(key)), value)
        else:
            table[key] = _plain(value)


def _new(values: Mapping[str, object]) -> Any:
    """A table of a new material: nothing in it that goes without saying."""
    table = tomlkit.table()
    for key, value in values.items():
        if value is None or value == _DEFAULTS.get(key):
            continue
        if isinstance(value, Mapping):
            inline = tomlkit.inline_table()
            inline.update({k: _plain(v) for k, v in value.items() if v is not None})
            table[key] = inline
        else:
            table[key] = _plain(value)
    return table


def _plain(value: object) -> Any:
    """Numbers as people write them: 5, not 5.0."""
    if isinstance(value, float) and value.is_integer():
        return int(value)
    if isinstance(value, list):
        return [_plain(one) for one in value]
    return value


def _inner(table: MutableMapping[str, Any], key: str) -> MutableMapping[str, Any]:
    inner: MutableMapping[str, Any] = table[key]
    return inner


def _map(value: object) -> Mapping[str, object]:
    return value if isinstance(value, Mapping) else {}
