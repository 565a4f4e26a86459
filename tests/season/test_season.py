"""A whole undisturbed season: what was counted, what people were told, and what can be recomputed."""

import json
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from datetime import datetime, time
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from bot.rules.plan.read_plan import fingerprint, read_plan
from bot.words.core.custom_ids import ALL_KEYS
from deploy.rehearsal.cast.people import TYPIST
from deploy.rehearsal.season.output_page import write_output_page
from deploy.rehearsal.wire.openapi_schema import schema_path
from tests.season.expected_outcome import WELCOME
from tests.season.kinds_played_elsewhere import IN_A_LARGE_CLASS, IN_ANOTHER_PLAN, ON_TWO_CLASS_SERVERS, TYPED
from tests.season.played_season import Season, play_season
from tests.season.typed_values import Json, text_of
from tests.words.avoided import avoided_in

pytestmark = pytest.mark.season
KEYS = {
    *("seed", "plan_sha256", "squads", "students", "judges", "reminders", "sheets", "attempts", "acknowledged", "lost"),
    *("doubled", "kills", "restarts", "requests", "schema", "ack_ms", "standings", "wall_s"),
}


@pytest.fixture(scope="module")
def season(tmp_path_factory: pytest.TempPathFactory) -> Season:
    return play_season(tmp_path_factory.mktemp("season"), seed=1)


def test_no_message_or_picture_of_a_season_holds_a_word_that_we_avoid(season: Season) -> None:
    entries = [json.loads(line) for line in season.transcript.splitlines()]
    said = [json.dumps(entry["body"]) for entry in entries if entry["who"] == "Tenbell"]
    assert len(said) > 2000
    assert [found for text in said for found in avoided_in(text)] == []


def test_no_bold_text_of_a_season_stands_in_bold_text(season: Season) -> None:
    """Two stars end what two stars began: `**a **b** c**` would show `b` plain, and the stars of the others."""
    entries = [json.loads(line) for line in season.transcript.splitlines()]
    said = {one["text"] for entry in entries for one in entry["body"].get("blocks", ()) if "text" in one}
    bold = [part for text in said for line in text.split("\n") for part in line.replace("\\*", "").split("**")[1::2]]
    assert len(bold) > 2000
    assert [part for part in bold if part != part.strip()] == []


def test_season_json_has_its_keys(season: Season) -> None:
    figures = json.loads((season.out / "season.json").read_text("utf-8"))
    assert figures.keys() >= KEYS
    assert figures["reminders"].keys() >= {"planned", "sent", "skipped", "doubled", "late_s_p99"}
    assert figures["sheets"].keys() == {"due", "submitted"}
    assert figures["ack_ms"].keys() == {"p50", "p99", "max"}
    assert all(row.keys() >= {"rank", "squad", "total", "events"} for row in figures["standings"])


def test_the_cast_is_as_large_as_a_real_year(season: Season) -> None:
    figures = season.figures
    assert (figures["squads"], figures["judges"]) == (14, 6)
    assert 55 <= figures["students"] <= 65


def test_nothing_acknowledged_was_lost_and_nothing_was_said_twice(season: Season) -> None:
    figures = season.figures
    assert figures["lost"] == 0, figures["lost_what"]
    assert figures["doubled"] == 0, figures["doubled_what"]
    assert figures["acknowledged"] > 300


def test_everything_that_people_were_due_came_and_is_what_they_typed_makes(season: Season) -> None:
    assert season.oracle.complaints() == []


def _without(entries: list[Json], containing: str) -> list[Json]:
    """The transcript without the first public message that contains a text."""
    gone = next(entry for entry in entries if entry["kind"] == "message" and containing in text_of(entry))
    return [entry for entry in entries if entry is not gone]


def _replaced(entries: list[Json], containing: str, old: str, new: str) -> list[Json]:
    """The transcript with other words in the first message that contains a text."""
    found = next(entry for entry in entries if containing in text_of(entry) and old in json.dumps(entry))
    other = json.loads(json.dumps(found).replace(old, new))
    return [other if entry is found else entry for entry in entries]


def _by(entries: list[Json], title: str, name: str) -> list[Json]:
    """The transcript in which somebody typed the first form of a title, and read what came of it."""
    at = next(place for place, entry in enumerate(entries) if entry["body"].get("title", "").startswith(title))
    was, until = entries[at]["private_to"], at + 3
    other = [one | {"who": name if one["who"] == was else one["who"], "private_to": name} for one in entries[at:until]]
    return [*entries[:at], *other, *entries[until:]]


def _twice(entries: list[Json], containing: str) -> list[Json]:
    found = next(entry for entry in entries if entry["kind"] == "message" and containing in text_of(entry))
    return [*entries, found]


def _stale(entries: list[Json], containing: str) -> list[Json]:
    """The transcript in which a squad is told at last what it was told at first."""
    found = [e for e in entries if e["kind"] == "message" and containing in text_of(e)]
    own = [e for e in found if e["room"] == found[0]["room"]]
    return [entry | {"body": own[0]["body"]} if entry is own[-1] else entry for entry in entries]


def _swapped(entries: list[Json], containing: str) -> list[Json]:
    """The transcript in which two squads got each other's message."""
    one, other = [e for e in entries if e["kind"] == "message" and containing in text_of(e)][:2]
    bodies = {id(one): other["body"], id(other): one["body"]}
    return [entry | {"body": bodies[id(entry)]} if id(entry) in bodies else entry for entry in entries]


TAMPERED: dict[str, Callable[[list[Json]], list[Json]]] = {
    "a squad gets no result": lambda e: _without(e, "**Your result**"),
    "a squad gets no feedback": lambda e: _without(e, "**Feedback for "),
    "a squad gets its feedback twice": lambda e: _twice(e, "**Feedback for "),
    "two squads get each other's feedback": lambda e: _swapped(e, "**Feedback for "),
    "two squads get each other's result": lambda e: _swapped(e, "**Your result**"),
    "a total is wrong": lambda e: _replaced(e, "**Your result**", "**Total: ", "**Total: 1"),
    "a criterion is wrong": lambda e: _replaced(e, "**Your result**", "One idea: ", "One idea: 9"),
    "no result is announced": lambda e: _without(e, ": the result**"),
    "a squad reads no corrected result": lambda e: _without(e, "**Your corrected result**"),
    "a corrected total is wrong": lambda e: _replaced(e, "**Your corrected result**", "**Total: ", "**Total: 1"),
    "a result is corrected that nobody took back": lambda e: _without(e, "is being checked again"),
    "a squad is told of no missing part": lambda e: _without(e, "please add your part to **Bunting**"),
    "a reminder leaves somebody out": lambda e: _replaced(e, "please add your part", " and ", " or "),
    "a reminder names somebody whose part is in": lambda e: _stale(e, "please add your part"),
    "a squad does not hear of the brief": lambda e: _without(e, "**The brief is out.**"),
    "a day is counted twice": lambda e: _twice(e, "**Day 3 of 10.**"),
    "an attempt was typed otherwise": lambda e: _retyped(e, "Sock"),
    "who got an account is not in the room": lambda e: _unseen(e),  # noqa: PLW0108
    "the brief is not printed": lambda e: _replaced(e, "to be printed", "to be printed", "to be"),
    "a part counts that the coach has not entered": lambda e: _cut(e, "The part of "),
    "a mark was typed otherwise": lambda e: _retyped(e, "One idea"),
    "an answer is never said": lambda e: _without(e, "**Rules question 2**"),
    "an answer is said twice": lambda e: _twice(e, "**Rules question 2**"),
    "the coach is reminded of a small squad at once": lambda e: _replaced(e, "and you wait until", "<t:1", "<t:2"),
    "a squad does not hear that it runs last": lambda e: _cut(_cut(e, "Your times have changed."), "your turn now"),
    "a run from paper was typed in once": lambda e: _by(e, "Again: ", TYPIST),
    "a run from paper was settled otherwise": lambda e: _retyped(e, "Faults", "As on the paper: "),
}


def test_the_oracle_counts_a_judge_who_marks_in_a_room_because_direct_messages_are_closed(season: Season) -> None:
    oracle, theirs = season.oracle, f"direct messages of {season.played.cast.judges[0]}"
    moved = [entry | {"room": "judge B"} if entry["room"] == theirs else entry for entry in oracle.entries]
    assert moved != oracle.entries
    assert replace(oracle, entries=moved).complaints() == []


def _cut(entries: list[Json], text: str) -> list[Json]:
    """The transcript without everything that contains a text."""
    return [entry for entry in entries if text not in json.dumps(entry)]


def _unseen(entries: list[Json]) -> list[Json]:
    """The transcript in which the one who got an account by a code reads nothing of the squad."""
    name = next(match[1] for entry in entries if (match := WELCOME.match(text_of(entry))))
    return [
        entry | {"seen_by": [one for one in entry["seen_by"] if one != name]}
        if entry["room"].startswith("squad ")
        else entry
        for entry in entries
    ]


def _retyped(entries: list[Json], field: str, title: str = "") -> list[Json]:
    """The transcript with another value in the last form of a title that has a field."""
    forms = [entry for entry in entries if entry["kind"] == "form sent" and entry["body"]["title"].startswith(title)]
    found = [entry for entry in forms if field in entry["body"]["values"]][-1]
    was = found["body"]["values"][field]
    now = f"{was}1" if "of" not in was else "1 of 4" if was == "4 of 4" else "4 of 4"
    values = found["body"]["values"] | {field: now}
    other = found | {"body": found["body"] | {"values": values}}
    return [other if entry is found else entry for entry in entries]


@pytest.mark.parametrize("how", TAMPERED)
def test_the_oracle_complains_when(season: Season, how: str) -> None:
    oracle = season.oracle
    assert any(replace(oracle, entries=TAMPERED[how](oracle.entries)).each_complaint())


def test_every_reminder_came_once_and_on_time(season: Season) -> None:
    assert season.figures["reminders"] == {
        "planned": 11,
        "sent": 11,
        "skipped": 0,
        "doubled": 0,
        "doubled_what": [],
        "late_s_p99": 0.0,
    }


def test_every_sheet_was_handed_in_before_judging_was_closed(season: Season) -> None:
    sheets = season.figures["sheets"]
    assert sheets["due"] == sheets["submitted"] == 14 * 6 * 2


def test_every_request_fits_the_published_schema(season: Season) -> None:
    if schema_path() is None:
        pytest.skip("the platform's published schema is not at hand")
    assert season.figures["schema"]["checked"] > 3000
    assert season.figures["schema"]["violations"] == []


def test_the_posted_fingerprint_is_that_of_the_exported_plan(season: Season) -> None:
    assert season.figures["plan_sha256"] == fingerprint(read_plan(season.played.plan))


def test_the_page_is_no_larger_than_what_a_schools_network_carries_in_a_moment(season: Season) -> None:
    assert write_output_page(season.played, season.figures, season.out).stat().st_size <= 1_200_000


def test_the_results_packet_is_recomputed_by_the_command_line(season: Season, tmp_path: Path) -> None:
    coach = season.played.stage.coach
    files = [file for shown in coach.see("coach-office") for file in shown.files if file.name.endswith(".json")]
    packet = tmp_path / "packet.json"
    packet.write_bytes(coach.download(files[-1]))
    verify = [sys.executable, "-m", "bot", "verify", str(packet), "--database", str(season.out / "tenbell.db")]
    done = subprocess.run(verify, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    altered = json.loads(packet.read_text("utf-8"))
    altered["results"]["totals"] = dict.fromkeys(altered["results"]["totals"], "1")
    packet.write_text(json.dumps(altered), "utf-8")
    done = subprocess.run(verify, capture_output=True, text=True, check=False)
    assert done.returncode == 1, done.stdout


def test_the_standings_of_the_database_are_those_the_coach_saw(season: Season) -> None:
    command = [sys.executable, "-m", "bot", "standings", "--database", str(season.out / "tenbell.db")]
    printed = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    for row in season.figures["standings"]:
        assert row["squad"] in printed


def test_every_squad_had_its_turn_at_the_practice_table_and_a_lost_one_was_repaid(season: Season) -> None:
    with closing(sqlite3.connect(season.out / "tenbell.db")) as connection:
        held = [row[0] for row in connection.execute("SELECT squad_id FROM practice_turn WHERE state = 'held'")]
        lost = [row[0] for row in connection.execute("SELECT squad_id FROM practice_turn WHERE state = 'lost'")]
        reminded = connection.execute(
            "SELECT count(*) FROM scheduled_job WHERE kind = 'practice' AND state = 'done'"
        ).fetchone()
    assert set(held) == set(range(1, 15))
    assert len(lost) == 1 and lost[0] in held
    # Whoever books a turn of the same morning needs no reminder of it.
    assert 0.6 * len(held) <= reminded[0] <= len(held) + len(lost)


def test_no_student_got_a_private_message(season: Season) -> None:
    world = season.played.server.world
    students = set(season.played.cast.students)
    with_messages = {
        person.name
        for room in world.rooms.values()
        if room.kind == 1
        for person in map(world.people.get, room.members)
        if person is not None
    }
    assert with_messages & students == set()


def test_people_act_by_day_and_sleep_at_night(season: Season) -> None:
    zone = ZoneInfo("America/New_York")
    acts = [
        entry for entry in season.played.server.transcript.entries if entry.kind in ("press", "choice", "form sent")
    ]
    hours = {
        datetime.fromisoformat(entry.at).astimezone(zone).time().replace(second=0, microsecond=0) for entry in acts
    }
    assert min(hours) >= time(7, 30) and max(hours) <= time(20, 5), "a last act may take a minute"


def test_every_kind_of_button_and_form_is_used_by_somebody(season: Season) -> None:
    """By what is asked for, without what it is about; what comes up in another season only stands in a list."""
    used = {custom_id.split(":")[0] for custom_id in season.played.server.interactions.custom_ids}
    elsewhere = IN_A_LARGE_CLASS | IN_ANOTHER_PLAN | ON_TWO_CLASS_SERVERS | TYPED
    assert {key.value for key in ALL_KEYS} - used == elsewhere
