"""The second plan that is shipped, from the table to the announcement: every kind of measure, worked by hand.

Bridge of squad 1: mass 120 g of 300 to 60: 3/4. Load 8 of 10 kg: 4/5. Rules 5 of 5 points: 1. Cars: the mean of the
best two of 27, 50 and 0 is 38.5 of 50: 77/100. Weighted 2, 2, 1, 1: 487/600.
Debate: marks 10 of 12; by rank of minutes 0;
60 s where 30 is best: 1/2; all members: 1. Weighted 3, 1, 1, 1: 2/3. Total 0.6 x 487/6 + 0.4 x 200/3 = 2261/30.
Squad 2: 0, 1 (12 kg are capped), 0 (-2 points), 0: 1/3; 6 of 12, 1, 1, 1/3: 23/36. Total 20 + 0.4 x 575/9 = 410/9.
"""

from fractions import Fraction

from bot.actions.scoring.score_book import score_book
from bot.rules.plan.read_plan import read_plan
from bot.rules.scoring.packet_build import build
from bot.rules.scoring.packet_verify import verify
from bot.rules.scoring.standings import standings
from bot.words.plan.builtin_plan import bridges_and_debate_plan_text
from storage.records.plan import Plan
from tests.actions.conftest import Begin
from tests.actions.scored import preview, settle
from tests.actions.table_help import add_judges, add_squads, hand_in

TYPED = {
    "bridge.mass": (["120"], ["300"]),
    "bridge.load": (["6", "8"], ["11.5", "12"]),
    "bridge.rules": (["1110"], ["0001"]),
    "bridge.cars": (["4,1,1:0", "6,2,0:0", "0,0,0:0"], ["0,0,0:0"] * 3),
    "debate.overtime": (["2:0"], ["0:0"]),
    "debate.ready": (["60:0"], ["20:1"]),
    "debate.spoke": (["3"], ["1"]),
}


async def test_a_plan_of_another_subject_is_scored_as_its_page_says(begin: Begin) -> None:
    plan = read_plan(bridges_and_debate_plan_text())
    asking = await begin("judging", **{name: getattr(plan, name) for name in Plan.model_fields})
    squads = await add_squads(asking, 2)
    async with asking.store.write() as db:
        for squad, section in zip(squads, plan.sections, strict=True):
            await db.run("UPDATE squad SET section = ? WHERE id = ?", section, squad)
    for judge in await add_judges(asking, 3):
        await hand_in(asking, judge, squads[0], "debate", "speech", {"reasons": 3, "answers": 4})
        await hand_in(asking, judge, squads[1], "debate", "speech", {"reasons": 2, "answers": 2})
    for about, each in TYPED.items():
        for squad, attempts in zip(squads, each, strict=True):
            for number, typed in enumerate(attempts, 1):
                saved = await asking.message(f"table.save:{about}:{squad}:{number}:{typed}")
                assert saved.text.startswith("Saved."), saved.text
    await settle(asking)
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        book = await score_book(db, tryout)
    result = standings(book)
    assert {row.squad_id: row.total for row in result.rows} == {
        squads[0]: Fraction(2261, 30),
        squads[1]: Fraction(410, 9),
    }
    assert result.placed == tuple(squads) and result.complete
    assert all(stage.right for stage in verify(build(book, result)))
    text = (await preview(asking)).text
    assert "- 1 place for 9 Oak: **Crooked Spoons**" in text and "- 1 place for 9 Pine: **Muddy Teapots**" in text
    firm = (await asking.message("results.firm")).text
    assert "it is not worked out how other weights would move them" in firm
    way = (await asking.message("results.squad", fields={"squad": "1"})).text
    for part in ("120 g, lower is better", "8 kg (best)", "3 of 4 ticked", "38.5 points (mean of the best two)"):
        assert part in way, way
