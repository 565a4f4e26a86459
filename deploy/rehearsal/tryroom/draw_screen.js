/* Drawing what one person sees: the rooms, the open one with its messages, the guided way, and what is new elsewhere. */
import { act, bring, measureBar } from "./presses.js";
import { $, alarm, sides } from "./room_requests.js";
import { chooser } from "./form_fields.js";
import { pointOut } from "./guided_way_pointer.js";

const { make } = Paper;
const PINNED_FROM = 4;
const drawn = new Map();
const lead = $("steps").querySelector("[data-lead]");

/** Go to a person's screen, with one room open or where that person would look first. */
export const show = (person, room) => {
  const hash = `#as=${person}${room ? `&room=${room}` : ""}`;
  if (location.hash === hash) {
    window.dispatchEvent(new HashChangeEvent("hashchange"));
  } else {
    location.hash = hash;
  }
};

export const draw = (screen) => {
  const moved = sides.fresh || sides.room !== screen.room?.id;
  sides.fresh = false;
  sides.screen = screen;
  sides.room = screen.room?.id || null;
  const now = new Date(screen.now);
  drawClock(screen);
  $("change").replaceChildren(make("span", null, `You are ${screen.me.name}${$("change").disabled ? "" : " ▾"}`), make("span", "hint", screen.me.what));
  $("change").setAttribute("aria-label", `You are ${screen.me.name}, ${screen.me.what}.${$("change").disabled ? "" : " Be somebody else"}`);
  document.title = `${screen.me.name}, ${screen.room?.name || ""}: try Tenbell`;
  if (screen.trouble) {
    alarm(`The bot is in trouble: ${screen.trouble.split("\n")[0]}`);
  }
  drawRooms(screen, moved);
  drawTold(screen);
  drawWay(screen.way);
  drawBroken(screen);
  measureBar();
  $("place").textContent = screen.room?.name || "No room";
  $("commands").replaceChildren(...(screen.room?.commands || []).map((one) => make("option", { value: one.line }, one.description)));
  $("line").hidden = !screen.room;
  $("earlier").hidden = !screen.earlier;
  drawMessages(screen, now, moved);
};

/** The time in the bar, and whether it is passing. */
export const drawClock = ({ now, zone, moving }) => {
  $("now").textContent = Paper.written(new Date(now), "b", zone);
  $("now").setAttribute("datetime", now);
  $("moving").hidden = !moving;
  $("moving-words").textContent = moving;
};

const drawMessages = (screen, now, moved) => {
  const list = $("messages");
  if (moved) {
    drawn.clear();
    list.replaceChildren();
  }
  const before = list.lastElementChild;
  const end = before?.getBoundingClientRect().bottom;
  const atEnd = end > 0 && end < window.innerHeight + 160;
  const awaited = Array.from(drawn.values()).find((known) => known.loading && known.node === document.activeElement);
  reconcile(list, screen.messages, now);
  const pinned = screen.messages.filter((message) => message.pinned);
  $("pinned").hidden = !pinned.length || screen.messages.length < PINNED_FROM;
  $("pinned").querySelector("summary").textContent = `Pinned in this room (${pinned.length})`;
  $("pinned").querySelector("ol").replaceChildren(...(($("pinned").open && pinned) || []).map((message) => item(message, now)));
  if (moved) {
    window.scrollTo({ top: 0, behavior: "instant" });
    $("tools").scrollTop = 0;
  }
  if (moved || (before !== list.lastElementChild && atEnd)) {
    bring(list.lastElementChild, "instant");
  }
  const come = awaited && drawn.get(awaited.id);
  if (come && !come.loading) {
    bring(come.node);
  }
  const wanted = pointOut(list, screen.way);
  if (moved && wanted) {
    wanted.scrollIntoView({ block: "nearest", behavior: "instant" });
  }
};

/** Draw only what is new or has changed, so that nothing under somebody's finger goes away. */
const reconcile = (list, messages, now) => {
  const wanted = new Set(messages.map((message) => message.id));
  for (const [id, known] of drawn) {
    if (!wanted.has(id)) {
      known.node.remove();
      drawn.delete(id);
    }
  }
  let after = null;
  for (const message of messages) {
    const text = JSON.stringify(message);
    let known = drawn.get(message.id);
    if (!known || known.text !== text) {
      const node = item(message, now);
      const focused = known?.node.contains(document.activeElement) ? document.activeElement.dataset.id || "" : null;
      known?.node.replaceWith(node);
      known = { node, text, id: message.id, loading: message.loading };
      drawn.set(message.id, known);
      if (focused !== null) {
        (Array.from(node.querySelectorAll("[data-id]")).find((one) => one.dataset.id === focused) || node).focus({ preventScroll: true });
      }
    }
    if ((after ? after.nextSibling : list.firstChild) !== known.node) {
      list.insertBefore(known.node, after ? after.nextSibling : list.firstChild);
    }
    after = known.node;
  }
};

const item = (message, now) => {
  const context = {
    now,
    zone: sides.screen.zone,
    plain: withRooms,
    source: (block) => `${block.url}?as=${sides.me}`,
    press: (block, element) => act(element, { do: "press", message: message.id, id: block.id }),
    choose: (block) => chooser(block, (picks, element) => act(element, { do: "choose", message: message.id, id: block.id, picks }), alarm),
  };
  const small = [Paper.written(new Date(message.at), "b", sides.screen.zone), message.edited ? "changed" : null, message.private ? "only you see this" : null];
  const head = make("p", "head", make("b", null, message.who), small.filter(Boolean).map((words) => make("span", null, words)));
  if (message.private) {
    const wipe = make("button", { type: "button" }, "Put away");
    wipe.addEventListener("click", () => act(wipe, { do: "dismiss", message: message.id }));
    head.append(wipe);
  }
  const body = message.loading ? [make("p", null, "…")] : Paper.blocks(message.blocks, context);
  const look = [message.private ? "private" : "", message.rung ? "rung" : ""].join(" ").trim();
  return make("li", { class: look || null, "data-message": message.id, tabindex: "-1" }, head, body);
};

const toRoom = (room, words, look) => {
  const button = make("button", { type: "button", class: look }, words);
  button.addEventListener("click", () => show(sides.me, room.id));
  return button;
};

/** A plain text with the names of rooms in it as ways there. */
const withRooms = (text) => {
  const nodes = [];
  let rest = text;
  const rooms = [...sides.screen.rooms].sort((one, other) => other.name.length - one.name.length);
  for (let at = rest.indexOf("#"); at >= 0; at = rest.indexOf("#", at)) {
    const room = rooms.find((one) => rest.startsWith(one.name, at + 1));
    if (room) {
      nodes.push(rest.slice(0, at), toRoom(room, `#${room.name}`, "to-room"));
      rest = rest.slice(at + 1 + room.name.length);
      at = 0;
    } else {
      at += 1;
    }
  }
  return [...nodes, rest];
};

const drawRooms = (screen, moved) => {
  const old = document.activeElement?.closest?.("#rooms") ? document.activeElement.dataset.room : null;
  $("rooms").replaceChildren(
    ...screen.rooms.map((room) => {
      const words = [make("span", null, room.name), room.unread ? make("span", { class: "count" }, String(room.unread), make("span", "status", " unread")) : null];
      const tab = toRoom(room, words, "tab");
      tab.setAttribute("data-room", room.id);
      if (room.id === screen.room?.id) {
        tab.setAttribute("aria-current", "page");
      }
      return make("li", null, tab);
    }),
  );
  if (moved) {
    unfoldRooms(false);
  }
  foldRooms();
  if (old) {
    document.querySelector(`#rooms [data-room="${old}"]`)?.focus();
  }
};

/** On a phone the rooms take two rows at most, with the open one in sight; a button shows all, and what is new there. */
const foldRooms = () => {
  const list = $("rooms");
  const all = $("all-rooms");
  const unfolded = all.getAttribute("aria-expanded") === "true";
  all.hidden = true;
  if (!unfolded && list.scrollHeight <= list.clientHeight + 1) {
    return;
  }
  all.hidden = false;
  const tabs = Array.from(list.querySelectorAll(".tab"));
  const here = list.querySelector("[aria-current]");
  if (!unfolded && here) {
    list.scrollTop = here.offsetTop - list.offsetTop;
  }
  const above = list.scrollTop + list.offsetTop;
  const away = unfolded ? [] : tabs.filter((tab) => tab.offsetTop < above || tab.offsetTop >= above + list.clientHeight);
  const fresh = sides.screen.rooms.filter((room) => room.unread && away.some((tab) => tab.dataset.room === room.id));
  const unread = fresh.reduce((sum, room) => sum + room.unread, 0);
  all.replaceChildren(make("span", null, unfolded ? "Fewer" : `All ${tabs.length}`, make("span", "status", " rooms")), unread ? make("span", "count", String(unread), make("span", "status", " unread")) : "");
};

const unfoldRooms = (wanted) => {
  $("all-rooms").setAttribute("aria-expanded", String(wanted));
  $("places").classList.toggle("unfolded", wanted);
};

$("all-rooms").addEventListener("click", () => {
  unfoldRooms($("all-rooms").getAttribute("aria-expanded") !== "true");
  foldRooms();
});
window.addEventListener("resize", () => sides.screen && foldRooms());

/** After time has passed: what was said meanwhile, and the rooms in which something new stands. */
const drawTold = (screen) => {
  const told = sides.told || { words: "", unread: new Map() };
  const rooms = sides.told ? screen.rooms.filter((room) => room.unread > (told.unread.get(room.id) || 0)) : [];
  const seen = sides.room !== told.room && !rooms.length;
  const nodes = [seen ? "" : told.words, rooms.length ? " New in: " : "", ...rooms.map((room) => toRoom(room, room.name, "button"))];
  const words = nodes.map((node) => node.textContent ?? node).join("");
  $("told").hidden = !words;
  if ($("told").textContent !== words) {
    $("told").replaceChildren(...nodes);
  }
};

const drawBroken = ({ breaks, broken }) => {
  const words = { power: "the bot has no power", network: "the network is bad", disk: "the disk is full", closed: "your direct messages are closed" };
  for (const button of document.querySelectorAll("[data-break]")) {
    button.setAttribute("aria-pressed", String(broken.includes(button.dataset.break)));
    button.hidden = !breaks.includes(button.dataset.break);
  }
  $("broken").hidden = !broken.length;
  $("broken-words").textContent = `Broken: ${broken.map((one) => words[one]).join(", ")}.`;
};

const drawWay = (way) => {
  $("way").hidden = !way;
  $("step-now").hidden = !way;
  for (const button of document.querySelectorAll("[data-onward]")) {
    button.hidden = !way?.onward;
    button.dataset.onward = way?.onward?.key || "";
    button.textContent = way?.onward ? `Next way: ${way.onward.title}` : "";
  }
  const next = way ? way.steps.findIndex((step) => !step.done && !step.skipped) : 0;
  $("onward-now").hidden = next >= 0;
  if (!way) {
    return;
  }
  $("way-title").textContent = way.title;
  const context = { now: new Date(), zone: "UTC" };
  $("steps").replaceChildren(
    ...way.steps.map((step, number) => {
      const state = step.done ? "done" : step.skipped ? "past" : number === next ? "now" : null;
      return make("li", { class: state, "aria-current": number === next ? "step" : null }, Paper.line(step.text, context), step.done ? make("span", "status", " (done)") : null, number === next ? [" ", lead] : null);
    }),
  );
  $("then").hidden = next >= 0;
  $("then").replaceChildren(...Paper.line(way.then, context));
  $("way").classList.toggle("finished", next < 0);
  $("skip").hidden = next < 0;
  $("leave").textContent = next < 0 ? "Put this away" : "Leave this way";
  const words = Paper.line(next < 0 ? way.then : way.steps[next].text, context);
  $("step-words").replaceChildren(make("span", "hint", `${way.title}, ${next < 0 ? "done" : `step ${next + 1} of ${way.steps.length}`}: `), ...words);
};
