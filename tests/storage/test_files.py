"""Project files: nothing is lost on the way, and a bad file is refused with its line and field."""

from __future__ import annotations

import errno
import json
import os
import re
import stat
from pathlib import Path
from typing import Any

import pytest

from core.errors import GantrywrightError
from core.machine.drives import BallScrew, KnownStiffness, ToothedBelt
from core.machine.loads import CutForce, LoadCase
from core.machine.project import Project, replace_at
from core.machine.variants import Change, Variant
from core.storage import BadFile, load_project, project_bytes, read_project, save_project, writer
from core.storage.projects import MOST_BYTES, VERSION


def rich_project() -> Project:
    """A project that uses every kind of choice and leaves few defaults."""
    project = Project(
        name='Schräg "& <größer> 日本 =1+1',
        note="line one\nline two\ttab \\ slash",
        variants=(
            Variant(name="Nothing yet"),
            Variant(
                name="Many kinds",
                note="日本",
                changes=(
                    Change(
                        path="machine.gantry.beam.section",
                        value={"kind": "round_tube", "diameter": 0.1, "wall": 0.005},
                    ),
                    Change(path="machine.gantry.beam.length", value=None),
                    Change(path="machine.gantry.beam.turned", value=True),
                    Change(path="machine.rigid", value=["cutter"]),
                    Change(path="machine.damping", value={"low": 0.01, "likely": 0.02, "high": 1 / 30}),
                    Change(path="machine.base.material", value="s355"),
                    Change(path="machine.nothing.of.the.kind", value=[{"any": [1, 2.5, None]}]),
                ),
            ),
        ),
        cases=(LoadCase(name="Cut", load=CutForce(depth=1 / 3 * 0.01), limit=1.0 / 7.0 * 1e-3),),
    )
    for path, value in {
        "machine.x_drive": ToothedBelt(),
        "machine.y_drive": BallScrew(ends="fixed-fixed"),
        "machine.head.drive": KnownStiffness(),
        "machine.rigid": ("cutter", "stand"),
        "display.length": "in",
        "machine.work.travel_x": 0.1 + 0.2,
    }.items():
        project = replace_at(project, path, value)  # type: ignore[assignment]
    return project


def changed(**fields: Any) -> bytes:
    """The default project's file with entries (dotted with __) changed."""
    content = json.loads(project_bytes(Project()))
    for path, value in fields.items():
        *steps, last = path.split("__")
        here = content
        for step in steps:
            here = here[int(step) if step.isdigit() else step]
        here[last] = value
    return json.dumps(content, indent=2).encode()


def refused(data: bytes) -> BadFile:
    with pytest.raises(BadFile) as caught:
        read_project(data, "bad.json")
    assert isinstance(caught.value, GantrywrightError)
    assert str(caught.value).startswith("bad.json")
    assert caught.value.problem.endswith(".")
    return caught.value


def test_nothing_is_lost(tmp_path: Path) -> None:
    project = rich_project()
    file = tmp_path / "a project.json"
    save_project(file, project)
    assert load_project(file) == project
    assert load_project(str(file)) == project
    again = file.read_bytes()
    save_project(file, load_project(file))
    assert file.read_bytes() == again
    assert [entry.name for entry in tmp_path.iterdir()] == [file.name]


def test_the_file_is_for_people() -> None:
    text = project_bytes(rich_project()).decode()
    content = json.loads(text)
    assert list(content) == ["format", "version", "project"]
    assert content["format"] == "gantrywright-project"
    assert content["version"] == VERSION
    assert "日本" in text, "letters stand as they are, not as escapes"
    assert '\n  "project": {\n    "name"' in text
    # Every field is written, also those at their default, so that a later default changes no old file.
    assert content["project"]["machine"]["gantry"]["beam"]["length"] is None


def test_a_byte_order_mark_and_odd_spacing_do_no_harm() -> None:
    data = project_bytes(Project())
    assert read_project(b"\xef\xbb\xbf" + data, "x") == Project()
    assert read_project(json.dumps(json.loads(data)).encode(), "x") == Project()
    assert read_project(data.replace(b"\n", b"\r\n"), "x") == Project()


def test_every_truncation_is_refused_with_its_line() -> None:
    data = project_bytes(rich_project()).rstrip()
    for end in range(1, len(data) - 1, 37):
        error = refused(data[:end])
        assert error.line is not None
        assert 1 <= error.line <= data[:end].count(b"\n") + 1


def test_truncation_names_the_end() -> None:
    data = project_bytes(Project())[:900]
    error = refused(data)
    assert error.line == data.count(b"\n") + 1
    assert error.column is not None
    assert "too early" in error.problem


@pytest.mark.parametrize(
    ("fields", "field", "words"),
    [
        ({"format": "other"}, "format", "gantrywright-project"),
        ({"version": VERSION + 1}, "version", "newer"),
        ({"version": 0}, "version", "whole number"),
        ({"version": "1"}, "version", "whole number"),
        ({"version": True}, "version", "whole number"),
        ({"extra": 1}, "extra", "no such field"),
        ({"project__machine__wings": 2}, "project.machine.wings", "no such field"),
        ({"project__machine__work__travel_x": "long"}, "project.machine.work.travel_x", "float"),
        ({"project__machine__work__travel_x": None}, "project.machine.work.travel_x", "float"),
        ({"project__machine__work__travel_x": 1e300}, "project.machine.work.travel_x", "0.05 to 10 m"),
        ({"project__machine__work__travel_x": -1.3}, "project.machine.work.travel_x", "0.05 to 10 m"),
        ({"project__machine__work__travel_x": 0}, "project.machine.work.travel_x", "0.05 to 10 m"),
        ({"project__machine__work__travel_x": 10**400}, "project.machine.work.travel_x", ""),
        (
            {"project__machine__gantry__beam__length": 0.0},
            "project.machine.gantry.beam.length",
            "0.1 to 12 m",
        ),
        (
            {"project__machine__gantry__beam__section__kind": "rope"},
            "project.machine.gantry.beam.section.kind",
            "rope",
        ),
        (
            {"project__machine__gantry__beam__section__wall": 0.09},
            "project.machine.gantry.beam.section.wall",
            "wall",
        ),
        ({"project__machine__x_guides__size": 21}, "project.machine.x_guides.size", "21"),
        (
            {"project__machine__head__mount_stiffness__low": 1e12},
            "project.machine.head.mount_stiffness.low",
            "rise",
        ),
        ({"project__machine__rigid": ["wings"]}, "project.machine.rigid.0", "wings"),
        ({"project__cases__1__limit": 5}, "project.cases.1.limit", "0.1"),
        ({"project__cases": []}, "project.cases", "at least one"),
        ({"project__machine__work__travel_x": float("nan")}, "project.machine.work.travel_x", "finite"),
        ({"project__machine__work__travel_x": float("-inf")}, "project.machine.work.travel_x", "finite"),
    ],
)
def test_a_bad_entry_is_named_with_its_line(fields: dict[str, Any], field: str, words: str) -> None:
    data = changed(**fields)
    error = refused(data)
    assert error.field == field
    assert words in error.problem
    steps = field.split(".")
    key = next(step for step in reversed(steps) if not step.isdigit())
    assert error.line is not None
    near = "\n".join(data.decode().splitlines()[error.line - 1 : error.line + 1])
    assert f'"{key}"' in near or steps[-1].isdigit()
    assert f"line {error.line}" in str(error)
    assert field in str(error)


def test_the_line_is_the_culprits_own() -> None:
    data = changed(project__cases__1__limit=5)
    lines = data.decode().splitlines()
    assert lines[(refused(data).line or 0) - 1].strip() == '"limit": 5'


def test_a_missing_field_is_named() -> None:
    content = json.loads(changed())
    del content["project"]["cases"][0]["name"]
    error = refused(json.dumps(content, indent=2).encode())
    assert error.field == "project.cases.0"
    assert '"name"' in error.problem


def test_a_datasheet_section_without_torsion_constant_is_refused() -> None:
    section = {
        "kind": "datasheet",
        "name": "p",
        "width": 0.08,
        "height": 0.16,
        "area": 3e-3,
        "iyy": 8e-6,
        "izz": 2e-6,
    }
    error = refused(changed(project__machine__gantry__beam__section=section))
    assert error.field.startswith("project.machine.gantry.beam.section")
    assert "torsion" in error.problem


def test_a_field_that_stands_twice_is_refused() -> None:
    data = project_bytes(Project()).replace(b'"travel_x": 1.3', b'"travel_x": 1.3, "travel_x": 1.4')
    error = refused(data)
    assert error.field == "project.machine.work.travel_x"
    assert "twice" in error.problem


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"  \n ",
        b"[]",
        b"null",
        b"7",
        b'"text"',
        b"{}",
        b"{'format': 1}",
        b"\xff\xfe\x00",
        b"[" * 100_000,
        b"[" * 500 + b"]" * 500,
        b'{"format": ' + b"9" * 5000 + b"}",
        b'{"format": "gantrywright-project"}',
        b'{"format": "gantrywright-project", "version": 1}',
        b'{"format": "gantrywright-project", "version": 1, "project": []}',
        b'{"format": "gantrywright-project", "version": 1, "project": {"name": "\\ud800"}}',
        b"PK\x03\x04 not a text at all",
    ],
    ids=lambda data: repr(data[:24]),
)
def test_whatever_is_no_project_is_refused(data: bytes) -> None:
    refused(data)


def test_places_that_hold_no_file(tmp_path: Path) -> None:
    for path in (tmp_path / "none.json", tmp_path, tmp_path / "none" / "x.json", Path("bad\0name")):
        with pytest.raises(BadFile):
            load_project(path)


def test_no_permission_to_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def closed(*_: object, **__: object) -> None:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(Path, "open", closed)
    with pytest.raises(BadFile, match="permission"):
        load_project(tmp_path / "x.json")


def test_a_huge_file_is_refused_unread(tmp_path: Path) -> None:
    file = tmp_path / "huge.json"
    with file.open("wb") as stream:
        stream.truncate(MOST_BYTES * 100)
    with pytest.raises(BadFile, match="5 MB"):
        load_project(file)


def test_a_character_that_no_file_can_hold(tmp_path: Path) -> None:
    file = tmp_path / "x.json"
    with pytest.raises(BadFile, match="character"):
        save_project(file, Project(name="half \ud800"))
    assert not file.exists()


@pytest.mark.parametrize("call", ["fsync", "replace", "open"])
@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EACCES, errno.EROFS])
def test_a_failing_disk_leaves_the_old_file(
    call: str, number: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "x.json"
    save_project(file, Project(name="old"))
    before = file.read_bytes()

    def fails(*_: object, **__: object) -> None:
        raise OSError(number, os.strerror(number))

    with monkeypatch.context() as patch:
        patch.setattr(writer.os, call, fails)
        with pytest.raises(BadFile) as caught:
            save_project(file, Project(name="new"))
    assert str(caught.value).startswith(str(file))
    assert file.read_bytes() == before
    assert [entry.name for entry in tmp_path.iterdir()] == ["x.json"]


def test_the_flush_comes_before_the_replacement(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    order: list[str] = []
    real_flush, real_replace = os.fsync, os.replace

    def flush(handle: int) -> None:
        order.append("flush")
        real_flush(handle)

    def put(source: str, target: str) -> None:
        order.append("replace")
        assert Path(source).parent == Path(target).parent
        real_replace(source, target)

    monkeypatch.setattr(writer.os, "fsync", flush)
    monkeypatch.setattr(writer.os, "replace", put)
    save_project(tmp_path / "x.json", Project())
    assert order[:2] == ["flush", "replace"]


def test_saving_into_a_folder_or_nowhere_is_refused(tmp_path: Path) -> None:
    for path in (tmp_path, tmp_path / "none" / "x.json"):
        with pytest.raises(BadFile, match="folder"):
            save_project(path, Project())


@pytest.mark.skipif(os.name != "posix", reason="links and permission bits as POSIX has them")
def test_links_and_permissions_are_kept(tmp_path: Path) -> None:
    file, link = tmp_path / "x.json", tmp_path / "link.json"
    save_project(file, Project(name="old"))
    file.chmod(0o640)
    link.symlink_to(file)
    save_project(link, Project(name="new"))
    assert link.is_symlink()
    assert load_project(file).name == "new"
    assert stat.S_IMODE(file.stat().st_mode) == 0o640


def test_a_write_protected_file_is_left_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "x.json"
    save_project(file, Project(name="old"))
    monkeypatch.setattr(writer.os, "access", lambda *_: False)
    with pytest.raises(BadFile, match="write-protected"):
        save_project(file, Project(name="new"))
    assert load_project(file).name == "old"


def test_error_texts_hold_no_program_words() -> None:
    error = refused(changed(project__machine__work__travel_x=1e300))
    assert not re.search(r"Traceback|msgspec|Struct|<class", str(error))
