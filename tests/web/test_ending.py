"""The end of the server is told to whoever waits."""

from namebatch.web.ending import Ending


def test_all_who_listen_hear_of_the_end_once() -> None:
    """Each is called once, however often the end is begun; who left is not called."""
    ending, heard = Ending(), list[str]()
    ending.listen(lambda: heard.append("first"))
    leave = ending.listen(lambda: heard.append("gone"))
    leave()
    assert not ending.begun
    ending.begin()
    ending.begin()
    assert heard == ["first"]
    assert ending.begun


def test_who_comes_late_hears_at_once() -> None:
    """Nobody waits for an end that has begun already."""
    ending, heard = Ending(), list[str]()
    ending.begin()
    ending.listen(lambda: heard.append("late"))()
    assert heard == ["late"]
