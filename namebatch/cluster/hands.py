"""Which workers a cluster has, and which of them would make the same files."""

from collections.abc import Sequence
from time import monotonic
from typing import Any, Final

from namebatch.cluster import worker
from namebatch.cluster.checkin import check_in
from namebatch.cluster.connect import KEPT, gone, reaching
from namebatch.cluster.makeup import makeup, packages
from namebatch.errors import ClusterError

ANSWER_S: Final = 30.0
"""A scheduler that takes longer to say who is there is no longer waited for."""


class Hands:
    """The workers, as they come and go.

    Args:
        client: of the scheduler.
        scheduler: its address.
        gone_s: so long is waited for a worker when there is none.
        run: name of the run.
        kit: opener and kit, pickled, and the kit as it is.
    """

    def __init__(
        self, client: Any, scheduler: str, gone_s: float, run: str, kit: tuple[bytes, object]
    ) -> None:
        self._client = client
        self._scheduler = scheduler
        self._gone_s = gone_s
        self._run = run
        self._kit = kit[0]
        self._here = makeup(packages(), kit[1])
        self._right: dict[str, bool] = {}
        self._seen = monotonic()

    @property
    def fit(self) -> list[str]:
        """Addresses of those that tasks may be given to."""
        return [address for address, right in self._right.items() if right]

    def first(self) -> None:
        """See who is there, before anything is given.

        Raises:
            ClusterError: nobody, or some would make other files.
        """
        addresses = self._there()
        if not addresses:
            raise ClusterError(
                "The scheduler has no workers. Start some on the machines that are to work (dask "
                "worker, with the scheduler's address), or make the job without --cluster."
            )
        problems = self._check_in(addresses)
        if problems:
            raise ClusterError(
                f"{len(addresses) - len(self.fit)} of {len(addresses)} workers would not make the "
                "same files as this machine. Install the same there, namebatch, packages and "
                "typefaces, and start them again.",
                problems,
            )

    def look(self) -> list[str]:
        """See who has come, and who has gone.

        Those that come later and would make other files are left alone.

        Returns:
            Addresses of those that are gone.

        Raises:
            ClusterError: nobody has been there for some time, or the scheduler is gone.
        """
        there = self._there()
        lost = [one for one in self._right if one not in there]
        for address in lost:
            self.forget(address)
        new = [address for address in there if address not in self._right]
        if new:
            self._check_in(new)
        if self.fit:
            self._seen = monotonic()
        elif monotonic() - self._seen > self._gone_s:
            raise ClusterError(
                "The cluster has no workers any more: they were ended, or cannot be reached. "
                f"{KEPT} Start them again first."
            )
        return lost

    def forget(self, address: str) -> None:
        """Take a worker for gone; if it is there, it is a new one at the next look."""
        self._right.pop(address, None)

    def end(self) -> None:
        """Let all forget the run."""
        if self.fit:
            self._client.run(worker.forget, self._run, workers=self.fit, on_error="ignore")

    def _check_in(self, addresses: Sequence[str]) -> tuple[str, ...]:
        with reaching(self._scheduler):
            found = check_in(self._client, self._run, addresses, self._kit, self._here)
        self._right |= {address: address in found.fit for address in addresses}
        return found.problems

    def _there(self) -> list[str]:
        """Addresses of all workers, in some lasting order."""
        if self._client.status != "running":  # dask would go there again, and nobody would listen
            raise gone(self._scheduler)
        with reaching(self._scheduler):
            there = self._client.nthreads(callback_timeout=ANSWER_S)
        return sorted(address for address, threads in there.items() if threads)
