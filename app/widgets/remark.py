"""A finding told beside an entry: its first sentence in view, all of it when the pointer rests there.

It is a text like any other sentence beside an entry, so that pages hand both on alike.
"""

from __future__ import annotations

from collections.abc import Sequence

from core.findings import first_sentence


class Remark(str):
    """The whole text; `short` is what stands in view, `grave` whether it breaks a limit or only wants a look."""

    __slots__ = ("grave", "short")

    short: str
    grave: bool

    def __new__(cls, messages: Sequence[str], grave: bool = False) -> Remark:
        made = super().__new__(cls, " ".join(messages))
        more = len(messages) - 1
        made.short = first_sentence(messages[0]) + (f" And {more} more." if more else "")
        made.grave = grave
        return made


def joined(texts: Sequence[str]) -> str:
    """Several texts beside one entry as one; plain sentences among them are grave and stay whole."""
    if len(texts) == 1:
        return texts[0]
    if texts and all(isinstance(text, Remark) for text in texts):
        return Remark(texts, any(text.grave for text in texts if isinstance(text, Remark)))
    return " ".join(texts)


def in_view(text: str) -> str:
    """What of a text stands beside the entry."""
    return text.short if isinstance(text, Remark) else text


def is_grave(text: str) -> bool:
    """Whether the text forbids something, and is not only a thing to look at."""
    return not isinstance(text, Remark) or text.grave
