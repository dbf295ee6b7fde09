"""What a job's manifest keeps of what was chosen."""

from collections.abc import Mapping, Sequence

from namebatch.maker import Maker
from namebatch.mends import recorded_mends
from namebatch.names.row import NameList, Row
from namebatch.names.words import is_order, is_quantity
from namebatch.settings import Settings
from namebatch.sheet import Stock
from namebatch.stocks import recorded_leftovers, recorded_materials
from namebatch.template.workshop import Workshop


def recorded_settings(
    settings: Settings,
    maker: Maker,
    workshop: Workshop,
    names: NameList,
    rows: Sequence[Row],
    stocks: Sequence[Stock],
    gap: float,
) -> dict[str, object]:
    """The settings as the manifest keeps them: all that the files depend on."""
    return {
        "list": {"file": names.source, "sha256": names.sha256},
        "template_sha256": maker.template.digest,
        "fonts_sha256": maker.letterer.digests(rows),
        "workshop": {"name": workshop.name, "sha256": workshop.digest},
        "sheet_mm": list(stocks[0].page.size_mm),
        "gap_mm": gap,
        "columns": dict(names.columns),
        "font": settings.font,
        "fill": settings.fill,
        "seconds": settings.seconds,
        "keep_order": settings.keep_order,
        "by_order": settings.by_order,
        "spare": settings.spare,
        "part_used": recorded_leftovers(stocks),
        **recorded_mends(settings.mends),
        **recorded_materials(settings.material, settings.board),
        **_other_columns(settings.columns),
    }


def _other_columns(said: Mapping[str, str]) -> dict[str, object]:
    """What was said of the columns for quantity and order; nothing where nothing was."""
    kept = {name: said[name] for name in sorted(said) if is_quantity(name) or is_order(name)}
    return {"other_columns": kept} if kept else {}
