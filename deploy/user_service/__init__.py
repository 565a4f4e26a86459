"""Running the bot as a service of the person who is logged in: started with the machine, started anew after a fault."""
