"""Which pieces are meant: ids as people write them, on the command line or in a file."""

from pathlib import Path

import pytest

from namebatch.errors import RemakeError
from namebatch.remake import spoiled
from namebatch.remake.record import Record, read_record
from namebatch.remake.spoiled import ids_of, ids_of_file, said_faces, wanted_copies
from tests.remake import jobs


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Record:
    """Lines 2 (two copies), 3, 5 (three); line 4 is held."""
    first = jobs.first_job(tmp_path_factory.mktemp("cards"), jobs.HELD, "place-card")
    return read_record(first.manifest, "first")


@pytest.mark.parametrize(
    ("words", "ids"),
    [
        (["L2-2"], ["L2-2"]),
        (["L2"], ["L2-1", "L2-2"]),
        (["l5-3", " L3 "], ["L3-1", "L5-3"]),
        (["L5-3,L2-1;L3-1"], ["L2-1", "L3-1", "L5-3"]),
        (["L2-1", "L2-1", "L2"], ["L2-1", "L2-2"]),
        (['"L2-1"'], ["L2-1"]),
        (["L2-1.front", "l5-2.BOARD"], ["L2-1", "L5-2"]),
    ],
)
def test_ids_as_people_write_them(record: Record, words: list[str], ids: list[str]) -> None:
    """Copies, whole lines, several in a word; what is said twice counts once, in list order."""
    assert list(ids_of(wanted_copies(record, words))) == ids


def test_faces_that_ids_name() -> None:
    """Those of a cut file's groups; one set of faces for all, or it is told."""
    assert said_faces(["L2-1", "L3"]) == ()
    assert said_faces(["L2-1.back,L3-1.back"]) == ("back",)
    assert said_faces(["L2-1.board", "L2-1.FRONT"]) == ("front", "board")
    for words in (["L2-1.front", "L3-1"], ["L2-1.front", "L3-1.back"]):
        with pytest.raises(RemakeError, match="another face is named than of others"):
            said_faces(words)


def test_all_wrong_ids_are_told_at_once(record: Record) -> None:
    """Each with what is known: the copies that there are, the nearest id, why it was held."""
    with pytest.raises(RemakeError, match="Not all of these pieces were made") as told:
        wanted_copies(record, ["L2-9", "L3-7", "L4", "L55-1", "tail", "L5-1", "L2-9"])
    problems = told.value.problems
    assert problems[:2] == (
        '"L2-9": of line 2 there is L2-1 to L2-2.',
        '"L3-7": of line 3 there is only L3-1.',
    )
    assert problems[2].startswith('"L4" was never made. Line 4: "Zoë 𓅯" has a sign (U+1316F')
    assert problems[3] == '"L55-1": there is no such piece. Did you mean "L5-1"?'
    assert problems[4] == '"tail": there is no such piece. Ids look like L14-2.'
    assert len(problems) == 5


def test_very_many_wrong_ids_are_counted(record: Record) -> None:
    """The message stays readable."""
    with pytest.raises(RemakeError, match="and 70 more") as told:
        wanted_copies(record, [f"L{number}" for number in range(1000, 1100)])
    assert len(told.value.problems) == 31


@pytest.mark.parametrize("words", [[], [""], [" , "]])
def test_nothing_named_is_refused(record: Record, words: list[str]) -> None:
    """No piece at all is a slip, and is told with the way to name one."""
    with pytest.raises(RemakeError, match=r"No piece is named. Give --piece L14-2"):
        wanted_copies(record, words)


@pytest.mark.parametrize(
    ("data", "ids"),
    [
        (b"L2-1\nL3-1\n", ["L2-1", "L3-1"]),
        (b"spoiled\r\nL2-1\r\n\r\nL3\r\n", ["L2-1", "L3"]),
        (b"piece,why\nL2-1,scorched at L\nL3-1,\n", ["L2-1", "L3-1"]),
        (b"L2-1, L2-2\n", ["L2-1", "L2-2"]),
        (b"piece,face\nL2-1,front\nL3-1.front,\n", ["L2-1.front", "L3-1.front"]),
        ("Stück;Grund\nL2-1;verrückt\n".encode("cp1252"), ["L2-1"]),
        ("piece\nL2-1\n".encode("utf-16"), ["L2-1"]),
        (b"\xef\xbb\xbfL2-1\n", ["L2-1"]),
        (b"piece\nL2-1\nL3_1\n", ["L2-1", "L3_1"]),
    ],
)
def test_a_file_of_ids(tmp_path: Path, data: bytes, ids: list[str]) -> None:
    """One a line, with or without a header, other columns passed over, as spreadsheets save it."""
    path = tmp_path / "spoiled.csv"
    path.write_bytes(data)
    assert list(ids_of_file(path)) == ids


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (b"", "holds no piece id"),
        (b"piece\n", "holds no piece id"),
        (b"PK\x03\x04rest", "Save it as text or CSV"),
        (None, "cannot be read: No such file"),
    ],
)
def test_a_file_without_ids_is_refused(tmp_path: Path, data: bytes | None, message: str) -> None:
    """What holds no ids, or is no text, is told by its name."""
    path = tmp_path / "spoiled.csv"
    if data is not None:
        path.write_bytes(data)
    with pytest.raises(RemakeError, match=rf'"spoiled.csv" {message}|"spoiled.csv".*{message}'):
        ids_of_file(path)


def test_what_was_meant_is_looked_for_a_few_times_only(
    record: Record, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Among tens of thousands of wrong ids only those that are told are compared with others."""
    compared: list[object] = []
    monkeypatch.setattr(spoiled, "nearest", lambda word, known: compared.append(word))
    with pytest.raises(RemakeError, match="Not all of these pieces were made") as told:
        wanted_copies(record, [f"tail{number}" for number in range(20_000)])
    assert told.value.problems[-1] == "and 19970 more."
    assert len(compared) == 30
