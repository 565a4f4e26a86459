/* What can be filled in: a field of a form, what follows a command, a list under a message. */
import { ask, sides } from "./room_requests.js";

const { make } = Paper;
const DIRECT = "direct messages";
let numbers = 0;

/** What can be picked where the list is of people or of rooms: those of the class server. */
const candidates = (block) => {
  const chosen = new Set(block.options.map((one) => one.label));
  if (block.kind === "people") {
    return sides.everyone.map((one) => ({ label: one.name, description: one.what, chosen: chosen.has(one.name) }));
  }
  if (block.kind === "channels") {
    const channels = sides.screen.rooms.filter((one) => !one.name.includes(" - ") && one.name !== DIRECT);
    return channels.map((one) => ({ label: one.name, description: "", chosen: chosen.has(one.name) }));
  }
  return block.options;
};

const described = (option) => (option.description ? `${option.label} (${option.description})` : option.label);

/** A list of which one is picked, with nothing picked at first. */
const oneOf = (given, options) =>
  make("select", given, make("option", { value: "" }, "…"), options.map((option) => make("option", { value: option.label, selected: option.chosen }, described(option))));

const ticks = (name, type, options) =>
  options.map((option) => make("label", "choice", make("input", { type, name, value: option.label, checked: option.chosen }), make("span", null, option.label, option.description ? make("span", "hint", option.description) : null)));

const ticked = (node) => Array.from(node.querySelectorAll("input:checked")).map((input) => input.value);

/** A list under a message: pick, then press Choose; several are ticked. `wrong` says what is missing. */
export const chooser = (block, done, wrong) => {
  const id = `pick${(numbers += 1)}`;
  const names = candidates(block);
  const many = block.most > 1;
  const button = make("button", { class: "button", type: "button", disabled: block.disabled, "data-id": `choose ${block.id}` }, "Choose");
  const control = many
    ? make("fieldset", { "data-id": block.id }, make("legend", "hint", block.select), ticks(id, "checkbox", names))
    : oneOf({ id, disabled: block.disabled, "data-id": block.id }, names);
  button.addEventListener("click", () => {
    const picks = many ? ticked(control) : control.value ? [control.value] : [];
    if (picks.length < block.least || picks.length > block.most) {
      wrong(many ? `Tick ${block.least} to ${block.most} of “${block.select}”.` : `Pick something from “${block.select}” first.`);
      return;
    }
    done(picks, button);
  });
  return make("div", "pick", many ? null : make("label", { for: id }, block.select), control, button);
};

export const readFile = (file) =>
  new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve({ name: file.name, data: String(reader.result).split(",", 2)[1] || "" });
    reader.onerror = () => reject(reader.error);
    reader.readAsDataURL(file);
  });

const tick = (node, values) => {
  for (const input of node.querySelectorAll("input")) {
    input.checked = [values].flat().includes(input.value);
  }
};

const pick = (select, value) => {
  if (Array.from(select.options).some((one) => one.value === value)) {
    select.value = value;
  }
};

/** One field of a form: its nodes, what is wrong with it, its value, and how one is filled in (but for files). */
export const field = (one, id) => {
  const hint = one.description ? make("span", { class: "hint", id: `${id}hint` }, one.description) : null;
  const name = [one.label, one.required ? null : make("span", "hint", " (may stay empty)")];
  const given = { id, required: one.required, "aria-describedby": hint ? `${id}hint` : null };
  const shown = (node, problem, value, fill) => ({ node, label: one.label, problem, value, fill });
  const labelled = (input) => make("div", "fill", make("label", { for: id }, name), hint, input);
  if (one.kind === "checkbox") {
    const box = make("input", { type: "checkbox", checked: one.ticked, id });
    return shown(make("div", "fill", make("label", { class: "choice", for: id }, box, make("span", null, name, hint ? make("br") : null, hint))), () => "", async () => box.checked, (given) => (box.checked = given === true));
  }
  if (one.kind === "files") {
    const input = make("input", { ...given, required: false, type: "file", multiple: one.most > 1 });
    const problem = () => (one.required && !input.files.length ? "pick a file, please." : input.files.length > one.most ? `at most ${one.most} files, please.` : "");
    return shown(labelled(input), problem, () => Promise.all(Array.from(input.files).map(readFile)));
  }
  if (one.kind === "text") {
    const shape = { ...given, maxlength: one.most, placeholder: one.placeholder || null };
    const input = one.long ? make("textarea", { ...shape, rows: 4 }) : make("input", { ...shape, type: "text" });
    input.value = one.value;
    const problem = () => (one.required && !input.value ? "please fill this in." : input.value && input.value.length < one.least ? `at least ${one.least} letters, please.` : "");
    return shown(labelled(input), problem, async () => input.value, (given) => (input.value = String(given)));
  }
  if (one.kind === "radio" || one.kind === "checkboxes" || one.most > 1) {
    const node = make("fieldset", "fill", make("legend", null, name), hint, ticks(id, one.kind === "radio" ? "radio" : "checkbox", candidates(one)));
    const problem = () => (one.required && !ticked(node).length ? "choose one, please." : ticked(node).length > one.most ? `at most ${one.most}, please.` : "");
    return shown(node, problem, async () => (one.kind === "radio" ? ticked(node)[0] || "" : ticked(node)), (given) => tick(node, given));
  }
  const input = oneOf(given, candidates(one));
  return shown(labelled(input), () => (one.required && !input.value ? "choose one, please." : ""), async () => (input.value ? [input.value] : []), (given) => pick(input, [given].flat()[0] || ""));
};

/** What follows a command: its nodes and its value; some suggest what to type. */
export const optionField = (command, option, id) => {
  let input;
  let list = null;
  if (option.kind === "yes") {
    input = make("input", { type: "checkbox", id });
  } else if (option.kind === "file") {
    input = make("input", { type: "file", id });
  } else if (option.choices.length || option.kind === "people" || option.kind === "channels") {
    const names = option.choices.length ? option.choices : candidates({ kind: option.kind, options: [] }).map((one) => one.label);
    input = oneOf({ id }, names.map((label) => ({ label })));
  } else {
    list = option.suggests ? make("datalist", { id: `${id}list` }) : null;
    input = make("input", { type: "text", id, list: list ? `${id}list` : null, inputmode: option.kind === "text" ? null : "decimal" });
  }
  const suggestions = new Map();
  if (list) {
    const suggest = async () => {
      const answer = await ask("do", { do: "suggest", line: command.line, option: option.name, typed: input.value, others: {} });
      suggestions.clear();
      for (const one of answer.suggestions || []) {
        suggestions.set(one.name, one.value);
      }
      list.replaceChildren(...Array.from(suggestions.keys()).map((name) => make("option", { value: name })));
    };
    input.addEventListener("focus", suggest);
    input.addEventListener("input", () => !suggestions.has(input.value) && suggest());
  }
  const value = async () => {
    if (option.kind === "yes") {
      return input.checked;
    }
    if (option.kind === "file") {
      return input.files.length ? readFile(input.files[0]) : "";
    }
    return suggestions.has(input.value) ? suggestions.get(input.value) : input.value;
  };
  const label = make("label", { for: id }, option.name, option.required ? null : make("span", "hint", " (may stay empty)"));
  return { node: make("div", "fill", label, make("span", "hint", option.description), input, list), name: option.name, required: option.required, value };
};
