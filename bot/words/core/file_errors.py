"""What the command line says of a file or a database that it cannot use: one clear sentence each."""


def database_in_use(path: str) -> str:
    """Another process has the database."""
    return f"Another Tenbell is running on {path}. Stop it first, or name another file (TENBELL_DATABASE)."


def database_newer(path: str) -> str:
    """A newer program wrote the database, or the backup of one."""
    return f"{path} was written by a newer Tenbell. Install that version again; nothing was changed."


def database_unusable(path: str, why: str) -> str:
    """The database cannot be opened or written."""
    return f"I cannot use the database {path}: {why}. Check the folder, its permissions and the free space."


def database_damaged(path: str) -> str:
    """SQLite finds the database broken."""
    return f"{path} is damaged. Nothing was changed; put a backup in its place with: tenbell restore BACKUP"


def no_such_file(path: str) -> str:
    """A file named on the command line is not there."""
    return f"There is no file {path} that I can read."
