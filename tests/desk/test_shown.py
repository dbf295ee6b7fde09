"""What is kept of a piece, and its picture."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from defusedxml.ElementTree import fromstring
from PIL import Image
from shapely import MultiPolygon, affinity, box

from namebatch.desk.bench import bench_of
from namebatch.desk.shown import Artworks, draw, shown
from namebatch.outline import Hang
from namebatch.output.picture import MEASURE_COLOUR
from namebatch.output.plumb import PLUMB_COLOUR
from namebatch.output.preview import preview_svg
from namebatch.piece import Piece
from namebatch.pipeline import Plan, Settings, plan_job
from namebatch.template.model import Artwork
from tests.template.folders import WHOLE, written
from tests.template.images import saved

_PART = MultiPolygon([box(1, 1, 9, 9)])


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> tuple[Plan, Piece]:
    """A piece with a photograph on its front."""
    folder = tmp_path_factory.mktemp("photo")
    noise = Image.effect_noise((300, 200), 80).convert("RGB")
    toml = WHOLE + '[artwork.front]\nfile = "front.jpg"\n'
    template = written(folder / "photo-tag", toml, front__jpg=saved(noise, "JPEG"))
    file = folder / "crew.csv"
    file.write_text("name\n<artwork-front/>\n", encoding="utf-8")
    plan = plan_job(file, Settings(str(template)))
    _, piece = bench_of(plan).maker.make(plan.rows[0])
    assert piece is not None
    return plan, piece


def _digest(plan: Plan, piece: Piece) -> str:
    return draw(bench_of(plan), piece).digest


def test_pictures_are_whole(made: tuple[Plan, Piece]) -> None:
    """The photograph stands where it belongs, whatever a name says, and the document is XML."""
    plan, piece = made
    for large in (False, True):
        svg = Artworks(plan.template).put_in(draw(bench_of(plan), piece), large=large)
        root = fromstring(svg.decode())
        assert len(root.findall(".//{*}image")) == 1
        title = root.find("{*}title")
        assert title is not None
        assert title.text == "<artwork-front/>"


def test_the_wall_shows_the_piece_and_the_slip_its_measures(made: tuple[Plan, Piece]) -> None:
    """Opened large, dimension line and plumb line are there; on the wall, none of their ink."""
    plan, piece = _hung(*_narrowest(*made))
    batch, artworks = bench_of(plan), Artworks(plan.template)
    wall, large = (artworks.put_in(draw(batch, piece), large=size) for size in (False, True))
    assert large.decode() == preview_svg(batch, piece)
    groups = fromstring(large.decode()).findall(".//{*}g[@class]")
    assert sorted(group.attrib["class"] for group in groups) == ["hang", "narrowest"]
    assert fromstring(wall.decode()).findall(".//{*}g[@class]") == []
    for colour in (MEASURE_COLOUR, PLUMB_COLOUR):
        assert colour.encode() in large
        assert colour.encode() not in wall


def _with_artwork(
    change: Callable[[Artwork], Artwork],
) -> Callable[[Plan, Piece], tuple[Plan, Piece]]:
    def changed(plan: Plan, piece: Piece) -> tuple[Plan, Piece]:
        artwork = {face: change(one) for face, one in plan.template.artwork.items()}
        return replace(plan, template=replace(plan.template, artwork=artwork)), piece

    return changed


def _moved(plan: Plan, piece: Piece) -> tuple[Plan, Piece]:
    first, *rest = piece.letterings
    shape = affinity.translate(first.shape, 0.2, 0.0)
    return plan, replace(piece, letterings=(replace(first, shape=shape), *rest))


def _coloured(plan: Plan, piece: Piece) -> tuple[Plan, Piece]:
    first, *rest = piece.letterings
    return plan, replace(piece, letterings=(replace(first, colour="#00aa00"), *rest))


def _hung(plan: Plan, piece: Piece) -> tuple[Plan, Piece]:
    hang = Hang((5.0, 40.0), (43.0, 27.0), 70.0)
    return plan, replace(piece, proof=replace(piece.proof, hang=hang))


def _narrowest(plan: Plan, piece: Piece) -> tuple[Plan, Piece]:
    return plan, replace(piece, proof=replace(piece.proof, narrowest_at=(20.0, 2.0)))


@pytest.mark.parametrize(
    "change",
    [
        _with_artwork(lambda art: replace(art, digest="00" * 32)),
        _with_artwork(lambda art: replace(art, box_mm=(1.0, *art.box_mm[1:]))),
        _with_artwork(lambda art: replace(art, seen=_PART)),
        _moved,
        _coloured,
        lambda plan, piece: (plan, replace(piece, text={"name": "Ada"})),
        _hung,
        _narrowest,
    ],
)
def test_whatever_is_seen_is_in_the_digest(
    change: Callable[[Plan, Piece], tuple[Plan, Piece]], made: tuple[Plan, Piece]
) -> None:
    """Another picture has another digest: browsers keep pictures by it, and approvals hold it."""
    assert _digest(*change(*made)) != _digest(*made)


def test_what_is_not_seen_is_not_in_the_digest(made: tuple[Plan, Piece]) -> None:
    """How many are made, and what is remarked on them, changes no picture."""
    plan, piece = made
    other = replace(piece, copies=9, findings=(), order="A")
    again = replace(plan, template=replace(plan.template, title="Other", digest="11" * 32))
    assert _digest(again, other) == _digest(plan, piece)


def test_figures_are_those_of_the_piece(made: tuple[Plan, Piece]) -> None:
    """Size, narrowest place and holes as the manifest will have them."""
    plan, piece = made
    kept = shown(bench_of(plan), plan.rows[0], piece, plan.maker.limits)
    assert kept.measures is not None
    assert kept.measures.size_mm == pytest.approx((85.6, 53.98), abs=0.01)
    assert kept.measures.area_mm2 == pytest.approx(piece.outline.area, abs=0.01)
    assert (kept.measures.bridges, kept.measures.holes, kept.measures.has_bridges) == (0, 0, False)
    assert kept.texts[0].lines == (kept.texts[0].text,)


def test_held_rows_keep_nothing_but_the_row(made: tuple[Plan, Piece]) -> None:
    """There is no piece of which anything could be kept."""
    plan, _ = made
    kept = shown(bench_of(plan), plan.rows[0], None, plan.maker.limits)
    assert (kept.row, kept.texts, kept.measures, kept.drawing) == (plan.rows[0], (), None, None)
