"""What takes long is done beside the event loop and outside every transaction: solver, statistics, files, pictures."""

import threading
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

from bot.actions.scoring import score_book
from storage.store import Store
from tests.actions.class_list.test_class_list_admin import attach
from tests.actions.conftest import Begin, button
from tests.actions.event_day.day_cast import made
from tests.actions.filled_class import large_class
from tests.actions.office_cast import make_squad
from tests.actions.scored import whole

ANALYSED = ("results.panel", "results.firm", "results.judges:0", "results.squads:0", "results.squad-page:0:1")
"""Pages about the result. They are not asked for alone: what one has worked out is kept for the next."""


@pytest.fixture
def ran(monkeypatch: pytest.MonkeyPatch) -> Callable[..., dict[str, set[str]]]:
    """Watches functions, each named by the module that calls it; where each has run is told by the dictionary."""

    def watch(*places: str) -> dict[str, set[str]]:
        found: dict[str, set[str]] = {place: set() for place in places}
        for place in places:
            module, _, name = place.partition(":")
            _watch(monkeypatch, import_module(module), name, found[place])
        return found

    return watch


def _watch(monkeypatch: pytest.MonkeyPatch, module: Any, name: str, ran: set[str]) -> None:
    usual = getattr(module, name)

    def watched(*given: Any, **more: Any) -> Any:
        ran.add(threading.current_thread().name.split("_")[0])
        return usual(*given, **more)

    monkeypatch.setattr(module, name, watched)


def aside(found: dict[str, set[str]]) -> bool:
    """Every one of them has run, and none but in the thread that is kept for it."""
    return all(threads == {"aside"} for threads in found.values())


async def test_standings_statistics_and_pictures_of_a_result(
    begin: Begin, ran: Callable[..., dict[str, set[str]]]
) -> None:
    asking, _ = await whole(begin)
    score_book._KEPT.clear()
    found = ran(
        "bot.actions.scoring.score_book:standings",
        "bot.actions.analysis.robustness:judge_bootstrap",
        "bot.actions.results.who_won_and_why:agreements",
        "bot.words.scoring.standings_picture:Canvas",
        "bot.words.results.explain_total_picture:Canvas",
        "bot.words.analysis.robustness_picture:Canvas",
    )
    for page in ANALYSED:
        await asking.ask(page)
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    assert aside(found), found
    assert (await asking.tryout()).state == "announced"


async def test_the_solver_of_judges_and_of_the_timetable(begin: Begin, ran: Callable[..., dict[str, set[str]]]) -> None:
    found = ran(
        "bot.actions.judging.panels:assign",
        "bot.actions.judging.open_judging:assign",
        "bot.actions.event_day.timetable:make_timetable",
    )
    asking = await made(begin)
    await asking.ask("panels.size:bunting:bunting", values=("2",))
    async with asking.store.write() as db:
        await db.run("DELETE FROM panel_seat")
    await asking.ask("judging.open:bunting")
    assert aside(found), found


async def test_proposed_squads_and_files_of_the_coach(begin: Begin, ran: Callable[..., dict[str, set[str]]]) -> None:
    found = ran(
        "bot.rules.squads.proposal_search:propose",
        "bot.actions.class_list.attach_class_list:read_table",
        "bot.actions.plan.use_plan_file:read_plan",
    )
    asking = await begin()
    await make_squad(asking, 11, 3, "Crooked Spoons")
    await asking.ask("student.enter:look", 1, fields={"name": "Ida Quill", "section": "7-A"})
    await asking.ask("proposal.look")
    await attach(asking)
    file = {"name": "plan.toml", "data": b"name = 3", "size": 8}
    await asking.ask("plan.use", uploads={"plan": file})
    assert aside(found), found


@pytest.mark.parametrize(
    ("key", "beside"),
    [
        pytest.param("results.announce", True, id="what reads all marks of a class"),
        pytest.param("judging.open", True, id="what is prepared before it is done"),
        pytest.param("office", False, id="what reads little"),
    ],
)
async def test_what_reads_much_reads_it_beside_the_event_loop(
    tmp_path: Path, ran: Callable[..., dict[str, set[str]]], key: str, beside: bool
) -> None:
    async with large_class(tmp_path / "a.db", 3) as asking:
        pass
    async with Store.open(tmp_path / "a.db", durable=False) as asking.store:
        found = ran("bot.actions.core.dispatch:tryout_of")["bot.actions.core.dispatch:tryout_of"]
        await asking.ask(key)
    assert ("MainThread" not in found) is beside
    assert found
