"""A crew whose hands are the workers of a cluster.

Each worker is given one task at a time, the lowest number first. One that is lost gives its task
back, which goes to the next that is free; or, where all the others wait for it, to one of those.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from namebatch.cluster.connect import check_extra, connected, quiet, whole_address
from namebatch.cluster.foreman import Foreman
from namebatch.crew import Done, Host, Kit, Task, Work

GONE_S: Final = 15.0


@dataclass(frozen=True, slots=True)
class Cluster:
    """The workers of a scheduler (`crew.Crew`).

    Attributes:
        address: of the scheduler, from `connect.whole_address`.
        gone_s: so long is waited for a worker when there is none any more; those that run out of
            memory are started again by their keepers.
    """

    address: str
    gone_s: float = GONE_S

    def run(
        self, work: Work[Kit, Task, Done], tasks: Sequence[tuple[int, Task]], host: Host
    ) -> Iterator[tuple[int, Done]]:
        """See `crew.Crew.run`.

        Raises:
            ClusterError: no scheduler, no workers, or none that can make the same files; or all
                are gone. What was yielded stays as it is.
        """
        if not tasks:
            return
        client = connected(self.address)
        with quiet():
            try:
                with Foreman(client, self.address, self.gone_s, work, tasks, host) as foreman:
                    yield from foreman.done()
            finally:
                client.close()


def cluster_at(text: str) -> Cluster:
    """The crew at an address as it is given on the command line; nothing is reached for yet.

    Raises:
        SettingsError: it is no address, or the extra is not installed.
    """
    address = whole_address(text)
    check_extra()
    return Cluster(address)
