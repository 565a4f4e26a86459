"""Records of invented squads, for texts that are composed from records alone."""

from datetime import UTC, datetime

from storage.records.people import Squad

CREATED = datetime(2027, 1, 4, 12, 0, tzinfo=UTC)


def squad(number: int, name: str, section: str = "7-A", captain_id: int | None = None) -> Squad:
    """A squad of that number and name."""
    return Squad(
        id=number,
        tryout_id=1,
        number=number,
        name=name,
        section=section,
        captain_id=captain_id,
        join_code="ABCDE",
        created_at=CREATED,
    )
