"""The scripts of the house: system libraries are named, the table of outside checks is made and watched."""

from __future__ import annotations

from pathlib import Path

import pytest

from scripts import outside_checks, system_libraries
from scripts.outside_checks import BadMark

GOOD = '@pytest.mark.outside(what="Tube | area", source="Annex B", status="found", tolerance="1 %")\n'


def house(root: Path, body: str, place: str = "tests/validation/test_tube.py") -> Path:
    """A project folder with one test file."""
    file = root / place
    file.parent.mkdir(parents=True, exist_ok=True)
    (root / "tests" / "validation").mkdir(parents=True, exist_ok=True)
    file.write_text("import pytest\n" + body, encoding="utf-8")
    return root


def test_missing_libraries_become_packages_once_each() -> None:
    libraries = {"a.so.1": "a1", "b.so.1": "b1", "b2.so.1": "b1"}
    assert system_libraries.missing_packages(libraries, lambda name: name == "a.so.1") == ["b1"]
    assert system_libraries.missing_packages(libraries, lambda name: True) == []


def test_window_libraries_are_wanted_only_where_a_window_can_be() -> None:
    assert "libxcb-cursor.so.0" in system_libraries.wanted(window=True)
    assert "libxcb-cursor.so.0" not in system_libraries.wanted(window=False)
    assert system_libraries.has_display({"WAYLAND_DISPLAY": "wayland-0"})
    assert not system_libraries.has_display({"DISPLAY": ""})


@pytest.mark.parametrize(("newer", "name"), [(True, "libglib2.0-0t64"), (False, "libglib2.0-0")])
def test_renamed_package_is_asked_for_by_the_name_the_release_knows(newer: bool, name: str) -> None:
    assert system_libraries.named_here(["libglib2.0-0", "libegl1"], lambda _: newer) == [name, "libegl1"]


@pytest.mark.parametrize("root", [True, False])
def test_missing_libraries_are_installed_by_root_and_told_to_others(
    root: bool, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    asked: list[list[str]] = []
    monkeypatch.setattr(system_libraries.shutil, "which", lambda name: name)
    monkeypatch.setattr(system_libraries.os, "geteuid", lambda: 0 if root else 1000, raising=False)
    monkeypatch.setattr(system_libraries, "install", lambda packages: asked.append(packages) or 0)
    monkeypatch.setattr(system_libraries, "known_to_apt", lambda package: False)
    monkeypatch.setattr(system_libraries, "venv_package", list)
    assert system_libraries.see_to({"libnowhere.so.9": "libnowhere9"}) == 0
    assert asked == ([["libnowhere9"]] if root else [])
    assert ("apt-get install libnowhere9" in capsys.readouterr().out) is not root


def test_a_system_without_apt_is_told_the_library(monkeypatch: pytest.MonkeyPatch, capsys) -> None:
    monkeypatch.setattr(system_libraries.shutil, "which", lambda name: None)
    assert system_libraries.see_to({"libnowhere.so.9": "libnowhere9"}) == 0
    assert "libnowhere.so.9" in capsys.readouterr().out


def test_table_lists_each_check_with_its_test(tmp_path: Path) -> None:
    root = house(tmp_path, GOOD + "def test_area(): ...\n")
    assert outside_checks.main(["--root", str(root)]) == 0
    text = (root / "tests/validation/CHECKS.md").read_text(encoding="utf-8")
    assert "| Tube \\| area | Annex B | found | 1 % | [test_tube.py](test_tube.py) test_area |" in text


def test_marks_on_rows_classes_and_modules_are_found(tmp_path: Path) -> None:
    mark = GOOD.strip().removeprefix("@")
    body = (
        f"pytestmark = {mark}\n"
        f"@pytest.mark.parametrize('x', [pytest.param(1, marks={mark})])\ndef test_rows(x): ...\n"
        f"{GOOD}class TestTube:\n    {GOOD}    def test_inner(self): ...\n"
    )
    checks = outside_checks.collect(house(tmp_path, body))
    assert [check.test for check in checks] == ["the whole module", "test_rows", "TestTube", "test_inner"]


def test_stale_table_fails_the_check_and_a_fresh_one_passes(tmp_path: Path) -> None:
    root = house(tmp_path, GOOD + "def test_area(): ...\n")
    asked = ["--check", "--root", str(root)]
    assert outside_checks.main(asked) == 1
    outside_checks.main(["--root", str(root)])
    assert outside_checks.main(asked) == 0
    house(tmp_path, GOOD.replace("1 %", "2 %") + "def test_area(): ...\n")
    assert outside_checks.main(asked) == 1


def test_results_without_a_check_are_listed(tmp_path: Path) -> None:
    root = house(tmp_path, "")
    (root / "tests/validation/unchecked.csv").write_text(
        "what,why\nBelt stretch,no source\n", encoding="utf-8"
    )
    outside_checks.main(["--root", str(root)])
    assert "| Belt stretch | no source |" in (root / "tests/validation/CHECKS.md").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "mark",
    [
        "@pytest.mark.outside",
        '@pytest.mark.outside("Tube", source="A", status="found", tolerance="1 %")',
        GOOD.replace("found", "certain").strip(),
        GOOD.replace('"1 %"', '""').strip(),
        GOOD.replace('"1 %"', 'f"{1} %"').strip(),
        GOOD.replace(', tolerance="1 %"', "").strip(),
        GOOD.replace("tolerance", "leeway").strip(),
    ],
)
def test_faulty_mark_is_refused(tmp_path: Path, mark: str) -> None:
    root = house(tmp_path, mark + "\ndef test_area(): ...\n")
    with pytest.raises(BadMark) as caught:
        outside_checks.collect(root)
    assert "test_tube.py:2" in str(caught.value)
    assert outside_checks.main(["--root", str(root)]) == 1


def test_outside_mark_elsewhere_is_refused(tmp_path: Path) -> None:
    root = house(tmp_path, GOOD + "def test_area(): ...\n", "tests/units/test_units.py")
    with pytest.raises(BadMark):
        outside_checks.collect(root)
