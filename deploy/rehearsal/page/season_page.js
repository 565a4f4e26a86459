"use strict";
/* The season's page: entries are data, and drawn when they are looked at. */
(async () => {
  const { make, text, line } = Paper;
  const $ = (id) => document.getElementById(id);
  const files = JSON.parse($("files").textContent);
  for (const image of document.querySelectorAll("[data-file]")) {
    image.closest("details").addEventListener("toggle", () => (image.src = files[image.dataset.file]), { once: true });
  }
  $("unfold")?.addEventListener("click", () => document.querySelector(".standings").classList.add("whole"));
  if (!("DecompressionStream" in window)) {
    $("entries").textContent = "This browser is too old to show what everyone saw. Any browser of the last years will do.";
    return;
  }
  const bytes = Uint8Array.from(atob($("data").textContent), (letter) => letter.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate"));
  const data = JSON.parse(await new Response(stream).text());
  const ACTS = ["press", "choice", "command", "typing", "form sent"];
  const PART = 30;
  const entries = data.entries.map(([at, room, audience, only, kind, who, message, body], number) => ({ at, room, audience: data.audiences[audience], only, kind, who, message, body, number }));
  const words = new Map();
  const { zone } = data;

  const textOf = (entry) => {
    if (!words.has(entry.number)) {
      const all = [];
      JSON.stringify(entry.body, (key, value) => (typeof value === "string" && key !== "sha256" ? (all.push(value), value) : value));
      words.set(entry.number, `${data.people[entry.who]} ${all.join(" ").replace(/[*~`]/g, "")}`.toLowerCase());
    }
    return words.get(entry.number);
  };

  /** Changes of public messages that were changed again the same day: steps nobody needs to follow. */
  const passing = (() => {
    const found = new Set();
    const later = new Set();
    for (let number = entries.length - 1; number >= 0; number -= 1) {
      const entry = entries[number];
      if (entry.kind === "edit" && entry.only < 0) {
        const key = `${entry.room} ${entry.message} ${Math.floor(entry.at / 86400)}`;
        if (later.has(key)) {
          found.add(number);
        }
        later.add(key);
      }
    }
    return found;
  })();

  const chosen = () => {
    const match = /^#([rpe])(\d+)$/.exec(location.hash);
    if (match && match[1] === "e" && entries[match[2]]) {
      const entry = entries[match[2]];
      return entry.only >= 0 ? { kind: "p", number: entry.only, entry } : { kind: "r", number: entry.room, entry };
    }
    return match ? { kind: match[1], number: Number(match[2]) } : { kind: "r", number: data.news };
  };

  const list = (choice) => {
    const wanted = $("find").value.trim().toLowerCase();
    return entries.filter((entry) => {
      if (!$("all").checked && passing.has(entry.number) && entry !== choice.entry) {
        return false;
      }
      const privately = entry.only >= 0;
      const fits = choice.kind === "p" ? entry.audience.includes(choice.number) : entry.room === choice.number && (!privately || $("private").checked || entry === choice.entry || data.rooms[choice.number].endsWith("(private messages)"));
      return fits && (!wanted || textOf(entry).includes(wanted));
    });
  };

  // One entry

  const linesOf = (body) => (body.blocks || []).flatMap((block) => ("text" in block ? block.text.split("\n") : "button" in block ? [`[${block.button}]`] : [])).filter((one) => one.trim());

  const keyOf = (entry) => {
    if (entry.kind === "form opened") {
      return `form ${entry.only} ${entry.body.title.replace(/^[^-]* - /, "")} ${JSON.stringify(entry.body.fields.map((one) => [one.label, one.options.length]))}`;
    }
    return entry.kind.endsWith("edit") ? `message ${entry.message}` : `list ${entry.only} ${entry.room} ${(linesOf(entry.body)[0] || "").slice(0, 40)}`;
  };

  /** What changed since the same message or list was last seen in this view; nothing where all of it is new or short. */
  const change = (entry, before) => {
    const now = linesOf(entry.body);
    const old = linesOf(before.body);
    const added = now.filter((one) => !old.includes(one));
    const gone = old.filter((one) => !now.includes(one));
    return now.length >= 6 && added.length + gone.length <= Math.max(4, now.length / 2) ? { added, gone } : null;
  };

  const drawBody = (entry, before) => {
    const context = { now: new Date(entry.at * 1000), zone, source: sourceOf };
    const { body, kind } = entry;
    const who = make("b", null, data.people[entry.who]);
    const blocks = () => Paper.blocks(body.blocks || [], context);
    if (kind === "press") {
      return [who, " pressed ", make("span", "label", body.label), body.on ? make("span", "hint", " under ", line(body.on, context)) : null];
    }
    if (kind === "choice") {
      return [who, " chose ", make("span", "label", body.chosen.join(", ")), ` from “${body.select}”`];
    }
    if (kind === "command") {
      const given = Object.entries(body.options).map(([name, value]) => ` ${name}: ${value}`);
      return [who, " typed ", make("code", null, `${body.line}${given.join("")}`)];
    }
    if (kind === "typing") {
      return [who, ` typed “${body.text}” after `, make("code", null, body.line)];
    }
    if (kind === "form sent") {
      const rows = Object.entries(body.values).map(([label, value]) => make("div", null, make("dt", null, label), make("dd", null, Array.isArray(value) ? value.join(", ") : value === null || value === "" ? "left empty" : String(value))));
      return [who, ` sent “${body.title}”`, make("dl", null, rows)];
    }
    if (kind === "failure") {
      return [body.text];
    }
    if (kind === "form opened") {
      if (before) {
        return [folded(`The same form again: ${body.title}`, () => [Paper.form(body, context)])];
      }
      return [Paper.form(body, context)];
    }
    if (/^(pin|(private )?deleted)$/.test(kind)) {
      return [make("span", "remark", kind === "pin" ? "pinned: " : "removed: "), ...line(linesOf(body)[0] || "a message", context)];
    }
    const changed = before ? change(entry, before) : null;
    if (changed) {
      const plain = (one) => line(one.replace(/^\s*(-#|#{1,3}|>|[-*•])\s+/, ""), context);
      const rows = [...changed.gone.map((one) => make("li", null, make("del", null, plain(one)))), ...changed.added.map((one) => make("li", null, make("ins", null, plain(one))))];
      const title = (linesOf(body)[0] || "").replace(/\*/g, "").slice(0, 60);
      return [make("p", "remark", `changed, ${title}:`), rows.length ? make("ul", "change", rows) : make("p", null, "nothing in its words"), folded("All of it", blocks)];
    }
    const pings = body.pings ? [make("p", "hint", `notifies ${body.pings.join(", ")}`)] : [];
    const author = data.people[entry.who] === data.bot ? [] : [make("p", null, who, ":")];
    return [kind.endsWith("edit") ? make("span", "remark", "changed") : null, ...author, ...blocks(), ...pings];
  };

  const folded = (title, inside) => {
    const node = make("details", null, make("summary", null, title));
    node.addEventListener("toggle", () => node.append(...inside()), { once: true });
    return node;
  };

  const sourceOf = (block) => {
    const found = data.texts[block.sha256];
    return found ? `data:${found[0]};charset=utf-8,${encodeURIComponent(found[1])}` : files[block.sha256] || "";
  };

  const clock = (at) => Paper.written(new Date(at * 1000), "t", zone);
  const dayOf = (at) => Paper.written(new Date(at * 1000), "F", zone).split(",")[0];

  const draw = ({ entry, before, goesOn }) => {
    const look = ACTS.includes(entry.kind) ? "did" : entry.kind === "failure" ? "failed" : entry.only >= 0 ? "slip" : "open";
    const place = entry.only >= 0 ? `${data.rooms[entry.room]}${data.rooms[entry.room].endsWith("(private messages)") ? "" : `, only ${data.people[entry.only]}`}` : data.rooms[entry.room];
    const node = make("li", { class: `entry ${look}${goesOn ? " goes-on" : ""}`, id: `e${entry.number}` });
    node.append(make("time", { datetime: new Date(entry.at * 1000).toISOString() }, clock(entry.at)), make("div", "what", make("p", "place", place), drawBody(entry, before)));
    return node;
  };

  // The view: days, in parts that are drawn when they come near the screen

  let waiting = new Map();
  const near = new IntersectionObserver(
    (seen) => {
      for (const one of seen) {
        if (one.isIntersecting) {
          fill(one.target);
        }
      }
    },
    { rootMargin: "900px 0px" },
  );

  const fill = (part) => {
    const rows = waiting.get(part);
    if (rows) {
      waiting.delete(part);
      near.unobserve(part);
      part.style.minHeight = "";
      part.append(...rows.map(draw));
    }
  };

  const show = () => {
    const choice = chosen();
    const finding = $("find").value.trim() !== "";
    const found = list(choice);
    near.disconnect();
    waiting = new Map();
    const nodes = [];
    const latest = new Map();
    let day = "";
    let part = null;
    let last = null;
    for (const entry of found) {
      const today = dayOf(entry.at);
      if (today !== day || waiting.get(part)?.length >= PART) {
        if (today !== day) {
          nodes.push(make("h3", { class: "day", id: `d${entry.number}` }, today));
          last = null;
        }
        day = today;
        part = make("ol", "part");
        waiting.set(part, []);
        nodes.push(part);
      }
      const same = ACTS.includes(entry.kind) || entry.kind === "failure" ? null : keyOf(entry);
      const goesOn = last && entry.only >= 0 && last.only === entry.only && last.room === entry.room && clock(last.at) === clock(entry.at);
      waiting.get(part).push({ entry, before: same && !finding && latest.get(same), goesOn });
      if (same) {
        latest.set(same, entry);
        if (entry.message) {
          latest.set(`message ${entry.message}`, entry);
        }
      }
      last = entry;
    }
    $("entries").replaceChildren(...nodes);
    // Everything up to what is jumped to is drawn at once, so that nothing moves afterwards.
    const wanted = choice.entry ? choice.entry.number : -1;
    for (const [one, rows] of Array.from(waiting)) {
      if (one === nodes[1] || rows[0].entry.number <= wanted) {
        fill(one);
      } else {
        one.style.minHeight = `${rows.length * 5}rem`;
        near.observe(one);
      }
    }
    document.body.dataset.view = choice.kind;
    const name = choice.kind === "r" ? data.rooms[choice.number] || "Nothing" : data.people[choice.number];
    $("where").textContent = choice.kind === "p" ? `What ${name} saw` : choice.number === data.news && !location.hash ? `What the whole class read${data.rooms[choice.number] ? ` (${name})` : ""}` : name;
    $("private-too").hidden = choice.kind !== "r" || name.endsWith("(private messages)");
    $("which").textContent = `${found.length} ${found.length === 1 ? "entry" : "entries"}`;
    $("nothing").hidden = found.length > 0;
    for (const link of document.querySelectorAll("nav a")) {
      const here = link.hash === `#${choice.kind}${choice.number}` || link.hash === location.hash;
      here ? link.setAttribute("aria-current", "page") : link.removeAttribute("aria-current");
    }
    return choice;
  };

  const turn = (by) => {
    const choice = chosen();
    const count = (choice.kind === "r" ? data.rooms : data.people).length;
    location.hash = `#${choice.kind}${(choice.number + by + count) % count}`;
  };

  $("before").addEventListener("click", () => turn(-1));
  $("after").addEventListener("click", () => turn(1));
  let later = 0;
  $("find").addEventListener("input", () => {
    clearTimeout(later);
    later = setTimeout(show, 120);
  });
  $("find").addEventListener("keydown", (event) => {
    if (event.key === "Enter") {
      event.preventDefault();
      show();
      document.querySelector(".entry")?.scrollIntoView();
    }
  });
  $("all").addEventListener("change", show);
  $("private").addEventListener("change", show);
  const arrive = () => {
    if (/^#(book|where)$/.test(location.hash)) {
      return;
    }
    if (chosen().entry) {
      $("find").value = "";
    }
    const choice = show();
    if (location.hash) {
      const target = choice.entry ? $(`e${choice.entry.number}`) : null;
      $("where").focus({ preventScroll: true });
      (target || $("where").closest("main")).scrollIntoView({ behavior: "instant" });
      target?.classList.add("here");
    }
  };
  window.addEventListener("hashchange", arrive);
  arrive();
})();
