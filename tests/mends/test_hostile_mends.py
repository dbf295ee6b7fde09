"""Files of changes by hand that were made to do harm, in JSON and TOML."""

import json
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from namebatch.errors import MendError
from namebatch.mends import Mend, read_mends
from namebatch.mends import file as mends_file


def _told(folder: Path, text: str) -> str:
    path = folder / "changes"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(MendError) as caught:
        read_mends(path)
    assert len(str(caught.value)) < 100_000
    return str(caught.value)


def test_one_name_twice_among_very_many_is_found_at_once(tmp_path: Path) -> None:
    """The second of two equal names is told as it is read, however many stand before it."""
    names = ",".join(f'"{i}":0' for i in range(100_000))
    assert '"99999" stands twice in one table' in _told(tmp_path, f'{{{names},"99999":1}}')


def test_wrong_lines_by_the_thousand_are_not_all_looked_at(tmp_path: Path) -> None:
    """After a thousand problems the rest of the file is left."""
    lines = ",".join(f'"{i}":{{"z":1}}' for i in range(1, 20_000))
    told = _told(tmp_path, f'{{"format":1,"line":{{{lines}}}}}')
    assert "… and" in told


def test_more_lines_than_any_list_has_are_refused(tmp_path: Path) -> None:
    """A file of changes for more lines than a list may hold is refused unread."""
    lines = ",".join(f'"{i}":0' for i in range(1, 100_002))
    told = _told(tmp_path, f'{{"format":1,"line":{{{lines}}}}}')
    assert "line: holds changes of more than 100000 lines" in told


@pytest.mark.parametrize("table", ["fields", "text", "was"])
def test_more_names_than_columns_are_refused(table: str, tmp_path: Path) -> None:
    """A row has no thousands of fields or texts."""
    names = {str(i): {} if table == "text" else "" for i in range(1_001)}
    told = _told(tmp_path, json.dumps({"format": 1, "line": {"14": {table: names}}}))
    assert f"line.14.{table}: must be a table of at most 1000 entries; take some out." in told


def test_a_large_file_by_hand_is_asked_for_as_json(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """TOML is read slowly, so there its limit is lower."""
    monkeypatch.setattr(mends_file, "MOST_TOML_BYTES", 1 << 20)
    told = _told(tmp_path, "#" * ((1 << 20) + 1))
    assert "larger than 1 MiB; shorten it, or write it as JSON" in told


ODD = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(10**30), 10**30)
    | st.floats()
    | st.text(st.characters(codec=None, exclude_categories=()), max_size=4),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=3), inner),
    max_leaves=4,
)


@settings(max_examples=70, deadline=None, suppress_health_check=list(HealthCheck))
@given(
    line=st.sampled_from(["14", "0", "-1", "٣", "1e3", "9" * 40, ""]),
    entry=st.dictionaries(
        st.sampled_from(["fields", "text", "font", "bridge_mm", "quantity", "held", "was"])
        | st.text(max_size=3),
        ODD | st.dictionaries(st.just("name"), ODD),
        max_size=3,
    ),
)
def test_any_json_is_taken_or_told(line: str, entry: dict[str, object], tmp_path: Path) -> None:
    """Values of every kind, half surrogate pairs and infinities among them."""
    path = tmp_path / "changes"
    path.write_text(json.dumps({"format": 1, "line": {line: entry}}), encoding="utf-8")
    found: dict[int, Mend] = {}
    problems: tuple[str, ...] = ()
    try:
        found = read_mends(path)
    except MendError as error:
        problems = error.problems
    assert problems or [str(number) for number in found] == [line]
