"""Assembly pictures, and what the work card says of parts."""

from pathlib import Path

import pypdfium2 as pdfium
import pytest

from namebatch.finding import Severity
from namebatch.job import Job
from namebatch.output import workcard
from namebatch.output.assembly import assembly_pictures
from namebatch.output.assemblylist import assembly_list
from namebatch.output.docpage import Block, flow
from namebatch.output.materials import material_lines
from namebatch.output.preview import preview_svg
from namebatch.output.worksteps import steps
from tests.outside.joined import board

GIVEN = '\n[joint]\nkind = "{kind}"\nat_x_mm = [200, 400]\n'
NAMES = "name,quantity\nFen,2\nReed,1\n"


def _text(job: Job, folder: Path) -> str:
    workcard.write(job, folder, lambda done, total: None)
    document = pdfium.PdfDocument((folder / "workcard.pdf").read_bytes())
    pages = [page.get_textpage().get_text_range() for page in document]
    document.close()
    return "\n".join(pages)


def test_pieces_split_alike_share_a_picture(tmp_path: Path) -> None:
    """Straight joints on given lines are the same on every piece: one heading, one picture."""
    job = board(tmp_path, GIVEN.format(kind="straight"), names=NAMES)
    assert len(list(assembly_pictures(job))) == 2


def test_pieces_split_differently_have_their_own(tmp_path: Path) -> None:
    """Where found lines differ from name to name each piece has its picture."""
    names = "name\nSaltmarsh Kite Day\nLantern Parade\n"
    job = board(tmp_path, '\n[joint]\nkind = "straight"\n', names=names)
    assert len(list(assembly_pictures(job))) == 3


def test_the_heads_of_the_list_end_with_it(tmp_path: Path) -> None:
    """What comes after the assembly list on a new page does not stand under its columns."""
    job = board(tmp_path, GIVEN.format(kind="straight"), names=NAMES)
    after = Block(600.0, lambda canvas, x, y: None)
    pages = flow([*assembly_list(job), after])
    assert len(pages) > 1
    assert sum(block.height for block in pages[-1]) == after.height


def test_glue_lies_ready_for_the_joints(tmp_path: Path) -> None:
    """Three parts have two joints; a job of whole pieces has none to glue."""
    job = board(tmp_path, GIVEN.format(kind="keyed"), names=NAMES)
    told = [(line.amount, line.name, line.remark) for line in material_lines(job)]
    assert ("6", "joints to glue", "glue") in told
    whole = board(tmp_path, '\n[joint]\nkind = "keyed"\n', width=240)
    assert not any("joint" in line.name for line in material_lines(whole))


def test_no_picture_without_parts(tmp_path: Path) -> None:
    """A job of whole pieces has none, and no step for joining."""
    job = board(tmp_path, '\n[joint]\nkind = "keyed"\n', width=240)
    assert list(assembly_pictures(job)) == []
    assert "Join the parts" not in [step.title for step in steps(job)]


def test_work_card_lists_every_part_with_its_sheets(tmp_path: Path) -> None:
    """The assembly list has each copy with its parts, each part with its face and its board."""
    job = board(tmp_path, GIVEN.format(kind="straight"), names=NAMES)
    text = _text(job, tmp_path)
    assert "How parts go together" in text
    where = {(p.piece, p.face): sheet.id for sheet in job.sheets for p in sheet.placements}
    lines = text.splitlines()
    for copy in ("L2-1", "L2-2", "L3-1"):
        for part in ("1", "2", "3"):
            name = f"{copy}-{part}"
            told = [line for line in lines if name in line and "face-" in line]
            assert told, name
            assert where[name, "front"] in told[0]
            assert where[name, "board"] in told[0]


@pytest.mark.parametrize(
    ("kind", "build", "after", "words"),
    [
        ("keyed", "faced", "Cut the boards", "set the keys in from above"),
        ("straight", "printed", "Cut the faces", "glue a strip over the joint"),
        ("keyed", "bare", "Clean", "set the keys in from above"),
    ],
)
def test_joining_is_a_step_of_every_build(
    kind: str, build: str, after: str, words: str, tmp_path: Path
) -> None:
    """Parts are joined once they are cut, boards before prints are mounted on them."""
    job = board(tmp_path, GIVEN.format(kind=kind), build, names=NAMES)
    told = steps(job)
    titles = [step.title for step in told]
    at = titles.index("Join the parts")
    assert titles[at - 1] == after
    assert titles[at + 1] == ("Mount" if build == "faced" else "Pack")
    assert words in told[at].text
    assert "3 pieces in parts" in told[at].text


def test_joints_without_keys_are_named_in_the_step(tmp_path: Path) -> None:
    """Where a keyed joint has no room for its keys, that is a warning, and who joins is told."""
    joint = '\n[joint]\nkind = "keyed"\nkey_mm = {key}\nat_x_mm = [200]\n'
    bare = board(tmp_path / "a", joint.format(key=40), width=400, names=NAMES)
    found = [f for row in bare.rows for f in row.findings if f.code == "joint-without-key"]
    assert [finding.severity for finding in found] == [Severity.WARN] * 2
    told = next(step.text for step in steps(bare) if step.title == "Join the parts")
    assert "Joints without a key in L2-1, L2-2, L3-1: glue these onto a strip behind." in told
    keyed = board(tmp_path / "b", joint.format(key=8), width=400, names=NAMES)
    told = next(step.text for step in steps(keyed) if step.title == "Join the parts")
    assert "without a key" not in told


def test_preview_shows_the_joints(tmp_path: Path) -> None:
    """The picture of the whole piece has its joint lines drawn, that of a whole one has not."""
    split = board(tmp_path / "a", GIVEN.format(kind="keyed"), names=NAMES)
    assert 'class="joints"' in preview_svg(split, split.pieces[0])
    whole = board(tmp_path / "b", "", width=240, names=NAMES)
    assert 'class="joints"' not in preview_svg(whole, whole.pieces[0])
