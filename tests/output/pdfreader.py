"""Pictures of printed pages and measures taken from them, in mm, y up. Reads with PDFium."""

import numpy as np
import pypdfium2 as pdfium
from numpy.typing import NDArray

Bounds = tuple[float, float, float, float]
POINTS = 72 / 25.4


class Window:
    """A part of a page at a chosen fineness.

    Args:
        data: the PDF.
        box: x0, y0, x1, y1 in mm from the page's bottom left corner.
        dpi: pixels to the inch.
    """

    def __init__(self, data: bytes, box: Bounds, dpi: float = 1200) -> None:
        document = pdfium.PdfDocument(data)
        page = document[0]
        width, height = page.get_size()
        x0, y0, x1, y1 = (value * POINTS for value in box)
        scale = dpi / 72
        bitmap = page.render(scale=scale, crop=(x0, y0, width - x1, height - y1))
        pixels: NDArray[np.uint8] = bitmap.to_numpy()[:, :, :3][:, :, ::-1].copy()
        self.pixels = pixels
        self._box = box
        page.close()
        document.close()

    @property
    def mm_per_pixel(self) -> tuple[float, float]:
        """Size of a pixel."""
        x0, y0, x1, y1 = self._box
        rows, columns = self.pixels.shape[:2]
        return (x1 - x0) / columns, (y1 - y0) / rows

    def ink_bounds(self, threshold: int = 250) -> Bounds:
        """Bounds of everything that is not white."""
        ink = self.pixels.min(axis=2) < threshold
        rows, columns = np.flatnonzero(ink.any(axis=1)), np.flatnonzero(ink.any(axis=0))
        x0, _, _, y1 = self._box
        dx, dy = self.mm_per_pixel
        return (
            float(x0 + columns[0] * dx),
            float(y1 - (rows[-1] + 1) * dy),
            float(x0 + (columns[-1] + 1) * dx),
            float(y1 - rows[0] * dy),
        )

    def colour(self, x: float, y: float) -> tuple[int, int, int]:
        """Red, green, blue at a place on the page."""
        x0, _, _, y1 = self._box
        dx, dy = self.mm_per_pixel
        red, green, blue = self.pixels[int((y1 - y) / dy), int((x - x0) / dx)].tolist()
        return red, green, blue
