"""The manifest, key by key."""

import json
from dataclasses import replace
from math import hypot
from typing import Any

import pytest

from namebatch import __version__
from namebatch.errors import OutputError
from namebatch.job import Job
from namebatch.output.manifest import identity, manifest
from tests.output import jobs

JOB = jobs.faced_job()
FILES = {"held.csv": "ab" * 32}


def read(job: Job = JOB) -> dict[str, Any]:
    """A manifest, read back strictly."""

    def refuse(word: str) -> None:
        raise AssertionError(f"{word} is not JSON")

    content: dict[str, Any] = json.loads(manifest(job, FILES), parse_constant=refuse)
    return content


def test_the_keys_are_those_of_the_contract() -> None:
    """Every name that the contract gives is there; the text is sorted and ends in a line break."""
    content = read()
    assert {
        "template",
        "settings",
        "software",
        "rows",
        "pieces",
        "sheets",
        "totals",
        "files",
    } <= set(content)
    assert content["format"] == 1
    assert content["template"] == "test-tag"
    assert content["software"] == {"name": "namebatch", "version": __version__}
    assert content["settings"] == jobs.settings(JOB.template)
    assert content["files"] == FILES
    text = manifest(JOB, FILES).decode()
    assert text.endswith("}\n")
    assert text == json.dumps(content, sort_keys=True, indent=1, ensure_ascii=False) + "\n"


def test_rows_say_what_became_of_them() -> None:
    """Line, status, values and findings of each row, made or held."""
    first, second, third = read()["rows"]
    assert first == {
        "line": 2,
        "status": "made",
        "values": {"name": "Fenna", "group": "Gulls"},
        "quantity": 2,
        "order": "",
        "mend": None,
        "pieces": ["L2-1", "L2-2"],
        "findings": [
            {
                "code": "tidied",
                "severity": "note",
                "message": "Line 2: a space at the end was taken away.",
                "from": "list",
            }
        ],
    }
    assert (second["status"], second["pieces"], len(second["findings"])) == ("held", [], 2)
    assert (third["status"], third["pieces"]) == ("made", ["L5-1"])


def test_pieces_carry_what_was_measured() -> None:
    """One entry a copy; sizes of the finished piece, heights of what the list gave."""
    pieces = read()["pieces"]
    assert [(piece["id"], piece["line"], piece["copy"]) for piece in pieces] == [
        ("L2-1", 2, 1),
        ("L2-2", 2, 2),
        ("L5-1", 5, 1),
    ]
    assert pieces[0]["size_mm"] == [60.0, 30.0]
    assert pieces[0]["area_mm2"] == round(JOB.pieces[0].outline.area, 4)
    assert pieces[0]["hang_tilt_deg"] == 12.3457
    assert pieces[0]["text_height_mm"] == 14.0
    assert {"parts", "narrowest_mm", "required_mm", "bridges", "findings"} <= set(pieces[0])


def test_cut_length_counts_every_face_on_every_sheet() -> None:
    """A piece's cut length is the sum of its closed lines, worked out here by hand."""
    expected = 0.0
    for sheet in JOB.sheets:
        for cut in sheet.cuts:
            if cut.owner.startswith("L5-1."):
                ends = zip(cut.points, (*cut.points[1:], cut.points[0]), strict=True)
                expected += sum(hypot(bx - ax, by - ay) for (ax, ay), (bx, by) in ends)
    assert read()["pieces"][2]["cut_length_mm"] == pytest.approx(expected, abs=0.0001)
    assert expected > 3 * 160  # three outlines of about 175 mm


def test_deviation_is_the_worst_of_the_lines_of_a_piece() -> None:
    """Of all cut lines of a piece the one farthest from its curve is told; 0 without any."""
    sheet = JOB.sheets[0]
    owner = sheet.cuts[0].owner
    cuts = tuple(
        replace(cut, deviation_mm=0.004 + 0.001 * number if cut.owner == owner else 0.0)
        for number, cut in enumerate(sheet.cuts)
    )
    worst = max(cut.deviation_mm for cut in cuts)
    pieces = read(replace(JOB, sheets=(replace(sheet, cuts=cuts),)))["pieces"]
    found = {piece["id"]: piece["deviation_mm"] for piece in pieces}
    assert found.pop(owner.rpartition(".")[0]) == pytest.approx(worst) != 0.0
    assert set(found.values()) == {0.0}


def test_sheets_place_every_face() -> None:
    """Sheets and boards with their placements, figures rounded."""
    page, board = read()["sheets"]
    assert (page["id"], page["kind"], board["kind"]) == ("face-001", "face", "board")
    assert page["placements"][3] == {
        "piece": "L2-2",
        "face": "back",
        "x_mm": 78.0,
        "y_mm": 110.0,
        "rotation_deg": 90.0,
        "mirrored": True,
    }
    assert (page["usable_mm"], page["frame_mm"]) == (list(jobs.USABLE), list(jobs.FRAME))
    assert (page["seconds"], page["travel_mm"]) == (67.9, 321.0988)


def test_totals_add_up() -> None:
    """Rows are made or held, pieces as many as listed."""
    content = read()
    totals = content["totals"]
    assert totals["rows"] == totals["made"] + totals["held"] == len(content["rows"])
    assert totals["pieces"] == len(content["pieces"])
    assert totals["cost"] == 2.06


def test_half_a_surrogate_pair_survives_as_an_escape() -> None:
    """A sign that no encoding can hold neither stops the job nor spoils the file."""
    row = replace(JOB.rows[0], values={"name": "a\ud83e"})
    assert read(replace(JOB, rows=(row,)))["rows"][0]["values"]["name"] == "a\ud83e"


def test_infinite_measures_are_refused() -> None:
    """JSON has no word for them, and a cutter no use."""
    sheet = replace(JOB.sheets[0], seconds=float("inf"))
    with pytest.raises(OutputError, match="no number to cut by"):
        manifest(replace(JOB, sheets=(sheet,)), FILES)


@pytest.mark.parametrize("value", [{1, 2}, float("nan")])
def test_settings_must_be_json(value: object) -> None:
    """A setting that cannot be kept is named when the job is planned."""
    with pytest.raises(OutputError, match=r"settings cannot be written into job\.json"):
        identity(JOB.template, {"fill": value})


def test_identity_reads_back_as_it_is_written() -> None:
    """Tuples in the settings do not make the same job look like another."""
    job = replace(JOB, settings={"columns": ("a", "b"), "gap": 0.1 + 0.2})
    content = read(job)
    assert all(content[key] == value for key, value in identity(job.template, job.settings).items())
