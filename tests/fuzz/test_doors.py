"""The doors that a fuzzer knocks at."""

import pytest

from tests.fuzz.doors import DOORS


@pytest.mark.parametrize("name", DOORS)
def test_sound_files_and_halves_of_them_come_through(name: str) -> None:
    """What a fuzzer begins with can be read; cut off near the middle it is read or told."""
    door = DOORS[name]
    seeds = door.seeds()
    assert seeds
    for seed in seeds:
        assert door.feed(seed)
        for share in (3, 4, 5):
            door.feed(seed[: len(seed) * share // 8])


@pytest.mark.parametrize("name", DOORS)
def test_noise_is_told(name: str) -> None:
    """Bytes that are no file at all are refused in words, not with an exception."""
    read = [DOORS[name].feed(data) for data in (b"\0", b"\xff" * 500, bytes(range(256)))]
    # bytes above 127 may be a list in some encoding
    assert not any(read) or name == "lists"


def test_a_fault_comes_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """What no person would be told does not stay behind the door."""

    def faulty(data: bytes, name: str) -> None:
        """Read nothing."""
        raise ZeroDivisionError("as a fault of the program would")

    monkeypatch.setattr("tests.fuzz.doors.read_raster", faulty)
    with pytest.raises(ZeroDivisionError, match="as a fault"):
        DOORS["pictures"].feed(b"")
