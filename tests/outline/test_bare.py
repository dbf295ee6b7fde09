"""The base by itself, before any name."""

import pytest
import shapely
from shapely import Polygon, box

from namebatch.outline import Limits, Order, bare_base
from namebatch.template.model import ContourRule, Rule

STRAP = shapely.union_all([box(0, 0, 20, 20), box(19, 9.8, 41, 10.2), box(40, 0, 60, 20)])
RULE = ContourRule(0.1, "mitred", 0.0, 0.0, None)


@pytest.mark.parametrize(("rule", "figure"), [("weld", "0.40"), ("open", "0.40")])
def test_a_strap_too_thin_is_found(rule: Rule, figure: str) -> None:
    """A strap of 0.4 mm is found whatever the name, with its figure."""
    (finding,) = bare_base(Order(rule, STRAP, Limits(0.8))).findings
    assert finding.code == "too-narrow"
    assert finding.message.startswith(f"The narrowest place is {figure} mm")


@pytest.mark.parametrize(("distance", "narrow"), [(0.1, True), (1.0, False)])
def test_of_a_contour_the_line_counts(distance: float, narrow: bool) -> None:
    """A line that runs 1 mm outside makes a thin strap wide enough, one at 0.1 mm does not."""
    rule = ContourRule(distance, "mitred", 0.0, 0.0, None)
    found = bare_base(Order("contour", STRAP, Limits(0.8), contour=rule)).findings
    assert ([finding.code for finding in found] == ["too-narrow"]) == narrow


def test_its_own_gain_is_known() -> None:
    """A thin tail of the base is made wide on every piece: about its length times the lack."""
    tailed = shapely.union(box(0, 0, 60, 20), box(59, 9.8, 80, 10.2))
    bare = bare_base(Order("weld", tailed, Limits(1.0)))
    assert bare.findings == ()
    assert bare.gain_mm2 == pytest.approx(20 * 0.6, abs=2.0)
    assert bare_base(Order("weld", box(0, 0, 60, 20), Limits(1.0))).gain_mm2 == 0.0


def test_no_base_no_findings() -> None:
    """A contour round the name alone has no base to be measured."""
    bare = bare_base(Order("contour", Polygon(), Limits(1.0), contour=RULE))
    assert bare.findings == ()
    assert bare.gain_mm2 == 0.0
