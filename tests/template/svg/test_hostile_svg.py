"""Drawings made to keep the machine busy or to exhaust it: each is told, and soon.

Without the limits that these tests hold, each of them ran for minutes, took gigabytes or ended
in an exception; what they do at full size was measured once in processes of their own.
"""

import base64
from io import BytesIO

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from PIL import Image

from namebatch.resources import bundled
from namebatch.template.problems import FileProblem, Problems
from namebatch.template.svg import picture, raster, style, walk
from namebatch.template.svg.density import too_close
from namebatch.template.svg.outline import outline_from_svg
from namebatch.template.svg.raster import rasterise
from namebatch.template.svg.references import urls
from namebatch.template.svg.style import without_comments
from namebatch.template.svg.units import length, number
from tests.template.drawing import artwork, svg

BOX = '<rect width="9" height="9"/>'
SIZE = (80.0, 60.0)
BUNDLED = tuple(sorted(bundled("templates").glob("*/*.svg")))


def _base(data: bytes) -> tuple[str, ...]:
    problems = Problems()
    found = outline_from_svg(data, "base.svg", problems)
    assert (found is None) == bool(problems)
    assert found is None or found.polygon.is_valid
    return problems.told()


@pytest.mark.parametrize(
    "link",
    ['<use id="u{0}" href="#u{1}"/>', '<g id="u{0}"><g><use href="#u{1}"/></g></g>'],
    ids=["bare", "in groups"],
)
def test_a_chain_of_copies_is_refused_in_any_order(link: str) -> None:
    """Copies whose originals stand before them lie as deep as those in the other order."""
    chain = "".join(link.format(i, i - 1) for i in range(1, 400))
    text = svg(f'<defs><g id="u0">{BOX}</g>{chain}</defs><use href="#u399"/>')
    _, problems = artwork(text)
    assert any("copy of a copy too many times" in problem for problem in problems)
    assert any("copy of a copy too many times" in told for told in _base(text.encode()))


def test_copies_of_a_long_line_are_counted(monkeypatch: pytest.MonkeyPatch) -> None:
    """A few hundred bytes that copy one long path thousands of times draw nothing."""
    monkeypatch.setattr(walk, "MOST_PARTS", 5_000)
    text = svg(f'<path id="p" d="M0 0{"h1" * 900}"/>' + '<use href="#p"/>' * 1000)
    _, problems = artwork(text)
    assert "takes the drawing past 5000 lines and curves, copies counted" in problems[0]
    assert "copies counted" in _base(text.encode())[0]


@pytest.mark.parametrize(
    "sheet", ["g{fill:red}" * 800, f"g{{{'fill:red;' * 800}}}"], ids=["many rules", "a long rule"]
)
def test_rules_for_all_elements_are_counted(monkeypatch: pytest.MonkeyPatch, sheet: str) -> None:
    """Thousands of rules that each mean every one of thousands of elements are refused."""
    monkeypatch.setattr(style, "MOST_STEPS", 50_000)
    text = svg(f"<style>{sheet}</style>{'<g/>' * 800}{BOX}")
    _, problems = artwork(text)
    assert "so many style rules for so many elements" in problems[0]
    assert "so many style rules" in _base(text.encode())[0]


@pytest.mark.parametrize(
    ("attribute", "message"),
    [
        (f'height="{"1" * 100_000}!"', "is not a length"),
        (f'height="9" stroke="red" stroke-miterlimit="{"1" * 100_000}!"', "is not a number"),
        (f'height="9" fill="{"url(" * 100_000}"', ""),
        (f'height="9" fill="url({" " * 100_000}"', ""),
        (f'height="9" style="{"/* " * 100_000}"', ""),
        (f'height="9" transform="{"a" * 100_000}"', "is not known"),
    ],
    ids=["length", "number", "urls", "spaces", "comments", "transform"],
)
def test_long_attributes_are_read_in_one_go(attribute: str, message: str) -> None:
    """A hundred thousand characters that almost make sense take no time with their square."""
    found, problems = artwork(svg(f'<rect width="9" {attribute}/>'))
    assert message in " ".join(problems)
    assert (found is None) == bool(problems)


def test_long_style_sheets_are_read_in_one_go() -> None:
    """Comments and references that never end are no comments and no references."""
    for text in ("/* " * 100_000, "url(" * 100_000, "a{" * 50_000):
        found, _ = artwork(svg(f"<style>{text}</style>{BOX}"))
        assert found is not None


@pytest.mark.parametrize(
    ("text", "targets"),
    [
        ("url(#a)", ["#a"]),
        ("URL( '#a' ) url(\"http://b.example\")", ["#a", "http://b.example"]),
        ("url('http://c.example/)')", ["http://c.example/)"]),
        ("url('#a)", ["'#a"]),
        ("fill:url(#a);mask:url( #b )", ["#a", "#b"]),
        ("none", []),
        ("url(", []),
    ],
)
def test_references_in_a_text(text: str, targets: list[str]) -> None:
    """In either case, in quotation marks with brackets inside, several of them, unfinished."""
    assert [target.strip("'") for target in urls(text)] == [t.strip("'") for t in targets]


def test_comments_of_a_style_sheet() -> None:
    """Each becomes a space; one that does not end is left (CSS Syntax 4.3.2 would drop it)."""
    assert without_comments("a/* b */c/**/d/*/e*/f/* g") == "a c d f/* g"


@pytest.mark.parametrize("text", ["1" * 401, "1" * 400 + "mm", " " * 401 + "1"])
def test_a_number_of_hundreds_of_digits_is_none(text: str) -> None:
    """It is refused before it is looked at."""
    with pytest.raises(ValueError, match="is not a length"):
        length(text, 1.0)
    with pytest.raises(ValueError, match="is not a number"):
        number(text)


@pytest.mark.parametrize(
    "head",
    [
        'width="1e-200" height="1e-200"',
        'width="1e-320" height="9e6"',
        'width="80mm" viewBox="0 0 1e-300 5"',
        'height="80mm" viewBox="0 0 5 1e-300"',
        'viewBox="0 0 1e-300 1e-300"',
    ],
)
def test_a_drawing_without_a_real_size_is_refused(head: str) -> None:
    """What no scale could bring to millimetres is told, not divided by."""
    _, problems = artwork(svg(BOX, head))
    assert "look at width, height and viewBox" in problems[0]
    assert "look at width, height and viewBox" in _base(svg(BOX, head).encode())[0]


@pytest.mark.parametrize(
    "effect",
    [
        '<feTurbulence baseFrequency="9" numOctaves="10000000"/>',
        '<feMorphology operator="dilate" radius="1000000"/>',
        '<feOffset dx="1e38" dy="-1e38"/>',
    ],
    ids=["noise", "growth", "shift"],
)
def test_effects_that_take_for_ever_are_broken_off(
    effect: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A filter of a few words that would draw for hours, or breaks the drawer, is told."""
    monkeypatch.setattr(raster, "MOST_SECONDS", 1)
    text = svg(f'<filter id="f">{effect}</filter><rect width="80" height="60" filter="url(#f)"/>')
    with pytest.raises(FileProblem, match="without effects, or export a PNG at 300 dpi"):
        rasterise(text.encode(), "art.svg", SIZE)


def test_a_drawer_that_needs_too_much_memory_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """The process that draws has its own limit; this one goes on."""
    pytest.importorskip("resource", reason="this system has no such limits")
    monkeypatch.setattr(raster, "MOST_MEMORY", 48 * 1024**2)
    with pytest.raises(FileProblem, match="takes too much memory or time"):
        rasterise(svg(BOX).encode(), "art.svg", (170.0, 127.5))


def test_a_drawing_with_effects_is_drawn_all_the_same() -> None:
    """The process of its own gives the picture back at 600 dpi of its size."""
    text = svg(f'<g opacity=".5">{BOX}{BOX}</g>')
    assert rasterise(text.encode(), "art.svg", SIZE).size_px == (1890, 1417)


def test_pictures_inside_are_bounded() -> None:
    """An embedded picture that claims more pixels than allowed is refused undecoded."""
    out = BytesIO()
    Image.new("1", (11_000, 10_000)).save(out, "PNG")
    inside = base64.b64encode(out.getvalue()).decode()
    text = svg(f'<image width="9" height="9" href="data:image/png;base64,{inside}"/>')
    with pytest.raises(FileProblem, match=r"has far too many|has 11000 × 10000"):
        rasterise(text.encode(), "art.svg", SIZE)


@st.composite
def broken_files(draw: st.DrawFn) -> bytes:
    """A bundled drawing with bytes changed, cut out, doubled or moved."""
    data = bytearray(draw(st.sampled_from(BUNDLED)).read_bytes()[:6_000])
    for _ in range(draw(st.integers(1, 6))):
        at = draw(st.integers(0, len(data)))
        end = min(len(data), at + draw(st.integers(0, 40)))
        piece = bytes(data[at:end])
        match draw(st.integers(0, 3)):
            case 0:
                data[at:end] = draw(st.binary(max_size=8))
            case 1:
                data[at:at] = piece
            case 2:
                del data[at:end]
            case _:
                spare = ["NaN", "1e308", "-", '"', "<", "/>", "url(#a)", "&#0;", "%", "\x00", "]]>"]
                data[at:end] = draw(st.sampled_from(spare)).encode()
    return bytes(data)


@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(data=broken_files())
@example(data="<svg/>".encode("utf-16"))
@example(data=b"\xff\xfe<\x00")
@example(data=b"\x1f\x8b" + b"<svg/>")
def test_damaged_drawings_are_read_or_told(data: bytes) -> None:
    """Bundled drawings with random damage give sound shapes or problems, nothing else."""
    _base(data)
    problems = Problems()
    found = picture.read_artwork(data, "art.svg", problems)
    assert (found is None) == bool(problems)


def _comb(teeth: int, pitch: float) -> str:
    """A comb of 50 mm, turned so that all its teeth lie in each other's boxes."""
    points: list[tuple[float, float]] = []
    for i in range(teeth):
        x, half = i * pitch, pitch / 2
        points += [(x, 0), (x, 50), (x + half, 50), (x + half, 0)]
    points += [(teeth * pitch, -3), (0, -3)]
    turned = (f"{0.8 * x - 0.6 * y:.4f} {0.6 * x + 0.8 * y:.4f}" for x, y in points)
    return f'<path d="M{"L".join(turned)}z"/>'


def test_lines_closer_than_any_cut_are_refused() -> None:
    """A comb of teeth of 0.012 mm would keep the geometry busy for hours; one of 1 mm is a base."""
    head = 'width="90mm" height="90mm" viewBox="-30 -10 90 90"'
    told = _base(svg(_comb(2500, 0.024), head).encode())
    assert "closer than any cut" in told[0]
    assert _base(svg(_comb(30, 2.0), head).encode()) == ()


def test_more_line_than_anybody_cuts_is_refused() -> None:
    """Kilometres of line are refused before they are measured cell by cell."""
    ring = [(0.0, 0.0), (1e6, 0.0), (1e6, 1.0)]
    assert "2,000 m of lines" in too_close([ring])
    assert too_close([]) == ""
