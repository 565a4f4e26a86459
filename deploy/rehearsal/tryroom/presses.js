/* Doing something as a person: a press or a choice, and the form that may open; its answer is gone to. */
import { $, say, sides, work } from "./room_requests.js";
import { field } from "./form_fields.js";
import { keepDrafts } from "./form_drafts.js";

/** How much of the window's foot is covered, in pixels: by the line for typing, or by the clock at one's thumb. */
const BELOW = 90;
const { make } = Paper;
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

/** Tell the style how high the bar is, at once: what is brought into sight now must not come to stand under it. */
export const measureBar = () => document.documentElement.style.setProperty("--bar", `${$("bar").offsetHeight}px`);

/** How much of the window's head is covered, in pixels: by the bar, and on a phone by the rooms. */
export const coveredAbove = () => $("bar").offsetHeight + ($("thumb").offsetHeight ? $("rooms").offsetHeight : 0);

/** Bring a message into sight: its beginning, where not all of it fits. */
export const bring = (item, behavior = "auto") => {
  const room = window.innerHeight - coveredAbove() - BELOW;
  item?.scrollIntoView({ block: item.offsetHeight > room ? "start" : "nearest", behavior });
};

/** Bring a message into sight, put the focus there, and let a screen reader say it. */
export const goTo = (message) => {
  const item = document.querySelector(`#messages > [data-message="${message}"]`);
  if (item) {
    bring(item);
    item.focus({ preventScroll: true });
    say(item.textContent.slice(0, 300));
  }
};

export const openDialog = (title, nodes, send, done) => {
  $("dialog-title").textContent = title;
  $("dialog-step").replaceChildren(...Array.from($("step-words").childNodes, (node) => node.cloneNode(true)));
  $("dialog-step").hidden = $("step-now").hidden || !send;
  $("dialog-fill").hidden = true;
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
  const again = make("p", { class: "hint", hidden: !keepDrafts(form, fields) }, "What you had typed here before the stop is here again.");
  const fills = sides.screen.way?.steps.find((step) => !step.done && !step.skipped)?.fills || {};
  openDialog(form.title, [again, form.notes.map((note) => Paper.text(note, context)), fields.map((one) => one.node)], "Send", async () => {
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
  const fitting = form.fields.flatMap((one, number) => (one.label in fills ? [[`field${number}`, fills[one.label]]] : []));
  $("dialog-fill").hidden = !fitting.length;
  $("dialog-fill").firstElementChild.onclick = () => {
    for (const [id, value] of fitting) {
      $(id).value = value;
    }
    wrong("");
    $("dialog-send").focus();
  };
};

$("dialog").querySelector("form").addEventListener("submit", (event) => {
  event.preventDefault();
  dialogDone?.();
});
$("dialog-close").addEventListener("click", () => $("dialog").close());
