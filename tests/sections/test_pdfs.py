"""PDF files put one after the other."""

import subprocess
import sys
from io import BytesIO
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from pikepdf import Pdf
from PIL import Image
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from namebatch.sections.pdfs import merge


def noise() -> ImageReader:
    """A picture that does not get smaller when it is packed."""
    state, data = 1, bytearray()
    for _ in range(3 * 100 * 100):
        state = state * 1_103_515_245 + 12_345 & 0x7FFFFFFF
        data.append(state >> 16 & 0xFF)
    image = Image.frombytes("RGB", (100, 100), bytes(data))
    stream = BytesIO()
    image.save(stream, "PNG")
    stream.seek(0)
    return ImageReader(stream)


def written(path: Path, words: list[str], width: float) -> Path:
    """A file with a page for each word, and the same picture on each."""
    canvas = Canvas(str(path), pagesize=(width, 200), invariant=1, pdfVersion=(1, 6))
    canvas.setTitle(f"Title of {words[0]}")
    canvas.setViewerPreference("PrintScaling", "None")
    picture = noise()
    for word in words:
        canvas.drawString(10, 10, word)
        canvas.drawImage(picture, 20, 20)
        canvas.showPage()
    canvas.save()
    return path


@pytest.fixture
def sources(tmp_path: Path) -> list[Path]:
    """Three files, two pages each, of different widths."""
    words = [["heron", "tern"], ["gull", "wren"], ["teal", "dunlin"]]
    return [
        written(tmp_path / f"{n}.pdf", some, 200.0 + n) for n, some in enumerate(words, start=1)
    ]


def quiet(done: int, total: int) -> None:
    """Progress that nobody watches."""


def test_pages_in_order(sources: list[Path], tmp_path: Path) -> None:
    """An independent reader finds every page in order, at its size, title and scaling kept."""
    merge(sources, tmp_path / "all.pdf", quiet)
    with pypdfium2.PdfDocument(tmp_path / "all.pdf") as document:
        texts = [page.get_textpage().get_text_range().strip() for page in document]
        assert texts == ["heron", "tern", "gull", "wren", "teal", "dunlin"]
        assert [page.get_width() for page in document] == [201, 201, 202, 202, 203, 203]
        assert document.get_metadata_value("Title") == "Title of heron"
        assert document.get_version() >= 16
    assert b"/PrintScaling /None" in (tmp_path / "all.pdf").read_bytes()


def test_a_picture_is_stored_once(sources: list[Path], tmp_path: Path) -> None:
    """What all files have is stored once, and shown on every page."""
    merge(sources, tmp_path / "all.pdf", quiet)
    merge(sources[:1], tmp_path / "one.pdf", quiet)
    one, all_of_them = ((tmp_path / f"{n}.pdf").stat().st_size for n in ("one", "all"))
    assert one > 30_000
    assert all_of_them < one + 5_000
    with pypdfium2.PdfDocument(tmp_path / "all.pdf") as document:
        seen = [page.render().to_pil().crop((30, 60, 110, 170)).tobytes() for page in document]
    assert len(set(seen)) == 1


def test_same_bytes(sources: list[Path], tmp_path: Path) -> None:
    """The same files give the same bytes, wherever and whenever."""
    merge(sources, tmp_path / "a.pdf", quiet)
    merge(sources, tmp_path / "b.pdf", quiet)
    assert (tmp_path / "a.pdf").read_bytes() == (tmp_path / "b.pdf").read_bytes()


def test_the_whole_is_not_called_a_part(tmp_path: Path) -> None:
    """The title of the first part without the words that say which part it is."""
    source = written(tmp_path / "1.pdf", ["heron, part 1 of 2"], 200.0)
    merge([source], tmp_path / "all.pdf", quiet, ", part 1 of 2")
    with pypdfium2.PdfDocument(tmp_path / "all.pdf") as document:
        assert document.get_metadata_value("Title") == "Title of heron"


def test_pages_of_a_file_hang_below_one_node(sources: list[Path], tmp_path: Path) -> None:
    """The list of pages is a tree whose counts add up, so that no reader has to walk all of it.

    Each page knows the node that it hangs from (ISO 32000-1, 7.7.3).
    """
    merge(sources, tmp_path / "all.pdf", quiet)
    with Pdf.open(tmp_path / "all.pdf") as whole:
        root: Any = whole.Root.Pages
        nodes = list(root.Kids)
        assert [int(node.Count) for node in nodes] == [2, 2, 2]
        assert int(root.Count) == 6
        assert all(node.Parent.objgen == root.objgen for node in nodes)
        for node in nodes:
            assert [page.Parent.objgen for page in node.Kids] == [node.objgen] * 2


@pytest.mark.skipif(sys.platform == "win32", reason="files have no such limit there")
def test_a_file_that_cannot_grow_is_told(sources: list[Path], tmp_path: Path) -> None:
    """As on a full disk; the library beneath would end the process, so it has one of its own."""
    script = (
        "import resource, sys; from pathlib import Path\n"
        "from namebatch.sections.pdfs import merge\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (2_000, 2_000))\n"
        "*some, target = map(Path, sys.argv[1:])\n"
        "try: merge(some, target, lambda *_: None)\n"
        "except OSError as error: print(error.strerror)"
    )
    done = subprocess.run(
        [sys.executable, "-B", "-c", script, *map(str, sources), str(tmp_path / "all.pdf")],
        capture_output=True, check=False, text=True,
    )  # fmt: skip
    assert (done.returncode, done.stdout) == (0, "File too large\n")
