"""Small jobs made anew, and their files boiled down to what should stay the same.

Figures are compared within what the libraries beneath may change from version to version; words,
numbers of things and their order exactly.
"""

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from math import hypot
from pathlib import Path
from typing import Any, Final

import numpy as np
import pypdfium2
from ezdxf import filemanagement
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.path import make_path
from PIL import Image

from namebatch.pipeline import Settings, plan_job
from namebatch.sections import Wish, make_folder
from tests.output.readers import Ring, svg_rings

KEPT: Final = Path(__file__).with_name("kept")
LISTS: Final[Mapping[str, str]] = {
    "bag-tag": "name,village,quantity\nZoë Glasswort,Marram End,1\nWren Øyen,Sandreed,2\n,Reed,1\n",
    "flyer-pass": "name,pitch\nInka Samphire,Dune\nOdile,Slack\n",
    "key-fob": "name\nBruna\nŁucja\n",
    "line-winder": "name\nJiří\nWren\n",
    "ornament": "name,quantity\nÅse,2\nNiamh,1\n",
    "stencil-plate": "name\nBEA ROAD\nÖDÖN 8\n",
}
"""Template → a list for it: every rule, every build, marks and islands; one line is held."""
DPI: Final = 36
ROUND: Final = 3
JsonValue = Any


def make(template: str, folder: Path) -> Path:
    """Make the job of a template into a folder, and return that of the job."""
    listed = folder / f"{template}.csv"
    listed.write_text(LISTS[template], encoding="utf-8")
    out = folder / template
    make_folder(plan_job(listed, Settings(template, workers=1)), out, Wish(False, lambda *_: None))
    return out


def boiled_down(job: Path) -> dict[str, JsonValue]:
    """What of a job's folder should stay the same, as JSON."""
    manifest = json.loads((job / "job.json").read_text(encoding="utf-8"))
    files = manifest.pop("files")
    manifest.pop("software")
    manifest["settings"] = {
        key: value for key, value in manifest["settings"].items() if "digest" not in key
    }
    found: dict[str, JsonValue] = {"job.json": _plain(manifest), "files": sorted(files)}
    for path in sorted((job / "cut").glob("*.svg")):
        found[f"cut/{path.name}"] = _svg(path.read_bytes())
    for path in sorted((job / "cut").glob("*.dxf")):
        found[f"cut/{path.name}"] = _dxf(path)
    for path in sorted(job.glob("*.pdf")):
        found[path.name] = list(_pages(path))
    found["held.csv"] = (job / "held.csv").read_text(encoding="utf-8-sig").splitlines()
    return found


def picture(job: Path) -> Image.Image | None:
    """The first printed page in grey, coarse; None if nothing is printed."""
    path = job / "print.pdf"
    if not path.exists():
        return None
    document = pypdfium2.PdfDocument(path.read_bytes())
    page: Image.Image = document[0].render(scale=DPI / 72).to_pil().convert("L")
    return page


def apart(one: JsonValue, other: JsonValue, where: str = "") -> Iterator[str]:
    """Where two values differ, in a few words each."""
    if isinstance(one, dict) and isinstance(other, dict):
        for key in sorted({*one, *other}):
            if key not in one or key not in other:
                yield f"{where}/{key}: {'new' if key not in one else 'gone'}"
            else:
                yield from apart(one[key], other[key], f"{where}/{key}")
    elif isinstance(one, list) and isinstance(other, list):
        if len(one) != len(other):
            yield f"{where}: {len(one)} became {len(other)}"
        for k, (a, b) in enumerate(zip(one, other, strict=False)):
            yield from apart(a, b, f"{where}/{k}")
    elif _is_number(one) and _is_number(other):
        if abs(one - other) > 0.02 + 0.002 * abs(one):
            yield f"{where}: {one} became {other}"
    elif one != other:
        yield f"{where}: {one!r} became {other!r}"


def _is_number(value: JsonValue) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _plain(value: JsonValue) -> JsonValue:
    """Figures rounded, digests left out."""
    if isinstance(value, dict):
        return {key: _plain(one) for key, one in value.items()}
    if isinstance(value, list):
        return [_plain(one) for one in value]
    if isinstance(value, str) and re.fullmatch(r"[0-9a-f]{64}", value):
        return "digest"
    return round(value, ROUND) if isinstance(value, float) else value


def _svg(data: bytes) -> list[JsonValue]:
    """Operation and face of every group in order, with what its rings measure."""
    return [
        [operation, owner, [_measures(ring) for ring in rings]]
        for (operation, owner), rings in svg_rings(data).items()
    ]


def _dxf(path: Path) -> dict[str, JsonValue]:
    """Layer → number of closed lines and their length; audited."""
    document = filemanagement.readfile(path)
    faults = document.audit().errors
    found: dict[str, JsonValue] = {"units": document.units, "faults": len(faults)}
    measured: dict[str, tuple[int, float]] = {}
    for line in document.modelspace():
        assert isinstance(line, LWPolyline)
        assert line.closed
        count, length = measured.get(line.dxf.layer, (0, 0.0))
        points = [(p.x, p.y) for p in make_path(line).flattening(0.001)]
        measured[line.dxf.layer] = (count + 1, length + _length(points))
    for layer, (count, length) in measured.items():
        found[layer] = [count, round(length, ROUND)]
    return found


def _measures(ring: Ring) -> list[float]:
    """Bounds, signed area and length."""
    xy = np.array(ring)
    x, y = xy[:, 0], xy[:, 1]
    area = float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y) / 2.0)
    bounds = [float(value) for value in (x.min(), y.min(), x.max(), y.max())]
    return [round(value, ROUND) for value in (*bounds, area, _length(ring))]


def _length(ring: Sequence[tuple[float, float]]) -> float:
    return sum(
        hypot(b[0] - a[0], b[1] - a[1]) for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)
    )


def _pages(path: Path) -> Iterator[JsonValue]:
    """Size in points and words of every page."""
    for page in pypdfium2.PdfDocument(path.read_bytes()):
        words = page.get_textpage().get_text_range().split()
        yield [*(round(float(side), 1) for side in page.get_size()), " ".join(words)]
