"""Artwork in SVG, held against resvg, an independent reader."""

import base64
from io import BytesIO

import numpy as np
import pytest
from PIL import Image

from namebatch.template.model import PaintedPath
from namebatch.template.problems import FileProblem
from namebatch.template.svg.raster import rasterise, resolution
from tests.template.drawing import artwork, pixels, svg, written_again
from tests.template.images import bare_png, png

WIDTH = 400

FLAT = {
    "shapes": svg(
        '<rect x="2" y="3" width="20" height="12" rx="3" fill="teal"/>'
        '<rect x="30" y="3" width="20" height="12" rx="30" ry="2" fill="#a50"/>'
        '<circle cx="12" cy="40" r="9" fill="rgb(20,40,90)"/>'
        '<ellipse cx="40" cy="40" rx="14" ry="6" fill="hsl(200, 60%, 40%)"/>'
        '<polygon points="60,5 75,10 70,25 58 20" fill="orchid"/>'
        '<polyline points="60,35 75,30 70,55" fill="none" stroke="navy" stroke-width="1.5"/>'
        '<line x1="2" y1="58" x2="78" y2="52" stroke="red" stroke-width="1" '
        'stroke-linecap="round"/>'
    ),
    "path commands": svg(
        '<path d="M5 5h20v10H15l-5 5zm30 0c5-5 10 10 15 0s5 10 10 5t-3 8T50 20q-5-5-15 2z"/>'
        '<path d="M10 40a8 5 30 1 1 12 4a6,6 0 0110-3.5L40 50A4 4 0 00 32 52 9 2 15 10 22 55z" '
        'fill="#246"/><path d="m50 35 20 0 0 20-20.5.5 1e1-1.5E1z m5-2.5l3-.5.5.5" '
        'fill-rule="evenodd" fill="green"/>'
    ),
    "transforms": svg(
        '<g transform="translate(40,30) rotate(30)"><rect x="-10" y="-6" width="20" height="12" '
        'transform="skewX(20) scale(1.2,.8)" fill="#789"/></g>'
        '<rect width="10" height="8" transform="rotate(45 10 10)"/>'
        '<path d="M0 0L8 0 4 6z" transform="matrix(1.2 .3 -.4 1 60 40) skewY(-10)" fill="coral"/>'
    ),
    "stretched line": svg(
        '<g transform="scale(3 .8)"><circle cx="12" cy="35" r="8" fill="gold" stroke="#333" '
        'stroke-width="2"/><path d="M4 8l6 10 8-12" fill="none" stroke="crimson" '
        'stroke-width="1.5" stroke-linejoin="round" stroke-linecap="square"/></g>'
    ),
    "mitre limits": svg(
        '<g fill="none" stroke="#333" stroke-width="3"><path d="M10 50L20 15 24 50"/>'
        '<path stroke-miterlimit="10" d="M30 50L38 25 45 50"/><path stroke-miterlimit="20" '
        'd="M55 50L61 25 66 50z" fill="gold"/></g>'
    ),
    "rules": svg(
        "<style>.a{fill:#0a7} rect.b, #c {fill:#a07;stroke:black;stroke-width:.8} "
        "/* no */ * {stroke-linejoin:round} .a.b{fill:yellow!important}</style>"
        '<rect class="a" width="10" height="10" x="5" y="5"/>'
        '<rect class="b" width="10" height="10" x="25" y="5" fill="red"/>'
        '<rect class="b" width="10" height="10" x="45" y="5" style="fill:blue"/>'
        '<rect class="a b" width="10" height="10" x="65" y="5" style="fill:blue"/>'
        '<circle id="c" cx="20" cy="40" r="8"/><circle class="a" cx="50" cy="40" r="8"/>'
    ),
    "inheritance": svg(
        '<g fill="#357" stroke="currentColor" color="tomato" stroke-width="1">'
        '<rect x="5" y="5" width="12" height="12"/><g fill="none" color="lime">'
        '<rect x="25" y="5" width="12" height="12"/><rect x="45" y="5" width="12" height="12" '
        'fill="inherit" stroke="#fa0"/></g><g visibility="hidden"><rect width="70" height="50"/>'
        '<rect x="5" y="30" width="12" height="12" visibility="visible"/></g>'
        '<g display="none"><rect width="70" height="50"/></g></g>'
    ),
    "copies": svg(
        '<defs><g id="k"><path d="M0 0L5 8L0 12L-5 8Z"/></g><symbol id="s" viewBox="0 0 10 10">'
        '<circle cx="5" cy="5" r="4.5"/></symbol></defs><use href="#k" x="10" y="5" fill="teal"/>'
        '<use xlink:href="#k" transform="translate(30 5) scale(2)" fill="#b33"/>'
        '<use href="#s" x="50" y="10" width="20" height="14" fill="#06c"/>'
        '<svg x="5" y="35" width="20" height="20" viewBox="0 0 4 4"><rect x="1" y="1" width="2" '
        'height="2"/></svg>'
    ),
    "opacity": svg(
        '<rect width="80" height="30" fill="#fc0"/><g opacity=".5"><circle cx="15" cy="30" r="9"/>'
        '<circle cx="45" cy="30" r="9" fill="blue" fill-opacity="50%"/></g>'
        '<circle cx="68" cy="30" r="9" fill="rgba(0,90,0,.4)" stroke="#f00a" stroke-width="2"/>'
    ),
    "units": svg(
        '<rect x="1cm" y="5mm" width="1in" height="36pt" fill="#147"/>'
        '<rect x="50%" y="50%" width="25%" height="10%" fill="#741"/>'
        '<circle cx="3pc" cy="150px" r="5%" fill="#417"/>',
        'width="80mm" height="60mm"',
    ),
    "view box": svg(
        '<rect x="-10" y="20" width="100" height="50" fill="#9cf"/>'
        '<circle cx="40" cy="45" r="20"/>',
        'width="80mm" height="60mm" viewBox="-10 20 100 50" preserveAspectRatio="xMaxYMin meet"',
    ),
    "view box sliced": svg(
        '<rect width="10" height="10" fill="#9cf"/><circle cx="5" cy="5" r="3"/>',
        'width="80mm" height="60mm" viewBox="0 0 10 10" preserveAspectRatio="xMidYMax slice"',
    ),
    "odds and ends": svg(
        '<switch><g requiredExtensions="x"><rect width="80" height="60"/></g>'
        '<ellipse cx="20" cy="20" rx="auto" ry="9" fill="teal"/><rect width="80" height="60"/>'
        '</switch><g fill="red"><rect x="40" y="5" width="9" height="9" style="fill:initial"/>'
        '<rect x="55" y="5" width="9" height="9" style="fill:inherit"/></g><svg viewBox="0 0 10 10"'
        ' x="40" y="30" width="20" height="20" overflow="visible"><circle r="4" fill="navy"/></svg>'
        '<path transform="none" d="M5 40h9v0h-9"/><path d="M5 45A0 3 0 0 1 15 50T20 40 25 50" '
        'fill="none" stroke="#080"/><title>x</title><rect width="0" height="4"/>'
        '<circle cx="70" cy="50" r="5" fill="none" stroke="none"/><rect rx="2" ry="0" x="62" y="40"'
        ' width="9" height="9" transform="translate(1),scale(1)"/>'
    ),
    "view box stretched": svg(
        '<rect width="10" height="10" fill="#9cf"/><circle cx="5" cy="5" r="4"/>',
        'width="80mm" height="60mm" viewBox="0 0 10 10" preserveAspectRatio="none"',
    ),
}


@pytest.mark.parametrize("name", FLAT)
def test_flat_artwork_looks_as_resvg_draws_the_file(name: str) -> None:
    """Our shapes, written out again as bare paths, give the picture resvg makes of the file."""
    found, problems = artwork(FLAT[name])
    assert problems == ()
    assert found is not None
    assert found.effects == ()
    theirs, ours = pixels(FLAT[name], WIDTH), pixels(written_again(found.picture), WIDTH)
    difference = np.abs(theirs - ours).max(axis=2)
    # Edges may fall on either side of a grey step; whole pixels may not differ.
    assert difference.max() <= 64, np.argwhere(difference > 64)[:5]
    assert (difference > 16).mean() < 0.001
    assert (theirs < 250).any(axis=2).mean() > 0.03


BOMB = base64.b64encode(bare_png(60_000, 60_000)).decode()
EMBEDDED = base64.b64encode(png(8, 6)).decode()
EFFECTS = {
    "a gradient": '<defs><linearGradient id="g"><stop offset="0" stop-color="red"/><stop '
    'offset="1" stop-color="blue"/></linearGradient></defs><rect fill="url(#g)" width="80" '
    'height="60"/>',
    "clip-path": '<clipPath id="c"><circle cx="20" cy="20" r="9"/></clipPath>'
    '<rect width="80" height="60" clip-path="url(#c)"/>',
    "mask": '<mask id="m"><rect width="40" height="60" fill="white"/></mask>'
    '<rect width="80" height="60" style="mask:url(#m)"/>',
    "filter": '<filter id="f"><feGaussianBlur stdDeviation="3"/></filter>'
    '<circle cx="40" cy="30" r="20" filter="url(#f)"/>',
    "a dashed line": '<path d="M5 5H70" stroke="black" stroke-width="3" stroke-dasharray="4 2"/>',
    "overlap": '<g opacity=".5"><circle cx="30" cy="30" r="20"/><circle cx="45" cy="30" r="20" '
    'fill="red"/></g>',
    "pointed corners": '<path d="M5 50L20 15 35 50" fill="none" stroke="black" stroke-width="5" '
    'stroke-miterlimit="2"/>',
    "a picture": f'<image width="40" height="30" href="data:image/png;base64,{EMBEDDED}"/>',
    "a window that clips": '<svg x="5" y="5" width="20" height="20"><circle r="15"/></svg>',
}


@pytest.mark.parametrize("what", EFFECTS)
def test_what_flat_shapes_cannot_show_becomes_pixels(what: str) -> None:
    """Gradients, clips, masks, filters and dashes are named and drawn by resvg at 600 dpi."""
    text = svg(EFFECTS[what])
    found, problems = artwork(text)
    assert problems == ()
    assert found is not None
    assert any(what in effect for _, effect in found.effects), found.effects
    picture = rasterise(text.encode(), "art.svg", (8.0, 6.0))
    # 8 × 6 mm at 600 dpi are 188.98 × 141.73 pixels.
    assert picture.size_px == (189, 142)
    seen = Image.open(BytesIO(picture.data)).convert("RGBA")
    paper = Image.new("RGBA", seen.size, "white")
    ours = np.asarray(Image.alpha_composite(paper, seen).convert("RGB")).astype(int)
    whole_pixels = svg(EFFECTS[what], 'width="189" height="142" viewBox="0 0 80 60"')
    assert np.abs(ours - pixels(whole_pixels, 189)).mean() < 1.0


@pytest.mark.parametrize("size_mm", [(30.0, 30.0), (60.0, 40.0), (100.0, 20.0)])
@pytest.mark.parametrize("boxed", [True, False])
def test_pixels_are_not_stretched(size_mm: tuple[float, float], boxed: bool) -> None:
    """A drawing whose size is no whole number of pixels lands in place, edges included."""
    width, height = size_mm
    unit = 1.0 if boxed else 96 / 25.4
    head = f'width="{width}mm" height="{height}mm"'
    head += f' viewBox="0 0 {width} {height}"' if boxed else ""
    x, y, w, h = (unit * v for v in (0.25 * width, 0.25 * height, 0.75 * width, 0.5 * height))
    text = svg(f'<rect x="{x}" y="{y}" width="{w}" height="{h}"/>', head)
    seen = Image.open(BytesIO(rasterise(text.encode(), "art.svg", size_mm).data))
    alpha = np.asarray(seen.getchannel("A")) / 255.0
    columns, rows = alpha.max(axis=0), alpha.max(axis=1)
    assert columns.mean() == pytest.approx(0.75, abs=0.5 / len(columns))
    assert rows.mean() == pytest.approx(0.5, abs=0.5 / len(rows))
    assert columns[-1] > 0.5  # nothing is cut off
    middle = np.average(np.arange(len(rows)) + 0.5, weights=rows) / len(rows)
    assert middle == pytest.approx(0.5, abs=0.5 / len(rows))


def test_overlapping_see_through_fill_and_line_is_not_flattened() -> None:
    """Opacity of a shape as a whole is not opacity of its fill and line one after the other."""
    found, _ = artwork(svg('<circle cx="20" cy="20" r="9" stroke="red" opacity=".5"/>'))
    assert found is not None
    assert [what for _, what in found.effects] == ["see-through groups whose shapes overlap"]


def test_text_in_artwork_is_told_with_a_remedy() -> None:
    """Letters that need a typeface of this machine are refused, with what to do instead."""
    found, problems = artwork(svg('<rect width="9" height="9"/><text x="4" y="9">Tide</text>'))
    assert found is None
    assert len(problems) == 1
    assert "turn the letters into outlines" in problems[0]
    assert problems[0].startswith("art.svg line 1, <text>:")


@pytest.mark.parametrize(
    ("body", "message"),
    [
        ('<rect width="9" height="9" fill="blau"/>', '"blau" is not a colour'),
        ('<rect width="9" height="9" opacity="x"/>', "is not a number"),
        ('<rect width="-9" height="9"/>', "below zero"),
        ('<rect width="9em" height="9"/>', "unit"),
        ('<path d="M0 0L1"/>', "stops making sense after 6 characters"),
        ('<path d="L1 1"/>', "must begin with a move"),
        ('<path d="M0 0LNaN 1"/>', "stops making sense"),
        ('<path d="M0 0L1e99 1"/>', "too large a number"),
        ('<path d="M0 0L1e999 1"/>', "too large a number"),
        ('<path d="M0 0A1 1 0 2 0 5 5"/>', "stops making sense"),
        ('<g transform="rotate(1,2)"><rect/></g>', "rotate with 2 numbers is not known"),
        ('<g transform="turn(1)"><rect/></g>', "turn with 1 numbers is not known"),
        ('<polygon points="1 2 3"/>', "even count"),
        ('<use href="#nowhere"/>', "copies an element that is not in the drawing"),
        ('<blink/><rect width="9" height="9"/>', "not an element that is drawn here"),
        ("<style>g rect{fill:red}</style>", 'selector "g rect" is not read here'),
        ("<style>@media print{.a{fill:red}}</style>", 'rule "@media print" is not read here'),
        ('<rect width="9" height="9" stroke="red" stroke-width="-1"/>', "stroke-width is below"),
        ('<circle r="-2"/>', "a radius is below zero"),
        ('<rect width="9" height="9" rx="-2"/>', "rx is below zero"),
        ('<svg viewBox="1 2 3"><rect/></svg>', "viewBox needs four numbers"),
        ('<svg viewBox="0 0 9 9" preserveAspectRatio="left"/>', '"left" is not known'),
        ('<svg viewBox="0 0 1e-9 9"/>', "far too large"),
        ('<rect transform="scale(2"/>', 'transform "scale(2" is not known'),
        ('<rect transform="scale(a)"/>', "is not a list of numbers"),
        ('<rect width="9" height="9" x="9e6"/>', "more than 100 m away"),
        ("", "shows nothing"),
    ],
)
def test_what_cannot_be_understood_is_told_with_its_place(body: str, message: str) -> None:
    """Every slip in an element is a problem that says where it is and what it is."""
    found, problems = artwork(svg(body))
    assert found is None
    assert any(message in problem for problem in problems), problems
    assert all(problem.startswith("art.svg") for problem in problems)


def test_all_slips_are_told_at_once() -> None:
    """Three slips in three elements make three problems, each with its line."""
    body = '\n<rect width="1x"/>\n<path d="z"/>\n<circle r="5" fill="#12"/>'
    _, problems = artwork(svg(body))
    assert [problem.split(",")[0] for problem in problems] == [
        "art.svg line 2",
        "art.svg line 3",
        "art.svg line 4",
    ]


def test_lengths_are_css_lengths() -> None:
    """One inch is 96 px is 25.4 mm (CSS Values and Units, 5.2), and so is the picture's size."""
    for size in ("1in", "96px", "96", "2.54cm", "25.4mm", "72pt", "6pc", "101.6q"):
        found, problems = artwork(
            svg('<rect width="100%" height="50%"/>', f'width="{size}" height="{size}"')
        )
        assert problems == ()
        assert found is not None
        assert found.picture.size_mm == pytest.approx((25.4, 25.4), abs=1e-12)
        points = [p for s in found.picture.shapes[0].path for p in s.points]
        assert max(x for x, _ in points) == pytest.approx(25.4, abs=1e-12)
        # y is up: the upper half of the picture.
        assert min(y for _, y in points) == pytest.approx(12.7, abs=1e-12)


def test_line_width_follows_the_transform() -> None:
    """A line of 2 user units under a scale of 3 is 6 mm wide where a unit is 1 mm."""
    found, _ = artwork(
        svg('<path transform="scale(-3 3)" d="M0 0L5 5" stroke="red" stroke-width="2"/>')
    )
    assert found is not None
    (shape,) = found.picture.shapes
    assert isinstance(shape, PaintedPath)
    assert shape.stroke_width == pytest.approx(6.0, abs=1e-9)


@pytest.mark.parametrize(
    ("body", "size_mm", "message"),
    [
        (EFFECTS["filter"], (2000.0, 1500.0), "too large to be sharp"),
        (
            '<image width="9" height="9" href="data:image/png;base64,!!"/>',
            (8.0, 6.0),
            "<image>: holds a damaged picture",
        ),
        (
            '<image width="9" height="9" href="data:image/png;base64,AAAA"/>',
            (8.0, 6.0),
            "<image>: is not a PNG or JPEG",
        ),
        (
            f'<image width="9" height="9" href="data:image/png;base64,{BOMB}"/>',
            (8.0, 6.0),
            "<image>: has far too many pixels",
        ),
    ],
)
def test_pixels_that_would_be_a_burden_are_refused(
    body: str, size_mm: tuple[float, float], message: str
) -> None:
    """Huge sizes and embedded pictures that are damaged or bombs never reach the renderer."""
    with pytest.raises(FileProblem, match=message):
        rasterise(svg(body).encode(), "art.svg", size_mm)


def test_large_artwork_gets_fewer_pixels() -> None:
    """A4 (ISO 216) keeps 600 dpi, 34.8 megapixels; A3 would be 69.6 and comes down to 454."""
    assert resolution((210.0, 297.0)) == 600
    assert resolution((297.0, 420.0)) == 454


def test_utf_16_and_other_encodings_are_drawn_or_told() -> None:
    """A file in UTF-16 is drawn; one in an old code page is asked to be saved as UTF-8."""
    text = svg("<title>Zoë</title>" + EFFECTS["a dashed line"])
    assert rasterise(text.encode("utf-16"), "art.svg", (8.0, 6.0)).size_px[0] == 189
    latin = '<?xml version="1.0" encoding="iso-8859-1"?>' + text
    with pytest.raises(FileProblem, match="save it as plain SVG in UTF-8"):
        rasterise(latin.encode("latin-1"), "art.svg", (8.0, 6.0))


def test_unset_inherits_what_is_inherited() -> None:
    """CSS Cascading 7.3.3: unset is inherit for fill; resvg does not know the word."""
    found, _ = artwork(svg('<g fill="red"><rect width="9" height="9" style="fill:unset"/></g>'))
    assert found is not None
    assert found.picture.shapes[0].fill == "#ff0000"
