"""Imports point one way only; a wrong arrow is named."""

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "namebatch"

ROOMS = [
    {
        "__init__",
        "errors",
        "finding",
        "curves",
        "resources",
        "overview",
        "orphans",
        "ordinary",
    },
    {"standby", "streams"},
    {"crew"},
    {"names", "template", "registration"},
    {"text"},
    {"outline"},
    {"piece", "strokes"},
    {"painted", "faint", "facecheck", "mends", "listread"},
    {"letterer"},
    {"maker"},
    {"workers", "spares"},
    {"sheet"},
    {"splitting", "boards"},
    {"cuttable"},
    {"job", "notes", "jigs", "settings"},
    {"output"},
    {"measured", "searching"},
    {"cutboards"},
    {"leftovers"},
    {"stocks"},
    {"recorded"},
    {"pipeline", "store"},
    {"remake", "single", "sections"},
    {"rehearsal"},
    {"summary", "listing", "cli_measured", "cluster"},
    {"cli_remake", "desk"},
    {"web"},
    {"cli_serve"},
    {"cli"},
    {"start"},
    {"__main__"},
]
"""From the ground up: a room may import itself and every room of a lower floor."""

FLOOR = {room: floor for floor, rooms in enumerate(ROOMS) for room in rooms}


def _room(path: Path) -> str:
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def _imported(path: Path) -> list[tuple[str, int]]:
    """Rooms that a module imports, with the line."""
    found = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [(alias.name, node.lineno) for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and node.module == "namebatch":
            found += [(f"namebatch.{alias.name}", node.lineno) for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.append((node.module, node.lineno))
    return [
        (name.split(".")[1] if "." in name else "__init__", line)
        for name, line in found
        if name.split(".")[0] == "namebatch"
    ]


def test_every_module_has_a_room() -> None:
    """A new room must be given its floor here."""
    rooms = {_room(path) for path in PACKAGE.rglob("*.py")}
    assert rooms <= set(FLOOR), f"no floor for {sorted(rooms - set(FLOOR))}"


@pytest.mark.parametrize(
    "path", sorted(PACKAGE.rglob("*.py")), ids=lambda p: str(p.relative_to(PACKAGE))
)
def test_imports_point_down(path: Path) -> None:
    """A module imports only its own room and lower floors."""
    room = _room(path)
    wrong = [
        f"{path.name}:{line} imports {other}"
        for other, line in _imported(path)
        if other != room and other in FLOOR and FLOOR[other] >= FLOOR[room]
    ]
    assert not wrong, f"arrows that point up: {wrong}"
