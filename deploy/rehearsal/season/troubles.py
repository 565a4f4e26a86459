"""What may go wrong in a season, by the names that are given on the command line."""

from deploy.rehearsal.server.fault_kinds import KINDS

KILL, DISK = "kill", "disk"
EVERYTHING = "all"
TROUBLES = (*KINDS, KILL, DISK, EVERYTHING)


def wanted_kinds(named: list[str]) -> frozenset[str]:
    """The kinds of fault that were asked for; `all` is every one."""
    return frozenset((*KINDS, KILL, DISK)) if EVERYTHING in named else frozenset(named)
