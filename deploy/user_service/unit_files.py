"""What each operating system wants to read about the service: a systemd unit, a launchd list, a scheduled task."""

import plistlib
import re
import shlex
from dataclasses import dataclass
from pathlib import Path, PurePath
from xml.etree import ElementTree

NAME = "tenbell"
LABEL = "tenbell.bot"
"""What launchd knows it by."""
LOG = "tenbell.log"
"""The file in which launchd keeps what the bot says; the other systems have a place of their own for it."""
TASK_NAMESPACE = "http://schemas.microsoft.com/windows/2004/02/mit/task"
DESCRIPTION = "Tenbell, the assistant of a class's robotics try-out"


@dataclass(frozen=True)
class Service:
    """What runs, and on what; all paths absolute. Nothing is secret: the token stays a file."""

    python: PurePath
    program: PurePath
    """The folder that holds the program's packages."""
    database: PurePath
    token_file: PurePath

    @property
    def log(self) -> PurePath:
        """The file beside the database into which launchd writes what goes on."""
        return self.database.with_name(LOG)

    @property
    def arguments(self) -> list[str]:
        """What the interpreter is given."""
        return ["-m", "bot", "run", "--database", str(self.database), "--token-file", str(self.token_file)]


def systemd_unit(service: Service) -> str:
    """A unit for the user's own systemd; the log goes to the journal."""
    command = " ".join(_quoted(part) for part in (str(service.python), *service.arguments))
    return f"""\
[Unit]
Description={DESCRIPTION}
StartLimitIntervalSec=0

[Service]
Type=notify
NotifyAccess=main
ExecStart={command}
WorkingDirectory={_unescaped(str(service.program))}
Environment=PYTHONUNBUFFERED=1
Restart=on-failure
RestartSec=10
TimeoutStartSec=120
TimeoutStopSec=10
WatchdogSec=90
UMask=0077
NoNewPrivileges=yes
LockPersonality=yes
RestrictRealtime=yes
RestrictSUIDSGID=yes
SystemCallArchitectures=native

[Install]
WantedBy=default.target
"""


def _unescaped(text: str) -> str:
    """A path for systemd, which gives a meaning to the percent sign."""
    return text.replace("%", "%%")


def _quoted(text: str) -> str:
    """One word of a command line of systemd: quotes, backslashes, percent and dollar signs mean themselves."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"').replace("%", "%%").replace("$", "$$")
    return f'"{escaped}"'


def launchd_list(service: Service) -> bytes:
    """A property list for launchd: started at the log-in, and again whenever it ends with a fault."""
    return plistlib.dumps(
        {
            "Label": LABEL,
            "ProgramArguments": [str(service.python), *service.arguments],
            "WorkingDirectory": str(service.program),
            "EnvironmentVariables": {"PYTHONUNBUFFERED": "1"},
            "RunAtLoad": True,
            "KeepAlive": {"SuccessfulExit": False},
            "ThrottleInterval": 10,
            "ExitTimeOut": 10,
            "ProcessType": "Background",
            # Octal 077: what it writes is for nobody else. A property list knows decimal numbers only.
            "Umask": 0o077,
            "StandardOutPath": str(service.log),
            "StandardErrorPath": str(service.log),
        }
    )


def windows_task(service: Service) -> bytes:
    """A task for the Task Scheduler, in UTF-16 as it wants it: from the log-in on, and again after a fault."""
    task = ElementTree.Element("Task", {"version": "1.3", "xmlns": TASK_NAMESPACE})
    _add(task, "RegistrationInfo", Description=DESCRIPTION)
    _add(_add(task, "Triggers"), "LogonTrigger", Enabled="true")
    _add(_add(task, "Principals"), "Principal", LogonType="InteractiveToken", RunLevel="LeastPrivilege")
    settings = _add(
        task,
        "Settings",
        MultipleInstancesPolicy="IgnoreNew",
        DisallowStartIfOnBatteries="false",
        StopIfGoingOnBatteries="false",
        StartWhenAvailable="true",
        ExecutionTimeLimit="PT0S",
    )
    _add(settings, "RestartOnFailure", Interval="PT1M", Count="255")
    _add(
        _add(task, "Actions"),
        "Exec",
        Command=str(service.python),
        Arguments=" ".join(_windows_word(part) for part in service.arguments),
        WorkingDirectory=str(service.program),
    )
    ElementTree.indent(task)
    return b"\xff\xfe" + (
        '<?xml version="1.0" encoding="UTF-16"?>\n' + ElementTree.tostring(task, encoding="unicode") + "\n"
    ).encode("utf-16-le")


def _add(parent: ElementTree.Element, name: str, **texts: str) -> ElementTree.Element:
    found = ElementTree.SubElement(parent, name)
    for key, text in texts.items():
        ElementTree.SubElement(found, key).text = text
    return found


def _windows_word(text: str) -> str:
    """One word of a Windows command line; a path cannot hold a quotation mark there."""
    return f'"{text}"' if " " in text else text


def home_of(service: Service, system: str, home: Path) -> tuple[Path, bytes]:
    """Which file holds the service on a system (as `platform.system()` names it), and what stands in it.

    Raises:
        LookupError: the system is not known.
    """
    match system:
        case "Linux":
            return home / ".config" / "systemd" / "user" / f"{NAME}.service", systemd_unit(service).encode()
        case "Darwin":
            return home / "Library" / "LaunchAgents" / f"{LABEL}.plist", launchd_list(service)
        case "Windows":
            return home / "AppData" / "Local" / "Tenbell" / f"{NAME}.xml", windows_task(service)
    raise LookupError(system)


def database_of(system: str, text: bytes) -> Path:
    """The database that an installed service works on.

    Raises:
        ValueError: the file is not one of ours.
    """
    if system == "Linux":
        line = next((line for line in text.decode().splitlines() if line.startswith("ExecStart=")), "")
        words = [word.replace("%%", "%").replace("$$", "$") for word in shlex.split(line.partition("=")[2])]
    elif system == "Darwin":
        words = list(plistlib.loads(text).get("ProgramArguments", ()))
    else:
        given = ElementTree.fromstring(text).findtext(f".//{{{TASK_NAMESPACE}}}Arguments") or ""
        words = [quoted or plain for quoted, plain in re.findall(r'"([^"]*)"|(\S+)', given)]
    return Path(words[words.index("--database") + 1])


def pausing(system: str, user: int) -> list[list[str]]:
    """The commands that stop a service for a while."""
    return {
        "Linux": [["systemctl", "--user", "stop", f"{NAME}.service"]],
        "Darwin": [["launchctl", "bootout", f"gui/{user}/{LABEL}"]],
        "Windows": [["schtasks", "/End", "/TN", NAME]],
    }[system]


def resuming(system: str, file: Path, user: int) -> list[list[str]]:
    """The commands that start it again."""
    return {
        "Linux": [["systemctl", "--user", "start", f"{NAME}.service"]],
        "Darwin": [["launchctl", "bootstrap", f"gui/{user}", str(file)]],
        "Windows": [["schtasks", "/Run", "/TN", NAME]],
    }[system]


def starting(system: str, file: Path, user: int) -> list[list[str]]:
    """The commands that take a service up and start it."""
    return {
        "Linux": [
            ["systemctl", "--user", "daemon-reload"],
            ["systemctl", "--user", "enable", f"{NAME}.service"],
            ["systemctl", "--user", "restart", f"{NAME}.service"],
        ],
        "Darwin": [["launchctl", "bootstrap", f"gui/{user}", str(file)]],
        "Windows": [
            ["schtasks", "/Create", "/TN", NAME, "/XML", str(file), "/F"],
            ["schtasks", "/Run", "/TN", NAME],
        ],
    }[system]


def stopping(system: str, user: int) -> list[list[str]]:
    """The commands that stop a service and forget it."""
    return {
        "Linux": [["systemctl", "--user", "disable", "--now", f"{NAME}.service"]],
        "Darwin": [["launchctl", "bootout", f"gui/{user}/{LABEL}"]],
        "Windows": [["schtasks", "/End", "/TN", NAME], ["schtasks", "/Delete", "/TN", NAME, "/F"]],
    }[system]
