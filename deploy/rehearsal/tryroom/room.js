/* The window as a whole: whose it is, what it is told, the clock, what can be broken, and the guided ways. */
import { goTo, measureBar } from "./presses.js";
import { $, alarm, ask, CUT_OFF, refresh, sides, whenSeen, work } from "./room_requests.js";
import "./typed_commands.js";
import { draw, drawClock, show } from "./draw_screen.js";
import { drawStart, meetEveryone, start } from "./choose_person.js";

let events = null;

whenSeen(draw);

// The clock, what can be broken, and the ways

/** Let time pass; then say where something new stands, which may be in another room. */
const move = async (button) => {
  const unread = new Map(sides.screen.rooms.map((room) => [room.id, room.unread]));
  const last = sides.screen.messages.at(-1)?.id;
  const answer = await work(button, "move", { to: button.dataset.to, wait: $("wait").checked });
  if (answer.screen) {
    sides.told = { words: answer.told || "", unread, room: sides.room };
    draw(answer.screen);
    const newest = answer.screen.messages.at(-1)?.id;
    if (newest !== last) {
      goTo(newest);
    }
  }
};

for (const button of document.querySelectorAll("[data-to]")) {
  button.addEventListener("click", () => move(button));
}
for (const button of document.querySelectorAll("[data-break]")) {
  button.addEventListener("click", () => work(button, "break", { what: button.dataset.break, on: button.getAttribute("aria-pressed") !== "true" }));
}
$("mend").addEventListener("click", async () => {
  for (const what of sides.screen.broken) {
    await work($("mend"), "break", { what, on: false });
  }
});
$("hold").addEventListener("click", () => ask("hold", {}));
$("skip").addEventListener("click", () => work($("skip"), "way", { do: "skip" }));
for (const button of document.querySelectorAll("[data-leave]")) {
  button.addEventListener("click", () => work(button, "way", { do: "leave" }));
}
for (const button of document.querySelectorAll("[data-onward]")) {
  button.addEventListener("click", async () => {
    const answer = await work(button, "way", { do: "begin", key: button.dataset.onward });
    if (answer.as) {
      show(answer.as, null);
    }
  });
}
$("pinned").addEventListener("toggle", () => sides.screen && draw(sides.screen));
$("earlier").querySelector("button").addEventListener("click", () => {
  sides.most = sides.screen.messages.length + 200;
  refresh();
});
$("change").addEventListener("click", () => {
  location.hash = "";
});
$("more").addEventListener("click", (event) => {
  event.preventDefault();
  $("tools").scrollIntoView();
  $("tools").focus({ preventScroll: true });
});
new ResizeObserver(measureBar).observe($("bar"));

// Whose window it is

/** Be told whenever something has changed; whoever is played here is played by nobody else meanwhile. */
const listen = () => {
  events?.close();
  events = new EventSource(sides.me ? `events?as=${sides.me}` : "events");
  events.onopen = () => $("alert").textContent === CUT_OFF && alarm("");
  events.onerror = () => alarm(CUT_OFF);
  events.onmessage = (event) => {
    if (!event.data.startsWith("{")) {
      return;
    }
    const told = JSON.parse(event.data);
    drawClock(told);
    if (told.word === "changed") {
      refresh();
    }
    if (told.word === "changed" && !sides.me && !told.moving) {
      drawStart();
    }
  };
};

const enter = async () => {
  const wanted = new URLSearchParams(location.hash.slice(1));
  const me = wanted.get("as");
  const other = me !== sides.me || !events;
  sides.visit += 1;
  sides.me = me;
  sides.room = wanted.get("room");
  sides.most = null;
  sides.fresh = true;
  if (other) {
    sides.told = null;
    listen();
  }
  if (!me) {
    sides.screen = null;
    await start();
    return;
  }
  $("start").hidden = true;
  document.body.classList.add("playing");
  $("desk").hidden = $("thumb").hidden = $("change").hidden = false;
  if (other) {
    await meetEveryone();
  }
  await refresh(true);
  if (sides.visit > 1) {
    $("place").focus({ preventScroll: true });
  }
};

window.addEventListener("hashchange", enter);
enter().catch((fault) => alarm(fault.message));
