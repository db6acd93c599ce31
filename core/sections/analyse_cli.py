"""Analyses one section in a process of its own: `python -m core.sections.analyse_cli`.

The description comes as JSON on standard input, the properties go as JSON to standard output. A description
that cannot be used ends it with status 2 and a sentence on standard error. So a window stays alive meanwhile.
"""

from __future__ import annotations

import sys

import msgspec

from core.errors import GantrywrightError
from core.sections.analysis import analyse_any
from core.sections.properties import SectionProperties
from core.sections.shape import Shape
from core.sections.t_slot import TSlot

BAD_INPUT = 2


def analyse_json(text: bytes) -> bytes:
    """Properties, as JSON, of the section that the JSON text describes.

    Raises:
        msgspec.MsgspecError: the text is no JSON or describes nothing that can be analysed.
        BadEntry: its figures cannot be used together.
    """
    return msgspec.json.encode(analyse_any(msgspec.json.decode(text, type=TSlot | Shape)))


def read_properties(text: bytes) -> SectionProperties:
    """What `analyse_json` wrote. Raises msgspec.MsgspecError when it is something else."""
    return msgspec.json.decode(text, type=SectionProperties)


def main() -> int:
    """Read, analyse, write; returns the exit status."""
    try:
        answer = analyse_json(sys.stdin.buffer.read())
    except (msgspec.MsgspecError, UnicodeDecodeError, GantrywrightError) as error:
        sys.stderr.write(f"The section could not be analysed. {error}\n")
        return BAD_INPUT
    sys.stdout.buffer.write(answer + b"\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
