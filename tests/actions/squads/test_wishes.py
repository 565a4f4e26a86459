"""Wishes of students without a squad are private, kept where they can be, and taken back."""

from tests.actions.conftest import Begin, button
from tests.actions.squads.test_proposals import lonely, wish


async def test_wishes_are_kept_and_only_counted_where_they_cannot_be(begin: Begin) -> None:
    asking = await begin()
    await lonely(asking, 1, 6)
    shown = await wish(asking, 1, 5, 6)
    assert "With: Student 5 and Student 6" in shown.text and "Only you and coaches can read them" in shown.text
    shown = await wish(asking, 1, 2, together=False)
    assert "Rather not with: Student 2" in shown.text
    for who in (2, 3, 4):
        await wish(asking, who, *({2, 3, 4} - {who}))
    await wish(asking, 4, 1)
    draft = await asking.message(button(await asking.message("proposal.show"), "Look for squads").key)
    assert "new squad 1: Student 1, Student 5 and Student 6" in draft.text
    assert "new squad 2: Student 2, Student 3 and Student 4" in draft.text
    assert "“with” that could not be kept: 1" in draft.text and "“rather not with” that" not in draft.text
    async with asking.store.read() as db:
        log = "".join(row[0] for row in await db.rows("SELECT action FROM audit_log"))
    assert "wish" not in log


async def test_a_wish_is_taken_back_and_goes_with_the_student(begin: Begin) -> None:
    asking = await begin()
    await lonely(asking, 1, 3)
    await wish(asking, 1, 2)
    assert "With: nobody yet" in (await wish(asking, 1)).text
    await wish(asking, 1, 2, together=False)
    await wish(asking, 3, 1)
    await asking.ask("people.account-forgotten:1")
    async with asking.store.read() as db:
        assert await db.rows("SELECT * FROM wish") == []
