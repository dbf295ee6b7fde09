"""What each customer is sent: the job as far as it is theirs, and a name for their files.

One customer's paper never shows what another one ordered: not their rows, not their names in a
finding, not how many they are.
"""

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, replace

from namebatch.job import Job
from namebatch.names.repeats import with_repeats
from namebatch.names.row import Row
from namebatch.output.orders import Order, orders_of

_OF_OTHERS = frozenset({"duplicate", "almost-duplicate"})
"""Findings that tell of other rows: found anew among the rows of an order."""
_LONGEST = 40
_NO_NAME = "order"


@dataclass(frozen=True, slots=True)
class Customer:
    """One order, to be asked about apart from the others.

    Attributes:
        stem: of its files: its number in list order and its name in plain letters.
        order: with its pieces and held rows.
        job: the batch with nothing in it but this order.
    """

    stem: str
    order: Order
    job: Job


def customers_of(job: Job) -> tuple[Customer, ...]:
    """One for each order, rows without an order in one of their own.

    Returns:
        Empty where the list has no more than one: there is nobody to keep it from.
    """
    orders = orders_of(job)
    if not has_several_orders(job):
        return ()
    rows: dict[str, list[Row]] = {order.name: [] for order in orders}
    named = {piece.line: piece.order for piece in job.pieces}
    for row in job.rows:
        rows[named.get(row.line, row.order)].append(row)
    if job.section is not None:
        stems = [job.section.stems[order.name] for order in orders]
    else:
        stems = stems_of([order.title for order in orders])
    return tuple(
        Customer(stem, order, _of(job, order, rows[order.name]))
        for stem, order in zip(stems, orders, strict=True)
    )


def stems_of(titles: Sequence[str]) -> list[str]:
    """Names of files, without ending, for orders in their order."""
    return [f"{n:03d}-{plain_name(title)}" for n, title in enumerate(titles, start=1)]


def has_several_orders(job: Job) -> bool:
    """True if the job, or the batch that it is a part of, has more than one order."""
    if job.section is not None:
        return bool(job.section.stems)
    return len(orders_of(job)) > 1


def plain_name(name: str) -> str:
    """A name in small letters a to z and figures, words joined by hyphens: `Mühle 7` → `muhle-7`.

    ``order`` where nothing is left of it.
    """
    split = unicodedata.normalize("NFKD", name.casefold())
    bare = "".join(sign for sign in split if not unicodedata.combining(sign))
    words = re.findall(r"[a-z0-9]+", bare)
    kept = "-".join(words)
    if len(kept) > _LONGEST:
        kept = kept[: _LONGEST + 1].rpartition("-")[0] or kept[:_LONGEST]
    return kept or _NO_NAME


def _of(job: Job, order: Order, rows: Sequence[Row]) -> Job:
    """The job with nothing but an order; findings about the whole list are not theirs."""
    own = [
        replace(row, findings=tuple(f for f in row.findings if f.code not in _OF_OTHERS))
        for row in rows
    ]
    totals = replace(
        job.totals,
        rows=len(rows),
        made=len(order.pieces),
        held=len(order.held),
        pieces=order.count + order.spares,
        spares=order.spares,
    )
    return replace(
        job,
        names=replace(job.names, findings=()),
        rows=with_repeats(own, job.names.place),
        pieces=order.pieces,
        totals=totals,
    )
