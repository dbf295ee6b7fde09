"""Where pieces are made: the opened template of one docket, in the server or in a worker."""

import pickle
from collections.abc import Mapping
from dataclasses import dataclass, replace

from namebatch.cuttable import made_cuttable
from namebatch.desk.shown import Shown, shown
from namebatch.faint import Beneath
from namebatch.finding import Finding, hold, is_held
from namebatch.letterer import make_letterer
from namebatch.maker import Maker
from namebatch.names.mended import HELD_BY_HAND
from namebatch.names.row import Row
from namebatch.outline import Limits, Outline
from namebatch.piece import Lettering
from namebatch.pipeline import Plan
from namebatch.sheet import Stock
from namebatch.template.model import Template
from namebatch.template.workshop import Workshop
from namebatch.text.fit import Common

NOT_MADE = "not-made"
"""Code of a row that was held as making it broke down."""


@dataclass(frozen=True, slots=True)
class Bench:
    """What makes rows of one plan and draws them."""

    template: Template
    workshop: Workshop
    stocks: tuple[Stock, ...]
    maker: Maker

    def make(self, row: Row) -> Shown:
        """One row, changes by hand applied; every proof is that of the whole job.

        What nobody foresaw holds the row and lets the others be made.
        """
        by_hand = tuple(f for f in row.findings if f.code == HELD_BY_HAND)
        try:
            # whoever holds a piece, or may release it, looks at it all the same
            bare = _without(row, by_hand) if is_set_aside(row) else row
            made, piece = self.maker.make(bare)
            if piece is not None:
                made, piece = made_cuttable(made, piece, self.template, self.stocks)
            found = shown(self, made, piece, self.maker.limits)
            if bare is row:
                return found
            return replace(found, row=replace(made, findings=(*by_hand, *made.findings)))
        except Exception as error:
            return broken_down(row, f"{type(error).__name__}: {error}"[:200])


@dataclass(frozen=True, slots=True)
class Tools:
    """What a bench is set up from elsewhere: all of it but the opened typefaces."""

    template: Template
    workshop: Workshop
    stocks: tuple[Stock, ...]
    limits: Limits
    font: str | None
    outline: Outline | None
    base_gain_mm2: float
    settled: frozenset[str]
    beneath: Beneath
    fixed: Mapping[str, Lettering]
    common: Mapping[str, Common]
    han_language: str


def bench_of(plan: Plan) -> Bench:
    """The bench of a plan, in the process where it was planned."""
    return Bench(plan.template, plan.workshop, plan.stocks, plan.maker)


def packed_tools(plan: Plan) -> bytes:
    """What a bench is set up from in another process."""
    maker, letterer = plan.maker, plan.maker.letterer
    tools = Tools(
        plan.template,
        plan.workshop,
        plan.stocks,
        maker.limits,
        maker.font,
        maker.outline,
        maker.base_gain_mm2,
        maker.settled,
        maker.beneath,
        dict(letterer.fixed),
        dict(letterer.common),
        letterer.han_language,
    )
    return pickle.dumps(tools, pickle.HIGHEST_PROTOCOL)


def set_up(packed: bytes) -> Bench:
    """The bench of what `packed_tools` gave; it opens the typefaces."""
    tools = pickle.loads(packed)
    if not isinstance(tools, Tools):
        raise TypeError("these are no tools of a bench")
    letterer = replace(
        make_letterer(tools.template, tools.font),
        template=tools.template,
        fixed=tools.fixed,
        common=tools.common,
        han_language=tools.han_language,
    )
    maker = Maker(
        letterer,
        tools.outline,
        tools.limits,
        tools.font,
        tools.base_gain_mm2,
        tools.settled,
        tools.beneath,
    )
    return Bench(tools.template, tools.workshop, tools.stocks, maker)


def is_set_aside(row: Row) -> bool:
    """True if a row could be made, as far as is known, and is held by hand alone."""
    return {f.code for f in row.findings if is_held([f])} == {HELD_BY_HAND}


def _without(row: Row, findings: tuple[Finding, ...]) -> Row:
    return replace(row, findings=tuple(f for f in row.findings if f not in findings))


def broken_down(row: Row, why: str) -> Shown:
    """A row that is held because making it broke down."""
    told = hold(
        NOT_MADE,
        f"{row.where}: making this piece broke down ({why}). Change the text or the typeface; the "
        "others are not touched by it. Please report it. Held.",
    )
    return Shown(replace(row, findings=(*row.findings, told)))
