"""The page that lies beside the kerf test: a picture of it, what to do, what to mind."""

from collections.abc import Mapping
from functools import partial
from pathlib import Path
from typing import Any, Final

from reportlab.lib.colors import HexColor

from namebatch.measured.strips import FORM, KerfTest
from namebatch.output.docpage import (
    ACCENT,
    INK,
    QUIET,
    WIDTH,
    Block,
    Document,
    flow,
    heading,
    masthead,
    text_block,
    write_pages,
)
from namebatch.output.lettering import MM, draw_text
from namebatch.output.paper import paper_for
from namebatch.template import sheet_size
from namebatch.template.workshop import Material, Workshop

PDF: Final = "kerf-test.pdf"
_CARE: Final = (
    "Stay with the machine and never cut unattended. Extraction on, ducted outdoors, before the "
    "first cut (university laser safety pages; CLEAPSS; IEC 60825-1).",
    "Know what the material is made of. Never PVC, vinyl or faux leather (chlorine, hydrogen "
    "chloride), ABS, polycarbonate, polystyrene, PTFE, epoxy or carbon fibre (university lists of "
    "prohibited laser materials).",
    "The machine's manual, local rules and licensed practice stand above this page.",
)
_CARE_BLADE: Final = (
    "Hands, hair and sleeves away from blade and rollers while it runs.",
    _CARE[-1],
)


def write_kerf_page(path: Path, test: KerfTest, material: Material, workshop: Workshop) -> None:
    """Write the page as PDF; the same test gives the same bytes."""
    document = Document("Kerf test", material.title, workshop.cutter.name)
    facts = (
        f"{workshop.cutter.name}  ·  {material.title}, {material.thickness_mm:g} mm  ·  an offcut "
        f"of {test.size_mm[0]:g} × {test.size_mm[1]:g} mm is enough"
    )
    blocks = [masthead(document, facts), _picture(test, workshop.cutter.colours)]
    blocks.append(heading("Steps"))
    blocks += [_step(number, text) for number, text in enumerate(_steps(test, material), start=1)]
    blocks.append(heading("Take care"))
    care = _CARE if workshop.cutter.kind == "laser" else _CARE_BLADE
    blocks += [text_block(text, 9.5, after=1.5 * MM) for text in care]
    paper = paper_for([sheet_size(workshop.printer.sheet)])
    write_pages(path, document, flow(blocks, paper.room), lambda number: None, paper)


def _steps(test: KerfTest, material: Material) -> tuple[str, ...]:
    total = test.strips * test.width_mm
    return (
        "Cut kerf-test.svg or .dxf with the speed and power that jobs in this material are cut "
        "with. Lay it as the picture shows: left to right is the cutter's x. The lines carry no "
        "allowance for the kerf.",
        f"Take the {test.strips} strips for x (square corners). Lay them side by side on a flat "
        "surface, cut edges together and none turned over, press them together without gaps and "
        f"measure all of them at once with callipers. Without a kerf they would be {total:g} mm.",
        f"The same with the {test.strips} strips for y: each lacks a corner. Lay the corners all "
        "to one side.",
        "Do each three times, mixing the strips anew. Then measure the slots of the plate: with "
        "its missing corner at the bottom left, the upright slots tell of x and the level ones "
        "of y.",
        f"Write the lengths into {FORM}, column mm. Lines that are left empty do not count. Then, "
        "with the name of your workshop file: namebatch calibrate kerf "
        f"--material {material.name} --measured {FORM} --workshop FILE. Or type them in under "
        "Workshop in the browser (namebatch serve).",
    )


def _step(number: int, text: str) -> Block:
    """A numbered paragraph."""
    body = text_block(text, 10, after=2 * MM, indent=8 * MM)
    return Block(body.height, partial(_numbered, body, number))


def _numbered(body: Block, number: int, canvas: Any, x: float, y: float) -> None:
    canvas.setFillColor(ACCENT)
    draw_text(canvas, x, y - 10, str(number), 10, 700)
    body.draw(canvas, x, y)


def _picture(test: KerfTest, colours: Mapping[str, str]) -> Block:
    """The cut file at half its size, or as large as the page is wide."""
    scale = min(0.5, WIDTH / MM / test.size_mm[0])
    height = test.size_mm[1] * scale

    def draw(canvas: Any, x: float, y: float) -> None:
        canvas.saveState()
        canvas.translate(x, y - height * MM)
        canvas.scale(scale * MM, scale * MM)
        canvas.setLineWidth(0.35 / scale)
        for cut in test.cuts:
            canvas.setStrokeColor(HexColor(colours.get(cut.operation, "#000000")))
            path = canvas.beginPath()
            path.moveTo(*cut.points[0])
            for point in cut.points[1:]:
                path.lineTo(*point)
            path.close()
            canvas.drawPath(path, stroke=1, fill=0)
        canvas.restoreState()
        _words(canvas, x + test.size_mm[0] * scale * MM + 8 * MM, y, test)

    return Block(height * MM + 6 * MM, draw)


def _words(canvas: Any, x: float, y: float, test: KerfTest) -> None:
    """What is what, beside the picture."""
    for text, colour in (
        ("Top left: the plate with its slots", INK),
        ("Bottom left: strips for x, square corners", INK),
        ("Right: strips for y, a corner off", INK),
        (f"Strips and slots are drawn {test.width_mm:g} mm wide", QUIET),
    ):
        y -= 14
        canvas.setFillColor(colour)
        draw_text(canvas, x, y, text, 9)
