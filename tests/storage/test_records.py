"""Records: how much memory their validators hold, and the names of files."""

import subprocess
import sys
from pathlib import Path

import pytest
from pydantic import ValidationError

from storage.records.message import Attachment

ALL_VALIDATORS = """
import importlib, pkgutil
from pathlib import Path
import storage.records as home
from storage.records.base import Record

for module in pkgutil.walk_packages(home.__path__, f"{home.__name__}."):
    importlib.import_module(module.name)

def held() -> int:
    return int(next(line for line in Path("/proc/self/status").open() if line.startswith("VmRSS:")).split()[1])

def below(record):
    for one in record.__subclasses__():
        yield one
        yield from below(one)

before = held()
for record in below(Record):
    record.model_rebuild()
print(held() - before)
"""


@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="this system does not tell what a process holds")
def test_the_validators_of_all_records_together_hold_a_few_mib() -> None:
    # 2 MiB as measured; one pattern that counts letters of all alphabets, such as \w{1,100}, holds 9 by itself.
    shown = subprocess.run([sys.executable, "-c", ALL_VALIDATORS], capture_output=True, text=True, check=True)
    assert int(shown.stdout) / 1024 < 5


@pytest.mark.parametrize("name", ["standings.png", "x" * 100, "größe_1.pdf"])
def test_a_file_has_a_plain_name(name: str) -> None:
    assert Attachment(name=name, data=b"").name == name


@pytest.mark.parametrize("name", ["", "x" * 101, "a/b.png", "a b.png", "a.png\n"])
def test_a_name_with_anything_else_or_too_long_is_no_file_name(name: str) -> None:
    with pytest.raises(ValidationError):
        Attachment(name=name, data=b"")
