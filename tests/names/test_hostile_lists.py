"""Lists that strangers made to do harm: a clear error or a held row, in bounded time and memory."""

import os
import threading
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from namebatch.errors import ListError
from namebatch.names import limits, read_list, read_pasted
from tests.names.helpers import codes, only_row, read


def test_a_text_that_is_too_long_is_not_looked_into(tmp_path: Path) -> None:
    """Patterns that take the square of a text's length never see one that is held anyway."""
    row = only_row(read(tmp_path, "name\n" + "x@" * 2_000 + "\n"))
    assert codes(row.findings) == ["text-too-long"]


def test_signs_in_a_text_that_is_too_long_are_told(tmp_path: Path) -> None:
    """What nobody sees is still told: it may be why the text is too long."""
    row = only_row(read(tmp_path, "name\n" + "\u200b\u202e" + "x" * 2_000 + "\n"))
    assert codes(row.findings)[-2:] == ["text-too-long", "unusable-character"]


def test_signs_in_two_halves(tmp_path: Path) -> None:
    """Halves of a sign, each in UTF-8 of its own, are joined; a lone half holds its row."""
    # CESU-8 of U+1F3A8 (Unicode Technical Report #26): D83C DFA8 in three bytes each
    names = read(tmp_path, b"name\nAda \xed\xa0\xbc\xed\xbe\xa8\nZo\xc3\xab\nBo \xed\xa0\xbc\n")
    assert [row.fields["name"] for row in names.rows] == ["Ada \U0001f3a8", "Zoë", "Bo \ufffd"]
    assert [row.held for row in names.rows] == [False, False, True]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_pipe_is_no_list(tmp_path: Path) -> None:
    """A pipe that nobody writes to is refused at once, a link to it too."""
    os.mkfifo(tmp_path / "pipe.csv")
    (tmp_path / "link.csv").symlink_to("pipe.csv")
    told: list[str] = []

    def go() -> None:
        for name in ("pipe.csv", "link.csv"):
            try:
                read_list(tmp_path / name, ["name"])
            except ListError as error:
                told.append(str(error))

    reader = threading.Thread(target=go, daemon=True)
    reader.start()
    reader.join(20)
    assert len(told) == 2
    assert all("cannot be opened: it is a pipe or a device, not a file. Save" in t for t in told)


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="this system has no such device")
@pytest.mark.parametrize("device", ["/dev/zero", "/dev/null"])
def test_a_device_is_no_list(tmp_path: Path, device: str) -> None:
    """What has no end, or nothing in it, is no file; a link does not hide it."""
    (tmp_path / "names.csv").symlink_to(device)
    with pytest.raises(ListError, match="it is a pipe or a device, not a file"):
        read_list(tmp_path / "names.csv", ["name"])


def test_links_that_go_round(tmp_path: Path) -> None:
    """Links that lead to each other are told, not followed for ever."""
    (tmp_path / "a.csv").symlink_to("b.csv")
    (tmp_path / "b.csv").symlink_to("a.csv")
    with pytest.raises(ListError, match="cannot be opened"):
        read_list(tmp_path / "a.csv", ["name"])


def test_cells_limit(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """More cells than are worked on are refused, empty ones not counted."""
    monkeypatch.setattr(limits, "CELLS", 6)
    assert len(read(tmp_path, "name,a\nAda,1\nBo,\n ,\n,,\nCy,\n").rows) == 3
    with pytest.raises(ListError, match=r"more than 6 cells with something in them\. Delete"):
        read(tmp_path, "name,a\nAda,1\nBo,2\nCy\n")
    with pytest.raises(ListError, match=r"pasted text.* more than 6 cells"):
        read_pasted("a\tb\tc\n" * 3, ["name"])


def test_no_memory_left(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A list that the memory does not hold is told as such."""

    def full(*_: object) -> None:
        raise MemoryError

    monkeypatch.setattr("namebatch.names.read_table", full)
    with pytest.raises(ListError, match=r"needs more memory than there is\. Delete columns"):
        read(tmp_path, "name\nAda\n")


@pytest.mark.parametrize("sign", ["\n", "\r", "\r\n", "\n\r", '""', ",\n", '"\n', " ", "\t", "\0"])
def test_a_flood_of_one_sign(tmp_path: Path, sign: str) -> None:
    """Thousands of any sign with a meaning, bare or in quotes: every name is there."""
    for flood in (sign * 20_000, f'"{sign * 20_000}"'):
        try:
            names = read(tmp_path, f"name\nAda\n{flood}\nBo\n")
        except ListError:  # nothing but control characters
            assert sign == "\0"
            continue
        assert names.rows[0].fields["name"] == "Ada"
        assert names.rows[-1].fields["name"] == "Bo" or '"\n' in flood


def test_equal_headers(tmp_path: Path) -> None:
    """Hundreds of long equal headers each get a name of their own."""
    names = read(tmp_path, "name" + f",{'h' * 1_000}" * 499 + "\nAda\n")
    assert len(set(names.headers)) == 500


_ENCODINGS = (
    *("utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "utf-32-le"),
    *("cp1252", "cp1250", "cp1251", "cp437", "cp037", "gb18030", "shift_jis", "euc_kr", "big5"),
    *("iso8859_15", "mac_roman", "koi8_r", "iso2022_jp", "utf-7", "hz"),
)
_NAMES = st.text(st.sampled_from("AaBoÄéőшαあ漢한'\",;\t|.- "), min_size=1, max_size=8)


@given(
    names=st.lists(_NAMES, min_size=1, max_size=8),
    codecs=st.lists(st.sampled_from(_ENCODINGS), min_size=1, max_size=3),
    ends=st.lists(st.sampled_from([b"\n", b"\r", b"\r\n", b"\0\n", b"\x85"]), min_size=1),
    wounds=st.lists(st.tuples(st.integers(0, 200), st.integers(0, 255)), max_size=3),
    cut=st.integers(0, 40),
)
def test_broken_mixes(
    tmp_path_factory: pytest.TempPathFactory,
    names: list[str],
    codecs: list[str],
    ends: list[bytes],
    wounds: list[tuple[int, int]],
    cut: int,
) -> None:
    """Lists glued together from several encodings, wounded and cut, are rows or a ListError."""
    data = bytearray(b"name\n")
    for at, name in enumerate(names):
        data += name.encode(codecs[at % len(codecs)], "ignore") + ends[at % len(ends)]
    for where, value in wounds:
        data[where % len(data)] = value
    data = data[: max(1, len(data) - cut)]
    try:
        found = read(tmp_path_factory.mktemp("l"), bytes(data))
    except ListError:
        return
    for row in found.rows:
        row.fields["name"].encode()
        assert row.held or row.fields["name"]
