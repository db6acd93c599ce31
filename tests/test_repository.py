"""Rules that every file of the repository keeps.

No package host, no path of one machine, no giant file, no dead link.
"""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
BINARY = {".ttf", ".png", ".ico", ".jpg", ".pdf", ".xlsx"}

# Put together from pieces, or this file would break its own rule.
HOSTS = [
    "pypi" + ".org",
    "python" + "hosted",
    "npm" + "js",
    "deb." + "debian",
    "archive." + "ubuntu",
    "conda" + "-forge",
]
FOLDERS = ["/" + name + "/" for name in ("work", "root", "Users")]
MACHINE = re.compile(rf"(?<![\w.~}}/-])(?:{'|'.join(FOLDERS)})|/home/[\w]|[A-Z]:\\\\?Users")

# Links that leave the repository or stay on the page are not looked up.
LINK = re.compile(r"\]\((?!https?:|mailto:|#)([^)\s#]+)")


def repository_files() -> list[Path]:
    """Files under version control or about to be, or every file where git is missing."""
    if shutil.which("git") and (ROOT / ".git").exists():
        command = ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"]
        listed = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout
        files = [ROOT / name for name in listed.split("\0") if name]
    else:
        files = [file for file in ROOT.rglob("*") if ".venv" not in file.parts and "out" not in file.parts]
    return sorted(file for file in set(files) if file.is_file() and file.suffix not in BINARY)


FILES = repository_files()


def test_no_file_names_a_package_host_or_a_path_of_one_machine() -> None:
    faults = []
    for file in FILES:
        for number, line in enumerate(file.read_text(encoding="utf-8", errors="replace").splitlines(), 1):
            if any(host in line for host in HOSTS) or MACHINE.search(line):
                faults.append(f"{file.relative_to(ROOT)}:{number}: {line.strip()[:90]}")
    assert not faults, "\n".join(faults)


@pytest.mark.parametrize("line", ["cd " + FOLDERS[0] + "main", "'" + FOLDERS[1] + "x'", "C:" + "\\Users\\me"])
def test_the_rule_sees_a_path_of_one_machine(line: str) -> None:
    assert MACHINE.search(line)


def test_python_files_stay_short() -> None:
    """No file over 400 lines: one idea a file."""
    lengths = {
        str(file.relative_to(ROOT)): len(file.read_text(encoding="utf-8").splitlines())
        for file in FILES
        if file.suffix == ".py"
    }
    assert lengths
    assert {name: lines for name, lines in lengths.items() if lines > 400} == {}


def test_links_between_documents_lead_somewhere() -> None:
    dead = []
    for file in FILES:
        if file.suffix == ".md":
            for link in LINK.findall(file.read_text(encoding="utf-8")):
                if not (file.parent / link).exists():
                    dead.append(f"{file.relative_to(ROOT)}: {link}")
    assert not dead, "\n".join(dead)


def test_ci_and_make_run_the_same_commands() -> None:
    """CI has no road of its own: it calls the documented targets."""
    text = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert re.search(r"make test check\b", text)
    assert (ROOT / ".ci" / "run").stat().st_mode & 0o100
