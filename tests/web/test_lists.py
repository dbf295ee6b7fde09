"""Lists and settings over the interface."""

from io import BytesIO
from pathlib import Path

import openpyxl
import pytest
from starlette.testclient import TestClient

from tests.web.conftest import NewDocket

TABLE = "Vorname;Verein;Anzahl\nMarlo;Terns;2\nZoë;Gulls;1\n\nInka;Terns;x\n"


def test_list_shows_how_its_columns_are_used(client: TestClient, new_docket: NewDocket) -> None:
    """Headers, first rows, what feeds each field, and rows to be mended in the list itself."""
    number = new_docket(template="kite-tag")["number"]
    answer = client.put(f"/api/dockets/{number}/list", files={"file": ("crew.csv", TABLE.encode())})
    assert answer.status_code == 200, answer.text
    found = client.get(f"/api/dockets/{number}/list").json()
    assert found["source"] == "crew.csv"
    assert found["headers"] == ["Vorname", "Verein", "Anzahl"]
    assert found["lines"] == 3
    assert found["blank_lines"] == 1
    assert found["first"][0] == {
        "line": 2,
        "values": {"Vorname": "Marlo", "Verein": "Terns", "Anzahl": "2"},
    }
    fields = {field["name"]: field["header"] for field in found["fields"]}
    assert fields["name"] == "Vorname"
    assert fields["quantity"] == "Anzahl"
    assert [row["line"] for row in found["corrections"]] == [5]


def test_column_is_chosen_by_hand(client: TestClient, new_docket: NewDocket) -> None:
    """A guess is corrected, and what was said is told apart from what was guessed."""
    number = new_docket(text="name\tteam\nMarlo\tTerns\n", template="key-fob")["number"]
    answer = client.patch(f"/api/dockets/{number}/settings", json={"columns": {"name": "team"}})
    assert answer.status_code == 200, answer.text
    found = client.get(f"/api/dockets/{number}/list").json()
    name = next(field for field in found["fields"] if field["name"] == "name")
    assert name["header"] == "team"
    assert not name["guessed"]
    rows = client.get(f"/api/dockets/{number}/rows").json()["rows"]
    assert rows[0]["fields"]["name"] == "Terns"


def test_spreadsheet_is_read(client: TestClient, new_docket: NewDocket) -> None:
    """An XLSX file is a ZIP archive and a list nevertheless."""
    book = openpyxl.Workbook()
    book.active.append(["name"])
    book.active.append(["Ottilie Samphire"])
    data = BytesIO()
    book.save(data)
    number = new_docket()["number"]
    answer = client.put(
        f"/api/dockets/{number}/list", files={"file": ("crew.xlsx", data.getvalue())}
    )
    assert answer.json()["counts"]["lines"] == 1


def test_list_that_cannot_be_used_is_the_dockets_problem(
    client: TestClient, new_docket: NewDocket
) -> None:
    """A list without the column that the template needs is kept, and what is wrong is told."""
    number = new_docket(template="medal")["number"]
    answer = client.put(
        f"/api/dockets/{number}/list", files={"file": ("crew.csv", b"size,colour\n3,red\n")}
    )
    assert answer.status_code == 200
    assert answer.json()["problem"]["what"]
    assert answer.json()["next"]["part"] == "list"


@pytest.mark.parametrize(
    ("name", "data", "told"),
    [
        ("crew.jpg", b"\xff\xd8\xff\xe0", "is a JPEG picture"),
        ("crew.exe", b"MZ\x00\x00", "is a program"),
        ("crew.html", b"<!doctype html><p>Ada", "is a web page"),
        ("crew.xlsx", b"PK\x03\x04 and nothing after it", "is damaged or not a complete"),
    ],
)
def test_file_that_is_no_list_is_refused(
    client: TestClient, new_docket: NewDocket, name: str, data: bytes, told: str
) -> None:
    """Pictures, programs and pages are told by what they are; the list stays as it was."""
    number = new_docket()["number"]
    answer = client.put(f"/api/dockets/{number}/list", files={"file": (name, data)})
    assert answer.status_code == 422
    assert told in answer.json()["what"]
    assert client.get(f"/api/dockets/{number}").json()["counts"]["lines"] == 4


def test_a_list_has_one_name_everywhere(client: TestClient, new_docket: NewDocket) -> None:
    """As files can be called everywhere, on the docket and in the list alike."""
    number = new_docket()["number"]
    at = f"/api/dockets/{number}/list"
    docket = client.put(at, files={"file": ("i>.csv", b"name\nAda\n")}).json()
    assert docket["list_name"] == "i_.csv"
    assert client.get(at).json()["source"] == "i_.csv"


def test_nothing_sent_is_refused(client: TestClient, new_docket: NewDocket) -> None:
    """An empty form says what to send."""
    number = new_docket()["number"]
    answer = client.put(f"/api/dockets/{number}/list", files={"text": (None, " \n")})
    assert answer.status_code == 422
    assert "Choose a file" in answer.json()["what"]


@pytest.mark.parametrize(
    "settings",
    [
        {"gap_mm": -1},
        {"gap_mm": 1e9},
        {"sheet": "a-large-one"},
        {"font": "No Such Face"},
        {"fill": "sideways"},
        {"spare": "many"},
        {"columns": {"name": "no such header", "no-field": "x"}},
        {"colour": "red"},
        {"keep_order": "perhaps"},
        {"template": "sea-horse"},
    ],
)
def test_setting_that_cannot_be_is_told(
    client: TestClient, new_docket: NewDocket, settings: dict[str, object]
) -> None:
    """What no job can be made with is refused, or else told as the docket's problem."""
    number = new_docket()["number"]
    answer = client.patch(f"/api/dockets/{number}/settings", json=settings)
    if answer.status_code == 200:
        assert answer.json()["problem"]["what"]
    else:
        assert answer.status_code in (404, 422)
        assert answer.json()["what"]
        assert client.get(f"/api/dockets/{number}").json()["problem"] is None


def test_number_that_is_none_is_refused(client: TestClient, new_docket: NewDocket) -> None:
    """JSON as Python reads it knows NaN and Infinity; no gap is as wide."""
    number = new_docket()["number"]
    for value in ("NaN", "Infinity", "-Infinity"):
        answer = client.patch(
            f"/api/dockets/{number}/settings",
            content=f'{{"gap_mm": {value}}}',
            headers={"content-type": "application/json"},
        )
        assert answer.status_code == 422


def test_typeface_is_never_a_file(
    client: TestClient, new_docket: NewDocket, tmp_path: Path
) -> None:
    """The command line takes font files; over the interface no path reaches the disk."""
    import fontpkg

    file = fontpkg.path("atkinson-hyperlegible", weight=400)
    number = new_docket()["number"]
    for name in (str(file), f"{file} wght=600", "../fonts/Own.ttf", "Own.OTF"):
        answer = client.patch(f"/api/dockets/{number}/settings", json={"font": name})
        assert answer.status_code == 422
        assert "not a file" in answer.json()["details"][0]
        mend = {"mend": {"text": {"name": {"font": name}}}}
        answer = client.put(f"/api/dockets/{number}/rows/2/mend", json=mend)
        assert answer.status_code == 422
