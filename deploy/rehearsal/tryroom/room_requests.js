/* What a window holds, and asking the room: every press, command and move of the clock goes through `work`. */
export const $ = (id) => document.getElementById(id);
/** `most` is how many messages of the room are asked for; null for as many as the room shows at first. */
export const sides = { me: null, room: null, most: null, screen: null, everyone: [], told: null, visit: 0 };
export const CUT_OFF = "The room does not answer. Is the command still running? If not, start it again with --continue and its folder, and open the new address.";
let seen = () => {};
let busy = 0;
let stale = false;

/** Say what draws a screen when one has come. */
export const whenSeen = (draw) => {
  seen = draw;
};

export const ask = async (path, body) => {
  const wanted = body
    ? { method: "POST", headers: { "Content-Type": "application/json", "X-Try-Room": "1" }, body: JSON.stringify({ as: sides.me, room: sides.room, most: sides.most, ...body }) }
    : {};
  let answer;
  try {
    answer = await fetch(path, wanted);
  } catch {
    throw new Error(CUT_OFF);
  }
  if (!answer.ok && answer.status !== 400) {
    throw new Error(answer.status === 404 ? "This address is not known any more: the command was started anew and has printed a new one." : `The room answered ${answer.status}.`);
  }
  return answer.json();
};

export const alarm = (words) => {
  $("alert").hidden = !words;
  $("alert").textContent = words || "";
};

export const say = (words) => {
  $("status").textContent = words;
};

/** A screen belongs to the visit in which it was asked for: whoever has gone elsewhere meanwhile does not see it. */
const arrived = (screen, visit) => {
  if (screen && visit === sides.visit) {
    seen(screen);
  }
};

/** Do something that takes a moment; what comes back is drawn, what went wrong is said. */
export const work = async (element, path, body) => {
  if (element?.hasAttribute("aria-busy")) {
    return {};
  }
  const visit = sides.visit;
  element?.setAttribute("aria-busy", "true");
  busy += 1;
  sides.told = null;
  try {
    const answer = await ask(path, body);
    alarm(answer.mistake || answer.failure);
    arrived(answer.screen, visit);
    return answer;
  } catch (fault) {
    alarm(fault.message);
    return { mistake: fault.message };
  } finally {
    busy -= 1;
    element?.removeAttribute("aria-busy");
    if (stale) {
      refresh();
    }
  }
};

/** Ask for the screen anew; later, where something is being done (unless it is the first look). */
export const refresh = async (first) => {
  if (!sides.me) {
    return;
  }
  if (busy && !first) {
    stale = true;
    return;
  }
  const visit = sides.visit;
  stale = false;
  busy += 1;
  try {
    const screen = await ask(`screen?as=${sides.me}${sides.most ? `&most=${sides.most}` : ""}${sides.room ? `&room=${sides.room}` : ""}`);
    if (visit === sides.visit && screen.mistake) {
      alarm(screen.mistake);
    } else {
      arrived(screen, visit);
    }
  } catch (fault) {
    alarm(fault.message);
  } finally {
    busy -= 1;
  }
  if (stale) {
    await refresh();
  }
};
