"""Helpers: pictures that templates are made from."""

from io import BytesIO

from PIL import Image, ImageDraw

SIZE = 'width="60mm" height="40mm" viewBox="0 0 60 40"'
SVG = '<svg xmlns="http://www.w3.org/2000/svg" ' + SIZE + ">{}</svg>"
KITE = SVG.format('<path d="M30 2L56 16L30 38L4 16z" fill="#2b6460"/>').encode()
LINES = SVG.format('<path d="M4 4H56V36H4z" fill="none" stroke="#000"/>').encode()


def float_png(width: int = 600, height: int = 450) -> bytes:
    """An oval on a see-through ground."""
    picture = Image.new("RGBA", (width, height), (0, 0, 0, 0))
    edge = width // 20
    oval = (edge, edge, width - edge, height - edge)
    ImageDraw.Draw(picture).ellipse(oval, fill=(120, 190, 200, 255))
    return saved(picture, "PNG")


def dune_jpeg(width: int = 600, height: int = 450) -> bytes:
    """A photograph without any plain ground: nothing to trace."""
    picture = Image.radial_gradient("L").resize((width, height)).convert("RGB")
    return saved(picture, "JPEG")


def saved(picture: Image.Image, kind: str) -> bytes:
    """A picture as a file's bytes."""
    out = BytesIO()
    picture.save(out, kind)
    return out.getvalue()
