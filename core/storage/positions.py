"""Where each field of a JSON text stands, so that an error can name the line a person has to look at.

The text must be valid JSON already, save that the numbers NaN and Infinity may occur; they are listed apart.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from json.decoder import scanstring  # type: ignore[attr-defined]  # public in practice, absent from the stubs

Path = tuple[str | int, ...]
"""Keys and list indices from the top of the file down to a value."""

MOST_LEVELS = 60
"""Nesting deeper than this is not a project of ours; the walk stops there instead of running out of stack."""

_SPACE = re.compile(r"[ \t\n\r]*")
_SCALAR = re.compile(r"[^,\]\}\s]+")
_NO_NUMBERS = ("NaN", "Infinity", "-Infinity")


@dataclass(slots=True)
class Places:
    """What a walk over the text found.

    Attributes:
        offset: of each value, by its path; of an object's member it is the key's place.
        repeated: paths of keys that stand twice in one object.
        no_numbers: paths of NaN and Infinity.
        too_deep: path where the nesting passed the most levels allowed.
    """

    offset: dict[Path, int] = field(default_factory=dict)
    repeated: list[Path] = field(default_factory=list)
    no_numbers: list[Path] = field(default_factory=list)
    too_deep: Path | None = None


def find_places(text: str) -> Places:
    """Walk the whole text once."""
    places = Places()
    _value(text, _skip(text, 0), (), places)
    return places


def line_and_column(text: str, offset: int) -> tuple[int, int]:
    """Line and column, both from 1, of a place in the text."""
    return text.count("\n", 0, offset) + 1, offset - text.rfind("\n", 0, offset)


def dotted(path: Path) -> str:
    """The path as people write it: "project.cases.0.limit"."""
    return ".".join(str(step) for step in path)


def path_of(pointer: str) -> Path:
    """The path behind a decoder's pointer such as "$.project.cases[0].limit"."""
    steps = re.findall(r"\.([A-Za-z_][A-Za-z0-9_]*)|\[(\d+)\]", pointer)
    return tuple(name if name else int(index) for name, index in steps)


def _skip(text: str, at: int) -> int:
    found = _SPACE.match(text, at)
    return found.end() if found else at


def _value(text: str, at: int, path: Path, places: Places) -> int:
    """Walk one value that starts at `at`; gives the offset behind it."""
    places.offset.setdefault(path, at)
    if len(path) > MOST_LEVELS:
        places.too_deep = path
        return len(text)
    mark = text[at : at + 1]
    if mark == "{":
        return _object(text, at + 1, path, places)
    if mark == "[":
        return _array(text, at + 1, path, places)
    if mark == '"':
        return int(scanstring(text, at + 1)[1])
    found = _SCALAR.match(text, at)
    if found is None:
        return len(text)
    if found.group() in _NO_NUMBERS:
        places.no_numbers.append(path)
    return found.end()


def _object(text: str, at: int, path: Path, places: Places) -> int:
    at = _skip(text, at)
    while at < len(text) and text[at] == '"':
        key, behind = scanstring(text, at + 1)
        inner = (*path, key)
        if inner in places.offset:
            places.repeated.append(inner)
        places.offset[inner] = at
        at = _value(text, _skip(text, _skip(text, behind) + 1), inner, places)
        at = _next(text, at)
    return at + 1


def _array(text: str, at: int, path: Path, places: Places) -> int:
    at = _skip(text, at)
    index = 0
    while at < len(text) and text[at] != "]":
        at = _next(text, _value(text, at, (*path, index), places))
        index += 1
    return at + 1


def _next(text: str, at: int) -> int:
    at = _skip(text, at)
    return _skip(text, at + 1) if text[at : at + 1] == "," else at
