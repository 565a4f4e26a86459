"""What the command line says when something stands in the way of starting: one clear sentence each."""


def no_token() -> str:
    """There is no token."""
    return (
        "No bot token. Put it into the environment as TENBELL_TOKEN, or name a file that holds it in "
        "TENBELL_TOKEN_FILE."
    )


def odd_token() -> str:
    """The token cannot be one."""
    return "The bot token holds spaces or line breaks. Copy it again from the platform's developer page."


def token_refused() -> str:
    """The platform does not know the token."""
    return "The platform refused the bot token. Make a new one on its developer page and set TENBELL_TOKEN again."


def token_file_unreadable(file: str) -> str:
    """The token's file cannot be read."""
    return f"I cannot read the token file {file}. Check that it is there and that I may read it."


def unsafe_address(name: str, address: str, secure: str) -> str:
    """The address would send the token in clear."""
    return f"{name} is {address!r}; use {secure}://, or an address on this machine."


def clock_elsewhere(address: str) -> str:
    """A clock on another machine."""
    return f"TENBELL_CLOCK is {address!r}; only a clock on this machine is taken (it is meant for rehearsals)."


def unreachable(address: str) -> str:
    """The platform does not answer."""
    return f"I cannot reach {address}. Check the network and try again."


def odd_answer(address: str, what: str) -> str:
    """Something answers, but not as the platform would."""
    return f"{address} did not let me in ({what}). Check that the address is right and that the bot is set up there."


def odd_proxy() -> str:
    """The proxy's address cannot be used; it may hold a password, so it is not repeated."""
    return "HTTPS_PROXY is not an address that I can use. Write it as http://NAME:PORT."


def intents_refused() -> str:
    """The platform does not grant what we ask to hear."""
    return (
        "The platform does not let me hear what I need. On its developer page, check that this is the right bot; "
        "none of the three privileged intents is needed."
    )
