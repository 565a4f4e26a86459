"""The order of the house: sizes, packages, the one command of CI, and lock files that hold what they promise."""

import ast
import re
import sys
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name
from packaging.version import Version

ROOT = Path(__file__).resolve().parent.parent
HOUSE = ("bot", "storage", "deploy", "tests")
SOURCES = sorted(path for folder in HOUSE for path in (ROOT / folder).rglob("*.py"))
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
RUNTIME = ROOT / "deploy" / "requirements.txt"
EVERYTHING = ROOT / "deploy" / "requirements-test.txt"


def pins(lock: Path) -> dict[str, Version]:
    """The library versions a lock file fixes, by canonical name."""
    found = re.findall(r"^([\w.-]+)==([^\s;\\]+)", lock.read_text(encoding="utf-8"), re.MULTILINE)
    return {canonicalize_name(name): Version(version) for name, version in found}


def wanted(*extras: str) -> list[Requirement]:
    """What pyproject.toml asks for, with the extras named and the build group."""
    project = PROJECT["project"]
    lines = [*project["dependencies"], *PROJECT["dependency-groups"]["build"]]
    for extra in extras:
        lines += project["optional-dependencies"][extra]
    return [Requirement(line) for line in lines]


def test_no_file_holds_two_subjects() -> None:
    lengths = {str(path.relative_to(ROOT)): len(path.read_bytes().splitlines()) for path in SOURCES}
    assert {path: length for path, length in lengths.items() if length > 330} == {}


def test_every_folder_of_code_is_a_package_that_says_what_it_is() -> None:
    silent = []
    for folder in sorted({path.parent for path in SOURCES}):
        opening = folder / "__init__.py"
        if not opening.exists() or not ast.get_docstring(ast.parse(opening.read_text(encoding="utf-8"))):
            silent.append(str(folder.relative_to(ROOT)))
    assert not silent


def test_migrations_are_numbered_one_after_the_other() -> None:
    numbers = sorted(int(path.name[:4]) for path in (ROOT / "storage" / "migrations").glob("*.sql"))
    assert numbers == list(range(1, len(numbers) + 1))


def test_ci_runs_the_readme_command_and_nothing_else() -> None:
    lines = (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()
    commands = [line for line in lines if line and not line.startswith("#")]
    assert commands == [
        "set -euo pipefail",
        'cd "$(dirname "${BASH_SOURCE[0]}")/.."',
        "exec python3 deploy/run.py test",
    ]


@pytest.mark.parametrize(
    "name",
    [
        "run.py",
        "all_checks.py",
        "child_process.py",
        "virtual_environment.py",
        "tree_map.py",
        "update.py",
        "user_service/install.py",
        "user_service/unit_files.py",
    ],
)
def test_the_first_command_needs_the_standard_library_only(name: str) -> None:
    tree = ast.parse((ROOT / "deploy" / name).read_text(encoding="utf-8"))
    imported = {alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names}
    imported |= {node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    assert imported
    assert {name for name in imported if name.split(".")[0] not in sys.stdlib_module_names} <= {
        "deploy",
        "deploy.virtual_environment",
        "deploy.user_service.install",
        "deploy.user_service.unit_files",
        "deploy.tree_map",
        "deploy.update",
    }


def test_an_old_python_can_read_the_first_command_and_say_what_it_lacks() -> None:
    ast.parse((ROOT / "deploy" / "run.py").read_text(encoding="utf-8"), feature_version=(3, 7))


@pytest.mark.parametrize(
    ("lock", "extras"), [(RUNTIME, ("rehearsal",)), (EVERYTHING, ("rehearsal", "test"))], ids=["runtime", "everything"]
)
def test_a_lock_file_satisfies_the_project(lock: Path, extras: tuple[str, ...]) -> None:
    fixed = pins(lock)
    missing = [
        str(requirement)
        for requirement in wanted(*extras)
        if (version := fixed.get(canonicalize_name(requirement.name))) is None or version not in requirement.specifier
    ]
    assert not missing


def test_the_lock_files_agree_so_that_one_environment_serves_both() -> None:
    everything = pins(EVERYTHING)
    assert pins(RUNTIME)
    assert {name: version for name, version in pins(RUNTIME).items() if everything.get(name) != version} == {}


@pytest.mark.parametrize("lock", [RUNTIME, EVERYTHING], ids=["runtime", "everything"])
def test_every_library_of_a_lock_file_has_its_hash_and_no_address(lock: Path) -> None:
    text = re.sub(r"^\s*#.*$", "", lock.read_text(encoding="utf-8"), flags=re.MULTILINE)
    entries = [entry for entry in re.split(r"(?<!\\)\n", text) if entry.strip()]
    assert len(entries) == len(pins(lock))
    assert [entry for entry in entries if not re.search(r"--hash=sha256:[0-9a-f]{64}", entry)] == []
    assert not re.search(r"\w+://|file:|--index|--find-links|^-e", lock.read_text(encoding="utf-8"), re.MULTILINE)
