"""Previews: valid SVG in mm, one a piece id, nothing in a name can become markup."""

import re
from base64 import b64decode
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from xml.etree.ElementTree import Element

import numpy as np
import pytest
import resvg_py
from defusedxml.ElementTree import fromstring
from PIL import Image
from shapely import LinearRing, MultiPolygon, Point

from namebatch.errors import OutputError
from namebatch.job import Job
from namebatch.output.preview import artwork_svg, preview_svg, printable, write
from namebatch.template.model import Artwork, RasterPicture
from tests.output import doc_jobs, jobs

SVG = "{http://www.w3.org/2000/svg}"


def _nothing(done: int, total: int) -> None:
    """Progress that nobody watches."""


def _picture(svg: str) -> Image.Image:
    """Rendered by resvg at 96 dpi on white."""
    data = resvg_py.svg_to_bytes(svg_string=svg, dpi=96, background="#ffffff")
    return Image.open(BytesIO(bytes(data))).convert("RGB")


def _mm(element: Element, name: str) -> float:
    """A length of the root in mm."""
    match = re.fullmatch(r"([0-9.]+)mm", element.attrib[name])
    assert match
    return float(match.group(1))


@pytest.mark.parametrize(
    "job",
    [
        jobs.faced_job(),
        jobs.bare_job(),
        doc_jobs.kite_job("winder"),
        doc_jobs.kite_job("medal"),
        doc_jobs.kite_job("tag", doc_jobs.HOSTILE),
    ],
    ids=["faced", "bare", "winder", "medal", "hostile"],
)
def test_every_piece_has_a_picture(job: Job, tmp_path: Path) -> None:
    """One file an id; each parses, is sized in mm as its view box, and shows something."""
    seen: list[tuple[int, int]] = []
    write(job, tmp_path, lambda done, total: seen.append((done, total)))
    expected = {f"{name}.svg" for piece in job.pieces for name in piece.ids}
    assert {path.name for path in (tmp_path / "previews").iterdir()} == expected
    assert seen[-1] == (len(expected), len(expected))
    for piece in job.pieces:
        text = (tmp_path / "previews" / f"{piece.ids[0]}.svg").read_text(encoding="utf-8")
        root = fromstring(text)
        width, height = _mm(root, "width"), _mm(root, "height")
        assert root.attrib["viewBox"].split() == ["0", "0", f"{width:g}", f"{height:g}"]
        assert width >= piece.size_mm[0]
        assert height >= piece.size_mm[1]
        colours = _picture(text).getcolors(1 << 20)
        assert colours is not None
        assert len(colours) > 10


def test_copies_share_their_picture(tmp_path: Path) -> None:
    """The copies of a row are the same bytes."""
    write(jobs.faced_job(), tmp_path, _nothing)
    one, two = ((tmp_path / "previews" / f"L2-{i}.svg").read_bytes() for i in (1, 2))
    assert one == two


def test_same_job_same_bytes(tmp_path: Path) -> None:
    """Nothing of the clock or of chance is in a preview."""
    job = doc_jobs.kite_job("tag")
    assert preview_svg(job, job.pieces[0]) == preview_svg(
        doc_jobs.kite_job("tag"), doc_jobs.kite_job("tag").pieces[0]
    )


def test_true_colours_at_true_places() -> None:
    """Rendered: red above green on the back, the hole white, the engraving dark.

    1 mm is 96/25.4 px (CSS Values §5.2).
    """
    job = jobs.faced_job()
    text = preview_svg(job, job.pieces[0])
    image = _picture(text)
    root = fromstring(text)
    back = next(g for g in root.iter(f"{SVG}g") if g.attrib.get("id") == "back")
    *_, x, y = (float(v) for v in back.attrib["transform"][7:-1].split())

    def at(u: float, v: float) -> tuple[int, ...]:
        pixel = image.getpixel((round((x + u) * 96 / 25.4), round((y - v) * 96 / 25.4)))
        assert isinstance(pixel, tuple)
        return pixel

    assert at(45.0, 24.0) == (213, 94, 0)
    assert at(45.0, 5.0) == (0, 158, 115)
    assert at(55.0, 15.0) == (255, 255, 255)


def test_a_name_is_never_markup() -> None:
    """A name with tags, quotes and control characters is text in the title and nothing else."""
    job = doc_jobs.kite_job("tag", doc_jobs.HOSTILE)
    for piece in job.pieces:
        root = fromstring(preview_svg(job, piece))
        assert not list(root.iter(f"{SVG}script"))
        title = root.find(f"{SVG}title")
        assert title is not None
        shown = "".join(c for c in piece.text["name"] if c != "\u0000")
        assert (title.text or "").split() == shown.split()


def test_printable_leaves_out_what_xml_forbids() -> None:
    """Control characters and lone surrogates go, the five special characters are escaped."""
    assert printable("a\x00\x08\ud800\ufffeb\tc") == "ab\tc"
    assert printable("<&>\"'") == "&lt;&amp;&gt;&quot;&#39;"


def _noise(side: int, kind: str) -> RasterPicture:
    """A picture that does not compress away."""
    image = Image.effect_noise((side, side // 2), 80).convert("RGB")
    stream = BytesIO()
    image.save(stream, kind.upper())
    return RasterPicture(stream.getvalue(), "jpeg" if kind == "jpeg" else "png", image.size)


def _embedded(picture: RasterPicture) -> tuple[Image.Image, int]:
    """The picture that a preview holds, and how many bytes it is."""
    artwork = Artwork("front", picture, (0.0, 0.0, 80.0, 40.0), "00" * 32)
    found = re.search(r"data:image/(\w+);base64,([^\"]+)", artwork_svg(artwork))
    assert found
    data = b64decode(found.group(2))
    image = Image.open(BytesIO(data))
    assert image.format == found.group(1).upper()
    return image, len(data)


def test_photographs_can_be_smaller_still() -> None:
    """A wall of pictures asks for fewer pixels than a preview has."""
    artwork = Artwork("front", _noise(900, "jpeg"), (0.0, 0.0, 80.0, 40.0), "00" * 32)
    found = re.search(r"base64,([^\"]+)", artwork_svg(artwork, 120))
    assert found
    assert Image.open(BytesIO(b64decode(found.group(1)))).size == (120, 60)


@pytest.mark.parametrize("kind", ["png", "jpeg"])
def test_large_photographs_are_reduced(kind: str) -> None:
    """A preview holds a photograph of at most 640 px, as JPEG: a PNG of it is far larger."""
    image, _ = _embedded(_noise(1800, kind))
    assert max(image.size) == 640
    assert image.format == "JPEG"


def test_a_small_photograph_is_not_kept_as_a_large_file() -> None:
    """A PNG within the size is written as JPEG all the same where that is smaller."""
    picture = _noise(600, "png")
    image, size = _embedded(picture)
    assert (image.format, image.size) == ("JPEG", (600, 300))
    assert size < 0.5 * len(picture.data)


def test_flat_drawings_and_clear_pictures_stay_png() -> None:
    """Where PNG is the smaller file, or something is see-through, it is kept."""
    flat = Image.new("RGB", (600, 300), (200, 40, 30))
    flat.paste((255, 255, 255), (100, 50, 400, 250))
    clear = Image.effect_noise((700, 350), 80).convert("RGBA")
    clear.putalpha(Image.linear_gradient("L").resize((700, 350)))
    for image in (flat, clear):
        stream = BytesIO()
        image.save(stream, "PNG")
        found, _ = _embedded(RasterPicture(stream.getvalue(), "png", image.size))
        assert (found.format, found.mode) == ("PNG", image.mode)


def test_previews_leave_out_what_is_not_seen() -> None:
    """A circle in thousands of steps is drawn in those that matter, and keeps its size."""
    job = jobs.faced_job()
    many = Point(30, 15).buffer(12, 1000)
    ink = replace(job.pieces[0].letterings[0], shape=MultiPolygon([many]))
    text = preview_svg(job, replace(job.pieces[0], letterings=(ink,)))
    (data,) = re.findall(r' d="([^"]+)" fill="#17324d"', text)
    assert len(data) < 1500
    # 24 mm across, 0.02 mm left out on either side at most
    (found,) = _rings_of(data)
    assert found.hausdorff_distance(many.exterior) < 0.022


def _rings_of(data: str) -> list[LinearRing]:
    """Rings of path data with relative steps."""
    rings = []
    for part in data.replace("-", " -").split("z")[:-1]:
        start, steps = part[1:].split("l")
        numbers = np.array([start.split(), *zip(*[iter(steps.split())] * 2, strict=True)])
        rings.append(LinearRing(np.cumsum(numbers.astype(float), axis=0)))
    return rings


def test_a_broken_photograph_is_said_in_words() -> None:
    """Bytes that are no picture stop the job with a remedy, not with a traceback."""
    broken = Artwork(
        "front", RasterPicture(b"\x89PNG nothing", "png", (2000, 10)), (0, 0, 1, 1), ""
    )
    with pytest.raises(OutputError, match="Save it again as PNG or JPEG"):
        artwork_svg(broken)


def test_numbers_are_short() -> None:
    """No number in a preview has more than six decimals, path data no more than three."""
    job = jobs.faced_job()
    text = preview_svg(job, replace(job.pieces[0]))
    for data in re.findall(r' d="([^"]+)"', text):
        assert not re.search(r"\.\d{4}", data)
    assert not re.search(r"\.\d{7}", re.sub(r"base64,[^\"]+", "", text))
