"""SVG files made to do harm: refused in good time, with a problem and nothing else."""

from itertools import pairwise
from xml.sax.saxutils import escape, quoteattr

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from namebatch.template.problems import Problems
from namebatch.template.svg.node import LARGEST_BYTES
from namebatch.template.svg.outline import outline_from_svg
from tests.template.drawing import NS, artwork, svg

BOX = '<rect width="9" height="9"/>'
LAUGHS = (
    '<!DOCTYPE svg [<!ENTITY a "ha">'
    + "".join(f'<!ENTITY {c} "{f"&{p};" * 9}">' for p, c in pairwise("abcdefghi"))
    + f"]><svg {NS}><title>&i;</title></svg>"
)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (LAUGHS, "DOCTYPE"),
        (f'<!DOCTYPE svg SYSTEM "http://a.example/x.dtd"><svg {NS}/>', "DOCTYPE"),
        (
            f'<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/hostname">]><svg {NS}>&x;</svg>',
            "DOCTYPE",
        ),
        (f'<?xml-stylesheet href="a.css"?><svg {NS}/>', "style from another file"),
        (svg(BOX + '<image href="http://a.example/x.png"/>'), "outside the file"),
        (svg(BOX + '<image xlink:href="../secret.png"/>'), "outside the file"),
        (svg(BOX + '<image href="data:image/svg+xml;base64,PHN2Zy8+"/>'), "outside the file"),
        (svg(BOX + '<use href="other.svg#a"/>'), "outside the file"),
        (svg('<rect width="9" height="9" fill="url(other.svg#g)"/>'), "outside the file"),
        (svg('<rect width="9" height="9" style="mask: url( \'/x\' )"/>'), "outside the file"),
        (svg(BOX + "<style>.a{filter:url(http://a.example)}</style>"), "outside the file"),
        (svg(BOX + "<style>@IMPORT 'a.css';</style>"), "imports a style sheet"),
        (svg('<g id="a"><use href="#a"/></g>'), "used inside itself"),
        (svg('<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>'), "inside itself"),
        (svg('<mask id="m"><rect mask="url(#m)"/></mask>' + BOX), "inside itself"),
        (svg("<g>" * 80 + BOX + "</g>" * 80), "nested more than 64 deep"),
        (svg("<g/>" * 200_001), "more than 200000 elements"),
        ("<svg", "not well-formed XML"),
        ("", "not well-formed XML"),
        ("<html/>", "is not an SVG drawing"),
        ("<svg/>", "is not an SVG drawing"),
        ('<?xml version="1.0" encoding="utf-7"?><svg/>', "XML"),
        (svg(BOX, 'width="0" height="5"'), "not above zero"),
        (svg(BOX, 'width="nan" height="5"'), "is not a length"),
        (svg(BOX, 'width="1e9" height="5"'), "too large a number"),
        (svg(BOX, ""), "has no size"),
        (svg(BOX, 'viewBox="0 0 -1 5"'), "viewBox needs four numbers"),
        (svg('<rect width="9" height="9" transform="scale(1e6) scale(1e6)"/>'), "too large"),
    ],
)
def test_harmful_and_broken_files_are_refused(text: str, message: str) -> None:
    """Entities, outside references, recursion, depth and nonsense end as one told problem."""
    found, problems = artwork(text)
    assert found is None
    assert any(message in problem for problem in problems), problems


def test_a_tower_of_copies_costs_nothing() -> None:
    """Ten copies of ten copies, ten times over, are counted and not drawn."""
    layers = "".join(f'<g id="l{i + 1}">' + f'<use href="#l{i}"/>' * 10 + "</g>" for i in range(10))
    found, problems = artwork(svg(f'<g id="l0">{BOX}</g>{layers}'))
    assert found is None
    assert any("stands for more than 200000 elements" in problem for problem in problems)


def test_a_long_chain_of_copies_is_refused() -> None:
    """A chain of thousands of copies does not exhaust the stack."""
    chain = "".join(f'<use id="u{i}" href="#u{i + 1}"/>' for i in range(5000))
    found, problems = artwork(svg(BOX + chain))
    assert found is None
    assert any("copy of a copy too many times" in problem for problem in problems)


def test_an_oversized_file_is_refused_unread() -> None:
    """The limit on bytes holds before anything is parsed."""
    found, problems = artwork(" " * (LARGEST_BYTES + 1))
    assert found is None
    assert problems == ("art.svg: is larger than 16 MiB; simplify it.",)


def test_a_link_that_people_click_is_no_reference() -> None:
    """An address on an a element is not fetched, so it may stay."""
    found, problems = artwork(svg(f'<a href="https://kites.example/">{BOX}</a>'))
    assert problems == ()
    assert found is not None


JUNK = st.sampled_from(
    ["NaN", "inf", "1e308", "-1e7", "1e-320", "0", "%", "-5%", "url(#k)", "inherit", "none",
     "currentColor", "M", "A1 1e-320 0 0 0 5 5", "M0 0a0 0 0 1 1 9 9z", "M1 1z z m1 1z", "#k",
     "scale(0)", "scale(1e-300)", "matrix(1 2 2 4 0 0)", "skewX(90)", "rotate(1e7)", "0 0 1e-9 1e7",
     "0 0 1e-320 10", "fill:;;:;stroke", "rgb(1,2)", "hsl(nan,1,1)", "unset", "0 0 5 5 9 1", "1e6"]
) | st.text(max_size=6)  # fmt: skip
NAMES = st.sampled_from(
    ["x", "y", "width", "height", "rx", "r", "cx", "d", "points", "transform", "viewBox", "fill",
     "stroke", "stroke-width", "stroke-miterlimit", "stroke-linejoin", "opacity", "fill-opacity",
     "style", "class", "href", "id", "display", "overflow", "clip-path", "stroke-dasharray",
     "preserveAspectRatio"]
)  # fmt: skip
TAGS = st.sampled_from(
    ["rect", "circle", "path", "polygon", "g", "use", "symbol", "svg", "defs", "switch", "style"]
)


@st.composite
def elements(draw: st.DrawFn, depth: int = 3) -> str:
    """An element with odd attributes and more of its kind inside."""
    tag = draw(TAGS)
    attributes = draw(st.dictionaries(NAMES, JUNK, max_size=4))
    written = "".join(f" {key}={quoteattr(value)}" for key, value in attributes.items())
    inner = "".join(draw(st.lists(elements(depth - 1), max_size=3))) if depth else ""
    text = escape(draw(JUNK)) + "{fill:red}" if tag == "style" else ""
    return f"<{tag}{written}>{text}{inner}</{tag}>"


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(body=elements(), head=st.dictionaries(NAMES, JUNK, max_size=2))
def test_any_drawing_is_read_or_its_problems_are_told(body: str, head: dict[str, str]) -> None:
    """Odd numbers, styles and nesting give shapes that are sound, or problems; nothing else."""
    size = {"width": "80mm", "height": "60mm", **head}
    text = svg(
        f'<path id="k" d="M2 2H30V20H2z"/>{body}',
        " ".join(f"{key}={quoteattr(value)}" for key, value in size.items()),
    )
    found, problems = artwork(text)
    assert (found is None) == bool(problems)
    noted = Problems()
    base = outline_from_svg(text.encode("utf-8", "replace"), "base.svg", noted)
    assert (base is None) == bool(len(noted))
    assert base is None or base.polygon.is_valid
