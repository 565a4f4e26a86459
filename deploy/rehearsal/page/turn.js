"use strict";
(() => {
  const data = JSON.parse(document.getElementById("data").textContent);
  const entries = Array.from(document.querySelectorAll("#entries > li"));
  const where = document.getElementById("where");
  const which = document.getElementById("which");
  const find = document.getElementById("find");
  const all = document.getElementById("all");
  const nothing = document.getElementById("nothing");
  const links = Array.from(document.querySelectorAll("nav a"));
  const registers = Array.from(document.querySelectorAll("nav details"));
  const narrow = window.matchMedia("(max-width: 52rem)");
  const audiences = data.audiences.map((people) => new Set(people));
  const texts = new Map();

  const textOf = (entry) => {
    if (!texts.has(entry)) {
      texts.set(entry, entry.textContent.toLowerCase());
    }
    return texts.get(entry);
  };

  const chosen = () => {
    const match = /^#(room|person)-(\d+)$/.exec(location.hash);
    return match ? { kind: match[1], number: Number(match[2]) } : null;
  };

  const belongs = (entry, choice) => {
    if (!choice) {
      return true;
    }
    if (choice.kind === "room") {
      return Number(entry.dataset.r) === choice.number;
    }
    return audiences[Number(entry.dataset.a)].has(choice.number);
  };

  const show = () => {
    const choice = chosen();
    const wanted = find.value.trim().toLowerCase();
    let count = 0;
    let day = null;
    let before = "";
    for (const entry of entries) {
      if (entry.classList.contains("day")) {
        entry.hidden = true;
        day = entry;
        before = "";
        continue;
      }
      const skipped = !all.checked && entry.classList.contains("passing");
      const fits = !skipped && belongs(entry, choice) && (!wanted || textOf(entry).includes(wanted));
      entry.hidden = !fits;
      if (fits) {
        count += 1;
        if (day) {
          day.hidden = false;
        }
        // What one person alone saw within a minute is one exchange: time and place are said once.
        const here = `${entry.querySelector("time").textContent} ${entry.querySelector(".place").textContent}`;
        entry.classList.toggle("goes-on", here === before && !entry.classList.contains("open"));
        before = here;
      }
    }
    const name = choice && (choice.kind === "room" ? data.rooms : data.people)[choice.number];
    document.body.dataset.view = choice ? choice.kind : "all";
    where.textContent = !choice ? "Everything, from first to last" : choice.kind === "room" ? name : `What ${name} saw`;
    which.textContent = `${count} ${count === 1 ? "entry" : "entries"}`;
    nothing.hidden = count > 0;
    for (const link of links) {
      if (link.getAttribute("href") === location.hash) {
        link.setAttribute("aria-current", "page");
      } else {
        link.removeAttribute("aria-current");
      }
    }
  };

  const fold = () => {
    const choice = chosen();
    const wanted = registers[choice && choice.kind === "person" ? 1 : 0];
    for (const register of registers) {
      register.open = !narrow.matches && register === wanted;
    }
  };

  for (const copy of document.querySelectorAll("[data-same]")) {
    const first = document.getElementById(copy.dataset.same);
    const name = copy.tagName === "IMG" ? "src" : "href";
    copy.setAttribute(name, first.getAttribute(first.tagName === "IMG" ? "src" : "href"));
  }
  window.addEventListener("hashchange", () => {
    show();
    if (chosen()) {
      if (narrow.matches) {
        fold();
      }
      where.focus({ preventScroll: true });
      document.getElementById("book").scrollIntoView();
    }
  });
  narrow.addEventListener("change", fold);
  find.addEventListener("input", show);
  all.addEventListener("change", show);
  fold();
  show();
})();
