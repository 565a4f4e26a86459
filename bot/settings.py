"""What the surroundings decide: token, database, and, for a server on this machine, its address and its clock."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlsplit

from bot.loopback import is_loopback
from bot.words.core import startup_errors

DATABASE = Path("tenbell.db")


class BadSetting(Exception):
    """A setting is missing or wrong; the text says what to do."""


@dataclass(frozen=True)
class Settings:
    """The settings of one run."""

    token: str = field(repr=False)
    database: Path = DATABASE
    api: str | None = None
    """REST base of a compatible server; None for the public one."""
    clock: str | None = None
    """Address of a clock on this machine that stands in for the machine's own."""


def read_settings(environment: Mapping[str, str]) -> Settings:
    """The settings in the environment; the token may also stand in a file, never in an argument.

    Raises:
        BadSetting: something is missing or wrong.
    """
    api = environment.get("TENBELL_API") or None
    clock = environment.get("TENBELL_CLOCK") or None
    if api is not None:
        api = checked_address(api, "TENBELL_API", secure="https", plain="http")
    if clock is not None and not is_loopback(clock):
        raise BadSetting(startup_errors.clock_elsewhere(clock))
    return Settings(
        token=_token(environment),
        database=read_database(environment),
        api=api,
        clock=clock,
    )


def read_database(environment: Mapping[str, str]) -> Path:
    """The database file that the environment names, or the usual one."""
    return Path(environment.get("TENBELL_DATABASE") or DATABASE)


def _token(environment: Mapping[str, str]) -> str:
    token = environment.get("TENBELL_TOKEN", "")
    file = environment.get("TENBELL_TOKEN_FILE", "")
    if not token and file:
        try:
            token = Path(file).read_text("utf-8")
        except (OSError, UnicodeDecodeError) as error:
            raise BadSetting(startup_errors.token_file_unreadable(file)) from error
    token = token.strip()
    if not token:
        raise BadSetting(startup_errors.no_token())
    if any(character.isspace() for character in token):
        raise BadSetting(startup_errors.odd_token())
    return token


def checked_address(address: str, name: str, secure: str, plain: str) -> str:
    """An address that carries the token safely: encrypted anywhere, plain only on this machine.

    Raises:
        BadSetting: it is not such an address.
    """
    scheme = urlsplit(address).scheme
    if scheme == secure or (scheme == plain and is_loopback(address)):
        return address.rstrip("/")
    raise BadSetting(startup_errors.unsafe_address(name, address, secure))
