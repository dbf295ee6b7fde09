"""Who watches a docket is told."""

from namebatch.desk.hub import Hub
from namebatch.desk.model import Event

NEWS = Event("changed", {"revision": 3})


def test_all_who_listen_hear_of_their_docket() -> None:
    """And of no other one."""
    hub, one, two, other = Hub(), [], [], []  # type: ignore[var-annotated]
    hub.listen(1, one.append)
    hub.listen(1, two.append)
    hub.listen(2, other.append)
    hub.tell(1, NEWS)
    assert (one, two, other) == ([NEWS], [NEWS], [])


def test_who_has_left_hears_nothing() -> None:
    """Leaving twice is no fault."""
    hub: Hub = Hub()
    heard: list[Event] = []
    leave = hub.listen(1, heard.append)
    assert hub.watched(1)
    leave()
    leave()
    hub.tell(1, NEWS)
    assert (heard, hub.watched(1)) == ([], False)


def test_leaving_while_told() -> None:
    """Who hangs up upon hearing takes nothing away from the others."""
    hub: Hub = Hub()
    heard: list[Event] = []

    def once(event: Event) -> None:
        leave()

    leave = hub.listen(1, once)
    hub.listen(1, heard.append)
    hub.tell(1, NEWS)
    hub.tell(1, NEWS)
    assert heard == [NEWS, NEWS]
