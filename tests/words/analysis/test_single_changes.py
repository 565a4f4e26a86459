"""What is said of one judge less, or another scale, held against what it says."""

import re

from hypothesis import given

from bot.rules.analysis.robustness import firmness
from bot.rules.analysis.what_if import without_judge
from bot.rules.scoring.standings import standings
from bot.words.analysis.single_changes import trial_line
from storage.records.scores import ScoreBook
from tests.rules.analysis.test_placing_bootstrap import marking
from tests.rules.books import counted_book, event, plan
from tests.words.analysis.test_robustness import TRIES, holders, panels, seen


@TRIES
@given(panels())
def test_what_is_said_of_each_judge_is_true_without_that_judge(book: ScoreBook) -> None:
    result = seen(book)
    ranked = {row.squad_id for row in result.standings.rows}
    said = trial_line(result, firmness(book, result.standings), "judge")
    now = holders(book)
    alike: list[int] = []
    for judge in marking(book):
        other = without_judge(book, judge)
        then, left = holders(other), ranked - {row.squad_id for row in standings(other).rows}
        sentences = [one for one in re.split(r"(?<=\.) ", said) if re.search(rf"judge {judge}\b", one)]
        told = " ".join(sentences)
        if (now[0] | now[1]) & left:
            assert "it cannot be told" in told
        elif then == now:
            assert "would hold" not in told
            assert "cannot be told" not in told
            alike.append(judge)
        else:
            names = {int(name) for one in sentences if "would" in one for name in re.findall(r"Squad (\d)", one)}
            assert then[0] | then[1] <= names
            assert ("would tie" in told) == bool(then[1])
        if left:
            assert all(f"Squad {squad}" in told for squad in left) or f"{len(left)} squads" in told
        for reason, words in (("unconnected", "for want of a chain"), ("no_sheet", "no sheet left")):
            if reason in {gap.kind for squad, gap in standings(other).gaps if squad in left} and len(left) == 1:
                assert words in told
    if len(alike) > 1:
        assert re.search(rf"any one of the (other )?{len(alike)} judges", said)


def test_a_scale_that_cannot_be_tried_says_why() -> None:
    book = counted_book([[5], [4]], [1])
    bare = event("e1", *[m.model_copy(update={"maximum": None, "scale": "best"}) for m in book.plan.events[0].measures])
    result = seen(book.model_copy(update={"plan": plan(bare)}))
    said = trial_line(result, firmness(result.book, result.standings), "scale")
    assert "Scored as percent of the maximum it cannot be told: the plan gives a measure no maximum." in said
    assert "On any of the other 3 scales the place stays where it is." in said
