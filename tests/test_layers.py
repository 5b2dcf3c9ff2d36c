"""Imports run one way: each layer may import only itself and lower layers."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PACKAGE = ROOT / "sequencer"

#: Layer of each room; rooms of one number may not import each other, except where SAME says so.
LAYERS = {
    "errors": 0,
    "units": 0,
    "gears": 1,
    "cutting": 1,
    "ordering": 1,
    "language": 1,
    "part": 2,
    "shop": 2,
    "files": 3,
    "operations": 3,
    "precedence": 4,
    "tolerancing": 4,
    "sequencing": 5,
    "magazine": 5,
    "datasheet": 5,
    "setups": 5,
    "ledger": 5,
    "inspection": 5,
    "costing": 5,
    "plan": 6,
    "rotation": 7,
    "studies": 7,
    "differences": 7,
    "papers": 8,
    "pictures": 8,
    "cli": 9,
    "__main__": 10,
}

#: Inside a layer: the first may import the second.
SAME = {
    ("units", "errors"),
    ("cutting", "gears"),
    ("shop", "part"),
    ("precedence", "tolerancing"),
    ("magazine", "sequencing"),
    ("setups", "sequencing"),
    ("setups", "ledger"),
    ("ledger", "sequencing"),
    ("inspection", "sequencing"),
    ("inspection", "ledger"),
    ("costing", "sequencing"),
    ("costing", "magazine"),
    ("studies", "rotation"),
    ("studies", "differences"),
    ("papers", "pictures"),
}


def room_of(module: str) -> str:
    """Name the room of a dotted module name; the package itself is the empty room."""
    parts = module.split(".")
    return parts[1] if len(parts) > 1 else ""


def imports_of(path: Path) -> list[tuple[int, str]]:
    """List line and module of each import of this package in a file."""
    found = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [(node.lineno, alias.name) for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and node.module:
            assert node.level == 0, f"{path}: relative import in line {node.lineno}"
            names = [f"{node.module}.{alias.name}" for alias in node.names]
            found += [
                (node.lineno, name) for name in (names if node.module == "sequencer" else [node.module])
            ]
    return [(line, name) for line, name in found if name.split(".")[0] == "sequencer"]


@pytest.mark.parametrize(
    "path", sorted(PACKAGE.rglob("*.py")), ids=lambda path: str(path.relative_to(PACKAGE))
)
def test_imports_go_down(path):
    """A file imports only lower layers and its own room."""
    relative = path.relative_to(PACKAGE)
    own = relative.parts[0].removesuffix(".py")
    if own == "__init__":
        return
    for line, module in imports_of(path):
        other = room_of(module)
        if other in ("", own) or (own, other) in SAME:
            continue
        assert LAYERS[other] < LAYERS[own], (
            f"{relative}:{line}: {own} (layer {LAYERS[own]}) imports {other} (layer {LAYERS[other]})"
        )


def test_every_room_has_a_layer():
    """No folder or file of the package is left out of the list."""
    rooms = {
        path.name.removesuffix(".py") for path in PACKAGE.iterdir() if path.suffix == ".py" or path.is_dir()
    }
    assert rooms - {"__init__", "__pycache__"} <= set(LAYERS)
