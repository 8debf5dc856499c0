"""Starting up loads nothing that is not needed yet."""

from __future__ import annotations

import json
import subprocess
import sys
from importlib.metadata import version
from pathlib import Path

ROOT = Path(__file__).parents[2]
HEAVY = ("mido", "rtmidi", "jsonschema", "jsonschema_rs", "yaml", "rich", "textual")

# The list of modules goes to stderr on the way out: the command's own exit code and stdout stay as they are.
RUN = """
import atexit, json, sys
atexit.register(lambda: print(json.dumps(sorted(sys.modules)), file=sys.stderr))
import switchmatrix.cli
sys.exit(switchmatrix.cli.main(["--version"]))
"""


def run_version() -> subprocess.CompletedProcess[str]:
    """`switchmatrix --version` in an interpreter of its own, with the loaded modules on stderr."""
    return subprocess.run(
        [sys.executable, "-c", RUN], cwd=ROOT, check=True, capture_output=True, encoding="utf-8", timeout=60
    )


def test_version_loads_no_heavy_package() -> None:
    loaded = json.loads(run_version().stderr)
    assert "switchmatrix.cli" in loaded
    assert [name for name in HEAVY if name in loaded] == []


def test_version_printed_is_the_installed_one() -> None:
    assert run_version().stdout.split()[-1:] == [version("switchmatrix")]
