"""The permissions of the platform as bits, and the sets of them that somebody has from the start."""

from __future__ import annotations

ADMINISTRATOR = 1 << 3
MANAGE_CHANNELS = 1 << 4
MANAGE_GUILD = 1 << 5
VIEW_CHANNEL = 1 << 10
SEND_MESSAGES = 1 << 11
MANAGE_MESSAGES = 1 << 13
EMBED_LINKS = 1 << 14
ATTACH_FILES = 1 << 15
READ_MESSAGE_HISTORY = 1 << 16
MENTION_EVERYONE = 1 << 17
MANAGE_ROLES = 1 << 28
USE_APPLICATION_COMMANDS = 1 << 31
MANAGE_THREADS = 1 << 34
CREATE_PRIVATE_THREADS = 1 << 36
SEND_MESSAGES_IN_THREADS = 1 << 38
PIN_MESSAGES = 1 << 51
EVERYTHING = (1 << 53) - 1

BOT_PERMISSIONS = 2_252_143_411_186_688
"""What the bot's own role may do: no more than the invitation asks for."""

STUDENT_PERMISSIONS = (
    VIEW_CHANNEL
    | SEND_MESSAGES
    | EMBED_LINKS
    | ATTACH_FILES
    | READ_MESSAGE_HISTORY
    | USE_APPLICATION_COMMANDS
    | SEND_MESSAGES_IN_THREADS
)

DIRECT_PERMISSIONS = (
    VIEW_CHANNEL
    | SEND_MESSAGES
    | EMBED_LINKS
    | ATTACH_FILES
    | READ_MESSAGE_HISTORY
    | MENTION_EVERYONE
    | USE_APPLICATION_COMMANDS
    | PIN_MESSAGES
)
"""What the bot may do in a direct conversation."""
