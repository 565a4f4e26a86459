"""The try-it room: the class server and the real bot on this machine, and a page on which anybody can be anyone.

It speaks the phones' interface of the rehearsal and nothing else, so what works here works on the platform. The people
whom nobody plays are played by the cast (`cast/people_nobody_plays.py`); the clock stands still until somebody acts or
moves it.

    room.py                 the class server, the bot, whose turn it is, and the clock
    open_room.py            a fresh room, or one that was kept
    made_up_class.py        how large its class is, and when it opens
    playable_people.py      everybody one can be
    screen.py               what one person sees, as plain data for the page
    page_requests.py        what a page asks for: presses, choices, forms, commands
    form_drafts.py          what stands in forms that are open, over a stop
    guided_ways.py          the guided ways
    guided_way_ticks.py     how a step of them is recognised as done
    guided_way_progress.py  walking one: begun, ticked off, skipped, left
    kept_state.py           the folder in which everything is kept
    clock_buttons.py        where the buttons of the clock lead
    break_buttons.py        what can be broken, and mended
    season_page_of_room.py  the season's page, as far as it has come
    phone_codes.py          one code a person, for phones in the same network
    web.py                  the page's address, and what is answered there
    visitors.py             who may ask
"""
