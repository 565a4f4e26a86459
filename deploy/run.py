"""The commands of the README: they need a fresh machine with Python 3.11 or newer, and nothing else.

Only the standard library is imported, and only syntax that much older Pythons can read is used here, so that such a
Python can still say what it lacks.
"""

import sys
from pathlib import Path

OLDEST_PYTHON = (3, 11)
ROOT = Path(__file__).resolve().parent.parent

COMMANDS = ("rehearse", "try", "test", "bench", "setup", "update", "soak", "map")
HELP = """\
usage: python3 deploy/run.py COMMAND [OPTIONS]

Tenbell runs a class's robotics try-out. The first command sets everything up by itself
(some minutes and a network, once); after that a command starts at once.

commands:
  rehearse   play a whole made-up try-out on this computer, from the first sign-up to the
             result, and say where the pages, pictures and standings lie. Nobody outside
             this computer is reached. Options: --out DIR --seed N --plan FILE --quiet
  try        be the coach, a student, a judge or the scorekeeper yourself, in your browser, with
             the real bot and a made-up class. Options: --plan FILE --seed N --port N --no-open
             --continue FOLDER --phones
  test       run every check: style, types, floors of the house, tests. Options go to the
             tests (pytest), for example: -k standings
  bench      measure speed and memory
  setup      only set everything up
  update     put a newer version in the place of this one: update NEW [--database FILE];
             NEW is an unpacked folder or a zip. What fails is undone.
  soak       play many seasons with crashes and bad networks, and count what was lost
  map        print every folder and file of the code with its first line; needs no set-up

The libraries are kept in the folder .venv beside this project; the environment variable
TENBELL_ENVIRONMENT names another folder. Deleting that folder undoes the set-up.
"""


def print_map(options: "list[str]") -> int:
    """Print every folder and file with its first line, of the folders named or of all."""
    from deploy.tree_map import tree_map

    print("\n".join(tree_map(tuple(options)) if options else tree_map()))
    return 0


def run_prepared(command: str, options: "list[str]") -> int:
    """Prepare the libraries that a command needs, then run it."""
    from deploy import all_checks, child_process
    from deploy.virtual_environment import Environment, Trouble

    if command == "update":
        from deploy.update import main as update

        return update(options)
    environment = Environment()
    python = str(environment.python)
    try:
        environment.prepare("runtime" if command in ("rehearse", "try", "setup") else "test")
    except Trouble as trouble:
        print(f"Tenbell could not be set up: {trouble}", file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print("\nStopped. The next run begins the set-up again.", file=sys.stderr)
        return 130
    if command == "setup":
        return 0
    if command == "test":
        return all_checks.check_everything(python, str(environment.scripts / "lint-imports"), options)
    if command == "rehearse":
        return child_process.run([python, "-m", "deploy.rehearsal", *options])
    if command == "try":
        return child_process.run([python, "-m", "deploy.rehearsal.tryroom", *options])
    return child_process.run(
        [python, "-m", "tests.bench" if command == "bench" else "tests.season.soak", *options], ROOT
    )


def main(arguments: "list[str]") -> int:
    """Carry out one command and return its exit code."""
    if sys.version_info[:2] < OLDEST_PYTHON:
        print("Tenbell needs Python 3.11 or newer; this is Python {}.{}.".format(*sys.version_info), file=sys.stderr)
        return 1
    if not arguments or arguments[0] in ("-h", "--help", "help"):
        print(HELP, end="")
        return 0
    command, options = arguments[0], arguments[1:]
    if command not in COMMANDS:
        print(f"There is no command {command!r}.\n\n{HELP}", end="", file=sys.stderr)
        return 2
    sys.path.insert(0, str(ROOT))
    return print_map(options) if command == "map" else run_prepared(command, options)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
