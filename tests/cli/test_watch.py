"""`switchmatrix check --watch`: the findings again on every save."""

from __future__ import annotations

import signal
import subprocess
import sys
from pathlib import Path

from tests.cli.kit import lay


def test_a_save_says_the_findings_again_and_ctrl_c_ends(tmp_path: Path) -> None:
    show = lay(tmp_path)
    watching = subprocess.Popen(
        [sys.executable, "-m", "switchmatrix", "check", str(show), "--format", "lines", "--watch"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        encoding="utf-8",
        # A background job of a shell ignores Ctrl-C, and so would the child.
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
    )
    assert watching.stdout is not None
    assert watching.stderr is not None
    assert watching.stderr.readline() == "watching, Ctrl-C ends\n"

    lantern = show / "lantern.yaml"
    lantern.write_text("song: Lantern\nscenes:\n  verse: {gate: tigt}\n", encoding="utf-8")
    first = watching.stdout.readline()
    lantern.write_text("song: Lantern\nscenes:\n  verse: {gate: tihgt, echo: clif}\n", encoding="utf-8")
    then = [watching.stdout.readline(), watching.stdout.readline()]
    watching.send_signal(signal.SIGINT)
    watching.communicate()

    assert first == "lantern.yaml:3:17: error unknown-word: `gate` has no word `tigt`\n"
    assert then == [
        "lantern.yaml:3:17: error unknown-word: `gate` has no word `tihgt`\n",
        "lantern.yaml:3:30: error missing-patch: `echo` has no patch `clif`\n",
    ]
    assert watching.returncode == 1
