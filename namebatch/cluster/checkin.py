"""Workers are looked at before they are given anything: would they make the same files?"""

from collections.abc import Sequence
from dataclasses import dataclass
from importlib import import_module, metadata
from typing import Any

from namebatch.cluster import makeup, worker
from namebatch.cluster.makeup import Makeup, differences

SHOWN = 12
"""Differences that are told."""


@dataclass(frozen=True, slots=True)
class CheckedIn:
    """Workers that were looked at.

    Attributes:
        fit: addresses of those that would make the same files, in their order.
        problems: what the others have otherwise, and which.
    """

    fit: tuple[str, ...]
    problems: tuple[str, ...]


def check_in(
    client: Any, run: str, addresses: Sequence[str], kit: bytes, here: Makeup
) -> CheckedIn:
    """Hand workers what tasks are done with, and compare what is installed.

    Args:
        client: of the scheduler.
        run: name of the run.
        addresses: of the workers.
        kit: opener and kit, pickled.
        here: what is installed on this machine.
    """
    names = list(makeup.packages())
    told = _run(client, addresses, worker.receive, run, kit, names)
    failed = [address for address in addresses if not isinstance(told.get(address), dict)]
    versions = _run(client, failed, metadata.version, "namebatch") if failed else {}
    # what a function needs is imported before it is called, and that failing is told by its text
    told |= _run(client, failed, import_module, worker.__name__) if failed else {}
    fit: list[str] = []
    found: dict[str, list[str]] = {}
    for address in addresses:
        answer = told.get(address)
        if isinstance(answer, dict):
            problems = differences(answer, here)
        else:
            problems = [_failure(answer, versions.get(address), here)]
        if not problems:
            fit.append(address)
        for problem in problems:
            found.setdefault(problem, []).append(address)
    lines = [f"{problem} ({_named(where)})" for problem, where in found.items()]
    if len(lines) > SHOWN:
        lines[SHOWN - 1 :] = [f"… and {len(lines) - SHOWN + 1} differences more"]
    return CheckedIn(tuple(fit), tuple(lines))


def _run(client: Any, addresses: Sequence[str], function: Any, *args: Any) -> dict[str, Any]:
    """Call a function in workers, beside their tasks; address → what it gave or raised."""
    told: dict[str, Any] = client.run(function, *args, workers=list(addresses), on_error="return")
    return told


def _failure(error: object, version: object, here: Makeup) -> str:
    """Why a worker could not even say what is installed."""
    if isinstance(version, metadata.PackageNotFoundError):
        return "namebatch is not installed"
    if isinstance(version, str) and version != here["namebatch"]:
        return f"namebatch {version}, here {here['namebatch']}"
    if isinstance(error, ModuleNotFoundError):
        return f"the package that has {error.name} is missing"
    return f"it does not answer: {error if isinstance(error, Exception) else 'it is gone'}"


def _named(addresses: Sequence[str]) -> str:
    more = f" and {len(addresses) - 3} more" if len(addresses) > 3 else ""
    return ", ".join(addresses[:3]) + more
