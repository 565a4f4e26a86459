"""What if? Tried privately, and nothing official moves."""

from decimal import Decimal
from typing import Any

import pytest

import bot.actions.analysis.what_if  # noqa: F401
from bot.actions.judging.judges_admin import enrol
from storage.records.message import SelectField, TextField
from tests.actions.conftest import COACH, Begin
from tests.actions.scored import preview, whole
from tests.actions.table_help import hand_in


async def test_the_form_holds_the_official_weights(begin: Begin) -> None:
    asking, _ = await whole(begin)
    form = await asking.form("results.what-if")
    weights, scale, rule, panel = form.fields
    assert isinstance(weights, TextField) and isinstance(rule, SelectField) and isinstance(panel, SelectField)
    assert isinstance(scale, SelectField) and len(scale.choices) == 6
    assert weights.value == "Sock run: 40\nBunting: 30\nPaper chain: 30"
    assert [choice.label for choice in rule.choices][:2] == ["As in the plan", "Mean of the judges"]
    assert [choice.label for choice in panel.choices] == [
        "All judges",
        "Without judge 1 (Judge 1)",
        "Without judge 2 (Judge 2)",
    ]


async def test_other_weights_are_tried_beside_the_official_ones_which_stay(begin: Begin) -> None:
    asking, squads = await whole(begin)
    async with asking.store.write() as db:
        await db.run("UPDATE sheet SET marks_json = json_set(marks_json, '$.reasons', 4) WHERE squad_id = ?", squads[2])
        await db.run(
            "UPDATE sheet SET marks_json = json_set(marks_json, '$.reasons', 1) WHERE squad_id <> ?", squads[2]
        )
    before = (await preview(asking)).text
    fields = {"weights": "bunting: 100\nrun: 0\nPaper chain: 0", "scale": "-", "judge": "-"}
    text = (await asking.message("results.tried", fields=fields)).text
    assert "weights Sock run 0, Bunting 100, Paper chain 0" in text
    assert "1\\. **Sleepy Turnips**" in text and "(officially " in text
    assert (await preview(asking)).text == before
    assert (await asking.tryout()).plan.events[0].weight == 40


async def test_a_scale_and_a_judge_less_are_tried_too(begin: Begin) -> None:
    asking, _ = await whole(begin)
    text = (
        await asking.message("results.tried", fields={"weights": "", "scale": "rank", "panel": "median", "judge": "1"})
    ).text
    assert "every measure as ranks, median of the judges and without judge 1 (Judge 1)" in text
    assert "**Crooked Spoons** would hold the place, as now." in text


@pytest.mark.parametrize(
    ("scale", "numbers", "said"),
    [
        ("maximum", {"maximum": None}, "no maximum above 0, so not everything can be scored as percent of the maximum"),
        ("between", {"floor": Decimal(2)}, "only one end, or twice the same"),
    ],
)
async def test_a_scale_that_the_plan_has_no_numbers_for_blames_the_choice_not_the_plan(
    begin: Begin, scale: str, numbers: dict[str, Any], said: str
) -> None:
    asking, _ = await whole(begin)
    plan = (await asking.tryout()).plan
    run, *rest = plan.events
    bare = run.measures[0].model_copy(update={"scale": "best", "maximum": None, "floor": None, "full": None} | numbers)
    run = run.model_copy(update={"measures": (bare, *run.measures[1:])})
    async with asking.store.write() as db:
        changed = plan.model_copy(update={"events": (run, *rest)})
        await db.run("UPDATE tryout SET plan_json = ?", changed.model_dump_json())
    text = (await asking.message("results.tried", fields={"weights": "", "scale": scale})).text
    assert said in text and text.endswith("Choose another scale.") and "None" not in text


@pytest.mark.parametrize(
    ("weights", "said"),
    [
        ("Sock run 40", "I cannot read **Sock run 40**"),
        ("Rowing: 40", "no event **Rowing**"),
        ("run: many", "will not do for the weight of run"),
        ("run: 0\nbunting: 0\nchain: 0", "At least one event"),
    ],
)
async def test_weights_that_cannot_be_read_are_refused_in_words(begin: Begin, weights: str, said: str) -> None:
    asking, _ = await whole(begin)
    assert said in (await asking.message("results.tried", fields={"weights": weights})).text


async def test_a_coach_with_an_open_sheet_cannot_try_around_it(begin: Begin) -> None:
    asking, squads = await whole(begin)
    async with asking.store.write() as db:
        own = await enrol(db, 1, COACH, "Coach")
    await hand_in(asking, own, squads[1], "bunting", "bunting", {})
    assert "1 score sheet of your own to hand in" in (await asking.message("results.what-if")).text
