/* The page on which one chooses who to be: by a guided way, or anybody. */
import { $, ask, sides, work } from "./room_requests.js";
import { show } from "./draw_screen.js";

const { make } = Paper;
let drawn = "";

/** Ask who is there, and keep it: lists of people are drawn from it. */
export const meetEveryone = async () => {
  const known = await ask("people");
  sides.everyone = known.people;
  $("codes").hidden = !known.phones || Boolean(known.only);
  $("reach").textContent = known.phones ? "Phones of this network that have a code take part; nothing else leaves this computer." : "Nothing leaves this computer.";
  document.body.classList.toggle("one-person", Boolean(known.only));
  $("change").disabled = Boolean(known.only);
  return known;
};

const wayCard = (way) => {
  const button = make("button", { class: "button primary", type: "button", disabled: way.past, "data-key": way.key }, way.past ? "Past in this season" : "Begin");
  button.addEventListener("click", async () => {
    const answer = await work(button, "way", { do: "begin", key: way.key });
    if (answer.as) {
      show(answer.as, null);
    } else {
      await drawStart();
    }
  });
  return make("li", null, make("h4", "slab", way.title), make("p", null, `${way.what} `, make("span", "hint", `About ${way.minutes} minutes.`)), button);
};

const personButton = (person) => {
  const button = make("button", { class: "button", type: "button", "data-person": person.id, "data-key": person.id }, make("b", null, person.name), make("span", "hint", person.what));
  button.addEventListener("click", () => show(person.id, null));
  return make("li", null, button);
};

export const start = async () => {
  if (!(await drawStart())) {
    return;
  }
  $("start").hidden = false;
  $("desk").hidden = $("thumb").hidden = $("step-now").hidden = $("told").hidden = $("broken").hidden = $("change").hidden = true;
  document.body.classList.remove("playing");
  window.scrollTo({ top: 0, behavior: "instant" });
  if (sides.visit > 1) {
    $("who").focus({ preventScroll: true });
  }
};

/** Draw the ways and the people as they are now; false where one can only be one person, who is shown instead. */
export const drawStart = async () => {
  const { visit } = sides;
  const known = await meetEveryone();
  if (known.only) {
    show(known.only, null);
    return false;
  }
  const text = JSON.stringify(known);
  if (visit !== sides.visit || (text === drawn && $("ways").childElementCount)) {
    return true;
  }
  drawn = text;
  const focused = document.activeElement?.closest("[data-key]")?.dataset.key;
  $("ways").replaceChildren(...known.ways.map(wayCard));
  $("some-past").hidden = !known.ways.some((way) => way.past);
  const groups = grouped(known.people);
  $("people").replaceChildren(...Array.from(groups).flatMap(([among, people]) => [make("h4", "slab", among), make("ul", "people", people.map(personButton))]));
  if (focused) {
    document.querySelector(`[data-key="${focused}"]`)?.focus({ preventScroll: true });
  }
  return true;
};

const grouped = (people) => {
  const groups = new Map();
  for (const person of people) {
    groups.set(person.among, [...(groups.get(person.among) || []), person]);
  }
  return groups;
};
