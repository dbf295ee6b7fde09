"""A picture of the jig for the work card: what lies under it, what is seen through its windows."""

from collections.abc import Iterable, Sequence
from typing import Any

from reportlab.lib.colors import Color, HexColor

from namebatch.curves import Point
from namebatch.job import Job
from namebatch.output.docpage import (
    ACCENT,
    INK,
    PALE,
    QUIET,
    WIDTH,
    Block,
    heading,
    paragraph,
)
from namebatch.output.jigboard import Size, board_under, has_edge
from namebatch.output.lettering import MM, draw_text, text_width, wrap
from namebatch.output.stepwords import material_title, sheets_of
from namebatch.sheet.model import Jig, Rect

_TALLEST, _WIDEST = 66 * MM, 84 * MM
_TEXT_AT = 96 * MM
_LINE = 12.5
_SHADE = Color(0.45, 0.42, 0.37, alpha=0.16)


def jig_picture(job: Job) -> Iterable[Block]:
    """The jig as it lies on the bed, and a line for each thing that is seen; none without print."""
    jig = job.jig
    if jig is None or not sheets_of(job, "face"):
        return
    board = board_under(job)
    across, up = (max(sides) for sides in zip(jig.size_mm, board or jig.size_mm, strict=True))
    scale = min(_WIDEST / across, _TALLEST / up)
    told = [wrap(text, 9, 400, WIDTH - _TEXT_AT - 7 * MM) for text in _legend(job, board)]
    pointer = wrap(_without_jig(job), 9, 400, WIDTH - _TEXT_AT)
    words = sum(_LINE * len(lines) + 2 * MM for lines in (*told, pointer))
    height = max(up * scale, words) + 6 * MM

    def draw(canvas: Any, x: float, y: float) -> None:
        canvas.saveState()
        canvas.translate(x, y - up * scale)
        _draw(job, jig, board, scale, canvas)
        canvas.restoreState()
        base = _draw_legend(told, canvas, x + _TEXT_AT, y - 10)
        paragraph(canvas, x + _TEXT_AT, base, pointer, 9, colour=QUIET, leading=_LINE / 9)

    yield heading("The jig", "to scale, as it lies on the bed", keep=height)
    yield Block(height, draw)


def _legend(job: Job, board: Size | None) -> tuple[str, ...]:
    """What the numbers on the picture mean."""
    under = (
        f"The print on its sheet of {material_title(job, job.template.material)}, under the jig."
        if board
        else "The print, under the jig."
    )
    marked = "The marked frame. The printed one is to continue it at the edges of both windows."
    if job.jig is not None and job.jig.is_larger:
        marked += " Its lines run on past the page: a straightedge along two of them finds it, too."
    seen = ("The windows: the printed corners are seen in them.", marked, under)
    if not has_edge(job):
        return seen
    strips = ", on strips of the same sheet" if board else ""
    return *seen, f"Fixed to the bed along here{strips}."


def _without_jig(job: Job) -> str:
    """What a cutter with a pointer makes of a print that lies anyhow."""
    first = sheets_of(job, "face")[0].id
    return (
        "Without a jig, where the cutter has a pointer: lay the print anyhow, write down where the "
        "pointer finds the corners of its frame, and have the cut file moved there: on the page "
        f"under Make, or namebatch align FOLDER --sheet {first} --measured marks.csv"
    )


def _draw(job: Job, jig: Jig, board: Size | None, scale: float, canvas: Any) -> None:
    """From the bed up: board, page with its printed frame, the jig over both, its lines."""
    colours = job.workshop.cutter.colours
    material = job.workshop.materials.get(job.template.material)
    canvas.scale(scale, scale)
    canvas.setLineWidth(0.5 / scale)
    if board is not None and material is not None:
        _rect(canvas, (0, 0, *board), QUIET, HexColor(material.colour))
    _rect(canvas, (0, 0, *jig.page_mm), QUIET, HexColor("#ffffff"))
    canvas.setFillColor(_SHADE)
    canvas.rect(0, 0, *jig.size_mm, stroke=0, fill=1)
    canvas.setLineWidth(0.9 / scale)
    for cut in jig.cuts:
        canvas.setStrokeColor(HexColor(colours.get(cut.operation, "#000000")))
        if cut.operation == "window":
            _window(jig, cut.points, canvas)
        canvas.drawPath(_ring(canvas, cut.points), stroke=1, fill=0)
    canvas.setLineWidth(0.7 / scale)
    _rect(canvas, (0, 0, *jig.size_mm), INK)
    _zero_point(scale, canvas)
    places = _places(jig, board)
    if has_edge(job):
        _tape(jig, places[3], canvas)
    else:
        places = places[:3]
    for number, (px, py) in enumerate(places, start=1):
        _disc(str(number), px, py, scale, canvas)


def _window(jig: Jig, points: Sequence[Point], canvas: Any) -> None:
    """What is seen through a window: the page, and on it a corner of the printed frame."""
    canvas.saveState()
    canvas.clipPath(_ring(canvas, points), stroke=0, fill=0)
    _rect(canvas, (0, 0, *jig.page_mm), QUIET, HexColor("#ffffff"))
    _rect(canvas, jig.frame_mm, INK)
    canvas.restoreState()


def _places(jig: Jig, board: Size | None) -> tuple[Point, ...]:
    """Where the numbers stand: window, marked line, print, and the edge that is fixed."""
    x, y, width, height = jig.frame_mm
    across, up = jig.size_mm
    window = [cut.points for cut in jig.cuts if cut.operation == "window"][-1][0]
    right, top = (across - board[0], up - board[1]) if board else (0.0, 1.0)
    edge = (across - right / 2, up / 2) if right > top else (across / 2, up - max(0.0, top / 2))
    if board is None:
        edge = (across / 2, up - (up - y - height) / 2)
    return (
        window,
        (x, y + height * 0.62),
        (x + width / 2, y + height / 2),
        edge,
    )


def _tape(jig: Jig, edge: Point, canvas: Any) -> None:
    """Strips of tape over the edge that is fixed."""
    across, up = jig.size_mm
    long, wide = 0.16, 0.035 * max(across, up)
    canvas.setFillColor(Color(0.71, 0.28, 0.18, alpha=0.45))
    for share in (0.2, 0.8):
        if edge[0] > across * 0.75:
            canvas.rect(across - wide / 2, up * (share - long / 2), wide, up * long, 0, 1)
        else:
            canvas.rect(across * (share - long / 2), up - wide / 2, across * long, wide, 0, 1)


def _draw_legend(told: Sequence[Sequence[str]], canvas: Any, x: float, y: float) -> float:
    """The numbers with their words, one below the other; gives the next baseline."""
    for number, lines in enumerate(told, start=1):
        _disc(str(number), x + 2 * MM, y + 3, 1.0, canvas)
        y = paragraph(canvas, x + 7 * MM, y, lines, 9, leading=_LINE / 9) - 2 * MM
    return y


def _disc(text: str, x: float, y: float, scale: float, canvas: Any) -> None:
    """A number on a disc that is as large at every scale."""
    size = 8.5 / scale
    canvas.setFillColor(PALE)
    canvas.setStrokeColor(INK)
    canvas.setLineWidth(0.6 / scale)
    canvas.circle(x, y, 6.2 / scale, stroke=1, fill=1)
    canvas.setFillColor(INK)
    draw_text(canvas, x - text_width(text, size, 700) / 2, y - 0.34 * size, text, size, 700)


def _zero_point(scale: float, canvas: Any) -> None:
    """A small angle at the corner where the file's coordinates begin."""
    canvas.setStrokeColor(ACCENT)
    canvas.setLineWidth(1.6 / scale)
    canvas.lines([(0, 0, 10 / scale, 0), (0, 0, 0, 10 / scale)])


def _rect(canvas: Any, rect: Rect, line: Any, fill: Any = None) -> None:
    """A rectangle, with a fill or without."""
    canvas.setStrokeColor(line)
    if fill is not None:
        canvas.setFillColor(fill)
    canvas.rect(*rect, stroke=1, fill=0 if fill is None else 1)


def _ring(canvas: Any, points: Sequence[Point]) -> Any:
    """A closed line as a path of the canvas."""
    path = canvas.beginPath()
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)
    path.close()
    return path
