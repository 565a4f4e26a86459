"""The systemd service of a server: its own user, little power, a watchdog, no token."""

import re
import shutil
import subprocess
from configparser import RawConfigParser
from pathlib import Path

import pytest

from bot.online_status import BEAT_S, STORE_S

FOLDER = Path(__file__).resolve().parents[2] / "deploy" / "server_service"


class Unit(RawConfigParser):
    """A systemd unit: keys keep their case, and one given twice holds both values."""

    def __init__(self) -> None:
        super().__init__(strict=False, delimiters=("=",), comment_prefixes=("#",), interpolation=None)

    def optionxform(self, optionstr: str) -> str:
        """Keep the key as it is written."""
        return optionstr


def service() -> dict[str, str]:
    """The service section of the unit."""
    unit = Unit()
    unit.read(FOLDER / "tenbell.service", encoding="utf-8")
    return dict(unit["Service"])


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
