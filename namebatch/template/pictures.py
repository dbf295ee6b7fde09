"""Artwork of a template, from the tables ``[artwork.front]`` and ``[artwork.back]``."""

from collections.abc import Iterable, Mapping
from pathlib import Path

from namebatch.finding import Finding, warn
from namebatch.template import artwork
from namebatch.template.base import read_bytes
from namebatch.template.folder import member
from namebatch.template.model import Artwork, FaceName, RasterPicture, VectorPicture
from namebatch.template.problems import (
    FileProblem,
    Problems,
    did_you_mean,
    joined,
    shown,
    validated,
)
from namebatch.template.schema import ArtworkTable, Head
from namebatch.template.svg import node
from namebatch.template.svg.picture import SvgArtwork, read_artwork
from namebatch.template.svg.raster import rasterise
from namebatch.template.traced import Traced

LEAST_DPI = 75.0
"""Below this, single pixels are seen at arm's length (common practice, no source)."""
SOFT_DPI = 150.0
"""Below this a picture looks soft in print (common practice, no source)."""
STRETCH = 0.02
"""A picture stretched more one way than the other by this much looks wrong."""

Box = tuple[float, float, float, float]


def read_all(
    data: object,
    head: Head | None,
    size_mm: tuple[float, float] | None,
    bleed_mm: float,
    files: Mapping[str, Path],
    problems: Problems,
    traced: Traced | None = None,
) -> dict[FaceName, Artwork]:
    """The pictures by face; everything in their way is noted.

    Args:
        data: the table ``artwork``.
        head: build and faces; None when they are not known.
        size_mm: of the base; None when it is not known.
        bleed_mm: how far the print reaches past the base.
        files: of the template.
        problems: gets one line for each.
        traced: place and mask of the front, where the base is its trace.
    """
    if not isinstance(data, dict):
        problems.add("artwork", "must be written as [artwork.front] or [artwork.back].")
        return {}
    found: dict[FaceName, Artwork] = {}
    if data and head is not None and head.build == "bare":
        problems.add("artwork", 'nothing is printed with build = "bare"; leave it out.')
    names: tuple[FaceName, ...] = ("front", "back")
    for key in data:
        if key not in names:
            problems.add(
                joined("artwork", [key]), f"there is no such face; {did_you_mean(key, names)}"
            )
    for face in names:
        if face not in data:
            continue
        place = f"artwork.{face}"
        if head is not None and face not in head.faces:
            problems.add(place, f'"{face}" is not in faces; add it there or take this out.')
        table = validated(ArtworkTable, data[face], place, problems)
        try:
            own = traced if face == "front" else None
            made = _artwork(table, face, size_mm, bleed_mm, files, problems, own) if table else None
        except FileProblem as problem:
            problems.add(problem.place, problem.message)
            continue
        if made is not None:
            found[face] = made
    return found


def _artwork(
    table: ArtworkTable,
    face: FaceName,
    size_mm: tuple[float, float] | None,
    bleed_mm: float,
    files: Mapping[str, Path],
    problems: Problems,
    traced: Traced | None,
) -> Artwork | None:
    """One picture in its place."""
    place = f"artwork.{face}.file"
    kind = artwork.kind_of(table.file)
    if kind is None:
        raise FileProblem(place, f"{shown(table.file)} must be an .svg, .png, .jpg or .jpeg file.")
    path = member(files, table.file, place)
    if kind == "raster":
        data = read_bytes(path, table.file, artwork.LARGEST_BYTES)
        raster = artwork.read_raster(data, table.file)
        drawing, proportions = None, (float(raster.size_px[0]), float(raster.size_px[1]))
    else:
        data = read_bytes(path, table.file, node.LARGEST_BYTES)
        drawing = read_artwork(data, table.file, problems)
        if drawing is None:
            return None
        proportions = drawing.picture.size_mm
    if size_mm is None:
        return None
    needed = (-bleed_mm, -bleed_mm, size_mm[0] + 2 * bleed_mm, size_mm[1] + 2 * bleed_mm)
    box = traced.box_mm if traced else _placed(table, proportions, needed, f"artwork.{face}.box_mm")
    picture: VectorPicture | RasterPicture
    if drawing is None:
        _check_sharpness(raster, box, table.file)
        picture = raster
    else:
        picture = _drawn(drawing, data, table.file, box, needed)
    seen = traced.seen if traced else None
    return Artwork(face, picture, box, artwork.file_digest(data), seen)


def _drawn(
    drawing: SvgArtwork, data: bytes, name: str, box: Box, needed: Box
) -> VectorPicture | RasterPicture:
    """Vectors where they show the same as the file does, pixels elsewhere."""
    clipped = drawing.overflows and not _covers(box, needed)
    if drawing.effects or clipped:
        return rasterise(data, name, (box[2], box[3]))
    return drawing.picture


def _placed(table: ArtworkTable, proportions: tuple[float, float], needed: Box, place: str) -> Box:
    """Where the picture lands: as given, or covering base and bleed, centred."""
    width, height = proportions
    if table.box_mm is None:
        scale = max(needed[2] / width, needed[3] / height)
        w, h = width * scale, height * scale
        x, y = needed[0] + (needed[2] - w) / 2, needed[1] + (needed[3] - h) / 2
        # Nanometres are noise; rounded, equal templates give equal files.
        return round(x, 6), round(y, 6), round(w, 6), round(h, 6)
    x, y, w, h = table.box_mm
    if abs(w / h / (width / height) - 1) > STRETCH:
        raise FileProblem(
            place,
            f"{w:g} × {h:g} mm would stretch the picture; at this width its height is "
            f"{w * height / width:.2f} mm.",
        )
    return x, y, w, h


def _covers(box: Box, needed: Box) -> bool:
    """True if a box contains another."""
    slack = 1e-5
    return (
        box[0] <= needed[0] + slack
        and box[1] <= needed[1] + slack
        and box[0] + box[2] >= needed[0] + needed[2] - slack
        and box[1] + box[3] >= needed[1] + needed[3] - slack
    )


def _check_sharpness(picture: RasterPicture, box: Box, name: str) -> None:
    """Refuse pixels that anyone would see."""
    dpi = _dpi(picture, box)
    if dpi < LEAST_DPI:
        raise FileProblem(
            name,
            f"has only {dpi:.0f} pixels an inch at {box[2]:.1f} × {box[3]:.1f} mm; use a picture "
            f"at least {300 / dpi:.1f} times as wide and high.",
        )


def soft(pictures: Iterable[Artwork]) -> tuple[Finding, ...]:
    """A warning for each picture that will look soft in print."""
    found: list[Finding] = []
    for one in pictures:
        dpi = _dpi(one.picture, one.box_mm) if isinstance(one.picture, RasterPicture) else SOFT_DPI
        # a picture of 150 dpi has a whole number of pixels, so it may lack half of one
        if round(dpi) < SOFT_DPI:
            found.append(
                warn(
                    "picture-soft",
                    f"The picture of the {one.face} has {dpi:.0f} dpi at its final size and will "
                    f"look soft; {SOFT_DPI:g} dpi or more is better.",
                )
            )
    return tuple(found)


def _dpi(picture: RasterPicture, box: Box) -> float:
    """Pixels an inch at the final size, the fewer of both ways."""
    return min(pixels / side * 25.4 for pixels, side in zip(picture.size_px, box[2:], strict=True))
