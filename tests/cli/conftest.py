"""One folder drawn for all tests that only look at it."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from cli.program import gussetry


@pytest.fixture(scope="session")
def starter(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The starter specification, as `new` writes it."""
    path = tmp_path_factory.mktemp("starter") / "mine.yaml"
    assert gussetry("new", path).returncode == 0
    return path


@pytest.fixture(scope="session")
def drawn(starter: Path) -> Path:
    """The output folder of the starter."""
    folder = starter.parent / "out"
    done = gussetry("draw", starter, "-o", folder)
    assert done.returncode == 0, done.stderr
    (starter.parent / "said").write_text(done.stdout, encoding="utf-8")
    return folder


@pytest.fixture
def small(starter: Path, tmp_path: Path) -> Path:
    """A specification of one size, quickly drawn."""
    text = starter.read_text(encoding="utf-8")
    kept = [line for line in text.splitlines() if not line.startswith(("  S: {", "  L: {"))]
    path = tmp_path / "small.yaml"
    path.write_text("\n".join(kept) + "\n", encoding="utf-8")
    return path


@pytest.fixture
def copy(drawn: Path, tmp_path: Path) -> Path:
    """The drawn folder once more, to be changed."""
    return Path(shutil.copytree(drawn, tmp_path / "copy"))
