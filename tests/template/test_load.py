"""Template folders: what is right is read whole, what is wrong is told all at once."""

from math import pi
from pathlib import Path

import pytest

from namebatch.errors import TemplateError
from namebatch.resources import bundled
from namebatch.template import bundled_templates, find_template, load_template
from namebatch.template.model import RasterPicture, Template, VectorPicture
from namebatch.template.wording import field_alone
from tests.template.drawing import svg
from tests.template.folders import BASE, HEAD, TEXT, WHOLE, problems_of, written
from tests.template.images import jpeg, png


def test_a_whole_template_is_read_with_its_defaults(tmp_path: Path) -> None:
    """Every key that was left out has the value that the format promises."""
    found = load_template(written(tmp_path / "tag", WHOLE))
    assert (found.name, found.title, found.build, found.rule) == ("tag", "Bag tag", "faced", "base")
    assert found.faces == ("front", "back")
    assert (found.material, found.board) == ("card-160", "plywood-3")
    assert (found.bleed_mm, found.turns_deg) == (1.5, (0.0, 90.0))
    assert found.size_mm == (85.6, 53.98)
    (box,) = found.boxes
    assert (box.name, box.wording, box.face) == ("name", field_alone("name"), "front")
    assert (box.made, box.colour) == ("print", "#000000")
    assert (box.align, box.vertical, box.tracking, box.optional) == ("centre", "middle", 0.0, False)
    assert found.fields == ("name",)
    assert found.artwork == {}
    assert len(found.digest) == 64


def test_holes_are_cut_out_of_the_base(tmp_path: Path) -> None:
    """Base and hole together have the area of the shape without holes."""
    hole = '\n[[hole]]\nshape = "round"\nat_mm = [8, 27]\ndiameter_mm = 5\n'
    bare = load_template(written(tmp_path / "a", WHOLE))
    found = load_template(written(tmp_path / "b", WHOLE + hole))
    (ring,) = found.holes
    assert found.base.area + ring.area == pytest.approx(bare.base.area, abs=1e-9)
    assert ring.area == pytest.approx(pi * 6.25, abs=0.08)
    assert found.base.is_valid


def test_a_bare_piece_engraves_and_prints_nothing(tmp_path: Path) -> None:
    """With build bare the text is engraved, without colour and bleed."""
    toml = (
        'format = 1\ntitle = "Medal"\nbuild = "bare"\nmaterial = "plywood-3"\n'
        '[base]\nshape = "circle"\ndiameter_mm = 60\n'
    )
    text = TEXT.replace("[10, 10, 60, 20]", "[5, 20, 50, 20]")
    found = load_template(written(tmp_path / "medal", toml + text))
    assert (found.boxes[0].made, found.boxes[0].colour) == ("engrave", None)
    assert (found.bleed_mm, found.board) == (0.0, None)


def test_a_welded_name_may_reach_past_the_base_and_be_printed(tmp_path: Path) -> None:
    """With weld, the outline text may have a colour and lie outside of the base's box."""
    text = TEXT.replace("[10, 10, 60, 20]", "[10, 50, 90, 20]")
    toml = 'rule = "weld"\n' + HEAD + BASE + text + 'made = "outline"\ncolour = "#17324D"\n'
    (box,) = load_template(written(tmp_path / "tag", toml)).boxes
    assert (box.made, box.colour, box.box_mm) == ("outline", "#17324d", (10, 50, 90, 20))


def test_too_many_files_are_refused(tmp_path: Path) -> None:
    """A folder full of other things is not searched through."""
    folder = written(tmp_path / "tag", WHOLE)
    for number in range(1001):
        (folder / f"{number}.txt").touch()
    with pytest.raises(TemplateError, match="holds more than 1000 files"):
        load_template(folder)


def test_a_drawing_gives_base_and_artwork_lands_on_it(tmp_path: Path) -> None:
    """The default box of a picture covers base and bleed, keeps its proportions, is centred."""
    toml = (
        HEAD + '[base]\ndrawing = "base.svg"\n[artwork.front]\nfile = "front.svg"\n'
        '[artwork.back]\nfile = "back.png"\nbox_mm = [0, 0, 60, 40]\n' + TEXT
    )
    folder = written(
        tmp_path / "tag",
        toml.replace("[10, 10, 60, 20]", "[2, 2, 56, 20]"),
        base__svg=svg('<rect width="60" height="40" rx="4"/><circle cx="6" cy="20" r="2"/>'),
        front__svg=svg('<rect width="99" height="99" fill="teal"/>', 'viewBox="0 0 40 20"'),
        back__png=png(600, 400),
    )
    found = load_template(folder)
    assert found.size_mm == pytest.approx((60, 40), abs=1e-6)
    assert len(found.base.interiors) == 1
    front, back = found.artwork["front"], found.artwork["back"]
    # 63 × 43 mm are needed; a picture twice as wide as high is then 86 × 43.
    assert front.box_mm == pytest.approx((-1.5 - 11.5, -1.5, 86, 43), abs=1e-5)
    assert isinstance(front.picture, VectorPicture)
    assert isinstance(back.picture, RasterPicture)
    assert back.box_mm == (0, 0, 60, 40)


def test_shapes_past_a_small_picture_are_clipped_as_svg_does(tmp_path: Path) -> None:
    """Where a picture ends on the piece, what reaches out of it must not be printed."""
    toml = HEAD + BASE + '[artwork.front]\nfile = "a.svg"\nbox_mm = [5, 5, 8, 6]\n' + TEXT
    inside = written(tmp_path / "in", toml, a__svg=svg('<circle cx="40" cy="30" r="30"/>'))
    beyond = written(tmp_path / "out", toml, a__svg=svg('<circle cx="40" cy="30" r="50"/>'))
    assert isinstance(load_template(inside).artwork["front"].picture, VectorPicture)
    assert isinstance(load_template(beyond).artwork["front"].picture, RasterPicture)


def test_the_digest_follows_every_file(tmp_path: Path) -> None:
    """The same files give the same digest wherever they lie; one byte more gives another."""
    first = load_template(written(tmp_path / "a" / "tag", WHOLE, note__txt="x"))
    again = load_template(written(tmp_path / "b" / "tag", WHOLE, note__txt="x"))
    other = load_template(written(tmp_path / "c" / "tag", WHOLE, note__txt="xy"))
    hidden = load_template(written(tmp_path / "d" / "tag", WHOLE, note__txt="x", __DS="?"))
    assert first.digest == again.digest == hidden.digest
    assert first.digest != other.digest


@pytest.mark.parametrize(
    "name", ["../a.svg", "/etc/hostname", "C:/a.svg", "a\\\\b.svg", "x/../../a.svg", "C:a.svg"]
)
def test_names_that_lead_out_of_the_folder_are_refused(tmp_path: Path, name: str) -> None:
    """No way of writing a path reaches a file beside the template."""
    written(tmp_path, "", a__svg=svg('<rect width="30" height="20"/>'))
    for toml in (
        HEAD + f'[base]\ndrawing = "{name}"\n' + TEXT,
        WHOLE + f'[artwork.front]\nfile = "{name.replace("hostname", "hostname.png")}"\n',
    ):
        found = problems_of(written(tmp_path / "tag", toml))
        assert any("must be a" in line for line in found), found


def test_links_out_of_the_folder_are_refused(tmp_path: Path) -> None:
    """A symbolic link is followed only inside the template's folder."""
    written(tmp_path, "", secret__svg=svg('<rect width="30" height="20"/>'))
    folder = written(tmp_path / "tag", HEAD + '[base]\ndrawing = "base.svg"\n' + TEXT)
    for target in (tmp_path / "secret.svg", tmp_path / "none.svg", folder / "base.svg"):
        (folder / "base.svg").unlink(missing_ok=True)
        (folder / "base.svg").symlink_to(target)
        with pytest.raises(TemplateError, match="a link that leads out of the template's folder"):
            load_template(folder)
    (folder / "base.svg").unlink()
    (folder / "real.svg").write_text(svg('<rect width="80" height="40"/>'))
    (folder / "base.svg").symlink_to(folder / "real.svg")
    assert load_template(folder).size_mm == (80.0, 40.0)


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (b"format = 1\nbuild = =", r"stops making sense: .*line 2, column 9"),
        (b"a = 1\n\xff", "template.toml line 2: is not UTF-8 text"),
        (b"x = " + b"[" * 50_000, "template.toml: has brackets nested too deeply"),
        (b"#" * 300_000, "template.toml: is larger than 256 KiB"),
        (b"format = 1" + b"0" * 5000, "template.toml: stops making sense"),
    ],
)
def test_files_that_are_no_toml_are_told(tmp_path: Path, data: bytes, message: str) -> None:
    """Broken, oversized and nested files end in one sentence with the place."""
    with pytest.raises(TemplateError, match=message):
        load_template(written(tmp_path / "tag", data))


def test_a_folder_without_template_is_told(tmp_path: Path) -> None:
    """An empty, missing or impossible folder says what is looked for."""
    for folder in (tmp_path, tmp_path / "none", Path("a\0b"), Path("x" * 5000)):
        with pytest.raises(TemplateError, match=r"template\.toml|cannot be read"):
            load_template(folder)


def test_find_template_takes_names_and_folders(tmp_path: Path) -> None:
    """A folder, its template.toml, or a bundled name lead to the folder."""
    folder = written(tmp_path / "tag", WHOLE)
    assert find_template(str(folder)) == folder
    assert find_template(str(folder / "template.toml")) == folder
    for name in bundled_templates():
        assert find_template(name) == bundled("templates") / name
    with pytest.raises(TemplateError, match="There is no template"):
        find_template("no-such-template-anywhere")
    with pytest.raises(TemplateError, match=r"holds no template\.toml"):
        find_template(str(tmp_path))
    with pytest.raises(TemplateError, match="There is no template"):
        find_template("a\0b")


@pytest.mark.parametrize("name", bundled_templates())
def test_bundled_templates_load(name: str) -> None:
    """Every template that comes with the program is without a problem."""
    assert isinstance(load_template(find_template(name)), Template)


def test_bundled_knows_three_kinds() -> None:
    """Asking for anything else is a mistake of the program, not of a user."""
    with pytest.raises(ValueError, match="templates, fonts, examples"):
        bundled("secrets")


def test_wide_jpeg_keeps_its_bytes(tmp_path: Path) -> None:
    """A plain photograph goes into the print as it is."""
    data = jpeg(900, 600)
    toml = WHOLE + '[artwork.front]\nfile = "photo.JPG"\n'
    found = load_template(written(tmp_path / "tag", toml, photo__JPG=data))
    picture = found.artwork["front"].picture
    assert isinstance(picture, RasterPicture)
    assert (picture.kind, picture.data) == ("jpeg", data)
