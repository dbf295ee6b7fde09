"""Pictures that somebody sent: told by content, bounded before decoding, written anew."""

import gzip
from io import BytesIO

import pytest
from PIL import Image, PngImagePlugin
from shapely import Polygon, box

from namebatch.desk import trial_picture
from namebatch.desk.trial_picture import drawing_of, kind_of, read_picture, scaled_drawing
from namebatch.errors import TemplateError
from namebatch.template.problems import Problems
from namebatch.template.svg.outline import outline_from_svg
from tests.desk.pictures import KITE, LINES, SVG, dune_jpeg, float_png, saved
from tests.template.images import bare_png


@pytest.mark.parametrize(
    ("data", "kind", "size"),
    [
        (float_png(), "png", (600, 450)),
        (dune_jpeg(), "jpeg", (600, 450)),
        (KITE, "svg", (60, 40)),
        (b"\xef\xbb\xbf\n" + KITE, "svg", None),
    ],
)
def test_the_kind_is_that_of_the_content(
    data: bytes, kind: str, size: tuple[float, float] | None
) -> None:
    """No name and no type that was sent is asked; sizes in pixels, of drawings in mm."""
    assert kind_of(data) == kind
    if size is not None:
        assert read_picture(data).size == pytest.approx(size)


def test_comments_are_not_kept() -> None:
    """What a camera or a program wrote beside the pixels does not go into the template."""
    info = PngImagePlugin.PngInfo()
    info.add_text("where", "the shed behind the dunes")
    picture = Image.new("RGB", (300, 200), "red")
    plain = saved(picture, "PNG")
    out = BytesIO()
    picture.save(out, "PNG", pnginfo=info)
    assert b"dunes" in out.getvalue()
    assert read_picture(out.getvalue()).data == read_picture(plain).data


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"", "The file is empty"),
        (b"%PDF-1.7 ...", "This is a PDF"),
        (b"GIF89a", "This is a GIF"),
        (b"RIFF....WEBPVP8 ", "This is a WebP"),
        (gzip.compress(KITE), "This is a packed file"),
        (b"PK\x03\x04", "This is an archive"),
        (b"name\nMarlo\n", "This is no picture"),
        (b"\x89PNG\r\n\x1a\n", "cannot be used"),
        (float_png()[:400], "cannot be used"),
        (dune_jpeg()[:300], "cannot be used"),
        (b"<html><body/></html>", "cannot be used"),
        (b"<svg", "cannot be used"),
    ],
)
def test_what_is_no_picture_says_what_it_is(data: bytes, told: str) -> None:
    """Other kinds and broken files, each with a way out."""
    with pytest.raises(TemplateError, match=told):
        read_picture(data)


def test_size_is_bounded_before_anything_is_decoded(monkeypatch: pytest.MonkeyPatch) -> None:
    """A head that claims 20,000 × 20,000 pixels is refused by its figures; bytes by their count."""
    monkeypatch.setattr(trial_picture, "read_raster", None)
    with pytest.raises(TemplateError) as error:
        read_picture(bare_png(20_000, 20_000))
    assert "pixels" in error.value.problems[0]
    with pytest.raises(TemplateError) as error:
        read_picture(bare_png(7_000, 6_000))
    assert "7000 × 6000 pixels; 40 million are plenty" in error.value.problems[0]
    with pytest.raises(TemplateError, match="larger than 24 MiB"):
        kind_of(b"\x89PNG\r\n\x1a\n" + bytes(trial_picture.MOST_BYTES))


BOMB = (
    '<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]>'
    '<svg xmlns="http://www.w3.org/2000/svg"><title>&b;</title></svg>'
)


@pytest.mark.parametrize(
    "svg",
    [
        BOMB,
        SVG.format('<image href="http://example.invalid/x.png" width="9" height="9"/>'),
        SVG.format('<image href="file:///etc/hostname" width="9" height="9"/>'),
        SVG.format('<use href="other.svg#a"/>'),
        SVG.format('<g id="a"><use href="#a"/></g>'),
        SVG.format("<g>" * 80 + "</g>" * 80),
        SVG.format('<style>@import url("x.css");</style>'),
    ],
    ids=["entities", "web", "file", "other file", "in itself", "deep", "style from outside"],
)
def test_drawings_that_reach_out_or_blow_up_are_refused(svg: str) -> None:
    """Nothing is fetched and nothing is expanded."""
    with pytest.raises(TemplateError, match="cannot be used") as error:
        read_picture(svg.encode())
    assert error.value.problems


def test_a_drawing_takes_another_size() -> None:
    """One side is given, the other follows; its lines keep their curves and proportions."""
    for width, height in ((90.0, None), (None, 60.0)):
        problems = Problems()
        found = outline_from_svg(scaled_drawing(LINES, width, height), "base.svg", problems)
        assert found is not None, problems.told()
        assert found.polygon.bounds == pytest.approx((0, 0, 52 * 1.5, 32 * 1.5))
    assert scaled_drawing(LINES, None, None) == LINES


def test_a_drawing_without_a_view_box_takes_one() -> None:
    """Its own size in pixels is what it is drawn in."""
    plain = LINES.replace(b' viewBox="0 0 60 40"', b"").replace(b"mm", b"px")
    problems = Problems()
    found = outline_from_svg(scaled_drawing(plain, 60, None), "base.svg", problems)
    assert found is not None, problems.told()
    assert found.polygon.bounds == pytest.approx((0, 0, 52, 32))


def test_an_outline_becomes_a_drawing_and_is_read_back() -> None:
    """Right way up, at its size, with its holes: to the thousandth that is written."""
    base = Polygon(
        [(5, 5), (45, 5), (45, 25), (15, 30), (5, 20)], [box(10, 10, 14, 16).exterior.coords]
    )
    problems = Problems()
    found = outline_from_svg(drawing_of(base), "base.svg", problems)
    assert found is not None, problems.told()
    moved = Polygon(
        [(x - 5, y - 5) for x, y in base.exterior.coords],
        [[(x - 5, y - 5) for x, y in base.interiors[0].coords]],
    )
    assert found.polygon.symmetric_difference(moved).area < 0.05
