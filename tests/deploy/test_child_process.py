"""A program is run to its end, and its exit code is handed on."""

import os
import sys

import pytest

from deploy import child_process


def test_the_exit_code_of_a_program_is_handed_on() -> None:
    assert child_process.run([sys.executable, "-c", "raise SystemExit(5)"]) == 5


@pytest.mark.skipif(os.name == "nt", reason="Windows has no signals of this kind")
def test_a_killed_program_is_a_failure_with_the_usual_code() -> None:
    assert child_process.run([sys.executable, "-c", "import os, signal; os.kill(os.getpid(), signal.SIGKILL)"]) == 137
