"""Which of the user's texts may be followed as a link: web addresses, in the window mail addresses too; no file, no script."""

from __future__ import annotations

from urllib.parse import urlsplit

_WEB = ("http", "https")


def good_link(text: str) -> bool:
    """Whether a text is a web address that a shared file may link to."""
    return _scheme(text) in _WEB


def may_be_opened(text: str) -> bool:
    """Whether the window may hand a text to the system's browser or mail program."""
    return _scheme(text) in (*_WEB, "mailto")


def _scheme(text: str) -> str:
    """The scheme of a sound address; empty for anything else."""
    bare = text.strip()
    if not bare.isprintable() or any(c.isspace() or c == "\\" for c in bare):
        return ""
    try:
        parts = urlsplit(bare)
    except ValueError:
        return ""
    if parts.scheme in _WEB:
        return parts.scheme if parts.netloc else ""
    if parts.scheme == "mailto":
        name, _, place = parts.path.partition("@")
        return "mailto" if name and place else ""
    return ""
