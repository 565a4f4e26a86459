"""What carries Tenbell to a machine that stays on: no root, no token, one volume, the hashed lock."""

import re
import shutil
import subprocess
from configparser import RawConfigParser
from pathlib import Path

import pytest

from bot.rules.core.health_limits import BEAT_S, STORE_S

FOLDER = Path(__file__).resolve().parents[2] / "deploy" / "container"
INSTALL = "-m pip install --no-cache-dir --require-hashes --only-binary :all: -r deploy/requirements.txt"


class Unit(RawConfigParser):
    """A systemd unit: keys keep their case, and one given twice holds both values."""

    def __init__(self) -> None:
        super().__init__(strict=False, delimiters=("=",), comment_prefixes=("#",), interpolation=None)

    def optionxform(self, optionstr: str) -> str:
        """Keep the key as it is written."""
        return optionstr


def instructions() -> list[tuple[str, str]]:
    """The instructions of the Dockerfile, continued lines joined."""
    text = (FOLDER / "Dockerfile").read_text(encoding="utf-8").replace("\\\n", " ")
    lines = [line.split(maxsplit=1) for line in text.splitlines() if line.strip() and not line.startswith("#")]
    return [(word, " ".join(rest.split())) for word, rest in lines]


def service() -> dict[str, str]:
    """The service section of the unit."""
    unit = Unit()
    unit.read(FOLDER / "tenbell.service", encoding="utf-8")
    return dict(unit["Service"])


def test_the_container_runs_as_nobody_in_particular_and_keeps_one_volume() -> None:
    lines = instructions()
    last_stage = lines[max(index for index, (word, _) in enumerate(lines) if word == "FROM") :]
    users = [rest for word, rest in last_stage if word == "USER"]
    assert len(users) == 1
    assert int(users[0]) > 0
    after = [word for word, _ in last_stage[last_stage.index(("USER", users[0])) :]]
    assert "RUN" not in after
    assert ("VOLUME", "/data") in last_stage
    assert ("ENTRYPOINT", '["tenbell"]') in last_stage
    assert ("CMD", '["run"]') in last_stage


def test_the_container_says_how_it_is_and_can_do_without_a_writable_root() -> None:
    lines = instructions()
    (check,) = [rest for word, rest in lines if word == "HEALTHCHECK"]
    assert check.endswith('CMD ["tenbell", "status"]')
    told = (FOLDER / "Dockerfile").read_text(encoding="utf-8")
    for option in ("--read-only", "--tmpfs /tmp", "--cap-drop ALL", "--security-opt no-new-privileges"):
        assert option in told


def test_the_service_tells_that_it_lives_and_is_started_anew_when_it_does_not() -> None:
    settings = service()
    assert settings["Type"] == "notify"
    assert settings["NotifyAccess"] == "main"
    assert settings["Restart"] == "on-failure"
    # A sign of life comes every 15 s, or 25 s while the database is slow: systemd wants it within half of this.
    assert int(settings["WatchdogSec"]) >= 2 * (BEAT_S + STORE_S)
    assert int(settings["TimeoutStopSec"]) > 4


def test_the_service_passes_the_verifier_of_systemd(tmp_path: Path) -> None:
    verifier = shutil.which("systemd-analyze")
    if verifier is None:
        pytest.skip("this machine has no systemd-analyze")
    unit = tmp_path / "tenbell.service"
    text = (FOLDER / "tenbell.service").read_text(encoding="utf-8")
    # The program is not installed here, and neither is its user.
    unit.write_text(text.replace("/opt/tenbell/bin/tenbell", "/bin/true").replace("User=tenbell\n", ""), "utf-8")
    checked = subprocess.run([verifier, "verify", "--man=no", unit], capture_output=True, text=True, check=False)
    assert [line for line in checked.stderr.splitlines() if "tenbell.service" in line] == []
    assert checked.returncode == 0, checked.stderr


def test_the_container_installs_exactly_the_lock() -> None:
    installs = [rest for word, rest in instructions() if word == "RUN" and "pip install" in rest]
    assert [rest.endswith(INSTALL) for rest in installs] == [True, False]
    assert "--no-deps" in installs[1]
    assert "--no-build-isolation" in installs[1]


def test_the_container_is_built_from_named_files_only() -> None:
    lines = (FOLDER / "Dockerfile.dockerignore").read_text(encoding="utf-8").split()
    let_in = {line[1:] for line in lines if line.startswith("!")}
    copied = {name.split("/")[0] for word, rest in instructions() if word == "COPY" for name in rest.split()[:-1]}
    assert lines[0] == "*"
    assert copied - {"--from=build", ""} == let_in


def test_the_service_runs_as_its_own_user_with_little_power() -> None:
    settings = service()
    assert settings["User"] == "tenbell"
    assert settings["CapabilityBoundingSet"] == ""
    assert settings["ProtectSystem"] == "strict"
    assert settings["StateDirectoryMode"] == "0700"
    assert settings["UMask"] == "0077"
    for key in ("NoNewPrivileges", "PrivateTmp", "PrivateDevices", "ProtectHome", "MemoryDenyWriteExecute"):
        assert settings[key] == "yes"
    assert settings["ExecStart"].endswith("tenbell run")


def test_the_example_settings_are_readable_by_systemd_and_name_the_database() -> None:
    lines = [line for line in (FOLDER / "tenbell.env").read_text(encoding="utf-8").splitlines() if line]
    assert all(re.fullmatch(r"#.*|TENBELL_[A-Z_]+=\S+", line) for line in lines)
    assert f"TENBELL_DATABASE=/var/lib/{service()['StateDirectory']}/tenbell.db" in lines


def test_no_file_carries_a_token() -> None:
    for path in FOLDER.iterdir():
        text = path.read_text(encoding="utf-8")
        assert not re.search(r"TENBELL_TOKEN\s*=", text), path.name
        assert not re.search(r"[\w-]{20,}\.[\w-]{5,}\.[\w-]{20,}", text), path.name
