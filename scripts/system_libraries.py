"""Sees to the shared libraries that Qt, and the frame library used by the tests, expect from the system.

Runs before the virtual environment exists, so it uses the standard library only. On Debian and Ubuntu it
installs what is missing when it runs as root, else it prints the one line that does; elsewhere it says what
Qt needs.
"""

from __future__ import annotations

import argparse
import ctypes
import importlib.util
import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterable, Mapping

# Shared library -> Debian package. The first group suffices without a screen, the second draws under X.
QT_ALWAYS = {
    "libglib-2.0.so.0": "libglib2.0-0",
    "libGL.so.1": "libgl1",
    "libEGL.so.1": "libegl1",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libdbus-1.so.3": "libdbus-1-3",
    "libfontconfig.so.1": "libfontconfig1",
}
QT_WINDOW = {
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
}
# The compiled frame library that gives the tests a second opinion.
TESTS = {"libblas.so.3": "libblas3", "liblapack.so.3": "liblapack3"}

# Debian 13 and Ubuntu 24.04 renamed packages whose time type grew to 64 bits.
RENAMED = {"libglib2.0-0": "libglib2.0-0t64"}


def loads(library: str) -> bool:
    """Whether the dynamic loader of this system finds the shared library."""
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def has_display(environ: Mapping[str, str]) -> bool:
    """Whether a window can be shown, by what the environment says (Linux and the BSDs only)."""
    return bool(environ.get("DISPLAY") or environ.get("WAYLAND_DISPLAY"))


def wanted(window: bool) -> dict[str, str]:
    """The libraries this machine should have, each with the Debian package that brings it."""
    return {**QT_ALWAYS, **TESTS, **(QT_WINDOW if window else {})}


def missing_packages(libraries: Mapping[str, str], present: Callable[[str], bool] = loads) -> list[str]:
    """Debian packages of the libraries that are not present, in order and without repeats."""
    return list(dict.fromkeys(package for library, package in libraries.items() if not present(library)))


def venv_package() -> list[str]:
    """The Debian package without which this Python cannot make a virtual environment, if it is missing."""
    if importlib.util.find_spec("ensurepip"):
        return []
    return [f"python{sys.version_info.major}.{sys.version_info.minor}-venv"]


def known_to_apt(package: str) -> bool:
    """Whether the package lists at hand name the package."""
    found = subprocess.run(["apt-cache", "show", package], capture_output=True, check=False)
    return found.returncode == 0 and bool(found.stdout.strip())


def named_here(packages: Iterable[str], known: Callable[[str], bool] = known_to_apt) -> list[str]:
    """The packages under the names this release gives them."""
    names = []
    for package in packages:
        newer = RENAMED.get(package)
        names.append(newer if newer and known(newer) else package)
    return names


def install(packages: list[str]) -> int:
    """Install the packages with apt-get as root; returns its exit status."""
    environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    # A failing update is not the end: the lists at hand may do.
    subprocess.run(["apt-get", "-q", "update"], env=environment, check=False, stdout=subprocess.DEVNULL)
    names = named_here(packages)
    print("Installing for Qt:", " ".join(names), flush=True)
    command = ["apt-get", "-q", "-y", "--no-install-recommends", "install", *names]
    return subprocess.run(command, env=environment, check=False, stdout=subprocess.DEVNULL).returncode


def see_to(libraries: Mapping[str, str]) -> int:
    """Bring the machine to where the libraries load, or say how; 0 when nothing failed here.

    Libraries that can't be installed from here are told and are no failure: the headless form may do
    without some.
    """
    packages = venv_package() + missing_packages(libraries)
    if not packages:
        return 0
    if not shutil.which("apt-get"):
        print("Qt needs these shared libraries, which this system lacks; its package manager has them:")
        print("  " + " ".join(library for library in libraries if not loads(library)))
        return 0
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        status = install(packages)
        left = missing_packages(libraries)
        if status or left:
            print(f"apt-get could not bring {', '.join(left or packages)}; trying without.", file=sys.stderr)
        return 0
    print("Some shared libraries are missing. This line installs them:")
    print("  sudo apt-get update && sudo apt-get install " + " ".join(named_here(packages)))
    return 0


def main(arguments: list[str] | None = None) -> int:
    """Entry point; returns the exit status."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument(
        "--window", action="store_true", help="see to a real window even without a display now"
    )
    parser.add_argument("--list", action="store_true", help="only list the missing Debian packages")
    chosen = parser.parse_args(arguments)
    if not sys.platform.startswith("linux"):
        return 0  # on Windows and macOS the Qt package brings all it needs
    libraries = wanted(chosen.window or has_display(os.environ))
    if chosen.list:
        print("\n".join(missing_packages(libraries)))
        return 0
    return see_to(libraries)


if __name__ == "__main__":
    sys.exit(main())
