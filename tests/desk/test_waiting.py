"""The order in which rows are made."""

from namebatch.desk.waiting import Waiting


def test_the_order_of_the_list_is_kept() -> None:
    """Without anybody asking, rows come as they stand in the list."""
    waiting = Waiting((5, 2, 9))
    assert (waiting.take(2), waiting.take(2), waiting.take(2)) == ((5, 2), (9,), ())


def test_what_is_asked_for_comes_first_and_the_last_asked_before_all() -> None:
    """Whoever scrolls looks at what came last."""
    waiting = Waiting(range(10))
    waiting.add([8])
    waiting.ask(4)
    waiting.ask(7)
    assert waiting.take(5) == (7, 4, 8, 0, 1)


def test_rows_that_do_not_wait_cannot_be_asked_for() -> None:
    """A row that is being made is not made twice."""
    waiting = Waiting((2, 3))
    assert waiting.take(1) == (2,)
    waiting.ask(2)
    waiting.drop(3)
    assert len(waiting) == 0
    assert waiting.take(9) == ()


def test_changed_rows_wait_once() -> None:
    """A row that is changed twice while it waits is made once."""
    waiting = Waiting((2, 3))
    waiting.add([3, 2])
    waiting.add([3])
    assert waiting.take(9) == (3, 2)
