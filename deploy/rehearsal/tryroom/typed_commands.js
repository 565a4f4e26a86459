/* The line for typed commands and messages, and the list of commands. */
import { act, goTo, openDialog, wrong } from "./presses.js";
import { $, alarm, sides } from "./room_requests.js";
import { optionField } from "./form_fields.js";

const { make } = Paper;

/** Do what was typed; where it was not done, it stands in the line again. */
const typedLine = async (body) => {
  const typed = $("typed").value;
  $("typed").value = "";
  const answer = await act($("line"), body);
  if (answer.mistake || answer.failure) {
    $("typed").value ||= typed;
  }
  return answer;
};

const run = (command, options) => typedLine({ do: "command", line: command.line, options });

/** Run a command; what it needs, or what one may say with it where it comes from the list, is asked for first. */
const runCommand = (command, rest, fromList) => {
  const needed = command.options.filter((option) => option.required);
  if (rest && (command.options.length === 1 || needed.length === 1)) {
    return run(command, { [(needed[0] || command.options[0]).name]: rest });
  }
  if (!command.options.length || !(needed.length || fromList)) {
    return run(command, {});
  }
  const fields = command.options.map((option, number) => optionField(command, option, `option${number}`));
  openDialog(`${command.line}: ${command.description}`, fields.map((one) => one.node), "Run", async () => {
    const options = {};
    for (const one of fields) {
      options[one.name] = await one.value();
      if (one.required && !options[one.name] && options[one.name] !== false) {
        wrong(`${one.name}: please fill this in.`);
        return;
      }
    }
    $("dialog").close();
    await run(command, options);
  });
  return null;
};

$("line").addEventListener("submit", async (event) => {
  event.preventDefault();
  const typed = $("typed").value.trim();
  if (!typed) {
    return;
  }
  const found = sides.screen.room.commands.filter((one) => `${typed} `.startsWith(`${one.line} `)).sort((one, other) => other.line.length - one.line.length)[0];
  if (found) {
    await runCommand(found, typed.slice(found.line.length).trim(), false);
  } else if (typed.startsWith("/")) {
    alarm(`${typed} is no command that you can use here. Press Commands to see all of them.`);
  } else if (!sides.screen.room.may_write) {
    alarm("You may not write in this room.");
  } else {
    const answer = await typedLine({ do: "say", text: typed });
    if (!answer.mistake) {
      goTo(sides.screen.messages.at(-1)?.id);
    }
    $("typed").focus({ preventScroll: true });
  }
});

$("all-commands").addEventListener("click", () => {
  const list = sides.screen.room.commands.map((command) => {
    const button = make("button", { type: "button", class: "button" }, make("b", null, command.line), make("span", "hint", command.description));
    button.addEventListener("click", () => {
      $("dialog").close();
      runCommand(command, "", true);
    });
    return make("li", null, button);
  });
  openDialog(`What ${sides.screen.me.name} can type here`, [make("ul", "commands", list)], "", null);
});
