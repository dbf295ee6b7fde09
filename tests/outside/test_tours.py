"""Tours against the best known: TSPLIB95 (G. Reinelt), coordinates restated from there."""

import numpy as np
import pytest

from namebatch.sheet.tour import short_tour

BERLIN52 = """
565,575 25,185 345,750 945,685 845,655 880,660 25,230 525,1000 580,1175 650,1130 1605,620
1220,580 1465,200 1530,5 845,680 725,370 145,665 415,635 510,875 560,365 300,465 520,585
480,415 835,625 975,580 1215,245 1320,315 1250,400 660,180 410,250 420,555 575,665
1150,1160 700,580 685,595 685,610 770,610 795,645 720,635 760,650 475,960 95,260 875,920
700,500 555,815 830,485 1170,65 830,610 605,625 595,360 1340,725 1740,245
"""
EIL51 = """
37,52 49,49 52,64 20,26 40,30 21,47 17,63 31,62 52,33 51,21 42,41 31,32 5,25 12,42 36,16
52,41 27,23 17,33 13,13 57,58 62,42 42,57 16,57 8,52 7,38 27,68 30,48 43,67 58,48 58,27
37,69 38,46 46,10 61,33 62,63 63,69 32,22 45,35 59,15 5,6 10,17 21,10 5,64 30,15 39,10
32,39 25,32 25,55 48,28 56,37 30,40
"""


@pytest.mark.parametrize(("instance", "count", "optimum"), [(BERLIN52, 52, 7542), (EIL51, 51, 426)])
def test_a_tour_is_near_to_the_optimum(instance: str, count: int, optimum: int) -> None:
    """Within 5 % of TSPLIB95's optimum and never below it, steps rounded as there (EUC_2D)."""
    places = np.array([pair.split(",") for pair in instance.split()], dtype=float)
    assert places.shape == (count, 2)
    order = short_tour(places)
    assert sorted(order) == list(range(count))
    along = places[order]
    steps = np.hypot(*(along - np.roll(along, -1, axis=0)).T)
    length = np.floor(steps + 0.5).sum()
    assert optimum <= length <= 1.05 * optimum
