"""The README names every key of the JSON that `counts`, `yarn` and `compare` show."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any, get_args

import pytest
from cli.program import gussetry

from gussetry.errata.changes import What

README = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
SECTION = README.split("## What the other commands' JSON holds")[1].split("\n## ")[0]
NAMED = {" ".join(key.split()) for key in re.findall(r"`([^`]+)`", SECTION)}


def keys(node: Any) -> set[str]:
    """Every key of the JSON, however deep."""
    if isinstance(node, list):
        return {key for part in node for key in keys(part)}
    if isinstance(node, dict):
        return set(node) | {key for part in node.values() for key in keys(part)}
    return set()


@pytest.mark.parametrize(("command", "fewest"), [("counts", 6), ("yarn", 35)])
def test_every_key_is_named(command: str, fewest: int, starter: Path, tmp_path: Path) -> None:
    path = tmp_path / "weighed.yaml"
    text = starter.read_text(encoding="utf-8")
    path.write_text(text.replace("# swatch:", "swatch:"), encoding="utf-8")
    done = gussetry(command, path, "--json")
    assert done.returncode == 0, done.stderr
    found = keys(json.loads(done.stdout))
    assert len(found) >= fewest
    assert found <= NAMED | {"format", "version"}


def test_every_key_and_every_kind_of_errata_is_named(starter: Path, tmp_path: Path) -> None:
    text = re.sub(r"(?m)^  [ML]: .*\n", "", starter.read_text(encoding="utf-8"))
    for name, stitches in (("old", 18), ("new", 19)):
        path = tmp_path / f"{name}.yaml"
        path.write_text(text.replace("stitches: 18", f"stitches: {stitches}"), encoding="utf-8")
        assert gussetry("draw", path, "-q", "-o", tmp_path / name).returncode == 0
    done = gussetry("compare", tmp_path / "old", tmp_path / "new", "--json")
    found = keys(json.loads(done.stdout))
    assert len(found) > 10
    assert found <= NAMED | {"format", "version"}
    kinds = " ".join(SECTION.split("`what` (")[1].split(")")[0].replace(" or ", ", ").split())
    assert set(kinds.split(", ")) == set(get_args(What))
