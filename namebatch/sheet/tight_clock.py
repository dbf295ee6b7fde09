"""The time that a search may take, and who is told how far it is."""

from time import monotonic

from namebatch.errors import SettingsError
from namebatch.sheet.wishes import SECONDS, Wishes

SECONDS_RANGE = (1.0, 36_000.0)

TELL_S = 0.2
"""Not oftener than this."""


class Clock:
    """Runs from when it is made.

    The one clock in this room: it decides how much is tried, never what is made of it.
    """

    def __init__(self, wishes: Wishes) -> None:
        self._start = monotonic()
        self._told = 0.0
        self._wishes = wishes
        self.seconds = wishes.seconds
        self.sheets = 0.0
        """What the best filling needs so far."""

    def going_on(self, share: float = 1.0) -> bool:
        """False once so much of the time is over, or whoever watches has seen enough."""
        spent = monotonic() - self._start
        if spent - self._told >= TELL_S:
            self._told = spent
            self._wishes.watch.told(min(spent / self._wishes.seconds, 1.0), self.sheets)
        return spent < share * self._wishes.seconds and not self._wishes.watch.stopped()

    def over(self) -> None:
        """Tell that nothing more is tried."""
        self._wishes.watch.told(1.0, self.sheets)


def seconds_of(fill: str, seconds: float | None, ordered: bool) -> float | None:
    """The time that a way to fill may take.

    Args:
        fill: the way.
        seconds: that a user asked for; None for the usual time.
        ordered: list order, or orders together, matter more than material.

    Returns:
        Seconds; None for a way without a budget.

    Raises:
        SettingsError: this way has no budget, cannot keep order, or the time is out of range.
    """
    if fill != "tight":
        if seconds is not None:
            raise SettingsError(
                "--seconds is the time for --fill tight; the fast way takes what it needs. Add "
                "--fill tight or leave --seconds out."
            )
        return None
    if ordered:
        raise SettingsError(
            "--fill tight puts every piece where it saves material, so it cannot keep list order "
            "or orders together. Leave out --keep-order and --by-order, or --fill tight."
        )
    if seconds is None:
        return SECONDS
    if not SECONDS_RANGE[0] <= seconds <= SECONDS_RANGE[1]:
        raise SettingsError(
            f"--seconds {seconds:g} cannot be used; give {SECONDS_RANGE[0]:g} to "
            f"{SECONDS_RANGE[1]:g} seconds."
        )
    return seconds
