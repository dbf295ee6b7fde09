"""Any text at all: every script of Unicode, and names of every faker locale, set in a box.

``NAMEBATCH_TEXTS=100000`` runs the figure of the documents; the default is a small share.
"""

import os
import random
import unicodedata
from collections.abc import Iterator
from dataclasses import replace

import pytest
import shapely
from faker import Faker
from faker.config import AVAILABLE_LOCALES
from fontTools import unicodedata as script_data

from namebatch.finding import Finding
from namebatch.letterer import Letterer, make_letterer
from namebatch.names.row import Row
from namebatch.template import find_template, load_template
from namebatch.template.textbox import Sizing, TextBox
from namebatch.text.fit import SetText, fit

COUNT = int(os.environ.get("NAMEBATCH_TEXTS", "1500"))
SEED = 20270
ROOM_MM = 0.01


def _by_script() -> dict[str, list[str]]:
    """Script → its assigned characters, controls and private use left out."""
    found: dict[str, list[str]] = {}
    for code in range(0x110000):
        character = chr(code)
        if unicodedata.category(character) in ("Cc", "Cs", "Co", "Cn"):
            continue
        found.setdefault(script_data.script(character), []).append(character)
    return dict(sorted(found.items()))


def _texts(count: int) -> Iterator[str]:
    """Half names of faker, half strings of one script or of two, with spaces and signs."""
    chance = random.Random(SEED)
    locales = sorted(set(AVAILABLE_LOCALES) - {"fr_QC"})
    fakers = []
    for locale in locales:
        fake = Faker(locale)
        fake.seed_instance(SEED)
        fakers.append(fake)
    scripts = list(_by_script().values())
    for index in range(count):
        if index % 2:
            yield str(fakers[index // 2 % len(fakers)].name())
            continue
        pool = list(scripts[index // 2 % len(scripts)])
        if chance.random() < 0.3:
            pool = pool + chance.choice(scripts)
        length = chance.choice((1, 2, 3, 5, 8, 13, 30))
        word = "".join(
            chance.choice(" -'.’") if chance.random() < 0.08 else chance.choice(pool)
            for _ in range(length)
        )
        yield unicodedata.normalize("NFC", word)


@pytest.fixture(scope="module")
def letterer() -> Letterer:
    """The place card's."""
    return make_letterer(load_template(find_template("place-card")))


def _boxes(letterer: Letterer) -> list[TextBox]:
    """The box of the names, as it is and with other rules."""
    box = next(box for box in letterer.template.boxes if not box.is_fixed)
    return [
        box,
        replace(box, align="left", vertical="baseline", baseline_mm=5.0, case="capitals"),
        replace(box, align="right", vertical="top", tracking=0.1, made="outline", case="title"),
        replace(box, vertical="bottom", sizing=Sizing(steps=("two-lines", "initials", "width"))),
    ]


def test_every_text_is_set_inside_its_box_or_held(letterer: Letterer) -> None:
    """Nothing raises; what is set has ink, within 0.01 mm of its box, and no clipped letter."""
    boxes = _boxes(letterer)
    made = 0
    for index, text in enumerate(_texts(COUNT)):
        if not text.strip():
            continue
        box = boxes[index % len(boxes)]
        result = fit(text, letterer.faces[box.name], box, spare=letterer.spare)
        if isinstance(result, Finding):
            held = ("no-glyph", "mark-astray", "text-too-small", "place-too-low", "no-ink")
            assert result.code in held, (
                text,
                result,
            )
            continue
        made += 1
        x, y, width, height = box.box_mm
        x0, y0, x1, y1 = result.shape.bounds
        inside = (
            x0 >= x - ROOM_MM
            and y0 >= y - ROOM_MM
            and x1 <= x + width + ROOM_MM
            and y1 <= y + height + ROOM_MM
        )
        assert inside, (text, result.shape.bounds)
        assert result.shape.area > 0
        assert shapely.is_valid(result.shape), text
        assert box.min_height_mm - 1e-6 <= result.height_mm <= box.max_height_mm + 1e-6
    assert made > COUNT / 3


def test_a_row_of_any_text_is_set_or_held(letterer: Letterer) -> None:
    """The letterer gives words or a finding for every row, and never neither."""
    for index, text in enumerate(_texts(min(COUNT, 600))):
        if not text.strip():
            continue
        row = Row(index + 2, {"name": text}, {"name": text}, 1, ())
        letterings, findings = letterer.letter(row)
        named = [part for part in letterings if part.box == "name"]
        assert named or findings, text


def test_measured_set(letterer: Letterer) -> None:
    """A plain Latin name is set without any note."""
    box = _boxes(letterer)[0]
    result = fit("Marlo", letterer.faces[box.name], box)
    assert isinstance(result, SetText)
    assert result.notes == ()
