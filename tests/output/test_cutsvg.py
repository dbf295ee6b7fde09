"""Cut SVG, read back as a tree and as a picture."""

from io import BytesIO
from xml.etree.ElementTree import Element

import pytest
import resvg_py
from defusedxml.ElementTree import fromstring
from PIL import Image

from namebatch.output.cutsvg import cut_svg
from namebatch.sheet.model import CutPath
from tests.output import jobs
from tests.output.readers import SVG, svg_rings

FACED = jobs.faced_job()
BARE = jobs.bare_job()


def tree_of(sheet_index: int, job: object = FACED) -> Element:
    """A sheet's cut SVG as a tree."""
    sheet = (FACED if job is FACED else BARE).sheets[sheet_index]
    root: Element = fromstring(cut_svg(sheet.cuts, sheet.size_mm, jobs.COLOURS))
    return root


def test_a_user_unit_is_a_millimetre() -> None:
    """Width and height in mm equal the view box."""
    root = tree_of(0)
    assert (root.get("width"), root.get("height")) == ("148mm", "210mm")
    assert root.get("viewBox") == "0 0 148 210"


def test_groups_are_operations_then_faces() -> None:
    """Only used operations, in run order; in each one group a placed face."""
    root = tree_of(0)
    assert [group.get("id") for group in root] == ["op-inner", "op-outer"]
    faces = ["L2-1.front", "L2-1.back", "L2-2.front", "L2-2.back", "L5-1.front", "L5-1.back"]
    assert [[face.get("id") for face in group] for group in root] == [faces, faces]


def test_nothing_but_groups_and_plain_closed_paths() -> None:
    """No transforms, no styles but stroke colour, width and fill; every path is closed."""
    for element in tree_of(0, BARE).iter():
        tag = element.tag.removeprefix(SVG)
        allowed = {
            "svg": {"width", "height", "viewBox", "version", "baseProfile"},
            "g": {"id"},
            "path": {"d", "stroke", "stroke-width", "fill"},
        }[tag]
        assert set(element.attrib) <= allowed
        if tag == "path":
            assert element.get("d", "").endswith("Z")


def test_points_are_the_sheet_turned_over() -> None:
    """Each written ring is the given one with y taken from the height, point by point."""
    sheet = FACED.sheets[0]
    read = svg_rings(cut_svg(sheet.cuts, sheet.size_mm, jobs.COLOURS))
    for cut in sheet.cuts:
        expected = [(x, 210.0 - y) for x, y in cut.points]
        assert any(
            len(ring) == len(expected)
            and all(
                abs(a - c) < 1e-9 + 5e-5 and abs(b - d) < 1e-9 + 5e-5
                for (a, b), (c, d) in zip(ring, expected, strict=True)
            )
            for ring in read[f"op-{cut.operation}", cut.owner]
        )


def test_the_colours_are_those_of_the_workshop() -> None:
    """Lines carry their operation's colour, filled engraving is filled and has no line."""
    paths = {
        group.get("id"): next(iter(group.iter(f"{SVG}path"))).attrib for group in tree_of(0, BARE)
    }
    assert paths["op-outer"]["stroke"] == "#d55e00"
    assert paths["op-outer"]["fill"] == "none"
    assert (paths["op-engrave"]["fill"], paths["op-engrave"]["stroke"]) == ("#000000", "none")


def test_an_independent_reader_sees_letters_with_their_insides_open() -> None:
    """The renderer resvg paints the engraved D black and its inside white: the winding is right."""
    sheet = BARE.sheets[0]
    engraved = [cut for cut in sheet.cuts if cut.operation == "engrave"]
    svg = cut_svg(engraved, sheet.size_mm, jobs.COLOURS).decode()
    png = bytes(resvg_py.svg_to_bytes(svg_string=svg, background="white", zoom=4, dpi=96))
    image = Image.open(BytesIO(png)).convert("L")
    scale = image.width / sheet.size_mm[0]

    def shade(x: float, y: float) -> int:
        """Brightness at a place on the sheet, mm, y up."""
        value = image.getpixel((int(x * scale), int((sheet.size_mm[1] - y) * scale)))
        assert isinstance(value, int)
        return value

    # L5-1 lies at (5, 60); its D stands at (14, 8) and is 14 mm high, so 2.8 mm a unit
    assert shade(5 + 14 + 0.5 * 2.8, 60 + 8 + 2.5 * 2.8) < 50
    assert shade(5 + 14 + 1.5 * 2.8, 60 + 8 + 2.5 * 2.8) > 200


@pytest.mark.parametrize(
    ("bulge", "command"),
    [
        # a quarter circle of 5 mm radius counter-clockwise (y up): SVG's negative sweep
        (2**0.5 - 1, "A5,5 0 0 0 1,94"),
        (1 - 2**0.5, "A5,5 0 0 1 1,94"),
        # above half a circle: the large arc; its radius has the digits that it needs
        (2.0, "A4.41941738,4.41941738 0 1 0 1,94"),
        # lower than half of the grid: a line
        (1e-5, "L1,94"),
    ],
)
def test_arcs_are_written_as_arcs(bulge: float, command: str) -> None:
    """A bulge becomes radius, size and sweep; y is turned over, and with it the sweep."""
    cut = CutPath("outer", "a", ((6.0, 1.0), (1.0, 6.0), (1.0, 1.0)), bulges=(bulge, 0.0, 0.0))
    path = fromstring(cut_svg([cut], (100.0, 100.0), {})).find(f".//{SVG}path")
    assert path is not None
    assert path.get("d") == f"M6,99{command}L1,99Z"


def test_the_size_in_pixels_follows_css() -> None:
    """100 × 50 mm are 378 × 189 pixels at 96 to the inch (CSS Values and Units, 5.2)."""
    svg = cut_svg([CutPath("outer", "a", ((1.0, 1.0), (9.0, 1.0), (9.0, 9.0)))], (100.0, 50.0), {})
    png = bytes(resvg_py.svg_to_bytes(svg_string=svg.decode(), dpi=96))
    assert Image.open(BytesIO(png)).size == (378, 189)


@pytest.mark.parametrize("job", [FACED, BARE])
def test_bytes_are_the_same_when_made_again(job: object) -> None:
    """The bytes depend on nothing but the lines."""
    for sheet in (FACED if job is FACED else BARE).sheets:
        once, again = (cut_svg(sheet.cuts, sheet.size_mm, jobs.COLOURS) for _ in range(2))
        assert once == again
