"""Where messages for a squad or a judge go."""

from datetime import UTC, datetime

from bot.rules.delivery.destination import gets_messages, way_to
from storage.records.people import Judge, Squad

AT = datetime(2027, 1, 12, 12, 0, tzinfo=UTC)
JUDGE = Judge.model_validate({"id": 1, "tryout_id": 1, "number": 1, "platform_id": 7, "name": "Ms Abara"})


def test_only_a_judge_who_has_agreed_is_written_to_directly_or_in_a_room() -> None:
    def way(**changes: object) -> str:
        return way_to(JUDGE.model_copy(update=changes))

    assert way() == "unasked" and way(opted_in_at=AT) == "direct"
    assert way(opted_in_at=AT, direct_closed_at=AT) == "room"
    assert way(opted_in_at=AT, removed=True) == way(opted_in_at=AT, platform_id=-1) == "gone"


def test_the_room_of_a_squad_that_has_withdrawn_gets_no_messages() -> None:
    squad = Squad(
        id=1, tryout_id=1, number=1, name="Larks", section="7-A", captain_id=None, join_code="A", created_at=AT
    )
    assert gets_messages(squad) and not gets_messages(squad.model_copy(update={"withdrawn": True}))
