"""Spares: as many as asked for, where they are needed first."""

from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import box

from namebatch.errors import SettingsError
from namebatch.piece import Piece, Proof
from namebatch.spares import Spare, only_copies, read_spare, spares_of, with_spares


def _piece(line: int, copies: int, narrowest_mm: float = 3.0) -> Piece:
    proof = Proof(1, narrowest_mm, None, 1.5, 0, None)
    return Piece(line, copies, {}, box(0, 0, 20, 10), (), proof, ())


def _spares(pieces: tuple[Piece, ...]) -> list[int]:
    return [piece.spares for piece in pieces]


@pytest.mark.parametrize(
    ("text", "spare"),
    [
        (None, Spare()),
        ("0", Spare()),
        ("2", Spare(2)),
        (" 5 % ", Spare(0, 0.05)),
        ("2.5%", Spare(0, 0.025)),
        ("2,5%", Spare(0, 0.025)),
        ("100%", Spare(0, 1.0)),
    ],
)
def test_what_a_person_writes(text: str | None, spare: Spare) -> None:
    """A number is so many of each, a percentage a share of all."""
    assert read_spare(text) == spare


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "so many more|how many more"),
        ("two", 'not "two"'),
        ("-1", 'not "-1"'),
        ("1.5", 'not "1.5"'),
        ("100", "more than 99 spares"),
        ("120%", "more spares than pieces"),
    ],
)
def test_what_cannot_be_meant(text: str, told: str) -> None:
    """What is no number and no share is refused with an example or a limit."""
    with pytest.raises(SettingsError, match=told):
        read_spare(text)


def test_so_many_of_each() -> None:
    """Two spares are two more of every piece; their ids follow on."""
    one, other = with_spares([_piece(2, 1), _piece(3, 4)], Spare(2))
    assert one.ids == ("L2-1", "L2-2", "L2-3")
    assert (one.spares, other.spares, other.copies) == (2, 2, 6)


def test_a_share_goes_to_the_frail_first() -> None:
    """Of pieces alike in number, those whose narrowest place has least to spare get one."""
    pieces = [_piece(2, 1, 3.0), _piece(3, 1, 1.6), _piece(4, 1, 2.0), _piece(5, 1, 4.0)]
    assert _spares(with_spares(pieces, Spare(share=0.5))) == [0, 1, 1, 0]


def test_a_share_goes_by_quantity() -> None:
    """A row of ten gets its own tenth before single pieces get any."""
    pieces = [_piece(2, 1, 1.5), _piece(3, 10), _piece(4, 4, 3.0), _piece(5, 5, 3.0)]
    assert _spares(with_spares(pieces, Spare(share=0.1))) == [0, 1, 0, 1]


@given(st.lists(st.integers(1, 60), max_size=20), st.integers(0, 1000))
def test_no_more_and_no_fewer(counts: list[int], per_mille: int) -> None:
    """All spares together are the share of all pieces, rounded up; no row loses a piece."""
    pieces = [_piece(line, count) for line, count in enumerate(counts, start=2)]
    done = with_spares(pieces, Spare(share=per_mille / 1000))
    assert sum(_spares(done)) == ceil(sum(counts) * per_mille / 1000 - 1e-9)
    for piece, count in zip(done, counts, strict=True):
        assert piece.copies == count + piece.spares
        assert abs(piece.spares - count * per_mille / 1000) < 1


def test_only_some_copies() -> None:
    """Copies keep their numbers; those above what the list orders are spares, others stay."""
    pieces = (_piece(2, 2), _piece(3, 3))
    some, whole = only_copies(pieces, {2: (2, 4)})
    assert some.ids == ("L2-2", "L2-4")
    assert (some.copies, some.spares, some.ordered) == (2, 1, 1)
    assert whole == pieces[1]


@pytest.mark.parametrize("text", [None, "2", "5%", "12,5 %", "100%"])
def test_spares_can_be_counted_beforehand(text: str | None) -> None:
    """The number told before pieces are made is that of what is added then."""
    wish, pieces = read_spare(text), (_piece(2, 1), _piece(3, 7), _piece(4, 3))
    added = sum(one.spares for one in with_spares(pieces, wish))
    assert spares_of(wish, 11, 3) == added
