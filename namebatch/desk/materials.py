"""Which materials of the workshop a template can be made of in place of its own. mm."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from namebatch.store.model import Setting
from namebatch.template.model import Template
from namebatch.template.workshop import Material, Workshop

Kind = Literal["face", "board"]
MaterialSetting = Literal["material", "board"]


@dataclass(frozen=True, slots=True)
class MaterialOffered:
    """A material of the workshop that can be chosen; no size where it comes in the printer's."""

    name: str
    title: str
    size_mm: tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class MaterialChoice:
    """What can be chosen for one kind of sheet.

    Attributes:
        setting: what the choice is called among the settings.
        kind: ``face`` is printed and cut, ``board`` only cut.
        usual: title of the template's own material, which is taken if none is chosen.
        missing: the workshop has none such, so that another one has to be chosen.
        offered: materials that suit, in the order of the workshop file.
    """

    setting: MaterialSetting
    kind: Kind
    usual: str
    missing: bool
    offered: tuple[MaterialOffered, ...]


def material_choices(
    template: Template, workshop: Workshop, settings: Mapping[str, Setting]
) -> tuple[MaterialChoice, ...]:
    """For what is printed first, then for the boards under it.

    Args:
        template: as it was read.
        workshop: has the materials.
        settings: of the docket; what was chosen is offered, whether it suits or not.
    """
    kind: Kind = "board" if template.build == "bare" else "face"
    wanted: list[tuple[MaterialSetting, Kind, str]] = [("material", kind, template.material)]
    if template.board is not None:
        wanted.append(("board", "board", template.board))
    mounted = template.finish.mounted
    return tuple(
        _choice(setting, kind, own, {own, settings.get(setting)}, workshop, mounted)
        for setting, kind, own in wanted
    )


def _choice(
    setting: MaterialSetting,
    kind: Kind,
    own: str,
    always: set[object],
    workshop: Workshop,
    mounted: bool,
) -> MaterialChoice:
    known = workshop.materials
    return MaterialChoice(
        setting=setting,
        kind=kind,
        usual=known[own].title if own in known else own,
        missing=own not in known,
        offered=tuple(
            MaterialOffered(one.name, one.title, one.sheet_mm)
            for one in known.values()
            if one.name in always or _suits(one, kind, mounted)
        ),
    )


def _suits(material: Material, kind: Kind, mounted: bool) -> bool:
    """Whether a material is for such sheets: what is printed on comes in the printer's size.

    A print that is mounted lies on a sheet with a size of its own.
    """
    if kind == "face" and mounted:
        return True
    return (material.sheet_mm is None) == (kind == "face")
