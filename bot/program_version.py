"""The version of the program, as it was installed: what `tenbell --version` and the status file say."""


def program_version() -> str | None:
    """The version of the installed program; None where it runs without having been installed."""
    # Late: it takes longer than most of what else happens before the platform is reached.
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version("tenbell")
    except PackageNotFoundError:
        return None
