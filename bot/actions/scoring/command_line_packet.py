"""What `tenbell packet` and `tenbell verify` do with the results packet on the command line."""

from pathlib import Path

from bot.actions.scoring.score_book import score_book
from bot.rules.core.hash_chain import broken_at
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.judging.marks_fingerprint import altered
from bot.rules.plan.read_plan import fingerprint
from bot.rules.results.hidden_until_close import sealed
from bot.rules.scoring.packet import Packet, packet_text, read_packet
from bot.rules.scoring.packet_build import build
from bot.rules.scoring.packet_verify import verify
from bot.rules.scoring.standings import standings
from bot.words.scoring import command_line_packet as words
from bot.words.scoring.packet import formulas_text
from storage.store import Store
from storage.tables import audit_log, tryouts
from storage.tables.sql_session import Snapshot

ANNOUNCED = "results.announce"
"""The action of an announcement in the audit log."""


async def verify_report(packet: bytes, database: Path | None) -> tuple[str, bool]:
    """What `tenbell verify` prints about a results packet, and whether everything holds.

    The packet is recomputed from itself alone. With a database its audit log is checked, too: that its chain is whole,
    that the plan was frozen as the packet says, and that the database gives this very packet.

    Raises:
        Refusal: the file is no packet that can be read.
        StorageFault: the database cannot be read.
    """
    read = read_packet(packet)
    stages = verify(read)
    lines = [line for stage in stages for line in words.stage_lines(stage)]
    checks: list[words.Check] = []
    if database is not None:
        async with Store.open(database, readers=1) as store, store.read() as snapshot:
            checks = await _against_database(snapshot, read)
    posted = words.posted_line(read.plan)
    return words.verified(lines, posted, words.verdict(stages), checks), all(
        (*(stage.right for stage in stages), *(check.right for check in checks))
    )


async def newest_packet(database: Path) -> str | None:
    """The results packet of the newest try-out in a database, as JSON text; None when there is no try-out.

    Raises:
        StorageFault: the file cannot be read.
        Refusal: `still_sealed` before judging is closed; or what it holds makes no sense.
    """
    async with Store.open(database, readers=1) as store, store.read() as snapshot:
        tryout = await tryouts.newest(snapshot)
        if tryout is None:
            return None
        if sealed(tryout.state):
            raise Refusal(ResultReason.STILL_SEALED)
        book = await score_book(snapshot, tryout)
        return packet_text(build(book, standings(book), formulas_text()))


async def _against_database(db: Snapshot, packet: Packet) -> list[words.Check]:
    entries = await audit_log.entries(db)
    broken = broken_at(entries)
    checks = [words.chain_check(len(entries), None if broken is None else entries[broken].seq)]
    for tryout in reversed(await tryouts.everyone(db)):
        if packet.plan_sha256 in (tryout.plan_sha256, fingerprint(tryout.plan)):
            told = [entry.digest for entry in entries if entry.tryout_id == tryout.id and entry.action == ANNOUNCED]
            checks += [words.trail_check(digest) for digest in told[-1:]]
            book = await score_book(db, tryout)
            checks.append(words.seals_check(len(book.sheets), len(altered(book.sheets, entries))))
            checks.append(words.same_check(build(book, standings(book), packet.formulas) == packet))
            return checks
    checks.append(words.no_such_plan())
    return checks
