"""The environment folder, with real installations from a small index on this disk: no network is needed."""

import base64
import hashlib
import importlib.util
import json
import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from deploy import virtual_environment as subject
from deploy.virtual_environment import Environment, Trouble

BACKEND = """\
import pathlib, zipfile

def build_editable(wheel_directory, config_settings=None, metadata_directory=None):
    name = "tenbell-0.1-py3-none-any.whl"
    with zipfile.ZipFile(pathlib.Path(wheel_directory, name), "w") as wheel:
        wheel.writestr("tenbell.pth", str(pathlib.Path.cwd()))
        about = "tenbell-0.1.dist-info"
        wheel.writestr(about + "/METADATA", "Metadata-Version: 2.1\\nName: tenbell\\nVersion: 0.1\\n")
        wheel.writestr(about + "/WHEEL", "Wheel-Version: 1.0\\nRoot-Is-Purelib: true\\nTag: py3-none-any\\n")
        wheel.writestr(about + "/RECORD", "tenbell.pth,,\\n")
    return name
"""


def shelf(folder: Path, name: str) -> str:
    """Put a library of one module on the shelf that pip looks at; return its lock line."""
    files = {
        f"{name}.py": "WORTH = 10\n",
        f"{name}-1.0.dist-info/METADATA": f"Metadata-Version: 2.1\nName: {name}\nVersion: 1.0\n",
        f"{name}-1.0.dist-info/WHEEL": "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
    }
    record = f"{name}-1.0.dist-info/RECORD,,\n"
    for path, text in files.items():
        seal = base64.urlsafe_b64encode(hashlib.sha256(text.encode()).digest()).rstrip(b"=").decode()
        record += f"{path},sha256={seal},{len(text)}\n"
    wheel = folder / f"{name}-1.0-py3-none-any.whl"
    with zipfile.ZipFile(wheel, "w") as archive:
        for path, text in [*files.items(), (f"{name}-1.0.dist-info/RECORD", record)]:
            archive.writestr(path, text)
    return f"{name}==1.0 \\\n    --hash=sha256:{hashlib.sha256(wheel.read_bytes()).hexdigest()}\n"


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A small project with two lock files, a shelf of libraries instead of an index, and no environment yet."""
    project = tmp_path / "project"
    (project / "deploy").mkdir(parents=True)
    shelves = tmp_path / "shelf"
    shelves.mkdir()
    (project / "pyproject.toml").write_text(
        '[build-system]\nrequires = []\nbuild-backend = "backend"\nbackend-path = ["."]\n', encoding="utf-8"
    )
    (project / "backend.py").write_text(BACKEND, encoding="utf-8")
    locks = {level: project / "deploy" / f"{level}.txt" for level in ("runtime", "test")}
    locks["runtime"].write_text(shelf(shelves, "apple"), encoding="utf-8")
    locks["test"].write_text(shelf(shelves, "apple") + shelf(shelves, "pear"), encoding="utf-8")
    monkeypatch.setattr(subject, "ROOT", project)
    monkeypatch.setattr(subject, "LOCKS", locks)
    monkeypatch.delenv("TENBELL_ENVIRONMENT", raising=False)
    for name in [name for name in os.environ if name.startswith("PIP_")]:
        monkeypatch.delenv(name)
    monkeypatch.setenv("PIP_CONFIG_FILE", os.devnull)
    monkeypatch.setenv("PIP_NO_CACHE_DIR", "1")
    monkeypatch.setenv("PIP_NO_INDEX", "1")
    monkeypatch.setenv("PIP_FIND_LINKS", str(shelves))
    return project


@pytest.fixture(scope="session")
def bare_environment(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A new environment as the program makes it, with its installer and nothing else: that takes longest of all."""
    folder = tmp_path_factory.mktemp("bare") / ".venv"
    Environment(folder)._create()
    return folder


@pytest.fixture
def copied(bare_environment: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Environments begin as copies of a new one, since it is the installation into them that is tried."""

    def copy(itself: Environment) -> None:
        shutil.copytree(bare_environment, itself.folder, symlinks=True, dirs_exist_ok=True)

    monkeypatch.setattr(Environment, "_create", copy)


def holds(environment: Environment, *modules: str) -> bool:
    """Whether a Python of that environment can import all of the modules."""
    program = f"import {', '.join(modules)}"
    return subprocess.run([environment.python, "-c", program], capture_output=True, check=False).returncode == 0


def forbid_installing(monkeypatch: pytest.MonkeyPatch) -> None:
    def never(*_: object, **__: object) -> None:
        raise AssertionError("something was installed again")

    monkeypatch.setattr(Environment, "_pip", never)
    monkeypatch.setattr(Environment, "_create", never)


@pytest.mark.usefixtures("copied")
def test_the_first_run_installs_and_the_second_installs_nothing(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    environment = Environment(place / ".venv")
    environment.prepare("runtime")
    assert holds(environment, "apple", "backend")
    assert not holds(environment, "pear")

    environment.prepare("test")
    assert holds(environment, "apple", "pear")

    with (place / "pyproject.toml").open("a", encoding="utf-8") as file:
        file.write("# a change of settings\n")
    before = (place / ".venv" / "pyvenv.cfg").stat().st_mtime_ns
    environment.prepare("runtime")
    assert (place / ".venv" / "pyvenv.cfg").stat().st_mtime_ns == before

    forbid_installing(monkeypatch)
    environment.prepare("runtime")
    environment.prepare("test")


@pytest.mark.usefixtures("copied")
def test_an_interrupted_installation_is_made_anew(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    environment = Environment(place / ".venv")
    real = Environment._pip

    def interrupted(itself: Environment, what: str, *arguments: str, expected: int = 0) -> None:
        real(itself, what, *arguments, expected=expected)
        raise KeyboardInterrupt

    with monkeypatch.context() as patch, pytest.raises(KeyboardInterrupt):
        patch.setattr(Environment, "_pip", interrupted)
        environment.prepare("runtime")
    left_behind = place / ".venv" / "half-written"
    left_behind.touch()

    environment.prepare("runtime")
    assert holds(environment, "apple", "backend")
    assert not left_behind.exists()


@pytest.mark.usefixtures("copied")
def test_an_altered_library_is_refused_and_nothing_is_stamped(place: Path) -> None:
    wheel = place.parent / "shelf" / "apple-1.0-py3-none-any.whl"
    with zipfile.ZipFile(wheel, "a") as archive:
        archive.writestr("stowaway.py", "")
    environment = Environment(place / ".venv")
    with pytest.raises(Trouble, match="arrived altered"):
        environment.prepare("runtime")
    assert not holds(environment, "apple")
    assert not (place / ".venv" / subject.STAMP).exists()


@pytest.mark.usefixtures("copied")
def test_without_a_network_the_reason_is_told_in_plain_words(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("PIP_NO_INDEX")
    monkeypatch.delenv("PIP_FIND_LINKS")
    monkeypatch.setenv("PIP_INDEX_URL", "http://127.0.0.1:9/simple")
    monkeypatch.setenv("PIP_RETRIES", "1")
    with pytest.raises(Trouble, match=r"could not be fetched\. Check the network"):
        Environment(place / ".venv").prepare("runtime")


def test_a_folder_that_somebody_else_made_is_left_alone(place: Path) -> None:
    theirs = place / ".venv" / "bin" / "python"
    theirs.parent.mkdir(parents=True)
    theirs.write_text("not ours", encoding="utf-8")
    with pytest.raises(Trouble, match="was not made by this script"):
        Environment(place / ".venv").prepare("runtime")
    assert [path for path in (place / ".venv").rglob("*") if path.is_file()] == [theirs]
    assert theirs.read_text(encoding="utf-8") == "not ours"


def test_a_folder_that_cannot_be_written_is_named(place: Path) -> None:
    (place / "file").touch()
    with pytest.raises(Trouble, match="could not be written"):
        Environment(place / "file" / "inside").prepare("runtime")


def test_two_runs_never_mend_the_same_folder_at_once(tmp_path: Path) -> None:
    with (tmp_path / subject.GUARD).open("a+b") as first, (tmp_path / subject.GUARD).open("a+b") as second:
        assert subject.locked(first.fileno())
        assert not subject.locked(second.fileno())
        first.close()
        assert subject.locked(second.fileno())


def test_a_python_without_its_installer_says_how_to_get_it(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(importlib.util, "find_spec", lambda name: None if name == "ensurepip" else object())
    with pytest.raises(Trouble, match="lacks its module ensurepip"):
        Environment(place / ".venv").prepare("runtime")
    assert not (place / ".venv").exists()


@pytest.mark.parametrize("change", ["place", "lock", "python", "interpreter"])
def test_a_stamp_counts_only_for_this_place_these_locks_and_this_python(
    change: str, place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    environment = Environment(place / ".venv")
    environment.python.parent.mkdir(parents=True)
    environment.python.touch()
    stamp = json.dumps({"base": subject.base(), "level": "runtime", "project": subject.project()})
    (place / ".venv" / subject.STAMP).write_text(stamp, encoding="utf-8")
    assert environment._lacks("runtime") is None
    assert environment._lacks("test") == "libraries"
    if change == "place":
        moved = place.with_name("moved")
        place.rename(moved)
        environment = Environment(moved / ".venv")
        monkeypatch.setattr(subject, "ROOT", moved)
        monkeypatch.setattr(subject, "LOCKS", {level: moved / f"deploy/{level}.txt" for level in ("runtime", "test")})
    elif change == "lock":
        subject.LOCKS["test"].write_text("", encoding="utf-8")
    elif change == "python":
        monkeypatch.setattr(sys, "version", "3.99.0")
    else:
        environment.python.unlink()
    assert environment._lacks("runtime") == "all"
