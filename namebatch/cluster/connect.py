"""The way to a scheduler, and what is wrong with it in words of whoever runs the job."""

import asyncio
import logging
from collections.abc import Iterator
from contextlib import contextmanager
from importlib import import_module
from typing import Any, Final

from namebatch.errors import ClusterError, SettingsError

CONNECT_S: Final = 8.0
KEPT: Final = "What is whole is kept, and the same command goes on from it."
_PORT: Final = 8786
"""Where dask's scheduler listens unless it is told otherwise."""
_WAYS: Final = ("tcp", "tls")


def whole_address(text: str) -> str:
    """A scheduler's address with everything that may be left out.

    Args:
        text: ``HOST``, ``HOST:PORT``, ``tcp://HOST:PORT`` or ``tls://HOST:PORT``.

    Raises:
        SettingsError: it is none.
    """
    way, sign, rest = text.strip().rpartition("://")
    way = way if sign else "tcp"
    host, sign, port = rest.rpartition(":")
    if not sign or rest.endswith("]"):  # [::1] alone is a host with colons
        host, port = rest, str(_PORT)
    right = port.isascii() and port.isdigit() and 0 < int(port) < 65536
    plain = host and not any(c.isspace() or c in "/@?#" for c in host)
    if way not in _WAYS or not right or not plain or (":" in host and host[0] != "["):
        raise SettingsError(
            f'--cluster takes the address of a scheduler, for example 192.168.0.5:{_PORT}; not "'
            f'{text}".'
        )
    return f"{way}://{host}:{port}"


def check_extra() -> None:
    """See that the extra is installed.

    Raises:
        SettingsError: it is not.
    """
    try:
        import_module("distributed")
    except ModuleNotFoundError as error:
        raise SettingsError(
            'A cluster needs the extra "cluster": pip install "namebatch[cluster]"'
        ) from error


def connected(address: str) -> Any:
    """A client of a scheduler.

    Args:
        address: from `whole_address`.

    Raises:
        ClusterError: there is no scheduler, or none that answers.
    """
    dask = import_module("distributed")
    try:
        told = asyncio.run(_identity(address))
    except (OSError, TimeoutError, ValueError) as error:
        raise ClusterError(
            f"Nobody at {address} answers as a scheduler does. Start one there (dask scheduler), "
            "look at address and firewall, or make the job without --cluster.",
            [str(error).splitlines()[0]] if str(error) else [],
        ) from error
    if told.get("type") != "Scheduler":
        raise ClusterError(
            f"At {address} there is a part of a cluster that is not its scheduler. Give the "
            "scheduler's address."
        )
    try:
        return dask.Client(address, timeout=CONNECT_S, set_as_default=False)
    except (OSError, TimeoutError, ImportError) as error:
        raise ClusterError(
            f"The scheduler at {address} does not take this machine: {error}. Install the same "
            "version of distributed on both, and try again."
        ) from error


@contextmanager
def reaching(address: str) -> Iterator[None]:
    """Whatever goes wrong on the way to the scheduler within, in words.

    Raises:
        ClusterError: it is gone, or cannot be reached.
    """
    try:
        yield
    except Exception as error:
        raise gone(address) from error


def gone(address: str) -> ClusterError:
    """What to say of a scheduler that was there before."""
    return ClusterError(
        f"The scheduler at {address} is gone, or cannot be reached any more. {KEPT} See that it "
        "runs first, and its workers, or go on without --cluster."
    )


@contextmanager
def quiet() -> Iterator[None]:
    """Let dask's client not write to the terminal what is told here in words."""
    log = logging.getLogger("distributed.client")
    before = log.level
    log.setLevel(logging.CRITICAL)
    try:
        yield
    finally:
        log.setLevel(before)


async def _identity(address: str) -> dict[str, Any]:
    """Ask who is there; a client that finds nobody would leave a thread behind."""
    rpc = import_module("distributed.core").rpc
    security = import_module("distributed").Security()
    given = security.get_connection_args("client")
    async with rpc(address, timeout=CONNECT_S, connection_args=given) as there:
        told: dict[str, Any] = await asyncio.wait_for(there.identity(), CONNECT_S)
        return told
