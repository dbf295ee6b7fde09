"""What is filled in on the page for a new template, filled in to do harm."""

import tomllib

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from namebatch.desk.trial_spec import TrialSpec, tables_of, toml_of
from namebatch.template.toml_file import parse_toml

ODD = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(),
    st.floats(),
    st.text(st.characters(codec=None, exclude_categories=()), max_size=12),
    st.sampled_from(['"""', "'''", "\n[cutter]\n", "a = 1", "../../x", "\x00", "\x7f", "\\"]),
    st.lists(st.floats() | st.integers(), max_size=4),
    st.dictionaries(st.text(max_size=2), st.integers(), max_size=2),
)
WORDS = ["title", "build", "rule", "material", "board", "distance_mm", "samples"]
BASE = ["kind", "width_mm", "height_mm", "edge_mm", "keep_holes", "corner_mm", "sides"]
TEXT = ["column", "line", "sample", "box_mm", "font", "colour", "baseline_mm", "min_height_mm"]


def _filled_in() -> dict[str, dict[str, object]]:
    """Something sound, part by part."""
    return {
        "head": {"title": "Kite", "build": "printed", "material": "card-160", "samples": ["Ada"]},
        "base": {"kind": "circle", "width_mm": 50.0},
        "text": {
            "column": "name",
            "box_mm": [5.0, 20.0, 40.0, 10.0],
            "min_height_mm": 3.0,
            "max_height_mm": 8.0,
        },
    }


@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    changes=st.lists(
        st.tuples(st.just("head"), st.sampled_from(WORDS), ODD)
        | st.tuples(st.just("base"), st.sampled_from(BASE), ODD)
        | st.tuples(st.just("text"), st.sampled_from(TEXT), ODD),
        min_size=1,
        max_size=4,
    )
)
def test_what_is_filled_in_is_refused_or_becomes_one_file(
    changes: list[tuple[str, str, object]],
) -> None:
    """Words with quotation marks, line ends and tables in them stay words of the file."""
    parts = _filled_in()
    for part, key, value in changes:
        parts[part][key] = value
    try:
        spec = TrialSpec.model_validate(
            {**parts["head"], "base": parts["base"], "texts": [parts["text"]]}
        )
    except ValidationError:
        return
    tables = tables_of(spec, "png")
    written = toml_of(tables).encode()
    assert tomllib.loads(written.decode()) == parse_toml(written, "template.toml")
    assert set(tomllib.loads(written.decode())) == set(tables)
    assert tomllib.loads(written.decode())["title"] == spec.title
