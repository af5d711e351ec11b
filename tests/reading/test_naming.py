"""Folder names never lead out of the output folder, and never surprise a file system."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gussetry.naming import MAX_LENGTH, RESERVED, slug


@pytest.mark.parametrize(
    ("name", "folder"),
    [
        ("M", "M"),
        ("18 months", "18-months"),
        ("2–4 years", "2-4-years"),
        ("Größe 7½", "Grosse-71-2"),
        ("../../etc/passwd", "etc-passwd"),
        ("..", "size"),
        ("!?", "size"),
        ("CON", "CON-size"),
        ("com1", "com1-size"),
        ("shared", "shared-size"),
        ("Pages", "Pages-size"),
        ("大", "u5927"),
        ("小", "u5c0f"),
        ("C:\\temp", "C-temp"),
    ],
)
def test_names_become_folders(name: str, folder: str) -> None:
    assert slug(name) == folder


@settings(derandomize=True, max_examples=300)
@given(st.text())
def test_any_name_gives_a_safe_folder(name: str) -> None:
    folder = slug(name)
    assert re.fullmatch(r"[A-Za-z0-9]+(?:-[A-Za-z0-9]+)*", folder)
    assert len(folder) <= MAX_LENGTH + len("-size")
    assert folder.casefold() not in RESERVED
