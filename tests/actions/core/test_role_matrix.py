"""The role matrix: every action x every kind of person x every state x class server and direct message, for real.

What is allowed stands in `ROLES`, `ALLOWED` and `CHANGES`; all else must be refused and must change nothing.
"""

from collections import defaultdict
from datetime import datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Any

from bot.actions.core.dispatch import ACTIONS, Action, _ask
from bot.actions.judging.judges_admin import enrol
from bot.actions.squads.take_squad_out import take_out
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import AnyReason, Reason
from bot.rules.core.roles import ONLY, Role
from bot.rules.plan.read_plan import short_fingerprint
from bot.rules.squads.captain import next_captain
from bot.rules.squads.names import name_keys
from bot.words.core.action_keys import ActionKey, AnyKey
from bot.words.core.changed_meanwhile import stamped
from bot.words.squads import captain, leave_squad, wishes
from storage.records.plan import Practice
from storage.records.request import Person, Request, Room
from storage.records.tryout import ROOM_KINDS, STATES, State
from storage.tables import calibration_trial, judges, open_events, questions, squads, students, surprises, tryouts
from storage.tables.helpers import add_officer
from storage.tables.score_sheets import add_sheets
from storage.tables.sql_session import Conflict, Snapshot, Transaction, stamp
from tests.actions.conftest import COACH, SERVER, START, small_plan
from tests.actions.hand_in_cast import BRIEF, handing_in
from tests.databases import new_store

ELSEWHERE = SERVER + 1
ANY: frozenset[Role] = frozenset({"anyone"})
HELPS: frozenset[Role] = ANY | {"scorekeeper", "typist", "recorder"}
PEOPLE = {
    "nobody": 900, "unattached student": 901, "administrator in a squad": 916, "member": 902, "captain": 903,
    "member of another squad": 904, "of a squad that was taken out": 905, "judge who joined a squad": 906,
    "judge who was asked": 907, "judge who agreed": 908, "judge who was removed": 909, "scorekeeper": 910,
    "typist": 911, "coach": COACH, "coach who judges": 912, "scorekeeper who joined a squad": 913,
    "coach of another class server": 914, "server administrator": 915,
}  # fmt: skip
ROLES: dict[str, tuple[frozenset[Role], frozenset[Role]]] = {
    # person                            on the class server                        in direct messages
    "judge who was asked":             (ANY | {"judge"},                           ANY | {"judge"}),
    "judge who agreed":                (ANY | {"judge"},                           ANY | {"judge"}),
    "scorekeeper":                     (ANY | {"scorekeeper", "recorder"},         ANY),
    "typist":                          (ANY | {"typist", "recorder"},              ANY),
    "coach":                           (HELPS | {"coach"},                         ANY),
    "coach who judges":                (HELPS | {"coach", "judge"},                HELPS | {"coach", "judge"}),
    "server administrator":            (HELPS | {"coach", "manager"},              ANY),
}  # fmt: skip
"""All others are nothing, whatever they were or are elsewhere."""
ALLOWED: dict[Role, str] = {
    "manager": "earlier.* plan.again plan.begin plan.begun plan.reused",
    "coach": """
        brief.ask brief.release class-list.* coach-squad.* correct.* days.* find.* grace.* leaver.* link.code
        merge.* team.* protests.* records.* join.* time.* privacy.* proposal.*
        day.* feedback.* hand-in.enter hand-in.entered hand-in.remove
        hand-in.removed
        hand-in.squad hand-in.student judges.* judging.* offer.ask offer.given-back offer.lapsed offer.made
        offer.panel offer.settle office office.again panels.* paper.panel paper.print people.* plan.* post.again
        practice.block practice.booked-for practice.draw practice.drawn practice.for practice.lose practice.open
        practice.panel practice.release practice.turn
        practice.unlose results.* rules.answer rules.aside rules.correct rules.corrected rules.drafted rules.merge*
        rules.panel* rules.publish rules.question rules.set-aside rules.unasked setup.* signup.* surprise.* ties.*
        trials.ask trials.begin trials.close trials.form trials.panel tryout.* stop.lift table.correct-agreed wave.*""",
    "judge": "sheets.* trials.compare trials.look trials.mark trials.save",
    "scorekeeper": "day.ask-missed day.board day.here day.missed day.noted day.table pad.* safety.* stop.* table.*",
    "recorder": "run-sheet.*",
    "typist": "paper.again paper.enter* paper.entry paper.save paper.settle* paper.step",
    "anyone": """
        brief.file brief.open brief.page class-list.asked class-list.me class-list.names class-list.section
        class-list.stranger link.ask link.linked protest.* team.mine team.no team.yes
        proposal.no proposal.yes wish.*
        day.my-calendar hand-in.add hand-in.parts hand-in.save hand-in.take-back hand-in.taken-back
        offer.accept* offer.decline* practice.book practice.booked practice.give practice.given practice.mine
        practice.turns rules.answers rules.ask rules.asked rules.page squad.* student.*""",
}
"""The least role for each action; `x*` is every action that begins so and stands nowhere by itself."""
OUTSIDERS = ("nobody, unattached student, of a squad that was taken out, judge who was removed, "
             "coach of another class server")  # fmt: skip
SEATED = ("member, captain, member of another squad, judge who joined a squad, scorekeeper who joined a squad, "
          "administrator in a squad")  # fmt: skip
CHANGES = {
    OUTSIDERS: "squad.found squad.join-by-code student.came-late student.enter",
    SEATED: "hand-in.save practice.booked rules.asked squad.left squad.room",
    "unattached student, of a squad that was taken out": (
        "squad.join squad.look-no-more squad.looking wish.not wish.with"
    ),
    "captain": "squad.captain-is squad.removed squad.renamed",
    "captain, coach, coach who judges, server administrator": "offer.accepted offer.declined",
}
"""Who ever changed anything with an action that needs no role; whoever else asks is refused by the rules.

A coach may answer an offer for a squad. Whoever may manage the class server is a coach by that, and joins no squad;
one who got that right while in a squad is a student, and nothing else, until the squad is left.
"""


@cache
def role_of(action: AnyKey) -> Role:
    """The role in the table."""
    exact = [role for role, names in ALLOWED.items() if str(action) in names.split()]
    begins = [
        (len(name), role)
        for role, names in ALLOWED.items()
        for name in names.split()
        if name.endswith("*") and str(action).startswith(name[:-1])
    ]
    assert exact or begins, f"{action} stands in no row of ALLOWED"
    return exact[0] if exact else max(begins)[1]


async def scene(db: Transaction) -> dict[str, Any]:
    """A try-out with something of everything, and another one elsewhere; what stands in keys, by parameter."""
    practice = Practice(times=("07:50",), minutes=20)  # type: ignore[arg-type]
    plan = small_plan(practice=practice, **handing_in())
    here = await tryouts.create(db, SERVER, plan, START)
    for number, kind in enumerate(ROOM_KINDS):
        await tryouts.set_room(db, here, kind, 50 + number)
    made: dict[str, int] = {}
    for number, name in enumerate(("Crooked Spoons", "Muddy Teapots", "Sleepy Turnips", "Inky Sandals"), start=1):
        made[name] = await squads.add_squad(db, here, name, name_keys(name), "7-A", f"CODE{number}", START)
    seats = {"member": 1, "captain": 1, "member of another squad": 2, "of a squad that was taken out": 4,
             "judge who joined a squad": 2, "scorekeeper who joined a squad": 2,
             "administrator in a squad": 2}  # fmt: skip
    student_ids: dict[str, int] = {}
    for name in ("unattached student", *seats):
        student_ids[name] = await students.enter_student(db, here, PEOPLE[name], name.capitalize(), "7-A")
        student = await students.student(db, student_ids[name])
        assert student is not None
        if name in seats:
            await students.seat(db, student, seats[name], START)
    await squads.set_captain(db, 1, student_ids["captain"])
    for gone in await squads.members(db, 4):
        await students.unseat(db, gone)
    await take_out(db, 4)
    for name, account in PEOPLE.items():
        if "judge" in name:
            judge = await enrol(db, here, account, name)
            await add_sheets(db, [(judge, 1, "bunting", "bunting", 1)])
            if name != "judge who was asked":
                await judges.opt_in(db, judge, name, START)
            if name == "judge who was removed":
                await judges.remove(db, judge)
        for role in ("scorekeeper", "typist", "coach"):
            if name.startswith(role) and "another" not in name:
                await add_officer(db, here, account, name, role)
    there = await tryouts.create(db, ELSEWHERE, plan, START)
    await add_officer(db, there, PEOPLE["coach of another class server"], "Other", "coach")
    await tryouts.set_state(db, there, "window")
    question = await questions.ask(db, here, 1, student_ids["member"], "May we swap wheels?", START)
    await open_events.open_event(db, here, "bunting", START)
    await surprises.start(db, here, "chain", START)
    trial = await calibration_trial.begin(db, here, ("bunting", "bunting"), "An invented entry", None, START)
    made_offer = "INSERT INTO offer (tryout_id, squad_id, what, made_at, answer_by) VALUES (1, 1, 'a place', ?, ?)"
    offer = await db.insert(made_offer, stamp(START), stamp(START + timedelta(days=400)))
    sheet = {name: await db.value("SELECT sheet.id FROM sheet JOIN judge ON judge.id = judge_id WHERE platform_id = ?",
                                  PEOPLE[name]) for name in PEOPLE}  # fmt: skip
    return {
        "question_id": question, "trial_id": trial, "offer_id": offer, "sheet": sheet, "students": student_ids,
        "plan": short_fingerprint(plan), "stamps": await stamps(db, here, student_ids),
    }  # fmt: skip


async def stamps(db: Snapshot, here: int, student_ids: dict[str, int]) -> dict[tuple[str, str], str]:
    """What the newest buttons of each student carry, by action and person."""
    found: dict[tuple[str, str], str] = {}
    everybody = sorted(await students.students(db, here), key=lambda one: (one.name.casefold(), one.id))
    for person, student_id in student_ids.items():
        me = next(one for one in everybody if one.id == student_id)
        for wish in ("wish.with", "wish.not"):
            found[wish, person] = wishes.stamp_of(wishes.on_page([one for one in everybody if one.id != me.id], 0))
        if me.squad_id is not None:
            squad, members = await squads.squad(db, me.squad_id), await squads.members(db, me.squad_id)
            assert squad is not None
            then = next_captain(squad, [one for one in members if one.id != me.id])
            follows = None if then is None or then.id == squad.captain_id else then
            found["squad.left", person] = leave_squad.leave_stamp(squad, len(members) == 1, follows)
            found["squad.renamed", person] = stamped(captain.rename_form(squad)).key.rpartition(":")[2]
    return found


MANAGERS = ("server administrator", "administrator in a squad")
TURN = int(datetime.fromisoformat("2027-01-12T12:50:00+00:00").timestamp())
BY_NAME: dict[str, object] = {
    "about": "run.socks", "event_key": "bunting", "measure_key": "bunting", "code": "1", "piece": "bunting",
    "begins": TURN, "counts": "3", "off": "0", "kind": "news", "then": "list", "way": "1", "item_key": "sock",
    "large": "0", "stamp": "x", "number": 0, "page": 0, "version": 0, "opening": 0, "reason": "miscount",
    "named": "bunting", "faults": 0, "started": int(START.timestamp() * 1000), "tryout_id": 1,
}  # fmt: skip
JUDGES = ("judge who was asked", "judge who agreed", "judge who joined a squad", "coach who judges")
"""Who is known in direct messages."""
FIELDS = {
    "squad": "Quiet Forks", "name": "Ida Quill", "section": "7-A", "code": "CODE2", "why": "The wheel carries a sock.",
    "reason": "because it is so", "question": "May we swap?", "answer": "Yes.", "what": "a place", "days": "3",
    "level-reasons": "3", "level-theme": "2", "level-talk": "2", "text": "3", "value": "3", "item-sock": "3",
    "deductions": "0", "state": "here", "typed": "3", "date": "2027-01-11", "time": "15:30", "measure": "run.socks",
}  # fmt: skip
MEMBERS = ("squad.captain-is", "squad.remove-who")
TURNS = ("practice.booked", "practice.given", "practice.booked-for", "practice.turn")


def asked(action: Action, person: str, found: dict[str, Any], in_server: bool) -> Request:
    """A request as the right message would make it for the right person, aimed at what belongs to somebody else."""
    takes = action.arguments[action.run]
    fits = BY_NAME | {name: found[name] for name in ("question_id", "trial_id", "offer_id")}
    fits |= {"sheet_id": found["sheet"][person] or found["sheet"]["judge who agreed"]}
    member = found["students"]["member"]
    fits |= {"member_id": member, "student_id": member, "account": PEOPLE["member"]}
    args = tuple(str(fits.get(name, 1)) for name in takes.names[: len(takes.required)])
    if action.key in (ActionKey.SIGNUP_OPEN, ActionKey.BRIEF_RELEASE):
        args = (found["plan"],)
    if (str(action.key), person) in (newest := found.get("stamps", {})):
        args = (*args, newest[str(action.key), person])
    picked = TURN if str(action.key) in TURNS else member if str(action.key) in MEMBERS else 2
    return Request(
        id=1, at=found["at"], who=PEOPLE[person], name=person, server_id=SERVER if in_server else None,
        manages_server=in_server and person in MANAGERS, args=args,
        values=(str(picked),), fields=FIELDS, people=(Person(id=77, name="Somebody"),), rooms=(Room(id=50),),
    )  # fmt: skip


async def put(db: Transaction, state: State) -> None:
    """The try-out is in this state."""
    brief = None if state in ("drafting", "signup") else stamp(START)
    announced = stamp(START) if state == "announced" else None
    await db.run("UPDATE tryout SET state = ?, brief_at = ?, announced_at = ? WHERE id = 1", state, brief, announced)


async def changed(db: Snapshot) -> int:
    """How many rows have been written since the file was opened."""
    return int(await db.value("SELECT total_changes()"))


async def outcome(db: Transaction, action: Action, request: Request, keep: bool = False) -> tuple[bool, bool]:
    """Ask, and undo it unless it is to be kept: whether the role was enough, and whether anything was changed."""
    before = await changed(db)
    reason: AnyReason | None = None
    try:
        async with db.undoable():
            prepared = {} if action.before is None else {"prepared": (await _ask(db, action, action.before, request))()}
            await _ask(db, action, action.run, request, **prepared)
            if not keep:
                raise Undone
    except Undone:
        pass
    except Refusal as refusal:
        reason = refusal.reason
    except Conflict:
        reason = Reason.SOMEONE_WAS_QUICKER
    barred = reason in (*ONLY.values(), Reason.NO_TRYOUT, Reason.COMPETES)
    return not barred, reason is None and await changed(db) > before


class Undone(Exception):
    """What was asked for has been done; it is undone now."""


async def test_no_cell_of_the_matrix_is_above_its_role(tmp_path: Path) -> None:
    async with new_store(tmp_path / "a.db") as store:
        wrong, changes, cells = await store.transact(every_cell)
    assert not wrong, f"{len(wrong)} cells, such as\n" + "\n".join(wrong[:40])
    assert changes == {key: set(who.split(", ")) for who, keys in CHANGES.items() for key in keys.split()}
    assert cells == len(STATES) * len(PEOPLE) * 2 * len(ACTIONS)


async def every_cell(db: Transaction) -> tuple[list[str], dict[str, set[str]], int]:
    """Try every cell; what is wrong, who changed anything with an action for anyone, and how many cells there are."""
    wrong: list[str] = []
    changes: dict[str, set[str]] = defaultdict(set)
    cells = 0
    found = await scene(db) | {"at": START}
    requests = {(key, who): [asked(one, who, found, in_server) for in_server in (True, False)]
                for key, one in ACTIONS.items() for who in PEOPLE}  # fmt: skip
    for state in STATES:
        await put(db, state)
        at = BRIEF + timedelta(minutes=5) if state == "window" else START
        for person in PEOPLE:
            for place, in_server in enumerate((True, False)):
                free = state == "archived" and person in MANAGERS  # an old seat binds nobody
                held = ROLES.get("server administrator" if free else person, (ANY, ANY))[place]
                for action in ACTIONS.values():
                    request = requests[action.key, person][place].model_copy(update={"at": at})
                    let_in, wrote = await outcome(db, action, request)
                    cells += 1
                    runs = state != "archived" and (in_server or person in JUDGES)
                    begins = action.unbegun and in_server and person in MANAGERS
                    may = role_of(action.key) in held and (runs or begins)
                    where = f"{action.key}: {person}, {state}, {'class server' if in_server else 'direct message'}"
                    if let_in > may or wrote > may:
                        wrong.append(f"let in: {where}")
                    if may > let_in:
                        wrong.append(f"barred: {where}")
                    if wrote and role_of(action.key) == "anyone":
                        changes[str(action.key)].add(person)
    return wrong, changes, cells


async def test_a_coach_of_another_class_server_changes_nothing_here_whatever_the_keys_say(tmp_path: Path) -> None:
    wrong = []
    async with new_store(tmp_path / "a.db") as store, store.write() as db:
        found = await scene(db)
        found["at"] = BRIEF + timedelta(minutes=5)
        await put(db, "judging")
        await db.run("UPDATE tryout SET state = 'judging' WHERE id = 2")
        before = await of_here(db)
        for action in ACTIONS.values():
            request = asked(action, "coach of another class server", found, in_server=True)
            await outcome(db, action, request.model_copy(update={"server_id": ELSEWHERE}), keep=True)
            after = await of_here(db)
            wrong += [str(action.key)] if after != before else []
            before = after
    assert not wrong


async def of_here(db: Snapshot) -> list[Any]:
    """Every row that is not plainly the other try-out's."""
    tables = await db.rows("SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
    found: list[Any] = []
    for (table,) in tables:
        columns = {row["name"] for row in await db.rows(f"SELECT name FROM pragma_table_info('{table}')")}
        ours = "tryout_id IS NOT 2" if "tryout_id" in columns else "id <> 2" if table == "tryout" else "TRUE"
        if ours == "TRUE" and "squad_id" in columns:
            ours = "coalesce(squad_id, 0) NOT IN (SELECT id FROM squad WHERE tryout_id = 2)"
        found.append((table, [tuple(row) for row in await db.rows(f"SELECT * FROM {table} WHERE {ours}")]))
    return found
