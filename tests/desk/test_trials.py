"""Templates made from a picture: begun, tried, kept, dropped."""

import errno
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image
from shapely import Point, Polygon, box
from shapely.affinity import translate

from namebatch.desk import trials as drafts
from namebatch.desk.apart import Apart
from namebatch.desk.templates import own_names
from namebatch.desk.trial_first import begin
from namebatch.desk.trial_made import tried
from namebatch.desk.trial_picture import read_picture
from namebatch.desk.trial_spec import BaseSpec, HoleSpec, TextSpec, TrialSpec
from namebatch.desk.trials import Trials
from namebatch.errors import DeskError, NotThereError, OutputError, TemplateError
from namebatch.pipeline import Settings, plan_job
from namebatch.template import load_template
from namebatch.template.builtin_workshop import BUILTIN_TOML
from tests.desk.pictures import KITE, LINES, dune_jpeg, float_png


@pytest.fixture(scope="module")
def apart() -> Iterator[Apart]:
    """A process that tests share: starting one takes a second."""
    running = Apart()
    yield running
    running.close()


@pytest.fixture
def trials(tmp_path: Path, apart: Apart) -> Trials:
    """Drafts of an empty data folder."""
    return Trials(tmp_path, tmp_path / "templates", tmp_path / "workshop.toml", apart)


FLOAT = read_picture(float_png())


@pytest.fixture(scope="module")
def spec() -> TrialSpec:
    """What is filled in at first for an oval cut out."""
    return begin(float_png(), "Kite float", None).spec


def changed(spec: TrialSpec, **values: object) -> TrialSpec:
    return TrialSpec.model_validate({**spec.model_dump(), **values})


def text(spec: TrialSpec, **values: object) -> list[dict[str, object]]:
    return [{**spec.texts[0].model_dump(), **values}]


def test_a_cut_out_picture_is_traced_at_first(spec: TrialSpec) -> None:
    """The line runs just inside of its edge, at a size at which its pixels are sharp enough."""
    assert spec.base.kind == "trace"
    assert spec.base.edge_mm == -0.5
    assert spec.base.width_mm == pytest.approx(600 / 200 * 25.4, abs=0.1)
    assert (spec.build, spec.material, spec.board) == ("faced", "card-160", "plywood-3")


def test_a_photograph_lies_on_a_plain_shape_at_first() -> None:
    """It has no edge to follow; the shape has its proportions."""
    first = begin(dune_jpeg(), "", None).spec
    assert first.base.kind == "rounded-rectangle"
    assert first.base.width_mm is not None
    assert first.base.height_mm == pytest.approx(first.base.width_mm * 450 / 600, abs=0.1)
    assert first.title == "New template"


def test_bare_lines_are_cut_along_at_first() -> None:
    """A drawing that paints nothing but lines is what is cut, at its own size."""
    first = begin(LINES, "", None).spec
    assert (first.base.kind, first.base.width_mm, first.build) == ("drawing", 60, "bare")
    assert first.material == "plywood-3"


def test_the_first_box_lies_on_the_piece() -> None:
    """Where it is broad, and not where a kite runs out to a point."""
    spec = begin(KITE, "", None).spec
    x, y, width, height = spec.texts[0].box_mm
    # the traced kite is 0.5 mm less all round, so it begins at 4.6 and 2.6 of the drawing
    kite = Polygon([(26, 36), (52, 22), (26, 0), (0, 22)]).buffer(-0.5)
    moved = translate(kite, -kite.bounds[0], -kite.bounds[1])
    assert moved.buffer(0.05).contains(box(x, y, x + width, y + height))
    assert width * height > 0.2 * moved.area


@pytest.mark.parametrize("data", [float_png(), dune_jpeg(), KITE, LINES])
def test_what_is_filled_in_at_first_is_a_template_at_once(data: bytes) -> None:
    """Nobody begins with a list of problems: all four names are made."""
    begun = begin(data, "", None)
    outcome = tried(begun.picture, begun.spec, None)
    assert outcome.problems == ()
    assert [sample.svg is not None for sample in outcome.samples] == [True] * 4


def test_the_first_of_a_workshop_s_own_materials_are_taken(tmp_path: Path) -> None:
    """Not those of the examples."""
    shop = tmp_path / "workshop.toml"
    shop.write_text(BUILTIN_TOML.replace("card-160", "felt-paper"), encoding="utf-8")
    assert begin(KITE, "", shop).spec.material == "felt-paper"


def test_the_shape_is_seen_with_the_problems(spec: TrialSpec) -> None:
    """A box that leaves the piece is told in the words of the page, and the picture stays."""
    outcome = tried(FLOAT, changed(spec, texts=text(spec, box_mm=[60, 5, 60, 9])), None)
    assert outcome.problems[0].startswith("Text 1, box: reaches from 60, 5 to 120, 14")
    assert outcome.ground is not None
    assert outcome.ground.size_mm == pytest.approx((67.6, 48.6), abs=0.3)
    assert outcome.files is None


def test_the_view_is_that_of_picture_and_base(spec: TrialSpec) -> None:
    """A point of the template is found in the drawing: y up there, down here."""
    ground = tried(FLOAT, spec, None).ground
    assert ground is not None
    x, y, width, height = ground.view_mm
    assert x < 0 < ground.size_mm[0] < x + width
    assert y < 0 < ground.size_mm[1] < y + height
    assert f'viewBox="0 0 {width:.3f} {height:.3f}"' in ground.svg


def test_a_held_name_has_its_reason_and_no_picture(spec: TrialSpec) -> None:
    """Lines of a list are not spoken of: there is none."""
    names = ["Marlo", "Bartholomew-Maximilian " * 4]
    long = changed(spec, samples=names, texts=text(spec, min_height_mm=5))
    short, held = tried(FLOAT, long, None).samples
    assert short.svg is not None
    assert held.svg is None
    assert held.findings
    assert not any("Line " in finding.message for finding in held.findings)


def test_bare_material_is_cut_round_the_picture(spec: TrialSpec) -> None:
    """Nothing is printed, so the trace becomes a drawing: the same outline to 0.02 mm."""
    bare = changed(spec, build="bare", material="plywood-3", board=None)
    outcome = tried(FLOAT, bare, None)
    assert outcome.problems == ()
    assert outcome.files is not None
    assert sorted(outcome.files) == ["base.svg", "template.toml"]
    assert outcome.ground is not None
    printed = tried(FLOAT, spec, None).ground
    assert printed is not None
    assert outcome.ground.size_mm == pytest.approx(printed.size_mm, abs=0.02)


def test_every_rule_and_build_can_be_had() -> None:
    """Name and picture in one line, letters joined to the piece, letters cut through it."""
    begun = begin(KITE, "", None)
    spec, picture = begun.spec, begun.picture
    bare = {"build": "bare", "material": "plywood-3", "board": None}
    for given in (
        changed(spec, rule="contour", distance_mm=2, holes=[{"find": "top"}]),
        changed(spec, build="printed", material="card-300", board=None),
        changed(spec, base={"kind": "circle", "width_mm": 50}, holes=[{"at_mm": [25, 44]}]),
        changed(
            spec,
            base={"kind": "luggage-tag", "width_mm": 90, "height_mm": 50, "chamfer_mm": 10},
            holes=[{"shape": "slot", "at_mm": [10, 25], "length_mm": 12, "width_mm": 3}],
        ),
        changed(
            spec,
            **bare,
            rule="weld",
            base={"kind": "rounded-rectangle", "width_mm": 90, "height_mm": 12, "corner_mm": 2},
            texts=text(
                spec,
                font="Pacifico",
                box_mm=[0, 4, 90, 60],
                min_height_mm=22.8,
                max_height_mm=24,
                vertical="baseline",
                baseline_mm=6,
            ),
            samples=["Marlo"],
        ),
        changed(
            spec,
            **{**bare, "material": "stencil-card-0.5"},
            rule="open",
            base={"kind": "rounded-rectangle", "width_mm": 160, "height_mm": 60},
            texts=text(
                spec,
                font="Black Ops One",
                box_mm=[9, 16, 142, 34],
                min_height_mm=21.5,
                max_height_mm=26,
                case="capitals",
            ),
            samples=["Marlo"],
        ),
    ):
        outcome = tried(picture, given, None)
        assert outcome.problems == (), given
        assert outcome.samples[0].svg is not None, outcome.samples[0].findings


def test_a_hole_is_where_it_was_put(spec: TrialSpec, tmp_path: Path) -> None:
    """In the template as in the form."""
    outcome = tried(FLOAT, changed(spec, holes=[{"at_mm": [33.5, 42], "width_mm": 4}]), None)
    assert outcome.files is not None
    for name, data in outcome.files.items():
        (tmp_path / name).write_bytes(data)
    template = load_template(tmp_path)
    assert not template.base.contains(Point(33.5, 42))
    assert template.holes[0].centroid.distance(Point(33.5, 42)) < 0.01


def test_further_columns_are_tried_with_words_of_their_own(spec: TrialSpec) -> None:
    """The names are those of the first column; quotation marks and tabs in them do no harm."""
    second = TextSpec(
        column="village",
        sample="Sandreed",
        box_mm=[20, 6, 26, 4],
        min_height_mm=1.5,
        max_height_mm=3,
    )
    names = ['Odile "Quill" Marram', "Zoë\tTeasel"]
    both = changed(spec, texts=[spec.texts[0], second], samples=names)
    outcome = tried(FLOAT, both, None)
    assert [sample.text for sample in outcome.samples] == ['Odile "Quill" Marram', "Zoë Teasel"]
    assert outcome.files is not None
    assert b'village = "Sandreed"' in outcome.files["template.toml"]


def test_materials_and_typefaces_that_are_not_there_are_told(spec: TrialSpec) -> None:
    """By name, as for any template."""
    assert "asks for the material" in tried(FLOAT, changed(spec, material="oak"), None).problems[0]
    strange = changed(spec, texts=text(spec, font="Teasel Sans"))
    assert any("Teasel Sans" in line for line in tried(FLOAT, strange, None).problems)


def test_typeface_files_elsewhere_are_not_opened(spec: TrialSpec, tmp_path: Path) -> None:
    """A path in place of a typeface leads nowhere."""
    (tmp_path / "own.ttf").write_bytes(b"")
    for name in (str(tmp_path / "own.ttf"), "../own.ttf"):
        outcome = tried(FLOAT, changed(spec, texts=text(spec, font=name)), None)
        assert any("inside the template's folder" in line for line in outcome.problems)


def test_only_drawings_have_lines_to_cut_along(spec: TrialSpec) -> None:
    """A PNG is told so."""
    outcome = tried(FLOAT, changed(spec, base=BaseSpec(kind="drawing", width_mm=50)), None)
    assert outcome.problems == (
        "Only an SVG has lines to cut along. Let the picture's edge be the line instead.",
    )


def test_without_names_there_is_nothing_to_try(spec: TrialSpec) -> None:
    """It says where to write one."""
    assert "Write one or two" in tried(FLOAT, changed(spec, samples=[" "]), None).problems[0]


def test_a_draft_is_there_after_a_restart(trials: Trials, tmp_path: Path, spec: TrialSpec) -> None:
    """With its picture and what was filled in last."""
    begun = trials.begin(float_png(), "Kite float")
    trials.try_out(begun.id, changed(spec, title="Float two"))
    again = Trials(tmp_path, tmp_path / "templates", tmp_path / "workshop.toml", Apart())
    assert [(one.id, one.kind, one.size) for one in again.drafts()] == [(1, "png", (600, 450))]
    assert again.trial(1).spec.title == "Float two"


def test_what_is_kept_is_a_template_like_any_other(trials: Trials, tmp_path: Path) -> None:
    """It is listed, its draft is gone, and a job can be planned with its folder."""
    begun = trials.begin(float_png(), "draft")
    assert trials.keep(begun.id, " Kite float ") == "kite-float"
    assert own_names(tmp_path / "templates") == ("kite-float",)
    assert trials.drafts() == ()
    names = tmp_path / "list.csv"
    names.write_text("name\nMarlo\n", encoding="utf-8")
    plan = plan_job(names, Settings(str(tmp_path / "templates" / "kite-float")))
    assert plan.template.title == "Kite float"
    assert plan.template.samples == {"name": "Marlo"}


def test_what_is_no_template_yet_is_not_kept(trials: Trials, tmp_path: Path) -> None:
    """The draft stays, and the reasons are told."""
    begun = trials.begin(float_png())
    trials.try_out(begun.id, changed(begun.spec, texts=text(begun.spec, box_mm=[60, 5, 60, 9])))
    with pytest.raises(TemplateError, match="cannot be a template yet") as error:
        trials.keep(begun.id, "Float")
    assert error.value.problems[0].startswith("Text 1, box")
    assert own_names(tmp_path / "templates") == ()
    assert len(trials.drafts()) == 1


def test_a_taken_name_keeps_the_draft(trials: Trials) -> None:
    """Another name, and it is kept after all."""
    begun = trials.begin(KITE, "Medal")
    with pytest.raises(TemplateError, match="already"):
        trials.keep(begun.id, "Medal")
    assert trials.keep(begun.id, "Kite medal") == "kite-medal"


def test_no_draft_makes_room_for_another(trials: Trials, monkeypatch: pytest.MonkeyPatch) -> None:
    """What was shown as kept stays; the next one is refused with what to do until one is gone."""
    monkeypatch.setattr(drafts, "MOST_DRAFTS", 2)
    first, second = trials.begin(KITE), trials.begin(KITE)
    with pytest.raises(DeskError, match=r"2 drafts .* Keep one .* or throw one away"):
        trials.begin(KITE)
    assert [one.id for one in trials.drafts()] == [second.id, first.id]
    trials.drop(first.id)
    assert trials.begin(KITE).id == 3


def test_a_number_is_never_given_twice(trials: Trials, tmp_path: Path) -> None:
    """Another tab may still show the draft that was thrown away; also after a restart."""
    first = trials.begin(KITE)
    trials.drop(first.id)
    assert trials.begin(KITE).id == 2
    trials.drop(2)
    again = Trials(tmp_path, tmp_path / "templates", tmp_path / "workshop.toml", trials._apart)
    assert again.begin(KITE).id == 3
    with pytest.raises(NotThereError, match="no draft 1"):
        again.try_out(first.id, first.spec)


def test_numbers_go_on_where_none_was_noted(trials: Trials, tmp_path: Path) -> None:
    """Folders of a version that noted none, or a damaged note, are no reason to give one again."""
    trials.begin(KITE)
    for said in (None, "", "x", "0"):
        path = tmp_path / "trials" / drafts.LAST
        path.unlink() if said is None else path.write_text(said, encoding="ascii")
        highest = max(one.id for one in trials.drafts())
        assert trials.begin(KITE).id == highest + 1


def test_what_cannot_be_removed_is_told_and_removed_later(
    trials: Trials, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A draft whose files are held open elsewhere is gone from the list; its files go later."""
    begun = trials.begin(KITE)

    def stuck(path: Path, **_: object) -> None:
        raise PermissionError(errno.EACCES, "Permission denied", str(path))

    with monkeypatch.context() as patched:
        patched.setattr("namebatch.desk.trials.shutil.rmtree", stuck)
        deleted = trials.drop(begun.id)
    assert not deleted.complete
    assert "Permission denied" in deleted.left[0]
    assert trials.drafts() == ()
    assert list(tmp_path.rglob("picture.*"))
    again = Trials(tmp_path, tmp_path / "templates", tmp_path / "workshop.toml", trials._apart)
    assert not list(tmp_path.rglob("picture.*"))
    assert again.begin(KITE).id == 2


def test_a_draft_that_cannot_be_taken_away_is_there_as_before(
    trials: Trials, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nobody is told that it is gone, and by whom it could be."""
    begun = trials.begin(KITE)

    def refused(path: Path, target: Path) -> Path:
        raise PermissionError(errno.EACCES, "Permission denied", str(path))

    with monkeypatch.context() as patched:
        patched.setattr(Path, "rename", refused)
        with pytest.raises(OutputError, match=r"there as before. Whoever runs namebatch has to be"):
            trials.drop(begun.id)
    assert [one.id for one in trials.drafts()] == [begun.id]


def test_a_dropped_draft_is_gone(trials: Trials, tmp_path: Path) -> None:
    """With its picture; asked for again, it is told."""
    begun = trials.begin(KITE)
    assert trials.drop(begun.id).complete
    assert [path.name for path in (tmp_path / "trials").iterdir()] == [drafts.LAST]
    for ask in (trials.trial, trials.drop):
        with pytest.raises(NotThereError, match="no draft 1"):
            ask(begun.id)
    with pytest.raises(NotThereError, match="no draft 1"):
        trials.try_out(begun.id, begun.spec)


def test_pictures_that_are_none_begin_nothing(trials: Trials, tmp_path: Path) -> None:
    """Neither what is refused at sight nor what breaks in reading leaves anything behind."""
    for data in (b"", b"%PDF", float_png()[:300], b"<svg/>"):
        with pytest.raises((TemplateError, DeskError)):
            trials.begin(data)
    assert trials.drafts() == ()


def test_a_large_photograph_is_tried(trials: Trials) -> None:
    """Twelve million pixels, as telephones take them, stand within every bound."""
    out = BytesIO()
    Image.radial_gradient("L").resize((4000, 3000)).convert("RGB").save(out, "JPEG")
    begun = trials.begin(out.getvalue())
    assert begun.spec.base.kind == "rounded-rectangle"
    assert trials.try_out(begun.id, begun.spec).problems == ()


def test_holes_default_to_a_place(spec: TrialSpec) -> None:
    """A hole without a place is told, and nothing breaks."""
    assert tried(FLOAT, changed(spec, holes=[HoleSpec()]), None).problems != ()


def test_a_picture_that_cannot_be_kept_leaves_nothing(
    trials: Trials, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a full disk nothing is begun, and no part of the picture lies about."""

    def full(*_: object, **__: object) -> str:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(TrialSpec, "model_dump_json", full)
    with pytest.raises(OutputError, match=r"cannot be kept: No space left.*Make room on the disk"):
        trials.begin(KITE)
    assert not list(tmp_path.rglob("picture.*"))


def test_what_makes_nothing_is_not_kept(trials: Trials) -> None:
    """A template of which every name is held would hold every line of a docket."""
    draft = trials.begin(float_png(), "Whale")
    large = text(draft.spec, min_height_mm=draft.spec.texts[0].box_mm[3] - 0.5, max_height_mm=50.0)
    long = ["Bartholomew-Maximilian Teasel of the Dunes", "Ottilie Samphire of Marram Bottom"]
    outcome = trials.try_out(draft.id, changed(draft.spec, texts=large, samples=long))
    assert (outcome.problems, [sample.svg for sample in outcome.samples]) == ((), [None] * 2)
    with pytest.raises(TemplateError, match="None of the names can be made"):
        trials.keep(draft.id, "Whale")
    assert trials.trial(draft.id).spec.title == "Whale"


def test_another_text_has_its_place_inside_the_shape(trials: Trials) -> None:
    """It meets neither edge nor first text, on an oval whose lower part is narrow."""
    draft = trials.begin(float_png(), "Float")
    outcome = trials.try_out(draft.id, draft.spec)
    assert outcome.room is not None
    x, y, width, height = outcome.room
    first = draft.spec.texts[0].box_mm
    assert not box(x, y, x + width, y + height).intersects(
        box(first[0], first[1], first[0] + first[2], first[1] + first[3])
    )
    second = {
        **draft.spec.texts[0].model_dump(),
        "column": "village",
        "box_mm": [x, y, width, height],
    }
    second |= {"min_height_mm": 1.8, "max_height_mm": max(2.0, 0.7 * height)}
    both = [draft.spec.texts[0].model_dump(), second]
    outcome = trials.try_out(draft.id, changed(draft.spec, texts=both))
    assert outcome.problems == ()
    assert all(sample.svg for sample in outcome.samples)
