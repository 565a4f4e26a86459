"""`tenbell service install` and `tenbell service remove`."""

import os
import platform
import shlex
import subprocess
import sys
from pathlib import Path

from deploy.user_service.unit_files import Service, database_of, home_of, pausing, resuming, starting, stopping

PROGRAM = Path(__file__).resolve().parents[2]
_LOG_IN = (
    "\nLog in as the user it is to run for, not by su or sudo, and type it again. For a server there is a unit in "
    "deploy/server_service."
)
NO_TOKEN_FILE = "Put the bot's token into a file of its own that only you can read, and name it with --token-file FILE."


class ServiceTrouble(Exception):
    """The service could not be set up or removed; the text says why and what to do."""


def install(database: Path, token_file: Path | None, *, only_print: bool = False) -> str:
    """Have the bot started with the machine; returns what to tell.

    Raises:
        ServiceTrouble: it cannot be done.
    """
    if token_file is None:
        raise ServiceTrouble(NO_TOKEN_FILE)
    system = _system()
    service = _service(database, token_file)
    file, text = home_of(service, system, Path.home())
    commands = starting(system, file, _user())
    if only_print:
        shown = text.decode("utf-16" if system == "Windows" else "utf-8")
        return f"{file}\n\n{shown}\n" + "\n".join(shlex.join(command) for command in commands)
    if not token_file.is_file():
        raise ServiceTrouble(f"There is no file {token_file}. Put the bot's token into a file of its own and name it.")
    if not database.absolute().parent.is_dir():
        raise ServiceTrouble(f"There is no folder {database.absolute().parent} for the database.")
    if os.name == "posix" and token_file.stat().st_mode & 0o077:
        raise ServiceTrouble(f"Others on this computer can read {token_file}. Forbid it with: chmod 600 {token_file}")
    if system == "Darwin" and file.exists():
        # What launchd has loaded under this name must go before it takes the new one.
        _run(stopping(system, _user()), strict=False)
    known = file.exists()
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(text)
    except OSError as error:
        raise ServiceTrouble(f"I cannot write {file} ({error.strerror}).") from error
    try:
        _run(commands[:1])
    except ServiceTrouble as trouble:
        if not known:
            file.unlink()
        raise ServiceTrouble(f"{trouble}{_LOG_IN if 'connect to bus' in str(trouble) else ''}") from trouble
    _run(commands[1:])
    told = f"Tenbell runs now, and again whenever you log in. How it is: tenbell status --database {service.database}"
    if system == "Linux":
        told += "\nSo that it runs while you are not logged in, too, once: loginctl enable-linger"
    return told


def remove() -> tuple[Path, str]:
    """Stop the bot and have it started no more; returns its database, which stays, and what to tell.

    Raises:
        ServiceTrouble: it cannot be done.
    """
    system, file = _system(), _file()
    try:
        database = database_of(system, file.read_bytes())
    except FileNotFoundError:
        raise ServiceTrouble("Tenbell is not installed as a service of yours.") from None
    except (OSError, ValueError, SyntaxError) as error:
        raise ServiceTrouble(f"I did not write {file} like this. Remove it by hand.") from error
    _run(stopping(system, _user()), strict=False)
    file.unlink()
    if system == "Linux":
        _run([["systemctl", "--user", "daemon-reload"]], strict=False)
    return database, "Tenbell is stopped and no longer a service. Its database stays where it is."


def installed() -> bool:
    """Whether the bot is a service of this user."""
    try:
        return _file().exists()
    except ServiceTrouble:
        return False


def pause() -> None:
    """Stop the installed service for a while.

    Raises:
        ServiceTrouble: that does not work.
    """
    _run(pausing(_system(), _user()))


def resume() -> None:
    """Start the installed service again.

    Raises:
        ServiceTrouble: that does not work.
    """
    _run(resuming(_system(), _file(), _user()))


def _file() -> Path:
    return home_of(_service(Path("tenbell.db"), Path("token")), _system(), Path.home())[0]


def _service(database: Path, token_file: Path) -> Service:
    database = database.absolute()
    return Service(
        python=Path(sys.executable).absolute(),
        program=PROGRAM,
        database=database,
        token_file=token_file.absolute(),
    )


def _system() -> str:
    system = platform.system()
    if system not in ("Linux", "Darwin", "Windows"):
        raise ServiceTrouble(f"I know no services on {system}. Start Tenbell with: tenbell run")
    return system


def _user() -> int:
    return os.getuid() if hasattr(os, "getuid") else 0


def _run(commands: list[list[str]], *, strict: bool = True) -> None:
    for command in commands:
        try:
            done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
        except (OSError, subprocess.TimeoutExpired) as error:
            raise ServiceTrouble(f"{command[0]} does not work here ({type(error).__name__}).") from error
        if strict and done.returncode:
            said = (done.stderr or done.stdout).strip().splitlines()
            raise ServiceTrouble(f"{shlex.join(command)} failed: {said[-1] if said else 'no reason given'}")
