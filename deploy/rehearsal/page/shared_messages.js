"use strict";
/* What people read, drawn: chat texts, messages with buttons, lists and files, and forms. Shared by the season's page,
   where nothing can be pressed, and the try-it room, which hands in what a press does. Everything is made as nodes and
   never as markup, so that no name and no text can be more than a text. */
const Paper = (() => {
  const DAY = 86400, HOUR = 3600, MINUTE = 60;
  const INLINE = new RegExp(
    [
      "`([^`]+)`",
      "<t:(-?\\d+)(?::([tTdDfFsSR]))?>",
      "\\[([^\\]]+)\\]\\((https?:\\/\\/[^)\\s]+)\\)",
      "\\\\([^\\w\\s])",
      "\\*\\*\\*(.+?)\\*\\*\\*",
      "\\*\\*(.+?)\\*\\*",
      "__(.+?)__",
      "\\*(\\S.*?)\\*",
      "_(\\S.*?)_(?!\\w)",
      "~~(.+?)~~",
    ].join("|"),
    "g",
  );
  const TAGS = { 7: ["strong", "em"], 8: ["strong"], 9: ["u"], 10: ["em"], 11: ["em"], 12: ["s"] };
  const formats = new Map();

  /** Make an element; `given` are attributes, or a class where it is a text; children are nodes or texts. */
  const make = (name, given, ...children) => {
    const element = document.createElement(name);
    const attributes = typeof given === "string" ? { class: given } : given || {};
    for (const [key, value] of Object.entries(attributes)) {
      if (value === true) {
        element.setAttribute(key, "");
      } else if (value !== false && value !== null && value !== undefined) {
        element.setAttribute(key, value);
      }
    }
    element.append(...children.flat().filter((child) => child !== null && child !== undefined && child !== ""));
    return element;
  };

  const partsOf = (moment, zone) => {
    if (!formats.has(zone)) {
      const wanted = { weekday: "long", day: "numeric", month: "long", year: "numeric", hour: "2-digit", minute: "2-digit", hourCycle: "h23" };
      formats.set(zone, new Intl.DateTimeFormat("en-GB", { ...wanted, timeZone: zone }));
    }
    return Object.fromEntries(formats.get(zone).formatToParts(moment).map((part) => [part.type, part.value]));
  };

  /** Write a moment in one of the platform's styles, in plain English words and 24 hours. */
  const written = (moment, style, zone) => {
    const part = partsOf(moment, zone);
    const clock = `${part.hour}:${part.minute}`;
    const day = `${part.day} ${part.month} ${part.year}`;
    const known = { t: clock, T: clock, D: day, d: day, F: `${part.weekday} ${day}, ${clock}`, b: `${part.weekday.slice(0, 3)} ${part.day} ${part.month.slice(0, 3)}, ${clock}` };
    return known[style] || `${day}, ${clock}`;
  };

  /** Write a moment as seen from another, in its largest unit: "in 9 days", "2 hours ago". */
  const relative = (moment, now) => {
    const seconds = Math.round((moment - now) / 1000);
    const size = Math.abs(seconds);
    const [length, unit] = [[DAY, "day"], [HOUR, "hour"], [MINUTE, "minute"]].find(([step]) => size >= step) || [1, "second"];
    const count = Math.round(size / length);
    const words = `${count} ${unit}${count === 1 ? "" : "s"}`;
    return seconds >= 0 ? `in ${words}` : `${words} ago`;
  };

  const timeOf = (seconds, style, context) => {
    const moment = new Date(Number(seconds) * 1000);
    const shown = style === "R" ? relative(moment, context.now) : written(moment, style || "f", context.zone);
    return make("time", { datetime: moment.toISOString() }, shown);
  };

  /** One line of a chat text as nodes; `plain`, where it is given, turns what has no format of its own into nodes. */
  const line = (text, context) => {
    const nodes = [];
    const plain = context.plain || ((words) => [words]);
    let from = 0;
    INLINE.lastIndex = 0;
    for (let match = INLINE.exec(text); match; match = INLINE.exec(text)) {
      if (match[11] !== undefined && match.index > 0 && /\w/.test(text[match.index - 1])) {
        INLINE.lastIndex = match.index + 1;
        continue;
      }
      nodes.push(...plain(text.slice(from, match.index)));
      const next = INLINE.lastIndex;
      const number = match.findIndex((group, place) => place > 0 && group !== undefined);
      if (number === 1) {
        nodes.push(make("code", null, match[1]));
      } else if (number === 2) {
        nodes.push(timeOf(match[2], match[3], context));
      } else if (number === 4) {
        nodes.push(make("a", { href: match[5], rel: "noreferrer", target: "_blank" }, match[4]));
      } else if (number === 6) {
        nodes.push(match[6]);
      } else {
        const inner = line(match[number], context);
        nodes.push(TAGS[number].reduceRight((inside, tag) => [make(tag, null, inside)], inner)[0]);
      }
      from = INLINE.lastIndex = next;
    }
    nodes.push(...plain(text.slice(from)));
    return nodes.filter((node) => node !== "");
  };

  /** A whole chat text as nodes: paragraphs, lists within lists, headings, small print, quotes, fixed text. */
  const text = (whole, context) => {
    const nodes = [];
    whole.split(/```(?:\w*\n)?([^]*?)```/).forEach((piece, number) => {
      if (number % 2) {
        nodes.push(make("pre", null, piece.replace(/^\n+|\n+$/g, "")));
      } else {
        nodes.push(...lines(piece, context));
      }
    });
    return nodes;
  };

  const lines = (piece, context) => {
    const nodes = [];
    let paragraph = null;
    let lists = [];
    const close = () => {
      paragraph = null;
      lists = [];
    };
    for (const raw of piece.split("\n")) {
      const trimmed = raw.trim();
      const item = /^([-*•]|(\d+)[.)])\s+(.*)$/.exec(trimmed);
      const special = /^(#{1,3}|-#|>)\s+(.*)$/.exec(trimmed);
      if (item) {
        paragraph = null;
        const indent = raw.length - raw.trimStart().length;
        while (lists.length && lists[lists.length - 1].indent > indent) {
          lists.pop();
        }
        let list = lists[lists.length - 1];
        if (!list || list.indent < indent) {
          const node = make(item[2] ? "ol" : "ul", item[2] ? { start: item[2] } : null);
          if (list && list.node.lastElementChild) {
            list.node.lastElementChild.append(node);
          } else {
            nodes.push(node);
          }
          list = { indent, node };
          lists.push(list);
        }
        list.node.append(make("li", null, line(item[3], context)));
      } else if (special) {
        close();
        const [tag, look] = { "-#": ["p", "small"], ">": ["blockquote", null] }[special[1]] || ["p", "heading"];
        nodes.push(make(tag, look, line(special[2], context)));
      } else if (trimmed) {
        lists = [];
        if (paragraph) {
          paragraph.append(make("br"), ...line(trimmed, context));
        } else {
          paragraph = make("p", null, line(trimmed, context));
          nodes.push(paragraph);
        }
      } else {
        close();
      }
    }
    return nodes;
  };

  const optionItem = (option, context) =>
    make("li", option.chosen ? "chosen" : null, option.label, option.description ? make("span", "hint", ` ${option.description}`) : null);

  const button = (block, context) => {
    const shown = block.emoji && block.emoji !== block.button ? `${block.emoji} ${block.button}` : block.button;
    const look = `button ${block.style}`;
    if (block.url) {
      return make("a", { class: look, href: /^https?:/.test(block.url) ? block.url : "#", rel: "noreferrer", target: "_blank" }, shown);
    }
    if (!context.press) {
      return make("span", block.disabled ? `${look} off` : look, shown);
    }
    const pressed = make("button", { class: look, type: "button", disabled: block.disabled, "data-id": block.id }, shown);
    pressed.addEventListener("click", () => context.press(block, pressed));
    return pressed;
  };

  const select = (block, context) => {
    if (context.choose) {
      return context.choose(block);
    }
    const chosen = block.options.filter((option) => option.chosen).map((option) => option.label);
    const count = chosen.length ? chosen.join(", ") : block.options.length ? `${block.options.length} to choose from` : "";
    if (!block.options.length) {
      return make("p", "row", make("span", "select", block.select));
    }
    const list = make("ul", "options");
    const folded = make("details", "select", make("summary", null, block.select, make("span", "hint", ` ${count}`)), list);
    folded.addEventListener("toggle", () => folded.open && !list.firstChild && list.append(...block.options.map((one) => optionItem(one, context))));
    return folded;
  };

  const file = (block, context) => {
    const kind = block.type.split(";")[0];
    const source = context.source(block);
    if (kind.startsWith("image/") && source) {
      const picture = make("img", { src: source, alt: block.description || block.file, loading: "lazy" });
      const folded = block.description && block.description.length > 90;
      return make("figure", null, picture, folded ? make("details", "said", make("summary", null, "The picture in words"), make("p", null, block.description)) : null);
    }
    const size = block.size ? ` (${Math.max(1, Math.round(block.size / 1024))} KB)` : "";
    const shown = `${block.file}${size}`;
    return make("p", "row", source ? make("a", { class: "file", href: source, download: block.file }, shown) : make("span", "file", shown));
  };

  /** The blocks of a message as nodes; buttons that follow each other stand in one row. */
  const blocks = (all, context) => {
    const nodes = [];
    let row = null;
    for (const block of all) {
      if ("button" in block) {
        if (!row) {
          row = make("p", "row");
          nodes.push(row);
        }
        row.append(button(block, context), " ");
        continue;
      }
      row = null;
      if ("select" in block) {
        nodes.push(select(block, context));
      } else if ("file" in block) {
        nodes.push(file(block, context));
      } else {
        nodes.push(...text(block.text, context));
      }
    }
    return nodes;
  };

  /** A form as it opened, to be read and not filled in. */
  const form = (body, context) =>
    make(
      "div",
      "form",
      make("p", "title", body.title),
      body.notes.map((note) => text(note, context)),
      body.fields.map((item) =>
        make(
          "div",
          "field",
          make("span", "name", item.label, item.required ? null : make("i", null, " (may stay empty)")),
          item.description ? make("span", "hint", item.description) : null,
          item.options.length
            ? make("ul", "options", item.options.map((option) => optionItem(option, context)))
            : make("span", "blank", item.value || "\u00a0"),
        ),
      ),
    );

  return { make, text, line, blocks, form, written, relative };
})();
