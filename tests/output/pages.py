"""Document pages read back by an independent reader."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pypdfium2 as pdfium


@dataclass(frozen=True, slots=True)
class Pages:
    """What a reader finds in a PDF: the text of every page, sizes in points, share of ink."""

    texts: tuple[str, ...]
    sizes: tuple[tuple[float, float], ...]
    ink: tuple[float, ...]

    @property
    def text(self) -> str:
        """All text, blanks and line ends as one blank each."""
        return " ".join(" ".join(self.texts).split())


def read(path: Path) -> Pages:
    """Read and render every page."""
    document = pdfium.PdfDocument(str(path))
    texts, sizes, ink = [], [], []
    for page in document:
        texts.append(page.get_textpage().get_text_bounded())
        sizes.append(page.get_size())
        ink.append(_ink(page))
    document.close()
    return Pages(tuple(texts), tuple(sizes), tuple(ink))


def _ink(page: Any) -> float:
    """Share of a page that is not white."""
    image = page.render(scale=0.5).to_pil().convert("L")
    return float(sum(image.histogram()[:250]) / (image.width * image.height))


def nothing(done: int, total: int) -> None:
    """Progress that nobody watches."""
