"""Settings that can be no choice for any list, template or workshop."""

from collections.abc import Mapping
from typing import Any

from namebatch.desk.lying import refused
from namebatch.errors import NamebatchError
from namebatch.pipeline import checked_gap
from namebatch.sheet.tight_clock import seconds_of
from namebatch.spares import read_spare
from namebatch.store.model import Setting
from namebatch.template import sheet_size

_FILLING = frozenset({"fill", "seconds", "keep_order", "by_order"})


def check_ranges(wanted: Mapping[str, Setting | None], settings: Mapping[str, Setting]) -> None:
    """Look through what is to be changed; what is there already may stay as it is.

    Args:
        wanted: settings that are changed, each of its own kind.
        settings: those that there are.

    Raises:
        DeskError: a value is out of its own range, or ways to fill sheets exclude each other.
    """
    chosen: dict[str, Any] = {**settings, **wanted}
    try:
        checked_gap(wanted.get("gap_mm"))  # type: ignore[arg-type]
        read_spare(wanted.get("spare"))  # type: ignore[arg-type]
        if wanted.get("sheet"):
            sheet_size(str(wanted["sheet"]))
        if _FILLING & set(wanted):
            ordered = bool(chosen.get("keep_order") or chosen.get("by_order"))
            seconds_of(chosen.get("fill") or "fast", chosen.get("seconds"), ordered)
    except NamebatchError as error:
        raise refused(error) from error
