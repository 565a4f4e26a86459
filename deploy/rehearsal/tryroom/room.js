"use strict";
(() => {
  const { make } = Paper;
  const $ = (id) => document.getElementById(id);
  const sides = { me: null, room: null, most: 80, screen: null, everyone: [], runsIt: true, events: null };
  const drawn = new Map();
  let busy = false;
  let stale = false;
  let fresh = true;

  // Asking the room

  const ask = async (path, body) => {
    const wanted = body
      ? { method: "POST", headers: { "Content-Type": "application/json", "X-Try-Room": "1" }, body: JSON.stringify({ as: sides.me, room: sides.room, most: sides.most, ...body }) }
      : {};
    const answer = await fetch(path, wanted);
    if (!answer.ok && answer.status !== 400) {
      throw new Error(answer.status === 404 ? "This address is not known any more: the command was started anew." : `The room answered ${answer.status}.`);
    }
    return answer.json();
  };

  const alarm = (words) => {
    $("alert").hidden = !words;
    $("alert").textContent = words || "";
  };

  const say = (words) => {
    $("status").textContent = words;
  };

  /** Do something that takes a moment; what comes back is drawn, what went wrong is said. */
  const work = async (element, path, body) => {
    if (element?.hasAttribute("aria-busy")) {
      return {};
    }
    element?.setAttribute("aria-busy", "true");
    busy = true;
    try {
      const answer = await ask(path, body);
      alarm(answer.mistake || answer.failure);
      if (answer.screen) {
        draw(answer.screen);
      }
      return answer;
    } catch (fault) {
      alarm(`${fault.message} Is the command still running?`);
      return { mistake: fault.message };
    } finally {
      busy = false;
      element?.removeAttribute("aria-busy");
      if (stale) {
        refresh();
      }
    }
  };

  const act = async (element, body) => {
    const answer = await work(element, "do", body);
    if (answer.form) {
      openForm(answer.form);
    } else if (answer.message) {
      goTo(answer.message);
    }
    return answer;
  };

  const goTo = (message) => {
    const item = document.querySelector(`#messages > [data-message="${message}"]`);
    if (item) {
      item.scrollIntoView({ block: "nearest" });
      item.focus({ preventScroll: true });
      say(item.textContent.slice(0, 300));
    }
  };

  const refresh = async () => {
    if (!sides.me) {
      return;
    }
    if (busy) {
      stale = true;
      return;
    }
    stale = false;
    busy = true;
    try {
      draw(await ask(`screen?as=${sides.me}&most=${sides.most}${sides.room ? `&room=${sides.room}` : ""}`));
    } catch (fault) {
      alarm(fault.message);
    } finally {
      busy = false;
    }
    if (stale) {
      refresh();
    }
  };

  // Drawing the screen

  const draw = (screen) => {
    const moved = fresh || sides.room !== screen.room?.id;
    fresh = false;
    sides.screen = screen;
    sides.room = screen.room?.id || null;
    const now = new Date(screen.now);
    $("now").textContent = Paper.written(now, "b", screen.zone);
    $("now").setAttribute("datetime", screen.now);
    $("change").textContent = `You are ${screen.me.name}`;
    $("change").setAttribute("aria-label", `You are ${screen.me.name}, ${screen.me.what}. Be somebody else`);
    document.title = `${screen.me.name}, ${screen.room?.name || ""}: try Tenbell`;
    $("moving").hidden = !screen.moving;
    $("moving-words").textContent = screen.moving;
    if (screen.trouble) {
      alarm(`The bot is in trouble: ${screen.trouble.split("\n")[0]}`);
    }
    drawRooms(screen);
    drawWay(screen.way);
    for (const button of document.querySelectorAll("[data-break]")) {
      button.setAttribute("aria-pressed", String(screen.broken.includes(button.dataset.break)));
    }
    $("place").textContent = screen.room?.name || "No room";
    $("commands").replaceChildren(...(screen.room?.commands || []).map((one) => make("option", { value: one.line }, one.description)));
    $("line").hidden = !screen.room;
    $("earlier").hidden = !screen.earlier;
    const list = $("messages");
    if (moved) {
      drawn.clear();
      list.replaceChildren();
    }
    const atEnd = window.innerHeight + window.scrollY > document.body.scrollHeight - 160;
    const before = list.lastElementChild;
    reconcile(list, screen.messages, now);
    const pinned = screen.messages.filter((message) => message.pinned);
    $("pinned").hidden = !pinned.length || screen.messages.length < 4;
    $("pinned").querySelector("summary").textContent = `Pinned in this room (${pinned.length})`;
    $("pinned").querySelector("ol").replaceChildren(...(($("pinned").open && pinned) || []).map((message) => item(message, now)));
    if (moved) {
      window.scrollTo({ top: 0, behavior: "instant" });
    }
    if (moved || (before !== list.lastElementChild && atEnd)) {
      list.lastElementChild?.scrollIntoView({ block: "nearest", behavior: "instant" });
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
        known = { node, text };
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
      source: (block) => `${block.url}?as=${sides.me}`,
      press: (block, element) => act(element, { do: "press", message: message.id, id: block.id }),
      choose: (block) => chooser(block, (picks, element) => act(element, { do: "choose", message: message.id, id: block.id, picks })),
    };
    const at = Paper.written(new Date(message.at), "b", sides.screen.zone);
    const head = make("p", "head", make("b", null, message.who), make("span", null, at), message.edited ? "changed" : null, message.private ? "only you see this" : null);
    if (message.private) {
      const wipe = make("button", { type: "button" }, "Put away");
      wipe.addEventListener("click", () => act(wipe, { do: "dismiss", message: message.id }));
      head.append(wipe);
    }
    const body = message.loading ? [make("p", null, "…")] : Paper.blocks(message.blocks, context);
    const look = [message.private ? "private" : "", message.rung ? "rung" : ""].join(" ").trim();
    return make("li", { class: look || null, "data-message": message.id, tabindex: "-1" }, head, body);
  };

  let numbers = 0;

  /** A list under a message: pick, then press Choose; several are ticked. */
  const chooser = (block, done) => {
    const id = `pick${(numbers += 1)}`;
    const names = candidates(block);
    const many = block.most > 1;
    const button = make("button", { class: "button", type: "button", disabled: block.disabled, "data-id": `choose ${block.id}` }, "Choose");
    let picks;
    let control;
    if (many) {
      control = make("fieldset", { "data-id": block.id }, make("legend", "hint", block.select), names.map((name) => make("label", null, make("input", { type: "checkbox", value: name.label, checked: name.chosen }), ` ${name.label} `, make("span", "hint", name.description || ""))));
      picks = () => Array.from(control.querySelectorAll("input:checked")).map((one) => one.value);
    } else {
      control = make("select", { id, disabled: block.disabled, "data-id": block.id }, make("option", { value: "" }, "…"), names.map((name) => make("option", { value: name.label, selected: name.chosen }, name.description ? `${name.label} (${name.description})` : name.label)));
      picks = () => (control.value ? [control.value] : []);
    }
    button.addEventListener("click", () => {
      const chosen = picks();
      if (chosen.length < block.least || chosen.length > block.most) {
        alarm(many ? `Tick ${block.least} to ${block.most} of “${block.select}”.` : `Pick something from “${block.select}” first.`);
        return;
      }
      done(chosen, button);
    });
    return make("div", "pick", many ? null : make("label", { for: id }, block.select), control, button);
  };

  const candidates = (block) => {
    if (block.kind === "people") {
      const chosen = new Set(block.options.map((one) => one.label));
      return sides.everyone.map((one) => ({ label: one.name, description: one.what, chosen: chosen.has(one.name) }));
    }
    if (block.kind === "channels") {
      const chosen = new Set(block.options.map((one) => one.label));
      return sides.screen.rooms.filter((one) => !one.name.includes(" - ") && one.name !== "direct messages").map((one) => ({ label: one.name, description: "", chosen: chosen.has(one.name) }));
    }
    return block.options;
  };

  const drawRooms = (screen) => {
    const old = document.activeElement?.closest?.("#rooms") ? document.activeElement.dataset.room : null;
    $("rooms").replaceChildren(
      ...screen.rooms.map((room) => {
        const here = room.id === screen.room?.id;
        const tab = make("button", { type: "button", class: "tab", "data-room": room.id, "aria-current": here ? "page" : null }, make("span", null, room.name), room.unread ? make("span", { class: "count" }, String(room.unread), make("span", "status", " unread")) : null);
        tab.addEventListener("click", () => show(sides.me, room.id));
        return make("li", null, tab);
      }),
    );
    if (old) {
      document.querySelector(`#rooms [data-room="${old}"]`)?.focus();
    }
  };

  const drawWay = (way) => {
    $("way").hidden = !way;
    $("step-now").hidden = !way;
    if (!way) {
      return;
    }
    $("way-title").textContent = way.title;
    const next = way.steps.findIndex((step) => !step.done && !step.skipped);
    const context = { now: new Date(), zone: "UTC" };
    $("steps").replaceChildren(
      ...way.steps.map((step, number) => {
        const state = step.done ? "done" : step.skipped ? "past" : number === next ? "now" : null;
        return make("li", { class: state, "aria-current": number === next ? "step" : null }, Paper.line(step.text, context), step.done ? make("span", "status", " (done)") : null);
      }),
    );
    if (next < 0) {
      $("steps").append(make("li", { class: "now" }, "You have done it. Look around, or leave this way."));
    }
    $("skip").hidden = next < 0;
    const words = next < 0 ? ["You have done it. Look around, or leave this way under More."] : Paper.line(way.steps[next].text, context);
    $("step-now").replaceChildren(make("span", "hint", `${way.title}, ${next < 0 ? "done" : `step ${next + 1} of ${way.steps.length}`}: `), ...words);
  };

  // Forms

  let dialogDone = null;

  const openDialog = (title, nodes, send, done) => {
    $("dialog-title").textContent = title;
    $("dialog-body").replaceChildren(...nodes.flat());
    $("dialog-alert").hidden = true;
    $("dialog-send").hidden = !send;
    $("dialog-send").textContent = send || "";
    dialogDone = done;
    if (!$("dialog").open) {
      $("dialog").showModal();
    }
    $("dialog-body").querySelector("input, textarea, select, button")?.focus();
  };

  const wrong = (words) => {
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
      if (answer.form) {
        openForm(answer.form);
      } else if (answer.message) {
        goTo(answer.message);
      }
    });
  };

  const readFile = (file) =>
    new Promise((resolve, reject) => {
      const reader = new FileReader();
      reader.onload = () => resolve({ name: file.name, data: String(reader.result).split(",", 2)[1] || "" });
      reader.onerror = () => reject(reader.error);
      reader.readAsDataURL(file);
    });

  /** One field of a form: its nodes, what is wrong with it, and its value. */
  const field = (one, id) => {
    const hint = one.description ? make("span", { class: "hint", id: `${id}hint` }, one.description) : null;
    const name = [one.label, one.required ? null : make("span", "hint", " (may stay empty)")];
    const described = hint ? `${id}hint` : null;
    const names = ["people", "channels"].includes(one.kind) ? candidates({ ...one, options: one.options }) : one.options;
    if (one.kind === "radio" || one.kind === "checkboxes") {
      const type = one.kind === "radio" ? "radio" : "checkbox";
      const node = make("fieldset", "fill", make("legend", null, name), hint, one.options.map((option) => make("label", "choice", make("input", { type, name: id, value: option.label, checked: option.chosen }), make("span", null, option.label, option.description ? make("span", "hint", make("br"), option.description) : null))));
      const picked = () => Array.from(node.querySelectorAll("input:checked")).map((input) => input.value);
      return {
        node,
        label: one.label,
        problem: () => (one.required && !picked().length ? "choose one, please." : picked().length > one.most ? `at most ${one.most}, please.` : ""),
        value: async () => (one.kind === "radio" ? picked()[0] || "" : picked()),
      };
    }
    if (one.kind === "checkbox") {
      const box = make("input", { type: "checkbox", checked: one.ticked, id });
      return { node: make("div", "fill", make("label", { class: "choice", for: id }, box, make("span", null, name, hint ? make("br") : null, hint))), label: one.label, problem: () => "", value: async () => box.checked };
    }
    let input;
    if (one.kind === "files") {
      input = make("input", { type: "file", id, multiple: one.most > 1, "aria-describedby": described });
    } else if (one.kind === "text") {
      const shape = { id, maxlength: one.most, placeholder: one.placeholder || null, required: one.required, "aria-describedby": described };
      input = one.long ? make("textarea", { ...shape, rows: 4 }) : make("input", { ...shape, type: "text" });
      input.value = one.value;
    } else {
      input = make("select", { id, multiple: one.most > 1, required: one.required, "aria-describedby": described }, one.most > 1 ? null : make("option", { value: "" }, "…"), names.map((option) => make("option", { value: option.label, selected: option.chosen }, option.description ? `${option.label} (${option.description})` : option.label)));
    }
    const chosen = () => Array.from(input.selectedOptions).map((option) => option.value).filter(Boolean);
    const problem = () => {
      if (one.kind === "files") {
        return one.required && !input.files.length ? "pick a file, please." : input.files.length > one.most ? `at most ${one.most} files, please.` : "";
      }
      if (one.kind === "text") {
        return one.required && !input.value ? "please fill this in." : input.value && input.value.length < one.least ? `at least ${one.least} letters, please.` : "";
      }
      return one.required && !chosen().length ? "choose one, please." : "";
    };
    const value = async () => (one.kind === "files" ? Promise.all(Array.from(input.files).map(readFile)) : one.kind === "text" ? input.value : chosen());
    return { node: make("div", "fill", make("label", { for: id }, name), hint, input), label: one.label, problem, value };
  };

  // Commands

  /** Run a command; what it needs, or what one may say with it where it comes from the list, is asked for first. */
  const runCommand = async (command, rest, fromList) => {
    const needed = command.options.filter((option) => option.required);
    if (rest && command.options.length) {
      const first = needed[0] || command.options[0];
      if (command.options.length === 1 || needed.length === 1) {
        $("typed").value = "";
        return act($("line"), { do: "command", line: command.line, options: { [first.name]: rest } });
      }
    }
    if (!command.options.length || !(needed.length || fromList)) {
      $("typed").value = "";
      return act($("line"), { do: "command", line: command.line, options: {} });
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
      $("typed").value = "";
      await act($("line"), { do: "command", line: command.line, options });
    });
    return null;
  };

  const optionField = (command, option, id) => {
    const label = make("label", { for: id }, option.name, option.required ? null : make("span", "hint", " (may stay empty)"));
    const hint = make("span", "hint", option.description);
    let input;
    let list = null;
    if (option.kind === "yes") {
      input = make("input", { type: "checkbox", id });
    } else if (option.kind === "file") {
      input = make("input", { type: "file", id });
    } else if (option.choices.length || option.kind === "people" || option.kind === "channels") {
      const names = option.choices.length ? option.choices : candidates({ kind: option.kind, options: [] }).map((one) => one.label);
      input = make("select", { id }, make("option", { value: "" }, "…"), names.map((name) => make("option", { value: name }, name)));
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
    return { node: make("div", "fill", label, hint, input, list), name: option.name, required: option.required, value };
  };

  $("line").addEventListener("submit", async (event) => {
    event.preventDefault();
    const typed = $("typed").value.trim();
    if (!typed) {
      return;
    }
    const commands = sides.screen.room.commands;
    const found = commands.filter((one) => `${typed} `.startsWith(`${one.line} `)).sort((one, other) => other.line.length - one.line.length)[0];
    if (found) {
      await runCommand(found, typed.slice(found.line.length).trim(), false);
    } else if (typed.startsWith("/")) {
      alarm(`${typed} is no command that you can use here. Press Commands to see all of them.`);
    } else if (!sides.screen.room.may_write) {
      alarm("You may not write in this room.");
    } else {
      $("typed").value = "";
      await act($("line"), { do: "say", text: typed });
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

  $("dialog").querySelector("form").addEventListener("submit", (event) => {
    event.preventDefault();
    dialogDone?.();
  });
  $("dialog-close").addEventListener("click", () => $("dialog").close());

  // The clock, what can be broken, and the ways

  for (const button of document.querySelectorAll("[data-to]")) {
    button.addEventListener("click", () => work(button, "move", { to: button.dataset.to, wait: $("wait").checked }));
  }
  for (const button of document.querySelectorAll("[data-break]")) {
    button.addEventListener("click", () => work(button, "break", { what: button.dataset.break, on: button.getAttribute("aria-pressed") !== "true" }));
  }
  $("hold").addEventListener("click", () => ask("hold", {}));
  $("skip").addEventListener("click", () => work($("skip"), "way", { do: "skip" }));
  $("leave").addEventListener("click", () => work($("leave"), "way", { do: "leave" }));
  $("pinned").addEventListener("toggle", () => sides.screen && draw(sides.screen));
  $("earlier").querySelector("button").addEventListener("click", () => {
    sides.most += 200;
    refresh();
  });
  $("change").addEventListener("click", () => start());
  $("more").addEventListener("click", (event) => {
    event.preventDefault();
    $("tools").scrollIntoView();
    $("tools").focus({ preventScroll: true });
  });

  const start = async () => {
    const known = await ask("people");
    sides.everyone = known.people;
    sides.runsIt = known.runs_it;
    $("codes").hidden = !(known.phones && known.runs_it);
    document.body.classList.toggle("one-person", !known.runs_it);
    $("start").hidden = false;
    $("desk").hidden = $("thumb").hidden = $("step-now").hidden = true;
    $("ways").replaceChildren(
      ...known.ways.map((way) => {
        const button = make("button", { class: "button primary", type: "button", disabled: way.past }, way.past ? "Past in this season" : "Begin");
        button.addEventListener("click", async () => {
          const answer = await work(button, "way", { do: "begin", key: way.key });
          if (answer.as) {
            show(answer.as, null);
          }
        });
        return make("li", null, make("h4", "slab", way.title), make("p", null, `${way.what} `, make("span", "hint", `About ${way.minutes} minutes.`)), button);
      }),
    );
    const groups = new Map();
    for (const person of known.people) {
      const group = /^(the coach|keeps|a judge|a stranger)/.test(person.what) ? "Who helps" : person.what.split(", ")[1] === "no squad yet" ? "Students without a squad" : person.what.split(", ")[1];
      groups.set(group, [...(groups.get(group) || []), person]);
    }
    $("people").replaceChildren(
      ...Array.from(groups).flatMap(([group, people]) => [
        make("h4", "slab", group),
        make("ul", "people", people.map((person) => {
          const button = make("button", { class: "button", type: "button", "data-person": person.id }, make("b", null, person.name), make("span", "hint", person.what));
          button.addEventListener("click", () => show(person.id, null));
          return make("li", null, button);
        })),
      ]),
    );
  };

  const show = (person, room) => {
    const hash = `#as=${person}${room ? `&room=${room}` : ""}`;
    if (location.hash === hash) {
      enter();
    } else {
      location.hash = hash;
    }
  };

  const listen = () => {
    sides.events?.close();
    sides.events = new EventSource(`events?as=${sides.me}`);
    sides.events.onmessage = (event) => {
      if (!event.data.startsWith("{")) {
        return;
      }
      const told = JSON.parse(event.data);
      if (sides.screen) {
        $("now").textContent = Paper.written(new Date(told.now), "b", sides.screen.zone);
      }
      $("moving").hidden = !told.moving;
      $("moving-words").textContent = told.moving;
      if (told.word === "changed") {
        refresh();
      }
    };
  };

  const enter = async () => {
    const wanted = new URLSearchParams(location.hash.slice(1));
    const me = wanted.get("as");
    if (!me) {
      sides.me = null;
      sides.events?.close();
      await start();
      return;
    }
    const other = me !== sides.me;
    sides.me = me;
    sides.room = wanted.get("room");
    sides.most = 80;
    $("start").hidden = true;
    $("desk").hidden = $("thumb").hidden = false;
    if (!sides.everyone.length || other) {
      const known = await ask("people");
      sides.everyone = known.people;
      sides.runsIt = known.runs_it;
      listen();
    }
    fresh = true;
    await refresh();
    $("place").focus({ preventScroll: true });
  };

  window.addEventListener("hashchange", enter);
  enter().catch((fault) => alarm(fault.message));
})();
