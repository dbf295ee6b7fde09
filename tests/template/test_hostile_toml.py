"""TOML files made to do harm: template, workshop file, part-used boards, changes by hand."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from namebatch.errors import NamebatchError
from namebatch.mends import read_mends
from namebatch.template import load_template, load_workshop
from namebatch.template.builtin_workshop import BUILTIN_TOML
from namebatch.template.part_used import load_part_used
from namebatch.template.problems import MOST_COMPARED, FileProblem, nearest
from namebatch.template.toml_file import parse_toml
from tests.template.folders import WHOLE

READERS: dict[str, Callable[[Path], object]] = {
    "template.toml": lambda path: load_template(path.parent),
    "workshop.toml": load_workshop,
    "boards.toml": load_part_used,
    "changes.toml": read_mends,
}
HARMFUL = {
    "hexadecimal": "a = 0x" + "f" * 60_000,
    "octal": "a = 0o" + "7" * 60_000,
    "decimal": "a = " + "9" * 5_000,
    "dotted key": ".".join("a" * 60_000) + " = 1",
    "header": "[" + ".".join("a" * 60_000) + "]",
    "quoted key": '"a"' + '."a"' * 20_000 + " = 1",
    "escaped quotes": '"\\""' + ".a" * 30_000 + '."x" = 1',
    "headers": "[" + ".".join("a" * 60) + "]\n" + ".".join("b" * 60) + " = 1",
    "inline": "a = " + "{a.a.a.a.a.a = " * 60 + "1" + "}" * 60,
    "list": "a = " + "[" * 50_000,
    "closed list": "a = " + "[" * 80 + "]" * 80,
}


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("harm", HARMFUL)
def test_deep_keys_and_huge_numbers_are_told(reader: str, harm: str, tmp_path: Path) -> None:
    """However a file nests, and however large its numbers: a sentence, within a moment."""
    path = tmp_path / reader
    path.write_text(HARMFUL[harm], encoding="utf-8")
    with pytest.raises(NamebatchError, match=r"deep|parts|digits|no such key"):
        READERS[reader](path)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (".".join("a" * 66) + " = 1", "line 1: has a key of more than 64 parts"),
        ("[a]\n" + ".".join("a" * 65) + " = 1", "nested more than 64 deep"),
        ("a = 0x" + "f" * 17, "a whole number of more than 18 digits"),
        ("a = -0o" + "7" * 30, "stops making sense"),
    ],
)
def test_what_is_too_deep_or_too_large(text: str, message: str) -> None:
    """The bounds are told with the line where there is one."""
    with pytest.raises(FileProblem, match=message):
        parse_toml(text.encode(), "a.toml")


@pytest.mark.parametrize(
    "text",
    [
        'a = "' + "1." * 100 + '"',
        "# " + "." * 200,
        "a = [" + "1.5, " * 200 + "]",
        "a = '" + "a.b" * 100 + "'",
        "a = 0x7fffffffffffffff",
        ".".join("a" * 60) + " = 1",
    ],
)
def test_what_only_looks_deep_is_read(text: str) -> None:
    """Points in words, remarks and many numbers are no key."""
    assert parse_toml(text.encode(), "a.toml") is not None


def test_a_word_is_compared_with_so_many_only() -> None:
    """Among hundreds of thousands of words the first few thousand are looked through."""
    words = [f"hem-{i}" for i in range(100 * MOST_COMPARED)]
    assert nearest("hem-17", words) == "hem-17"
    assert nearest("kite", words) is None


VALUES = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(),
    st.floats(),
    st.text(max_size=8),
    st.sampled_from(["../x", "/dev/zero", "a" * 500, "\u202ex", "", "#fff", "a4", "1e9x1e9"]),
    st.dates(),
    st.lists(st.floats(width=16), max_size=5),
    st.dictionaries(st.sampled_from(["a", "colour", "shape"]), st.integers(), max_size=2),
)


def _written(value: object) -> str:
    """A value as TOML, on one line."""
    match value:
        case bool():
            return str(value).lower()
        case str():
            escaped = "".join(
                c if c.isalnum() and c.isascii() else f"\\U{ord(c):08x}" for c in value
            )
            return f'"{escaped}"'
        case list():
            return "[" + ", ".join(map(_written, value)) + "]"
        case dict():
            return "{" + ", ".join(f"{k} = {_written(v)}" for k, v in value.items()) + "}"
        case date():
            return value.isoformat()
        case _:
            return str(value)


@settings(max_examples=70, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data(), value=VALUES, source=st.sampled_from([WHOLE, BUILTIN_TOML]))
@example(data=None, value=float("nan"), source=WHOLE)
def test_any_value_of_any_key_is_taken_or_told(
    data: st.DataObject | None, value: object, source: str, tmp_path: Path
) -> None:
    """A value of any kind in the place of any other is taken, or told; nothing else."""
    lines = source.splitlines()
    keys = [i for i, line in enumerate(lines) if " = " in line and not line.startswith("#")]
    at = keys[0] if data is None else data.draw(st.sampled_from(keys))
    key = lines[at].partition(" = ")[0]
    lines[at] = "" if value is None else f"{key} = {_written(value)}"
    path = tmp_path / ("template.toml" if source is WHOLE else "workshop.toml")
    path.write_text("\n".join(lines), encoding="utf-8")
    told = ""
    try:
        READERS[path.name](path)
    except NamebatchError as error:
        told = str(error)
    assert len(told) < 20_000
    assert told == "" or "\n" in told or "mend" in told.lower()
