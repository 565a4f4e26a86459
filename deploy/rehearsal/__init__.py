"""A class server on loopback, and the phones of the people who use it.

The rehearsal speaks the chat platform's public API (REST, gateway, content addresses) and knows nothing of the bot but
that wire format, so it cannot flatter it. Beside the platform's API it offers one thing of ours: a stepped clock.

Its folders, each using only those after it: `tryroom` (anybody is anyone in a browser), `season` (a whole season is
played and reported), `page` (the page of what
everyone saw) and `cast` (invented people and what they do), `phones` (what a person sees and can do), `server` (REST,
gateway, clock), `limits` (what the platform takes), `wire` (what travels), `world` (people, rooms, permissions).

How a cast acts::

    from datetime import UTC, datetime, timedelta
    from deploy.rehearsal.phones.phone import Phone
    from deploy.rehearsal.phones.user_actions import together
    from deploy.rehearsal.season.bot_process import BotProcess
    from deploy.rehearsal.server.class_server import ClassServer
    from deploy.rehearsal.world.permission_bits import MANAGE_GUILD

    server = ClassServer(datetime(2027, 1, 11, 20, 30, tzinfo=UTC))
    coach_role = server.world.add_role("Coaches", MANAGE_GUILD)
    server.world.add_person("Ms Holloway", coach_role, owner=True)
    ada, ben = server.world.add_person("Ada Quill"), server.world.add_person("Ben Marrow")
    server.world.add_channel("sign-up")
    async with server:
        bot = BotProcess(server, database, log)
        await bot.start()                                     # waits until it listens to gateway and clock
        phone = Phone(server, "Ada Quill")
        panel = phone.with_button("sign-up", "Start a squad") # the newest message with that button
        form = (await phone.press(panel, "Start a squad")).opened()
        outcome = await phone.fill(form, {"Squad name": "Rubber Turnips", "Section": "7A"})
        assert "Rubber Turnips" in outcome.text and not outcome.failed
        await together(phone.press(panel, "My squad"), Phone(server, ben).press(panel, "Join"))   # one instant
        await server.clock.step_to(server.clock.now + timedelta(days=1))     # stops wherever the bot asked to be woken
        print(phone.see("sign-up")[-1].text, server.transcript.text(), server.request_log.figures())

Faults are given to the server as `faults=FaultInjection(seed, ["drops", "limits"])`; `page.write_page` turns the
transcript into one self-contained page.

Every act settles the clock before it returns, so that all its consequences have arrived; that is what gives one
transcript per seed. What a phone shows is kept as it was: pressing an old rendering is pressing a stale button.
"""
