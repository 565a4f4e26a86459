/* Doing something as a person: a press or a choice, and the form that may open; its answer is gone to. */
import { $, say, sides, work } from "./asking.js";
import { field } from "./fields.js";

let dialogDone = null;

export const act = async (element, body) => {
  const answer = await work(element, "do", body);
  follow(answer);
  return answer;
};

const follow = (answer) => {
  if (answer.form) {
    openForm(answer.form);
  } else if (answer.message) {
    goTo(answer.message);
  }
};

/** Bring a message into sight, put the focus there, and let a screen reader say it. */
export const goTo = (message) => {
  const item = document.querySelector(`#messages > [data-message="${message}"]`);
  if (item) {
    item.scrollIntoView({ block: "nearest" });
    item.focus({ preventScroll: true });
    say(item.textContent.slice(0, 300));
  }
};

export const openDialog = (title, nodes, send, done) => {
  $("dialog-title").textContent = title;
  $("dialog-step").replaceChildren(...Array.from($("step-now").childNodes, (node) => node.cloneNode(true)));
  $("dialog-step").hidden = $("step-now").hidden || !send;
  $("dialog-body").replaceChildren(...nodes.flat());
  wrong("");
  $("dialog-send").hidden = !send;
  $("dialog-send").textContent = send || "";
  dialogDone = done;
  if (!$("dialog").open) {
    $("dialog").showModal();
  }
  $("dialog").scrollTop = 0;
  $("dialog-body").querySelector("input, textarea, select, button")?.focus({ preventScroll: true });
};

export const wrong = (words) => {
  $("dialog-alert").hidden = !words;
  $("dialog-alert").textContent = words || "";
};

const openForm = (form) => {
  const context = { now: new Date(sides.screen.now), zone: sides.screen.zone, source: () => "" };
  const fields = form.fields.map((one, number) => field(one, `field${number}`));
  openDialog(form.title, [form.notes.map((note) => Paper.text(note, context)), fields.map((one) => one.node)], "Send", async () => {
    const values = {};
    for (const one of fields) {
      const problem = one.problem();
      if (problem) {
        wrong(`${one.label}: ${problem}`);
        one.node.querySelector("input, textarea, select")?.focus();
        return;
      }
      values[one.label] = await one.value();
    }
    wrong("");
    const answer = await work($("dialog-send"), "do", { do: "fill", form: form.id, values });
    if (answer.mistake || answer.failure) {
      wrong(answer.mistake || `${answer.failure} What you typed is still here: send it again.`);
      return;
    }
    $("dialog").close();
    follow(answer);
  });
};

$("dialog").querySelector("form").addEventListener("submit", (event) => {
  event.preventDefault();
  dialogDone?.();
});
$("dialog-close").addEventListener("click", () => $("dialog").close());
