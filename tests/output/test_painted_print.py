"""Stroke, shadow and gradient as they come out of the print, the previews and the proof."""

from collections.abc import Callable
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
import resvg_py
from PIL import Image
from reportlab.pdfgen.canvas import Canvas
from shapely import MultiPolygon, box

from namebatch.job import Job
from namebatch.output.picture import piece_picture
from namebatch.output.picture_pdf import draw_picture
from namebatch.output.preview import preview_svg
from namebatch.output.printpdf import print_pdf
from namebatch.painted import ground_of
from namebatch.piece import Lettering
from namebatch.template.model import FaceName
from namebatch.template.textbox import Gradient, Paint, Shadow, Stroke
from tests.output import jobs
from tests.output.pdfreader import Window
from tests.template.folders import written

RED, SAND, DARK, CREAM = (161, 52, 32), (226, 161, 44), (7, 34, 42), (253, 247, 233)
WHITE = (255, 255, 255)
STROKE, SHADOW = Stroke("#fdf7e9", 2.0), Shadow("#07222a", (3.0, -4.0))
ACROSS = Gradient("#a13420", "#e2a12c", 0.0)
TURNED = Gradient("#e2a12c", "#a13420", 0.0)
# bottom left corners of the faces as one sees them, from the placements of the job
FRONT, BACK = (12.5, 14.0), (75.6, 14.0)


def _quiet(done: int, total: int) -> None:
    """Progress that nobody watches."""


def _job(paint: Paint, face: FaceName = "front", ink: tuple[float, ...] = (20, 12, 40, 20)) -> Job:
    """Three tags without artwork, each with one bar of ink on one face."""
    job = jobs.faced_job()
    shape = MultiPolygon([box(*ink)])
    text = Lettering("name", face, "Bo", "print", "#a13420", shape, "Test Sans", 8.0, (), paint)
    return replace(
        job,
        template=replace(job.template, artwork={}),
        pieces=tuple(replace(piece, letterings=(text,)) for piece in job.pieces),
    )


def _window(job: Job) -> Window:
    return Window(print_pdf(job, _quiet), (0, 0, 148, 210), 300)


@pytest.mark.parametrize(("face", "at"), [("front", FRONT), ("back", BACK)])
def test_shadow_stroke_and_letters_lie_in_this_order(
    face: FaceName, at: tuple[float, float]
) -> None:
    """On both faces as one sees them: the shadow falls to the right and down."""
    window = _window(_job(Paint(STROKE, SHADOW), face))
    x, y = at
    assert window.colour(x + 30, y + 16) == RED
    assert window.colour(x + 20.2, y + 16) == RED  # the stroke lies below the letters' edge
    assert window.colour(x + 19.5, y + 16) == CREAM
    assert window.colour(x + 40.5, y + 16) == CREAM
    assert window.colour(x + 42.5, y + 14) == DARK
    assert window.colour(x + 30, y + 8) == DARK
    assert window.colour(x + 18.5, y + 16) == WHITE
    assert window.colour(x + 30, y + 21.5) == WHITE


def test_corners_of_a_stroke_are_round() -> None:
    """Where a mitred corner would be, there is none of it: 0.9 mm out both ways is 1.27 mm."""
    window = _window(_job(Paint(stroke=STROKE)))
    x, y = FRONT
    assert window.colour(x + 40.6, y + 20.6) == CREAM
    assert window.colour(x + 40.9, y + 20.9) == WHITE


@pytest.mark.parametrize(("face", "at"), [("front", FRONT), ("back", BACK)])
def test_a_gradient_runs_evenly(face: FaceName, at: tuple[float, float]) -> None:
    """Every place has its share of both colours, within one step of 255 and the pixel."""
    window = _window(_job(Paint(gradient=ACROSS), face))
    for share in (0.02, 0.25, 0.5, 0.75, 0.98):
        want = tuple(a + share * (b - a) for a, b in zip(RED, SAND, strict=True))
        found = window.colour(at[0] + 20 + 20 * share, at[1] + 16)
        assert found == pytest.approx(want, abs=2)
    assert window.colour(at[0] + 19.8, at[1] + 16) == WHITE


def test_a_gradient_is_turned_with_its_piece() -> None:
    """On the copy that lies a quarter turned it runs up the page."""
    window = _window(_job(Paint(gradient=ACROSS)))
    x, y = 44.5, 50.0  # of L2-2, turned by 90 degrees: x' = x - v, y' = y + u
    assert window.colour(x - 16, y + 20.4) == pytest.approx(RED, abs=3)
    assert window.colour(x - 16, y + 39.6) == pytest.approx(SAND, abs=3)


def test_the_upward_gradient_starts_below() -> None:
    """90 degrees is from the bottom to the top."""
    window = _window(_job(Paint(gradient=replace(ACROSS, angle_deg=90.0))))
    assert window.colour(FRONT[0] + 30, FRONT[1] + 12.1) == pytest.approx(RED, abs=3)
    assert window.colour(FRONT[0] + 30, FRONT[1] + 19.9) == pytest.approx(SAND, abs=3)


def test_no_shadow_is_printed_past_the_bleed() -> None:
    """A shadow that leaves the piece ends where all print does, 1 mm outside of it."""
    window = _window(_job(Paint(shadow=Shadow("#07222a", (30.0, 0.0)))))
    x, y = FRONT
    assert window.colour(x + 60.5, y + 16) == DARK
    assert window.colour(x + 61.5, y + 16) == WHITE


def test_equal_texts_are_painted_once() -> None:
    """A text that all pieces carry is one form with its coats; two colours are one shading."""
    job = _job(Paint(STROKE, SHADOW, ACROSS))
    data = print_pdf(job, _quiet)
    assert data.count(b"/ShadingType 2") == 1
    assert data == print_pdf(job, _quiet)
    # the same pieces in colours that differ below the gradient share no text
    apart = [
        replace(piece, letterings=(replace(piece.letterings[0], colour=f"#0000{n:02x}"),))
        for n, piece in enumerate(job.pieces)
    ]
    other = print_pdf(replace(job, pieces=tuple(apart)), _quiet)
    assert data.count(b"/Subtype /Form") == other.count(b"/Subtype /Form") + 1


def test_texts_of_one_shape_keep_their_own_paint() -> None:
    """The same letters on both faces of every piece are shared by their paint, not their shape."""
    front, back = _job(Paint(gradient=ACROSS)), _job(Paint(gradient=TURNED), "back")
    pieces = tuple(
        replace(one, letterings=one.letterings + other.letterings)
        for one, other in zip(front.pieces, back.pieces, strict=True)
    )
    window = _window(replace(front, pieces=pieces))
    assert window.colour(FRONT[0] + 20.2, FRONT[1] + 16) == pytest.approx(RED, abs=3)
    assert window.colour(BACK[0] + 20.2, BACK[1] + 16) == pytest.approx(SAND, abs=3)


def test_the_bleed_of_welded_letters_goes_on_in_the_end_colours() -> None:
    """Beyond its ends a gradient stays as it is: a cut that is a little off shows no white."""
    job = _job(Paint(STROKE, gradient=ACROSS), ink=(20, 20, 40, 40))
    pieces = []
    for piece in job.pieces:
        text = replace(piece.letterings[0], made="outline")
        outline = piece.outline.union(text.shape)
        pieces.append(replace(piece, outline=outline, letterings=(text,)))
    template = replace(job.template, rule="weld")
    window = _window(replace(job, template=template, pieces=tuple(pieces)))
    x, y = FRONT
    assert window.colour(x + 19.4, y + 36) == pytest.approx(RED, abs=3)
    assert window.colour(x + 40.6, y + 36) == pytest.approx(SAND, abs=3)
    assert window.colour(x + 19.4, y + 25) == CREAM  # on the base the stroke is seen


@pytest.mark.parametrize("angle", [0.0, 30.0, 90.0, 200.0])
def test_preview_and_proof_show_what_is_printed(angle: float) -> None:
    """Three programs' renderings of one face agree to a few of 255 wherever it is flat."""
    job = _job(Paint(STROKE, SHADOW, replace(ACROSS, angle_deg=angle)))
    piece = job.pieces[0]
    picture = piece_picture(job, piece)
    shift_x, shift_y = picture.faces[0].shift_mm
    svg = resvg_py.svg_to_bytes(svg_string=preview_svg(job, piece), dpi=300, background="#ffffff")
    preview = np.asarray(Image.open(BytesIO(bytes(svg))).convert("RGB"))
    stream = BytesIO()
    canvas = Canvas(stream, pagesize=(600, 600), invariant=1)
    draw_picture(canvas, picture, 0, 0, 1.0)
    canvas.showPage()
    canvas.save()
    proof = Window(stream.getvalue(), (0, 0, 200, 200), 300)
    window = _window(job)
    for u, v in ((21, 13), (30, 16), (39, 19), (40.5, 16), (42.5, 14), (30, 8.5)):
        printed = window.colour(FRONT[0] + u, FRONT[1] + v)
        x, y = shift_x + u, shift_y + v
        row, column = int((picture.size_mm[1] - y) * 300 / 25.4), int(x * 300 / 25.4)
        assert preview[row, column].tolist() == pytest.approx(printed, abs=4)
        assert proof.colour(x, y) == pytest.approx(printed, abs=4)


CONTOUR = """
format = 1
title = "Sticker"
build = "printed"
rule = "contour"
material = "card-300"
[contour]
distance_mm = 2
[[text]]
column = "name"
box_mm = [10, 10, 60, 20]
fonts = ["Pacifico"]
colour = "#a13420"
min_height_mm = 3.5
max_height_mm = 9
"""
STYLE = """
[text.stroke]
colour = "#fdf7e9"
width_mm = 1.2
[text.shadow]
colour = "#07222a"
shift_mm = [1.5, -1.0]
"""


def test_a_contour_runs_round_stroke_and_shadow(job_of: Callable[..., Job], tmp_path: Path) -> None:
    """The line keeps its distance from all that is printed, and nothing is cut off."""
    plain = job_of("name\nMarlo\n", str(written(tmp_path / "plain", CONTOUR))).pieces[0]
    piece = job_of("name\nMarlo\n", str(written(tmp_path / "styled", CONTOUR + STYLE))).pieces[0]
    x0, y0, x1, y1 = plain.outline.bounds
    # half the stroke to every side, and the shadow's shift to the right and down
    assert piece.outline.bounds == pytest.approx((x0 - 0.6, y0 - 1.6, x1 + 2.1, y1 + 0.6), abs=0.02)
    assert "paint-leaves-piece" not in [finding.code for finding in piece.findings]


def test_a_found_hole_stays_off_a_shadow(job_of: Callable[..., Job], tmp_path: Path) -> None:
    """The shadow lies where the hole would be; the hole takes another place."""
    toml = (
        CONTOUR.replace('rule = "contour"', "").replace("[contour]\ndistance_mm = 2\n", "")
        + '[[text]]\nline = "KITE"\nbox_mm = [22, 20, 36, 10]\nfonts = ["Fredoka SemiBold"]\n'
        + 'min_height_mm = 3.5\nmax_height_mm = 8\n[text.shadow]\ncolour = "#07222a"\n'
        + 'shift_mm = [0, 14]\n[base]\nshape = "rounded-rectangle"\nwidth_mm = 80\n'
        + 'height_mm = 44\n[[hole]]\nshape = "round"\nfind = "top"\ndiameter_mm = 4\ntab = false\n'
    )
    [piece] = job_of("name\nMarlo\n", str(written(tmp_path / "t", toml))).pieces
    [ring] = piece.outline.interiors
    [kite] = [text for text in piece.letterings if text.text == "KITE"]
    assert ring.distance(ground_of(kite).shadow) > 0


def test_a_shadow_over_the_edge_is_told_with_its_line(
    job_of: Callable[..., Job], tmp_path: Path
) -> None:
    """The row is made all the same, with a warning."""
    toml = (
        CONTOUR.replace('rule = "contour"', "").replace("[contour]\ndistance_mm = 2\n", "")
        + STYLE.replace("[1.5, -1.0]", "[1.5, -15.0]")
        + '[base]\nshape = "rounded-rectangle"\nwidth_mm = 80\nheight_mm = 40\n'
    )
    job = job_of("name\nMarlo\n", str(written(tmp_path / "t", toml)))
    [finding] = [f for f in job.rows[0].findings if f.severity == "warn"]
    assert finding.code == "paint-leaves-piece"
    assert finding.message.startswith('Line 2: The shadow of "Marlo" reaches over the edge')
    assert job.totals.made == 1
