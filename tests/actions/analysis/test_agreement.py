"""Whether the judges agree is said with caution."""

from tests.actions.conftest import Begin, small_plan
from tests.actions.scored import BUNTING, whole
from tests.actions.table_help import add_judges, add_squads, hand_in


async def test_whether_the_judges_agree_is_said_with_caution(begin: Begin) -> None:
    asking, _ = await whole(begin)
    text = (await asking.message("results.judges:0")).text
    assert "Too few judges or squads to tell whether they agree." in text
    assert "judge 1 (Judge 1), 3 sheets: 1.0 sheet points harsher than the average judge" in text
    assert "never a verdict on a judge" in text


async def test_squads_whose_panels_share_no_judge_are_said_to_be_beyond_comparing(begin: Begin) -> None:
    bunting = small_plan().events[1]
    judged = bunting.model_copy(update={"measures": bunting.measures[:1]})
    asking = await begin("settled", events=(judged,), tie_breaks=())
    squads = await add_squads(asking, 3)
    first, second = await add_judges(asking, 2)
    for judge, squad in ((first, squads[0]), (first, squads[1]), (second, squads[2])):
        await hand_in(asking, judge, squad, "bunting", "bunting", BUNTING)
    text = (await asking.message("results.judges:0")).text
    assert "no chain of common judges links these groups" in text
    assert "**Crooked Spoons** and **Muddy Teapots**; **Sleepy Turnips**" in text
