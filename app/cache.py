"""Where analysed T-slot sections are kept between runs.

The folder is the one the system gives to caches; losing it costs some seconds and nothing else.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path


def cache_folder() -> Path:
    """The user's cache folder for this program; it need not exist."""
    home = Path.home()
    if sys.platform == "win32":
        local = os.environ.get("LOCALAPPDATA")
        return (Path(local) if local else home / "AppData" / "Local") / "Gantrywright"
    if sys.platform == "darwin":
        return home / "Library" / "Caches" / "Gantrywright"
    given = os.environ.get("XDG_CACHE_HOME", "")
    # The base directory rules of free desktops say that a relative path is to be ignored.
    return (Path(given) if Path(given).is_absolute() else home / ".cache") / "gantrywright"


def section_cache() -> Path:
    """File of the analysed sections."""
    return cache_folder() / "sections.json"
