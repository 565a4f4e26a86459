"""One try-out on one class server, its state, its rooms, and the audit log of what was done."""

from datetime import datetime
from typing import Literal

from pydantic import Field

from storage.records.base import Record
from storage.records.plan import Plan

State = Literal["drafting", "signup", "window", "judging", "settled", "announced", "archived"]
STATES: tuple[State, ...] = ("drafting", "signup", "window", "judging", "settled", "announced", "archived")
BEFORE_BRIEF: tuple[State, ...] = ("drafting", "signup")
"""The states in which nobody has read the brief yet."""
FROM_BRIEF_TO_CLOSE: tuple[State, ...] = ("window", "judging")
"""The states in which squads work, run and are judged."""
AFTER_CLOSE: tuple[State, ...] = ("settled", "announced", "archived")
"""The states in which judging is closed."""
RoomKind = Literal["signup", "news", "squads", "office"]
ROOM_KINDS: tuple[RoomKind, ...] = ("signup", "news", "squads", "office")


class Tryout(Record):
    """One selection. `plan` is what counts; `plan_sha256` was frozen with the brief."""

    id: int
    server_id: int
    state: State
    plan: Plan
    plan_sha256: str | None = None
    rooms: dict[RoomKind, int] = {}
    created_at: datetime
    brief_at: datetime | None = None
    announced_at: datetime | None = None
    first_announced_at: datetime | None = None
    """Stays when an announcement is taken back."""
    judges_reminded_at: datetime | None = None
    """When a coach reminded the judges last."""
    audit_key: str | None = Field(default=None, repr=False)
    """The key (hexadecimal) of the pseudonyms in the audit log; None once names have been erased."""

    @property
    def result_stands(self) -> bool:
        """Whether the result is announced, so that nothing may change any more that it is computed from."""
        return self.state in ("announced", "archived")


class AuditEntry(Record):
    """One thing that was done; people stand in it as pseudonyms and ids, so that forgetting leaves the chain whole."""

    seq: int
    tryout_id: int | None
    at: datetime
    actor: str
    """`person:PSEUDONYM` (in entries from before there were pseudonyms `user:ACCOUNT`), or `clock`."""
    action: str
    details: dict[str, object] = {}
    previous: str
    digest: str
