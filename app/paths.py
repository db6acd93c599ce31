"""Where the program finds the files that come with it: fonts, icons, the guide and the demo projects.

They lie beside the packages in the repository (also when installed for development) and under the
environment's data folder in an ordinary installation. Nothing here knows of the user's own files.
"""

from __future__ import annotations

import sysconfig
from pathlib import Path

_REPOSITORY = Path(__file__).resolve().parent.parent


def _shipped(name: str) -> Path:
    """The folder of that name that comes with the program.

    Raises:
        FileNotFoundError: if the installation lacks it.
    """
    installed = Path(sysconfig.get_path("data")) / "share" / "gantrywright" / name
    for folder in (_REPOSITORY / name, installed):
        if folder.is_dir():
            return folder
    raise FileNotFoundError(
        f"The folder {name} that comes with Gantrywright is missing; "
        f"expected in {_REPOSITORY} or {installed.parent}."
    )


def assets() -> Path:
    """Folder of fonts, icons and the guide."""
    return _shipped("assets")


def fonts() -> list[Path]:
    """The bundled font files, regular first."""
    return sorted((assets() / "fonts").glob("*.ttf"), key=lambda file: ("Bold" in file.stem, file.name))


def icon(name: str) -> Path:
    """File of the icon with that name ("save"); it may not exist, which is for the caller to judge."""
    return assets() / "icons" / f"{name}.svg"


def guide() -> Path:
    """Folder of the user's guide."""
    return assets() / "guide"


def demo_projects() -> list[Path]:
    """The demo project files, by name."""
    return sorted(_shipped("demo_projects").glob("*.json"))
